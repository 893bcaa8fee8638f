"""Two countdowns of the bench: from when to when the dough rolls, and the butter for the spread spreads.

Dough rolls while its butter is neither so hard that the sheet cracks nor so soft that it smears; butter spreads between
the same two shares of solid fat (docs/models/fat.md).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oventide.dough.fat import thresholds
from oventide.evidence.parameters import load
from oventide.forecast.quantiles import quantiles
from oventide.forecast.under_way import Leg, Moments, UnderWay
from oventide.matter.milk_fat import temperature_at_solid
from oventide.timeline.butter import butter_in_the_room

Array = NDArray[np.float64]

ON_THE_BENCH = ("temper", "sheet", "spread", "roll")
COLD_BEFORE = ("retard", "chill", "bulk")
LOOKED_AT_MIN = 240.0


@dataclass(frozen=True)
class Open:
    """A window of time: `opens` is None where it is open already, `closes` where no end is foreseen."""

    name: Literal["dough rolls", "butter spreads"]
    opens: Moments | None
    closes: Moments | None


@dataclass(frozen=True)
class Butter:
    """(M,) seconds after butter was put out until it spreads, and until it is too soft; infinite where it does not."""

    spreads_s: Array
    too_soft_s: Array


def bench_stretch(found: Sequence[Leg], now_place: int) -> range | None:
    """Places of the steps on the bench that go on now or come next out of the cold; None at any other time."""
    if now_place >= len(found):
        return None
    kind = found[now_place].trace.step.kind
    first = now_place
    if kind in COLD_BEFORE:
        first = now_place + 1
    if first >= len(found) or found[first].trace.step.kind not in ON_THE_BENCH:
        return None
    while first > 0 and found[first - 1].trace.step.kind in ON_THE_BENCH:
        first -= 1
    last = first
    while last + 1 < len(found) and found[last + 1].trace.step.kind in ON_THE_BENCH:
        last += 1
    return range(first, last + 1)


def dough_rolls(found: Sequence[Leg], stretch: range, now_s: float, weights: Array | None) -> Open:
    """From when to when the dough's butter lets it be rolled, over the steps on the bench."""
    at = thresholds()
    return _open("dough rolls", _met(found, stretch, at.too_hard), _met(found, stretch, at.too_soft), now_s, weights)


def _met(found: Sequence[Leg], stretch: range, share: float) -> Array:
    """(M,) when the dough's solid fat first falls to a share, since the bake began [s]; infinite where it does not."""
    members = found[stretch[0]].begins_s.size
    met = np.full(members, np.inf)
    for place in stretch:
        leg = found[place]
        after = leg.trace.first_passage("solid_fat", share, rising=False)
        here = np.isfinite(after) & ~np.isfinite(met)
        if place != stretch[-1]:
            here &= leg.begins_s + after <= np.maximum(leg.ends_s, found[place + 1].begins_s)
        met = np.where(here, leg.begins_s + after, met)
    return met


@lru_cache(maxsize=32)
def butter_of(run: UnderWay, place: int) -> Butter | None:
    """Butter for the spread, out of the fridge when the step at `place` begins; None where no butter is spread."""
    filling = run.batch.filling
    if filling is None or filling.butter_water_g <= 0.0:
        return None
    ensemble = run.trace.ensemble
    own, room = ensemble.of("kitchen"), run.trace.steps[place].facts.get("air_c")
    draws = {**ensemble.of("matter"), **ensemble.of("timeline"), **ensemble.of("live")}
    mass = np.minimum(draws["butter.block"], filling.fat_g / load("live").value("butter.fat"))
    seconds, _, solid = butter_in_the_room(
        mass, own["fridge"], own["room"] if room is None else room, draws, LOOKED_AT_MIN
    )
    at = thresholds()
    return Butter(_falls(seconds, solid, at.too_hard), _falls(seconds, solid, at.too_soft))


def _falls(seconds: Array, solid: Array, share: float) -> Array:
    below = solid <= share
    first = below.argmax(axis=1)
    rows = np.arange(solid.shape[0])
    before = np.maximum(first - 1, 0)
    high, low = solid[rows, before], solid[rows, first]
    part = np.where(high > low, (high - share) / np.maximum(high - low, 1e-12), 0.0)
    met = seconds[before] + part * (seconds[first] - seconds[before])
    return np.where(below.any(axis=1), np.where(first == 0, 0.0, met), np.inf)


def butter_spreads(butter: Butter, found: Sequence[Leg], stretch: range, now_s: float, weights: Array | None) -> Open:
    """The same of the butter, put out when the first step on the bench begins."""
    out = found[stretch[0]].begins_s
    return _open("butter spreads", out + butter.spreads_s, out + butter.too_soft_s, now_s, weights)


def _open(
    name: Literal["dough rolls", "butter spreads"], opens: Array, closes: Array, now_s: float, weights: Array | None
) -> Open:
    begins = _window(opens, weights)
    if begins is not None and begins.latest <= now_s:
        return Open(name, None, _window(closes, weights))
    return Open(name, begins, _window(closes, weights))


def _window(moments: Array, weights: Array | None) -> Moments | None:
    """The window of moments of which some may never come: held at the last that does; None where half never come."""
    finite = np.isfinite(moments)
    share = float(np.average(finite, weights=weights))
    if share < 0.5:
        return None
    held = np.where(finite, moments, moments[finite].max())
    return Moments(*(float(value) for value in quantiles(held, weights=weights)))


def out_by_s(butter: Butter, wanted_s: float, weights: Array | None) -> float | None:
    """When butter has to be out of the fridge, likely, to spread at `wanted_s`; None where it hardly ever would."""
    window = _window(butter.spreads_s, weights)
    return None if window is None else wanted_s - window.likely


def spreads_between_c() -> tuple[float, float]:
    """Temperatures between which plain butter spreads [°C].

    >>> tuple(round(c, 1) for c in spreads_between_c())
    (13.0, 19.7)
    """
    at = thresholds()
    return temperature_at_solid(at.too_hard), temperature_at_solid(at.too_soft)
