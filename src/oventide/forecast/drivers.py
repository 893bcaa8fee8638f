"""What a figure hangs on: which uncertain inputs its spread follows, and which measurement would narrow it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.timeline.ensemble import Ensemble

Array = NDArray[np.float64]

LEAST_SHARE = 0.06
"""Squared rank correlations below this cannot be told from chance with a few hundred members."""

NARROWED_BY: tuple[tuple[str, str], ...] = (
    ("kitchen:room", "a thermometer where the dough stands"),
    ("kitchen:fridge", "a thermometer in the fridge"),
    ("kitchen:proof", "a thermometer where the dough proofs"),
    ("kitchen:flour", "the flour's temperature"),
    ("kitchen:tap_water", "the water's temperature"),
    ("kitchen:oven_offset", "an oven thermometer"),
    ("kitchen:friction", "the dough's temperature straight after mixing"),
    ("dough:yeast", "one look at a straight-walled sample jar during the proof"),
    ("dough:flour", "one look at a straight-walled sample jar during the proof"),
    ("dough:gas", "one look at a straight-walled sample jar during the proof"),
    ("dough:", "one probe reading of the dough"),
    ("timeline:hands", "the minutes that you take"),
    ("timeline:bench", "one probe reading of the sheet after ten minutes"),
    ("timeline:", "one probe reading of the dough after an hour"),
    ("matter:milk_fat", "how the butter feels at a known temperature"),
    ("bake:browning", "the colour of one finished bake"),
    ("bake:film", "one core reading before the cover comes off"),
    ("bake:tin", "one core reading before the cover comes off"),
    ("bake:cover", "one core reading before the cover comes off"),
    ("bake:", "the weight and core of one finished bake"),
)


@dataclass(frozen=True)
class Driver:
    """An uncertain input and the share of a figure's spread that follows it (squared rank correlation)."""

    key: str
    what: str
    share: float
    source: str

    @property
    def narrowed_by(self) -> str:
        return next((reading for prefix, reading in NARROWED_BY if self.key.startswith(prefix)), "")


class Drivers:
    """Ranks of every uncertain input of an ensemble, made once, asked for every figure."""

    def __init__(self, ensemble: Ensemble) -> None:
        self.ensemble = ensemble
        axes = ensemble.axes()
        self.keys = tuple(axes)
        self._ranks = _centred_ranks(np.stack([axes[key] for key in self.keys])) if axes else np.empty((0, 0))

    def of(self, values: Array, most: int = 3) -> tuple[Driver, ...]:
        """The inputs that a figure (M,) follows most, strongest first; none for a single kitchen or a fixed figure."""
        if not self.keys or np.ptp(values) <= 1e-9 * max(1.0, float(np.abs(values).max())):
            return ()
        ranks = _centred_ranks(values[None, :])[0]
        shares = np.square(self._ranks @ ranks)
        order = np.argsort(-shares)[:most]
        found = []
        for place in order:
            if shares[place] >= LEAST_SHARE:
                parameter = self.ensemble.parameters[self.keys[place]]
                found.append(Driver(self.keys[place], parameter.what, float(shares[place]), parameter.source))
        return tuple(found)


def _centred_ranks(rows: Array) -> Array:
    """Ranks of each row, centred and of length one, so that a dot product is a rank correlation."""
    from scipy.stats import rankdata  # here, since it takes a second to load

    ranks = rankdata(rows, axis=1)
    ranks = ranks - ranks.mean(axis=1, keepdims=True)
    length = np.sqrt(np.square(ranks).sum(axis=1, keepdims=True))
    return np.asarray(ranks / np.where(length > 0, length, 1.0))
