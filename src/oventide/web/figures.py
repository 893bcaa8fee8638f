"""Figures as a scale or a probe can show them, in the units that the baker has switched to."""

import math
from dataclasses import dataclass
from typing import Literal

from oventide.units.measure import GRAMS
from oventide.units.temperature import fahrenheit_from_celsius

DASH = "–"
UNKNOWN = "?"


@dataclass(frozen=True)
class Units:
    """What the screen shows temperatures and masses in. What is stored stays in °C and g."""

    temperature: Literal["c", "f"] = "c"
    mass: Literal["g", "oz"] = "g"

    @classmethod
    def from_cookies(cls, temperature: str | None, mass: str | None) -> "Units":
        return cls("f" if temperature == "f" else "c", "oz" if mass == "oz" else "g")

    @property
    def degree(self) -> str:
        return "°F" if self.temperature == "f" else "°C"


def plain(value: float, decimals: int = 0) -> str:
    """A decimal number without a tail of zeros, and without minus zero.

    >>> plain(12.50, 2), plain(-0.04, 1), plain(1200)
    ('12.5', '0', '1200')
    """
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("-", "−")


def temperature(celsius: float | None, units: Units, decimals: int = 0) -> str:
    """A point on the scale.

    >>> temperature(24.4, Units()), temperature(170, Units("f"))
    ('24\\u202f°C', '338\\u202f°F')
    """
    if celsius is None or math.isnan(celsius):
        return UNKNOWN
    value = fahrenheit_from_celsius(celsius) if units.temperature == "f" else celsius
    return f"{plain(value, decimals)}\u202f{units.degree}"


def mass(grams: float | None, units: Units) -> str:
    """A weight as a scale shows it: 0.1 g below 20 g, else 1 g; ounces to 0.01 below 1 oz, else 0.1; pounds above 2.

    >>> mass(7.04, Units()), mass(1532.4, Units()), mass(500, Units(mass="oz"))
    ('7\\u202fg', '1532\\u202fg', '17.6\\u202foz')
    """
    if grams is None:
        return UNKNOWN
    if units.mass == "g":
        return f"{plain(grams, 1 if grams < 20 else 0)}\u202fg"
    if grams >= 2 * GRAMS["lb"]:
        pounds, rest = divmod(round(grams / GRAMS["oz"], 1), 16)
        return f"{plain(pounds)}\u202flb {plain(rest, 1)}\u202foz"
    ounces = grams / GRAMS["oz"]
    return f"{plain(ounces, 2 if ounces < 1 else 1)}\u202foz"


def percent(value: float | None, decimals: int = 1) -> str:
    """A share in %; below 1 % with one digit more, so that yeast and salt can be told apart.

    >>> percent(61.25), percent(0.83), percent(None)
    ('61.2\\u202f%', '0.83\\u202f%', '?')
    """
    if value is None:
        return UNKNOWN
    return f"{plain(value, decimals + 1 if abs(value) < 1 else decimals)}\u202f%"


def minutes(value: float) -> str:
    """A length of time, to the minute below 2 h and to 5 min above.

    >>> minutes(45.2), minutes(134), minutes(720)
    ('45\\u202fmin', '2\\u202fh\\u202f15', '12\\u202fh')
    """
    if value < 120:
        return f"{plain(value)}\u202fmin"
    hours, rest = divmod(int(round(value / 5) * 5), 60)
    return f"{hours}\u202fh" + (f"\u202f{rest:02d}" if rest else "")


def decimals_for(spread: float) -> int:
    """Decimals that a spread bears: no more than would change with it.

    >>> decimals_for(12), decimals_for(0.4), decimals_for(0.03)
    (0, 1, 2)
    """
    return 0 if spread >= 2 else 1 if spread >= 0.15 else 2


def quantity(value: float, unit: str, units: Units, decimals: int = 1) -> str:
    """A reading's figure with its unit; points in °C and masses in g follow the switch."""
    if unit == "°C":
        return temperature(value, units, min(decimals, 1))
    if unit == "g":
        return mass(value, units)
    if unit == "min":
        return minutes(value)
    if unit in ("1", ""):
        return plain(value, max(decimals, 2))
    if unit in ("×", "x"):
        return f"×{plain(value, max(decimals, 1))}"
    return f"{plain(value, decimals)}\u202f{unit}"


def spread(low: float, likely: float, high: float, unit: str, units: Units) -> str:
    """A figure with its range: "45–60 min, likely 50 min"; one figure where the range is nothing a tool can show."""
    places = decimals_for(high - low)
    if unit == "%":
        places = min(places, 1)  # a hundredth of a per cent is nothing that can be weighed or seen
    first, last, middle = (quantity(value, unit, units, places) for value in (low, high, likely))
    if first == last:
        return middle
    tail = "\u202f" + first.rsplit("\u202f", 1)[-1] if "\u202f" in first else ""
    if tail and unit != "min" and last.endswith(tail):
        first = first.removesuffix(tail)
    if first.startswith("×"):
        last = last.removeprefix("×")
    return f"{first}{DASH}{last}, likely {middle}"
