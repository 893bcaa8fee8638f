"""First-order Sobol indices from the kitchens that a forecast ran anyway: no further run, and chance told apart.

    S_i = Var(E[y | x_i]) / Var(y)

E[y | x_i] is a polynomial in the input's rank. The strongest input is taken first, what it explains is taken out, and
the next is looked for in what is left, so that a weak input is not drowned by a strong one (forward selection, as in
regression). An input counts only where an F test says that chance would show as much in fewer than one of twenty
outputs, all inputs together (Bonferroni). Each index is lessened by what noise alone would explain.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import fdtri

from oventide.forecast.quantiles import alike

Array = NDArray[np.float64]

_CHANCE = 0.05
_MOST_INPUTS = 8
_HEAVY = 9.0
DEGREE = 4
"""Of the polynomial: enough for what rises, falls, bends or turns back once."""


@dataclass(frozen=True)
class MainEffect:
    """The share of an output's variance that follows one input alone, and its standard error."""

    place: int
    """Of the input among those given."""
    share: float
    error: float


class MainEffects:
    """Inputs (k, n) of one ensemble, made ready once and asked for every output."""

    def __init__(self, inputs: Array, weights: Array | None = None, degree: int = DEGREE) -> None:
        from scipy.stats import rankdata  # here, since it takes a second to load

        count = inputs.shape[1]
        share = np.full(count, 1.0 / count) if weights is None else weights / weights.sum()
        self._root = np.sqrt(share)
        self._alike = alike(share)
        self._degree = max(1, min(degree, int(self._alike // 12)))
        place = (2.0 * rankdata(inputs, axis=1) - 1.0) / count - 1.0
        powers = np.polynomial.legendre.legvander(place, self._degree) * self._root[:, None]
        self._basis = np.linalg.qr(powers)[0][:, :, 1:]
        self._columns = np.ascontiguousarray(self._basis.transpose(0, 2, 1).reshape(-1, count))

    def of(self, values: Array) -> tuple[MainEffect, ...]:
        """Inputs that an output (n,) follows more than by chance, strongest first.

        A few kitchens far from all others fool the F test: then an input must also show in the output's ranks; where
        nearly all kitchens show the same, there is nothing to tell.
        """
        found = self._of(values)
        if found and _kurtosis(values) > _HEAVY:
            from scipy.stats import rankdata

            ranks = np.asarray(rankdata(values))
            if _kurtosis(ranks) > _HEAVY:
                return ()
            shown = {effect.place for effect in self._of(ranks)}
            found = tuple(effect for effect in found if effect.place in shown)
        return found

    def _of(self, values: Array) -> tuple[MainEffect, ...]:
        y = self._root * values
        y = y - self._root * (self._root @ y)
        total = float(y @ y)
        inputs, count, degree = self._basis.shape
        if total <= 1e-18 * max(1.0, float(np.square(values).max())) or self._alike < 12.0:
            return ()
        left = y.copy()
        spanned = np.empty((count, 0))
        chosen: dict[int, int] = {}
        orders = np.arange(1, degree + 1)
        while len(chosen) < _MOST_INPUTS:
            explained = np.cumsum(np.square(self._columns @ left).reshape(inputs, degree), axis=1)
            rest = float(left @ left)
            freedom = self._alike - 1.0 - spanned.shape[1] - orders
            if freedom[0] < 4.0 or rest < 1e-9 * total:
                break
            free = np.maximum(freedom, 1.0)
            noise = np.maximum(rest - explained, 1e-12 * total) / free
            # F beyond which chance would show as much in fewer than _CHANCE of the outputs, all inputs together
            beyond = fdtri(orders, free, 1.0 - _CHANCE / (orders * inputs))
            gain = np.where(explained >= beyond * orders * noise, explained - 2.0 * orders * noise, 0.0)
            gain[list(chosen)] = 0.0
            place, order = divmod(int(np.argmax(gain)), degree)
            if gain[place, order] <= 0.0:
                break
            chosen[place] = order + 1
            new = self._basis[place][:, : order + 1]
            new = np.linalg.qr(new - spanned @ (spanned.T @ new))[0]
            spanned = np.concatenate([spanned, new], axis=1)
            left = left - new @ (new.T @ left)
        return self._shares(y, total, chosen)

    def _shares(self, y: Array, total: float, chosen: dict[int, int]) -> tuple[MainEffect, ...]:
        if not chosen:
            return ()
        columns = np.concatenate([self._basis[place][:, :order] for place, order in chosen.items()], axis=1)
        # near to orthonormal columns, few of them: normal equations are exact enough, and ten times as fast
        slopes = np.linalg.solve(columns.T @ columns + 1e-12 * np.eye(columns.shape[1]), columns.T @ y)
        off = y - columns @ slopes
        noise = float(off @ off) / max(self._alike - 1.0 - columns.shape[1], 1.0) / total
        found, at = [], 0
        for place, order in chosen.items():
            raw = float(np.square(slopes[at : at + order]).sum()) / total
            at += order
            share = min(1.0, max(0.0, raw - order * noise))
            found.append(MainEffect(place, share, float(np.sqrt(4.0 * share * noise + 2.0 * order * noise**2))))
        return tuple(sorted(found, key=lambda effect: -effect.share))


def _kurtosis(values: Array) -> float:
    """Fourth moment over the squared variance: 3 for a normal distribution, more with far outliers."""
    off = values - values.mean()
    return float(np.mean(off**4) / max(float(np.mean(off**2)) ** 2, 1e-300))
