"""How much room points have in a tin: the radius of the largest equal circles around them.

A tin is centred on the origin here: a rectangle from -L/2 to L/2 and -W/2 to W/2, or an ellipse-free circle of
diameter L. The room of a placing is the least of half the distance of any two points and the distance of any
point to the wall; twice the room is the pitch. A placing with the most room is a packing of equal circles.
"""

import math
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.distance import pdist

from oventide.makeup.model import Tin

Array = NDArray[np.float64]


def wall_distance(points: Array, tin: Tin) -> Array:
    """Distance of each point (n, 2) to the nearest wall (n,) [mm]."""
    if tin.shape == "round":
        return np.asarray(tin.length_mm / 2 - np.hypot(points[:, 0], points[:, 1]))
    half = np.array([tin.length_mm / 2, tin.width_mm / 2])
    return np.asarray(np.min(half - np.abs(points), axis=1))


def pitch(points: Array) -> float:
    """Least distance between two points [mm]; infinite for a single one."""
    return float(pdist(points).min()) if len(points) > 1 else float("inf")


def room(points: Array, tin: Tin) -> float:
    """Radius of the largest equal circles around the points that neither overlap nor cross the wall [mm]."""
    return min(pitch(points) / 2, float(wall_distance(points, tin).min()))


def widest(
    build: Callable[[float], Array | None], limit_mm: float, floor_mm: float = 0.0
) -> tuple[float, Array] | None:
    """The largest radius for which `build` finds a placing with its circles at the walls, and that placing.

    `build(radius)` returns points that respect the walls at that radius, or None where it cannot; what is tested
    here is that neighbours keep two radii apart. Found by halving between `floor_mm` and `limit_mm`; None where
    there is no placing at the floor, so that a placing that cannot beat an earlier one costs one look.
    """

    def keeps_apart(points: Array | None, radius: float) -> bool:
        return points is not None and pitch(points) >= 2 * radius * (1 - 1e-12)

    low, high = max(floor_mm, 1e-3 * limit_mm), limit_mm
    best = build(low)
    if best is None or not keeps_apart(best, low):
        return None
    for _ in range(36):
        middle = (low + high) / 2
        points = build(middle)
        if points is not None and keeps_apart(points, middle):
            low, best = middle, points
        else:
            high = middle
    return low, best


def most_room_possible(pieces: int, tin: Tin) -> float:
    """A radius that no placing can exceed [mm].

    Oler's inequality (1961, remembered): points at least d apart in a convex set of area A and perimeter P number at
    most 2 A / (√3 d²) + P / (2 d) + 1. The set is the tin drawn in by one radius.
    """
    low, high = 0.0, min(tin.length_mm, tin.width_mm) / 2
    for _ in range(60):
        radius = (low + high) / 2
        d, length, width = 2 * radius, tin.length_mm - 2 * radius, tin.width_mm - 2 * radius
        if tin.shape == "round":
            area, perimeter = math.pi / 4 * length * length, math.pi * length
        else:
            area, perimeter = length * width, 2 * (length + width)
        holds = 2 * area / (math.sqrt(3) * d * d) + perimeter / (2 * d) + 1
        low, high = (radius, high) if holds >= pieces else (low, radius)
    return high
