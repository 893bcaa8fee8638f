"""Where the cells of a piece of dough lie."""

from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def graded_faces(cells: int, finest: float = 0.006, fine_at: Literal["both", "top", "none"] = "both") -> Array:
    """Faces of `cells` cells as relative dry-mass positions, (cells + 1,), from 0 (bottom or axis) to 1 (top or skin).

    Cells grow geometrically from `finest` (share of the whole) at the fine ends towards the middle; a crust is
    drawn by cells of a quarter of a millimetre while the crumb needs far fewer. `fine_at="top"` is for a
    cylinder's axis, where nothing steep happens; "none" gives equal cells.

    >>> faces = graded_faces(24)
    >>> bool(abs(faces[1] - 0.006) < 1e-9), bool(abs(faces[12] - 0.5) < 1e-9)
    (True, True)
    """
    if cells < 2:
        raise ValueError("a grid needs two cells at least")
    if fine_at == "none" or finest >= (1.0 if fine_at == "top" else 0.5) * (1.0 / max(1, cells // 2)):
        return np.linspace(0.0, 1.0, cells + 1)
    if fine_at == "top":
        return np.ascontiguousarray(1.0 - _grown(cells, finest, 1.0)[::-1])
    half = cells // 2
    if cells % 2 == 0:
        lower = _grown(half, finest, 0.5)
        return np.ascontiguousarray(np.concatenate([lower, (1.0 - lower[::-1])[1:]]))
    # an odd count has one cell astride the middle: two halves of it are the last cell of each side
    lower = _grown(half + 1, finest, 0.5, last=0.5)
    return np.ascontiguousarray(np.concatenate([lower[:-1], 1.0 - lower[:-1][::-1]]))


@cache
def _grown(cells: int, finest: float, length: float, last: float = 1.0) -> Array:
    """Faces from 0 to `length`, widths finest·r^i (the last times `last`), r by bisection. Kept: not to be changed."""
    low, high = 1.0, 10.0
    weights = np.ones(cells)
    weights[-1] = last
    powers = np.arange(cells)
    for _ in range(200):
        ratio = 0.5 * (low + high)
        if finest * float((weights * ratio**powers).sum()) > length:
            high = ratio
        else:
            low = ratio
    widths = finest * weights * low**powers
    return np.concatenate([[0.0], np.cumsum(widths) * (length / widths.sum())])
