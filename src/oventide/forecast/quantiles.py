"""Quantiles of an ensemble whose kitchens need not count alike."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

WINDOW = (0.05, 0.5, 0.95)
"""What a window shows: 5, 50 and 95 %."""


def alike(weights: Array) -> float:
    """How many kitchens of equal weight would say as much: 1 / Σw² for weights that sum to 1 (Kish).

    >>> round(alike(np.full(200, 1 / 200)))
    200
    """
    return float(1.0 / np.square(weights / weights.sum()).sum())


def quantiles(values: Array, at: Sequence[float] = WINDOW, weights: Array | None = None) -> Array:
    """Quantiles of `values` (M,) or, along the first axis, (M, ...), by weights (M,); all alike where none are given.

    The k-th of n equal values stands at k/(n+1): then a further kitchen from the same prior falls within the 5-95 %
    window of n others in 90 % of draws whatever the distribution. With unequal weights n is `alike(weights)`.

    >>> quantiles(np.arange(1.0, 20.0), (0.05, 0.5)).tolist()
    [1.0, 10.0]
    >>> quantiles(np.arange(1.0, 20.0), (0.05, 0.5), np.ones(19)).round(9).tolist()
    [1.0, 10.0]
    """
    if weights is None:
        return np.asarray(np.quantile(values, at, axis=0, method="weibull"))
    share = weights / weights.sum()
    flat = values.reshape(values.shape[0], -1)
    order = np.argsort(flat, axis=0, kind="stable")
    n = alike(share)
    ranked, sorted_ = share[order], np.take_along_axis(flat, order, axis=0)
    place = ((np.cumsum(ranked, axis=0) - 0.5 * ranked) * n + 0.5) / (n + 1.0)
    columns = np.arange(flat.shape[1])
    found = np.empty((len(at), flat.shape[1]))
    for row, wanted in enumerate(at):
        # straight lines between the two that stand around the place wanted, the outermost held
        above = np.minimum((place < wanted).sum(axis=0), flat.shape[0] - 1)
        below = np.maximum(above - 1, 0)
        low, high = place[below, columns], place[above, columns]
        part = np.where(high > low, np.clip((wanted - low) / np.where(high > low, high - low, 1.0), 0.0, 1.0), 1.0)
        found[row] = sorted_[below, columns] + part * (sorted_[above, columns] - sorted_[below, columns])
    return found.reshape(len(at), *values.shape[1:])
