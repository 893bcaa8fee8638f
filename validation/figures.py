"""Every figure that a forecast reads off a trace, as one value for each kitchen."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.forecast.drivers import Drivers
from oventide.forecast.foresee import readings_of
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.trace import Trace

Array = NDArray[np.float64]
_DIGITS = {"°C": 1, "min": 1, "%": 1, "×": 2, "ΔE": 1, "g": 1}
"""As finely as it can be read; a crumb that is 99.9996 % set is set."""

Key = tuple[int, str, str]
"""Step's index, step's kind, reading's name without what hangs on its value."""


@dataclass(frozen=True)
class Figure:
    """Values (M,) in the reading's unit; infinite where it is not reached; `horizon` is how far was looked."""

    values: Array
    unit: str
    horizon: float


class Collector(Reader):
    """Takes the values instead of making windows of them."""

    def __init__(self, drivers: Drivers) -> None:
        super().__init__(drivers)
        self.found: dict[str, Figure] = {}

    def read(
        self,
        name: str,
        unit: str,
        values: Array,
        law: str,
        sources: Iterable[str] = (),
        *,
        horizon: float | None = None,
        valid: bool = True,
        scale: float = 1.0,
    ) -> Reading:
        """Keep the values; the reading that is given back is only for the caller's sake."""
        far = np.inf if horizon is None else horizon * scale
        shown = np.round(np.asarray(values, dtype=float) * scale, _DIGITS.get(unit, 3))
        self.found[name.partition(" (")[0]] = Figure(shown, unit, far)
        return super().read(name, unit, values, law, sources, horizon=horizon, valid=valid, scale=scale)


class NoDrivers(Drivers):
    """No causes: they take time and are not asked for here."""

    def __init__(self, ensemble: Ensemble) -> None:
        self.ensemble = ensemble
        self.keys = ()
        self._effects = None


def figures(trace: Trace, batch: Batch, kitchen: Kitchen) -> dict[Key, Figure]:
    """Every reading of every step, and when each step ends [min]."""
    found: dict[Key, Figure] = {}
    for step in trace.steps:
        collector = Collector(NoDrivers(trace.ensemble))
        readings_of(collector, step, trace, batch, kitchen)
        for name, figure in collector.found.items():
            found[step.index, step.step.kind, name] = figure
        ends = (step.start_s + step.duration_s) / 60.0
        found[step.index, step.step.kind, "end of the step"] = Figure(ends, "min", np.inf)
    return found
