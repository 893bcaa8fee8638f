"""The tides: the dough's temperature, rise and softness as levels over one clock."""

import numpy as np
from numpy.typing import NDArray

from oventide.forecast.model import Tide
from oventide.forecast.quantiles import quantiles
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]

LEVELS: dict[str, tuple[str, dict[str, str], float, bool]] = {
    "temperature": ("°C", {"mix": "mean_c", "hold": "core_c", "oven": "core_c"}, 1.0, False),
    "surface": ("°C", {"oven": "surface_c"}, 1.0, False),
    "rise": ("×", {"mix": "rise", "hold": "rise"}, 1.0, False),
    "softness": ("%", {"hold": "solid_fat"}, 100.0, True),
}
"""Each level: unit, observable by kernel, scale, and whether it is one less the observable."""


def tides(trace: Trace, weights: Array | None = None) -> tuple[Tide, ...]:
    """Temperature of the slowest point [°C], rise since mixing [×] and softness of the butter [%], 5/50/95 %.

    Each step is drawn between its likely start and its likely end, on the members' own time since they began it.
    Rise ends where the oven begins: from there height is the oven kernel's, in other terms.
    """
    found = []
    for name, (unit, observables, scale, inverted) in LEVELS.items():
        minutes: list[float] = []
        rows: list[tuple[float, ...]] = []
        for step in trace.steps:
            observable = observables.get(step.kernel)
            if observable is None or float(np.median(step.duration_s)) <= 0.0:
                continue
            at, values = _curve(step, observable)
            values = (1.0 - values if inverted else values) * scale
            minutes += [float(value) for value in at]
            rows += [tuple(float(x) for x in row) for row in quantiles(values, weights=weights).T]
        if minutes:
            p5, p50, p95 = zip(*rows, strict=True)
            found.append(Tide(name=name, unit=unit, minutes=tuple(minutes), p5=p5, p50=p50, p95=p95))
    return tuple(found)


def _curve(step: StepTrace, observable: str) -> tuple[Array, Array]:
    """Minutes on the likely clock (T,) and values (M, T) from the step's likely start to its likely end."""
    length = float(np.median(step.duration_s))
    start = float(np.median(step.start_s))
    inside = step.sample_s < length
    last = step.at(observable, np.full(step.start_s.size, length))
    values = np.column_stack([step.curve(observable)[:, inside], last])
    return (start + np.append(step.sample_s[inside], length)) / 60.0, values
