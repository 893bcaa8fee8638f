"""How well a figure is known, drawn: a bar from low to high on an axis, with the likely one as a tick.

A bar that the baker gave is filled; one that is assumed is an open, dashed frame. Beside it stand the words.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from oventide.kitchen.model import Kitchen
from oventide.units.estimate import Estimate
from oventide.web.figures import DASH, Units, plain, temperature

POINTS = {"room": "Room", "fridge": "Fridge", "proof": "Proofing place", "tap_water": "Cold tap", "flour": "Flour"}
STEPS = {"oven_offset": "Oven is off by", "friction": "Mixer warms dough, per minute"}
LEAST_WIDTH = 0.8
"""Of the axis [%]; a figure without a range is still a mark that can be seen."""


@dataclass(frozen=True)
class Axis:
    """A scale: its ends in °C, and ticks as places [% of its length] with their words."""

    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]

    def place(self, value: float) -> float:
        """Where a value lies [% of the length]."""
        return round(100 * (min(max(value, self.low), self.high) - self.low) / (self.high - self.low), 2)


@dataclass(frozen=True)
class Bar:
    """One figure on its axis [%], and its words."""

    start: float
    width: float
    likely: float
    given: bool
    words: str


@dataclass(frozen=True)
class Known:
    """One figure of one kitchen."""

    name: str
    label: str
    axis: Axis
    bar: Bar


def _shown(value: float, step: bool, units: Units) -> float:
    """A figure in the units switched to."""
    if units.temperature == "c":
        return value
    return value * 1.8 if step else value * 1.8 + 32


def _stored(value: float, step: bool, units: Units) -> float:
    if units.temperature == "c":
        return value
    return value / 1.8 if step else (value - 32) / 1.8


def axis_of(estimates: Iterable[Estimate], step: bool, units: Units) -> Axis:
    """An axis with round ends that holds all of them, read in the units switched to.

    >>> axis = axis_of([Estimate(low=17.0, likely=21.0, high=26.0)], False, Units())
    >>> axis.low, axis.high, [words for _, words in axis.ticks]
    (15, 30, ['15', '20', '25', '30'])
    """
    each = list(estimates)
    low, high = _shown(min(e.low for e in each), step, units), _shown(max(e.high for e in each), step, units)
    width = max(high - low, 1e-6)
    stride = next((s for s in (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100) if width / s <= 4), 200.0)
    first, last = math.floor(low / stride), math.ceil(high / stride)
    if first == last:
        first, last = first - 1, last + 1
    values = [at * stride for at in range(first, last + 1)]
    places = [round(100 * (value - values[0]) / (values[-1] - values[0]), 2) for value in values]
    words = tuple(zip(places, (plain(value, 1) for value in values), strict=True))
    return Axis(_stored(values[0], step, units), _stored(values[-1], step, units), words)


def words_of(estimate: Estimate, step: bool, units: Units) -> str:
    """A figure with its range, as it is read.

    >>> words_of(Estimate(low=18.0, likely=20.0, high=22.0), False, Units())
    '18–22\\u202f°C, likely 20\\u202f°C'
    """
    if step:
        low, likely, high = (plain(_shown(v, True, units), 1) for v in (estimate.low, estimate.likely, estimate.high))
        unit = f"\u202f{units.degree}"
        return f"{likely}{unit}" if low == high else f"{low} to {high}{unit}, likely {likely}{unit}"
    low, likely, high = (temperature(v, units, 1) for v in (estimate.low, estimate.likely, estimate.high))
    if low == high:
        return likely
    return f"{low.rpartition(chr(0x202F))[0]}{DASH}{high}, likely {likely}"


def bar_of(estimate: Estimate, axis: Axis, given: bool, step: bool, units: Units) -> Bar:
    """A figure on its axis."""
    start, end = axis.place(estimate.low), axis.place(estimate.high)
    width = max(end - start, LEAST_WIDTH)
    return Bar(min(start, 100 - width), round(width, 2), axis.place(estimate.likely), given,
               words_of(estimate, step, units))  # fmt: skip


def is_given(estimate: Estimate | None) -> bool:
    """Whether the baker gave it."""
    return estimate is not None and estimate.grade == "given"


def known_of(kitchen: Kitchen, units: Units) -> tuple[Known, ...]:
    """Every temperature of one kitchen, each on an axis that holds what an unmeasured kitchen might be as well."""
    from oventide.kitchen.complete import complete

    usual = complete({})
    found = []
    for name, label in {**POINTS, **STEPS}.items():
        estimate = getattr(kitchen, name)
        if estimate is None:
            continue
        step = name in STEPS
        other = getattr(usual, name)
        axis = axis_of([estimate] if other is None else [estimate, other], step, units)
        found.append(Known(name, label, axis, bar_of(estimate, axis, is_given(estimate), step, units)))
    return tuple(found)
