"""What a figure hangs on: which uncertain inputs its spread follows, and which measurement would narrow it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.causes import cause_of
from oventide.forecast.main_effects import MainEffects
from oventide.timeline.ensemble import Ensemble

Array = NDArray[np.float64]

LEAST_SHARE = 0.03
"""Shares below this are not named, even where they can be told from chance."""


@dataclass(frozen=True)
class Driver:
    """A cause and the share of a figure's variance that follows it alone (first-order Sobol index).

    Inputs that are one cause to the baker stand together: their indices are summed, `key` is the strongest.
    """

    key: str
    what: str
    share: float
    source: str
    error: float = 0.0
    """Standard error of the share."""
    narrowed_by: str = ""


class Drivers:
    """The uncertain inputs of an ensemble, made ready once, asked for every figure."""

    def __init__(self, ensemble: Ensemble, weights: Array | None = None) -> None:
        self.ensemble = ensemble
        axes = ensemble.axes() if ensemble.members > 1 else {}
        self.keys = tuple(axes)
        self._effects = MainEffects(np.stack([axes[key] for key in self.keys]), weights) if axes else None

    def of(self, values: Array, most: int = 3) -> tuple[Driver, ...]:
        """The causes that a figure (M,) follows most, strongest first.

        None for a single kitchen, for a fixed figure, and where no cause can be told from chance.
        """
        if self._effects is None or np.ptp(values) <= 1e-9 * max(1.0, float(np.abs(values).max())):
            return ()
        found: dict[str, Driver] = {}
        for effect in self._effects.of(values):
            key = self.keys[effect.place]
            parameter = self.ensemble.parameters[key]
            cause = cause_of(key, parameter)
            known = found.get(cause.words)
            if known is None:
                found[cause.words] = Driver(
                    key, cause.words, effect.share, parameter.source, effect.error, cause.narrowed_by
                )
            else:
                error = float(np.hypot(known.error, effect.error))
                found[cause.words] = Driver(
                    known.key, known.what, known.share + effect.share, known.source, error, known.narrowed_by
                )
        ranked = sorted(found.values(), key=lambda driver: -driver.share)
        return tuple(driver for driver in ranked[:most] if driver.share >= LEAST_SHARE)
