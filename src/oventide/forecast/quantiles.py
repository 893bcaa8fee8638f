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
    found = np.empty((len(at), flat.shape[1]))
    for column in range(flat.shape[1]):
        ranked = share[order[:, column]]
        place = ((np.cumsum(ranked) - 0.5 * ranked) * n + 0.5) / (n + 1.0)
        found[:, column] = np.interp(at, place, flat[order[:, column], column])
    return found.reshape(len(at), *values.shape[1:])
