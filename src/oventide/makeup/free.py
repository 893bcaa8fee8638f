"""Free placing: pieces pushed apart until none can gain room, by a chain of linear programs.

With all other things fixed, the distance of two points is convex in their shifts, so its tangent never promises
more than it keeps: each step is a linear program (largest radius under linear bounds) whose answer is a placing
at least as good. Several starts, seeded, so that the same tin gives the same answer. Sequential quadratic programming
was tried and needs fewer steps, but its dense algebra starts threads that stall a busy machine.
"""

from functools import lru_cache

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import coo_array

from oventide.makeup.model import Tin, TinShape
from oventide.makeup.room_in_tin import Array, room

_WALL_TANGENTS = np.radians(np.array([-24.0, -12.0, 0.0, 12.0, 24.0]))


def free_placing(pieces: int, tin: Tin, begin: Array | None = None, starts: int = 8) -> Array:
    """A placing with as much room as we can find, centred on the tin's middle (pieces, 2) [mm].

    `begin` is a placing to start from beside the random ones, such as the best regular one.
    """
    scale = tin.length_mm
    first = () if begin is None else tuple((round(float(x) / scale, 9), round(float(y) / scale, 9)) for x, y in begin)
    return np.asarray(_unit_placing(pieces, tin.shape, round(tin.width_mm / scale, 9), first, starts)) * scale


@lru_cache(maxsize=256)
def _unit_placing(
    pieces: int, shape: TinShape, width: float, first: tuple[tuple[float, float], ...], starts: int
) -> tuple[tuple[float, float], ...]:
    tin = Tin(shape=shape, length_mm=1.0, width_mm=width)
    generator = np.random.default_rng([pieces, starts])
    begins = [np.array(first)] if first else []
    begins += [_random_start(pieces, tin, generator) for _ in range(starts)]
    best, best_room = begins[0], -1.0
    for begin in begins:
        points = _pushed_apart(begin, tin)
        found = room(points, tin)
        if found > best_room:
            best, best_room = points, found
    return tuple((float(x), float(y)) for x, y in best)


def _random_start(pieces: int, tin: Tin, generator: np.random.Generator) -> Array:
    """The roomiest of a handful of random throws, one point after another."""
    placed: list[Array] = []
    for _ in range(pieces):
        throws = generator.uniform(-0.5, 0.5, size=(24, 2)) * [0.9 * tin.length_mm, 0.9 * tin.width_mm]
        if tin.shape == "round":
            reach = np.hypot(throws[:, 0], throws[:, 1])
            throws = throws * np.minimum(1.0, 0.45 * tin.length_mm / np.maximum(reach, 1e-9))[:, None]
        if placed:
            gaps = np.hypot(*(throws[:, None, :] - np.array(placed)[None, :, :]).T).min(axis=0)
            placed.append(throws[int(np.argmax(gaps))])
        else:
            placed.append(throws[0])
    return np.array(placed)


def _pushed_apart(points: Array, tin: Tin) -> Array:
    reach, current = 0.15 * tin.length_mm, room(points, tin)
    for _ in range(60):
        moved = _one_step(points, tin, reach)
        gained = room(moved, tin) if moved is not None else -1.0
        if moved is None or gained <= current:
            reach *= 0.4
            if reach < 1e-6 * tin.length_mm:
                break
            continue
        small = gained - current < 1e-7 * tin.length_mm
        points, current = moved, gained
        if small:
            break
    return points


def _one_step(points: Array, tin: Tin, reach: float) -> Array | None:
    """The linear program: variables are the shifts of all points and the radius, which is made large."""
    count = len(points)
    rows: list[int] = []
    columns: list[int] = []
    values: list[float] = []
    bounds: list[float] = []

    def at_most(terms: list[tuple[int, float]], bound: float) -> None:
        for column, value in terms:
            rows.append(len(bounds))
            columns.append(column)
            values.append(value)
        bounds.append(bound)

    radius = 2 * count
    now = room(points, tin)
    for i in range(count):
        for j in range(i):
            apart = points[i] - points[j]
            distance = float(np.hypot(*apart))
            if distance > 2 * now + 4 * reach + 0.1 * tin.length_mm:
                continue
            ux, uy = apart / distance if distance > 1e-12 else (1.0, 0.0)
            terms = [(2 * i, -ux), (2 * i + 1, -uy), (2 * j, ux), (2 * j + 1, uy), (radius, 2.0)]
            at_most(terms, distance)
    if tin.shape == "round":
        for i, (x, y) in enumerate(points):
            for angle in np.arctan2(y, x) + _WALL_TANGENTS:
                c, s = float(np.cos(angle)), float(np.sin(angle))
                at_most([(2 * i, c), (2 * i + 1, s), (radius, 1.0)], tin.length_mm / 2 - c * x - s * y)
    else:
        for i, point in enumerate(points):
            for axis, half in enumerate((tin.length_mm / 2, tin.width_mm / 2)):
                at_most([(2 * i + axis, 1.0), (radius, 1.0)], half - point[axis])
                at_most([(2 * i + axis, -1.0), (radius, 1.0)], half + point[axis])
    matrix = coo_array((values, (rows, columns)), shape=(len(bounds), radius + 1)).toarray()
    objective = np.zeros(radius + 1)
    objective[radius] = -1.0
    limits = [(-reach, reach)] * (2 * count) + [(0.0, None)]
    answer = linprog(objective, A_ub=matrix, b_ub=np.array(bounds), bounds=limits, method="highs")
    if answer.status != 0 or answer.x is None:
        return None
    return np.asarray(points + answer.x[: 2 * count].reshape(count, 2))
