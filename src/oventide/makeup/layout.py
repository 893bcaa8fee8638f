"""Which placing the pieces get in the tin: the most room, and a placing that a hand can set where it costs little."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from oventide.evidence.parameters import load
from oventide.makeup.free import free_placing
from oventide.makeup.model import Place, Tin
from oventide.makeup.regular import grids, honeycomb, rings, staggered_rows
from oventide.makeup.room_in_tin import Array, most_room_possible, pitch, room, wall_distance

Position = Literal["centre", "edge", "corner"]


@dataclass(frozen=True)
class Layout:
    """A placing in a tin. `points` (n, 2) are centres from the tin's lower left corner [mm]."""

    name: str
    points: tuple[tuple[float, float], ...]
    pitch_mm: float
    """Least distance of two centres; for a single piece the tin's lesser side."""
    wall_mm: float
    """Least distance of a centre to the wall."""
    room_mm: float
    """Radius of the largest equal circles that fit at these centres."""


def regular_candidates(pieces: int, tin: Tin) -> list[tuple[int, str, Array]]:
    """Placings that a hand can set: how hard each is (0 or 1), its name, centres (n, 2) from the tin's middle."""
    if pieces == 1:
        return [(0, "in the middle", np.zeros((1, 2)))]
    if tin.shape == "round":
        found = [(0, name, points) for name, points in rings(pieces, tin)]
        return found + [(1, name, points) for name, points in honeycomb(pieces, tin) if pieces > 12]
    found = [(0, name, points) for name, points in grids(pieces, tin)]
    return found + [(1, name, points) for name, points in staggered_rows(pieces, tin)]


@lru_cache(maxsize=512)
def choose(pieces: int, tin: Tin, by_hand: bool = False) -> Layout:
    """The placing with the most room; one that is harder to set must be worth it.

    Staggered rows replace a grid (or staggered rows replace rings) when they give at least ``layout.gain_regular``
    more room, a free placing replaces either when it gives at least ``layout.gain_free`` more. With `by_hand` no free
    placing is looked for, which takes up to a second.

    >>> tin = Tin(shape="square", length_mm=230, width_mm=230)
    >>> choose(9, tin).name, round(choose(9, tin).pitch_mm, 2)
    ('grid 3 × 3', 76.67)
    >>> choose(12, tin).name, round(choose(12, tin).pitch_mm, 1)
    ('staggered rows of 3, 3, 3, 3', 64.4)
    """
    evidence = load("makeup")
    regular = [(effort, room(points, tin), name, points) for effort, name, points in regular_candidates(pieces, tin)]
    _, found_room, name, points = max(
        regular, key=lambda item: round(item[1] / (1 + evidence.value("layout.gain_regular") * item[0]), 6)
    )
    wanted = found_room * (1 + evidence.value("layout.gain_free"))
    few = not by_hand and 1 < pieces <= evidence.value("layout.free_pieces")
    settled = tin.shape == "round" and pieces <= evidence.value("layout.rings_enough")
    if few and not settled and most_room_possible(pieces, tin) > wanted:
        free = free_placing(pieces, tin, begin=points)
        if room(free, tin) > wanted:
            found_room, name, points = room(free, tin), "placed freely, by the drawing", free
    walls = wall_distance(points, tin)
    shifted = points + np.array([tin.length_mm / 2, tin.width_mm / 2])
    return Layout(
        name=name,
        points=tuple((float(x), float(y)) for x, y in shifted),
        pitch_mm=pitch(points) if pieces > 1 else min(tin.length_mm, tin.width_mm),
        wall_mm=float(walls.min()),
        room_mm=found_room,
    )


def positions(layout: Layout, tin: Tin) -> tuple[Position, ...]:
    """Whether a piece stands at a corner, an edge or in the middle: walls nearer than 1.3 rooms count as its own."""
    if len(layout.points) == 1:
        return ("centre",)
    near = 1.3 * layout.room_mm
    found: list[Position] = []
    for x, y in layout.points:
        if tin.shape == "round":
            from_wall = tin.length_mm / 2 - float(np.hypot(x - tin.length_mm / 2, y - tin.width_mm / 2))
            found.append("edge" if from_wall < near else "centre")
            continue
        at_x = min(x, tin.length_mm - x) < max(near, tin.length_mm / 2 if _one_row(layout, 0) else 0)
        at_y = min(y, tin.width_mm - y) < max(near, tin.width_mm / 2 if _one_row(layout, 1) else 0)
        found.append("corner" if at_x and at_y else "edge" if at_x or at_y else "centre")
    return tuple(found)


def _one_row(layout: Layout, axis: int) -> bool:
    values = [point[axis] for point in layout.points]
    return max(values) - min(values) < 1e-6


def places(layout: Layout, tin: Tin, radius_mm: float) -> tuple[Place, ...]:
    """The pieces as they stand, row by row from the tin's far side, left to right."""
    named = [
        Place(x_mm=x, y_mm=y, radius_mm=radius_mm, position=position)
        for (x, y), position in zip(layout.points, positions(layout, tin), strict=True)
    ]
    return tuple(sorted(named, key=lambda place: (-round(place.y_mm, 3), round(place.x_mm, 3))))
