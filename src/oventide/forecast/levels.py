"""The tide chart's levels on the real clock: few points, the past where it really lay, weighed by the readings."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.forecast.quantiles import quantiles
from oventide.forecast.tides import LEVELS
from oventide.forecast.under_way import Leg, Moments
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

MOST_POINTS = 60


@dataclass(frozen=True)
class LevelCurve:
    """One water level: moments since the bake began [s], and 5, 50 and 95 % of the kitchens there."""

    name: str
    unit: str
    at_s: tuple[float, ...]
    p5: tuple[float, ...]
    p50: tuple[float, ...]
    p95: tuple[float, ...]


def levels(
    found: Sequence[Leg], windows: Sequence[tuple[Moments, Moments]], weights: Array | None = None
) -> tuple[LevelCurve, ...]:
    """Temperature of the slowest point, crust, rise and softness of the butter, from the first step on.

    Each step lies between its likely (or its real) begin and end; keeping is left out, it would flatten the day.
    """
    curves = []
    for name, (unit, observables, scale, inverted) in LEVELS.items():
        shown = [
            (leg.trace, observables[leg.trace.kernel], begins.likely, ends.likely)
            for leg, (begins, ends) in zip(found, windows, strict=True)
            if observables.get(leg.trace.kernel) in leg.trace.names
            and ends.likely > begins.likely
            and leg.trace.step.kind != "keep"
        ]
        if not shown:
            continue
        moments, columns = [], []
        for (trace, observable, begin, end), count in zip(shown, _shared_out(shown), strict=True):
            after = np.linspace(0.0, end - begin, count)
            columns.append(_values(trace, observable, after))
            moments.append(begin + after)
        values = np.concatenate(columns, axis=1)
        values = (1.0 - values if inverted else values) * scale
        rows = quantiles(values, weights=weights).round(3)
        at = np.concatenate(moments).round()
        curves.append(LevelCurve(name, unit, *(tuple(float(x) for x in row) for row in (at, *rows))))
    return tuple(curves)


def _shared_out(shown: Sequence[tuple[StepTrace, str, float, float]]) -> list[int]:
    """How many points each step gets: two at least, the rest by the root of its length."""
    if 2 * len(shown) >= MOST_POINTS:
        return [2 if place < MOST_POINTS // 2 else 0 for place in range(len(shown))]
    roots = np.sqrt([end - begin for _, _, begin, end in shown])
    more = np.floor(roots / roots.sum() * (MOST_POINTS - 2 * len(shown))).astype(int)
    return [2 + int(count) for count in more]


def _values(trace: StepTrace, observable: str, after_s: Array) -> Array:
    """(M, T) one observable at moments after the step's begin, held at the end of what was looked at."""
    curve = trace.curve(observable)
    place = np.interp(after_s, trace.sample_s, np.arange(trace.sample_s.size))
    left = np.minimum(place.astype(int), max(0, trace.sample_s.size - 2))
    right = np.minimum(left + 1, trace.sample_s.size - 1)
    share = place - left
    return np.asarray(curve[:, left] * (1.0 - share) + curve[:, right] * share)
