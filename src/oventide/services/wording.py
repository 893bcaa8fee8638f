"""Figures as a scale, a probe and a clock show them. The one place where answers are rounded for people."""

from oventide.forecast.model import Reading

OUNCE_G = 28.349523125


def grams_words(grams: float) -> str:
    """Grams with their unit: tenths below 20 g, whole grams above.

    >>> grams_words(9.87), grams_words(352.64), grams_words(2000)
    ('9.9 g', '353 g', '2000 g')
    """
    return f"{grams:.1f} g" if abs(grams) < 20 and round(grams, 1) != round(grams) else f"{grams:.0f} g"


def ounces_words(grams: float) -> str:
    """Ounces to a hundredth below 1 oz, to a tenth above, to a thousandth where a hundredth would be half of it.

    >>> ounces_words(352.64), ounces_words(5), ounces_words(0.1)
    ('12.4 oz', '0.18 oz', '0.004 oz')
    """
    ounces = grams / OUNCE_G
    if ounces < 0.02:
        return f"{ounces:.3f} oz"
    return f"{ounces:.2f} oz" if ounces < 1 else f"{ounces:.1f} oz"


def percent_words(percent: float | None) -> str:
    """Baker's percentages: a tenth below 20 %, whole above, a hundredth below 0.1 %; nothing where it is not known.

    >>> percent_words(1.83), percent_words(58.4), percent_words(0.03), percent_words(None)
    ('1.8 %', '58 %', '0.03 %', '')
    """
    if percent is None:
        return ""
    if 0.0 < abs(percent) < 0.1:
        return f"{percent:.2f} %"
    return f"{percent:.1f} %" if abs(percent) < 20 else f"{percent:.0f} %"


def minutes_words(minutes: float) -> str:
    """Minutes as people say them.

    >>> minutes_words(7.4), minutes_words(75), minutes_words(540), minutes_words(0.5)
    ('7 min', '1 h 15 min', '9 h', '1 min')
    """
    whole = max(round(minutes), 1) if minutes > 0 else round(minutes)
    if abs(whole) < 60:
        return f"{whole} min"
    hours, rest = divmod(whole, 60)
    return f"{hours} h" if rest == 0 else f"{hours} h {rest} min"


def elapsed_words(minutes: float) -> str:
    """Time since the first step began.

    >>> elapsed_words(0), elapsed_words(75), elapsed_words(1500)
    ('+0:00', '+1:15', '+25:00')
    """
    whole = round(minutes)
    return f"+{whole // 60}:{whole % 60:02d}"


def figure_words(value: float, unit: str) -> str:
    """A figure as an instrument shows it, with its unit.

    >>> figure_words(23.6, "°C"), figure_words(1.83, "×"), figure_words(0.3, "%"), figure_words(75.4, "min")
    ('24 °C', '×1.8', '0 %', '1 h 15 min')
    """
    if unit == "min":
        return minutes_words(value)
    if unit in ("×", "x"):
        return f"×{value:.1f}"
    if unit == "g":
        return grams_words(value)
    if unit in ("1", ""):
        return f"{value:.2f}"
    if unit in ("°C", "%", "mm"):
        return f"{value:.0f} {unit}"
    return f"{value:.3g} {unit}"


def reading_words(reading: Reading) -> str:
    """A reading as range and likely value: core 91 to 96 °C, likely 94."""
    low, likely, high = (figure_words(value, reading.unit) for value in (reading.p5, reading.p50, reading.p95))
    if low == high:
        return f"{reading.name} {likely}"
    return f"{reading.name} {low} to {high}, likely {likely}"


def centimetres_words(millimetres: float) -> str:
    """Centimetres to the millimetre, without the unit.

    >>> centimetres_words(300), centimetres_words(501.57)
    ('30', '50.2')
    """
    return f"{millimetres / 10:.1f}".removesuffix(".0")


def told_words(low: float, likely: float, high: float, unit: str, reached: float = 1.0, valid: bool = True) -> str:
    """A figure of an answer as likely value and range, with what must be said of it.

    >>> told_words(9.2, 10.4, 13.0, "min"), told_words(5, 5, 5, "pieces"), told_words(-3.6, -2.6, -1.6, "%")
    ('10 min (9.2 to 13 min)', '5 pieces', '−2.6 % (−3.6 to −1.6)')
    """

    def shown(value: float) -> str:
        if unit == "min" and abs(value) >= 9.5:
            return minutes_words(value) if value >= 0 else f"−{minutes_words(-value)}"
        digits = 0 if abs(value) >= 100 else (1 if abs(value) >= 1 else 2)
        text = f"{value:.{digits}f}"
        text = text.rstrip("0").rstrip(".") if "." in text else text
        return "0" if text == "-0" else text.replace("-", "−")

    named = "" if unit in ("1", "") or (unit == "min" and abs(likely) >= 9.5) else f" {unit}"
    # a quantile that was not reached stands at the end of what was looked at
    ends = [
        f"{'more than ' if reached < share else ''}{shown(value)}"
        for value, share in ((low, 0.05), (likely, 0.5), (high, 0.95))
    ]
    words = f"{ends[1]}{named}"
    if shown(low) != shown(high):
        words += f" ({ends[0]} to {ends[2]})"
    if reached < 0.995:
        words += f", reached in {round(100 * reached)} of 100 kitchens"
    return words if valid else f"{words}, outside what the law was made for"
