"""What a change does to the clock and the dough, kitchen by kitchen, as rows in words."""

from oventide.services.comparing import Comparison, StepBeside
from oventide.services.travelling import Beside
from oventide.travel.model import Figure
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.web.beside import Row
from oventide.web.figures import Units, plain

DECIMALS = {"×": 2, "°C": 1, "%": 1, "ΔE": 0, "min": 0}
LEAST = {"×": 0.005, "°C": 0.05, "%": 0.05, "ΔE": 0.5, "min": 0.5}
MORE = {"min": ("longer", "shorter"), "°C": ("warmer", "cooler")}


def _number(value: float, unit: str) -> str:
    return plain(value, DECIMALS.get(unit, 2))


def figure_words(figure: Figure, units: Units) -> str:
    """A figure with its range and unit, as a probe shows it.

    >>> figure_words(Figure(name="minutes", unit="min", low=50, likely=60, high=75), Units())
    '50 to 75, likely 60\\u202fmin'
    """
    unit, shown = figure.unit, (figure.low, figure.likely, figure.high)
    if unit == "°C" and units.temperature == "f":
        unit, shown = "°F", tuple(fahrenheit_from_celsius(value) for value in shown)  # type: ignore[assignment]
    low, likely, high = (_number(value, figure.unit) for value in shown)
    ends = likely if low == high else f"{low} to {high}, likely {likely}"
    return f"×{ends}" if unit == "×" else f"{ends}\u202f{unit}".strip()


def change_words(change: Figure, units: Units) -> str:
    """A change that was taken kitchen by kitchen, in words.

    >>> change_words(Figure(name="minutes", unit="min", low=8, likely=12, high=15), Units())
    '12\\u202fmin longer (8 to 15)'
    >>> change_words(Figure(name="minutes", unit="min", low=-0.2, likely=0.1, high=0.2), Units())
    'the same'
    """
    unit = "°C" if change.unit == "K" else change.unit
    if max(abs(change.low), abs(change.likely), abs(change.high)) < LEAST.get(unit, 0.005):
        return "the same"
    factor, shown_unit = 1.0, unit
    if unit == "°C" and units.temperature == "f":
        factor, shown_unit = 1.8, "°F"
    low, likely, high = (value * factor for value in (change.low, change.likely, change.high))
    more, less = MORE.get(unit, ("more", "less"))
    if low < 0.0 < high and (-low > LEAST.get(unit, 0.005) and high > LEAST.get(unit, 0.005)):
        ends = f"{_number(-low, unit)} {less} to {_number(high, unit)} {more}"
        return ends if shown_unit in ("×", "") else f"{ends}, {shown_unit}"
    way, ends_ = (more, (low, high)) if likely >= 0 else (less, (-high, -low))
    size = _number(abs(likely), unit)
    near, far = (_number(max(end, 0.0), unit) for end in ends_)
    around = "" if near == far else f" ({near} to {far})"
    unit_words = "" if shown_unit in ("×", "") else f"\u202f{shown_unit}"
    return f"{size}{unit_words} {way}{around}"


def _row(name: str, pair: Beside, units: Units) -> Row:
    change = change_words(pair.change, units)
    if pair.before.reached < 0.995 or pair.after.reached < 0.995:
        reached = [f"{plain(100 * side.reached)}" for side in (pair.before, pair.after)]
        change += f"; reached in {reached[0]} and {reached[1]} of 100 kitchens"
    return Row(name, figure_words(pair.before, units), figure_words(pair.after, units), change, change != "the same")


def _step(step: StepBeside, units: Units) -> tuple[Row, ...]:
    name = step.name[:1].upper() + step.name[1:]
    if step.minutes is None:
        alone = "" if step.alone is None else figure_words(step.alone, units)
        first = step.after is None
        return (Row(name, alone if first else "", "" if first else alone,
                    "only in the first" if first else "only in the other", True),)  # fmt: skip
    return (
        _row(f"{name}, lasts", step.minutes, units),
        *(_row(f"{name}, {row.name}", row, units) for row in step.rows),
    )


def window_rows(comparison: Comparison, units: Units) -> tuple[Row, ...]:
    """Step by step."""
    return tuple(row for step in comparison.steps for row in _step(step, units))


def whole_rows(comparison: Comparison, units: Units) -> tuple[Row, ...]:
    """What the timelines come to."""
    return tuple(_row(row.name[:1].upper() + row.name[1:], row, units) for row in comparison.whole)
