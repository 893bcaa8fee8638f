"""What the simulation leaves behind: for every step the samples of every member, and when each member ended."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oventide.bake.doneness import first_crossing
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.procedure import Step
from oventide.timeline.spread_out import forget

Array = NDArray[np.float64]


@dataclass(frozen=True)
class StepTrace:
    """One step. `samples` (M, K, observables) runs past the step's end to the horizon, so that windows can be read."""

    index: int
    step: Step
    kernel: Literal["mix", "hold", "oven", "keep", "rest"]
    names: tuple[str, ...]
    start_s: Array
    """(M,) since the first step began [s]."""
    duration_s: Array
    """(M,) [s]."""
    sample_s: Array
    """(K,) since the step began [s]."""
    samples: Array
    facts: Mapping[str, Array]
    """(M,) figures that are not observables of a kernel: mixing temperature, film, setting."""

    def curve(self, name: str) -> Array:
        """Samples of one observable (M, K)."""
        curve = self.samples[:, :, self.names.index(name)]
        if curve.dtype == np.float64:
            return curve
        # a large ensemble's samples lie in a file: take this curve out, and let go of the rest
        taken = curve.astype(np.float64)
        forget(self.samples)
        return taken

    def at(self, name: str, seconds: Array) -> Array:
        """One observable at a time of each member's own (M,), linear between samples, held at the ends."""
        curve = self.curve(name)
        position = np.interp(seconds, self.sample_s, np.arange(self.sample_s.size))
        left = (
            np.minimum(position.astype(int), self.sample_s.size - 2) if self.sample_s.size > 1 else position.astype(int)
        )
        share = position - left
        rows = np.arange(curve.shape[0])
        right = np.minimum(left + 1, self.sample_s.size - 1)
        return np.asarray(curve[rows, left] * (1 - share) + curve[rows, right] * share)

    def at_start(self, name: str) -> Array:
        """One observable when the step begins (M,)."""
        return self.curve(name)[:, 0]

    def at_end(self, name: str) -> Array:
        """One observable when each member ended (M,)."""
        return self.at(name, self.duration_s)

    def first_passage(self, name: str, threshold: Array | float, rising: bool = True) -> Array:
        """Seconds until an observable first reaches a threshold (M,): 0 if it starts there, inf if it never does."""
        crossed = first_crossing(self.sample_s, self.curve(name), threshold, rising)
        return np.where(np.isnan(crossed), np.inf, crossed)


@dataclass(frozen=True)
class Trace:
    """The whole timeline of every member."""

    ensemble: Ensemble
    steps: tuple[StepTrace, ...]
    assumed: tuple[str, ...] = ()

    @property
    def end_s(self) -> Array:
        """(M,) when the last step ends [s]."""
        last = self.steps[-1]
        return np.asarray(last.start_s + last.duration_s)
