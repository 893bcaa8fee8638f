"""Where a knife through the tin meets the buns: which of them, and how wide each is there. Sizes in mm.

The knife goes along the tin's length, once through the row nearest its middle and once through a row by the wall. A
piece is as wide as the chord of its circle on the knife's line; neighbours that would overlap share the room between
them, and none goes through the wall.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from oventide.makeup.model import Place, Tin

Position = Literal["centre", "edge", "corner"]


@dataclass(frozen=True)
class Bun:
    """A bun as the knife shows it."""

    left_mm: float
    right_mm: float
    position: Position


@dataclass(frozen=True)
class Cut:
    """One cut through the tin, its own left wall at 0."""

    name: str
    width_mm: float
    depth_mm: float
    buns: tuple[Bun, ...]
    has_walls: bool = True
    is_half: bool = False

    def half(self) -> "Cut":
        """From the left wall to the middle, for narrow paper; the whole where the two halves are not alike."""
        middle = self.width_mm / 2
        buns = [Bun(b.left_mm, min(b.right_mm, middle), b.position) for b in self.buns if b.left_mm < middle - 1]
        mirrored = [b.position for b in reversed(self.buns)] == [b.position for b in self.buns]
        return Cut(self.name, middle, self.depth_mm, tuple(buns), self.has_walls, True) if mirrored else self


def cuts_of(tin: Tin | None, standing: Sequence[Place], radius_mm: float) -> tuple[Cut, ...]:
    """The two cuts; one where every row is alike, or where a single bun stands alone.

    >>> tin = Tin(shape="square", length_mm=200, width_mm=200)
    >>> spots = [(x, y) for y in (34, 100, 166) for x in (34, 100, 166)]
    >>> inside = [Place(x_mm=x, y_mm=y, radius_mm=25, position="centre" if (x, y) == (100, 100) else "corner"
    ...     if 100 not in (x, y) else "edge") for x, y in spots]
    >>> [[bun.position for bun in cut.buns] for cut in cuts_of(tin, inside, 40)]
    [['edge', 'centre', 'edge'], ['corner', 'edge', 'corner']]
    """
    if tin is None or not standing:
        alone = Cut("one bun", 2 * radius_mm + 40, 0, (Bun(20, 2 * radius_mm + 20, "centre"),), has_walls=False)
        return (alone,)
    middle = min(standing, key=lambda p: math.hypot(p.x_mm - tin.length_mm / 2, p.y_mm - tin.width_mm / 2))
    cuts = [_cut("through the middle", middle.y_mm, tin, standing, radius_mm)]
    outer = [p for p in standing if p.position == "corner"] or [p for p in standing if p.position == "edge"]
    if outer:
        by_wall = min(outer, key=lambda p: p.y_mm)
        other = _cut("along the wall", by_wall.y_mm, tin, standing, radius_mm)
        if [b.position for b in other.buns] != [b.position for b in cuts[0].buns]:
            cuts.append(other)
    return tuple(cuts)


def _cut(name: str, y: float, tin: Tin, standing: Sequence[Place], radius_mm: float) -> Cut:
    left, right = 0.0, tin.length_mm
    if tin.shape == "round":
        radius = tin.length_mm / 2
        half = math.sqrt(max(radius**2 - (y - radius) ** 2, 1.0))
        left, right = radius - half, radius + half
    met = []
    for place in sorted(standing, key=lambda p: p.x_mm):
        off = abs(place.y_mm - y)
        if off < 0.8 * radius_mm:
            chord = math.sqrt(radius_mm**2 - off**2)
            met.append((place.x_mm, chord, place.position))
    edges = [[max(x - chord, left), min(x + chord, right)] for x, chord, _ in met]
    for before, after in pairwise(range(len(met))):
        if edges[before][1] > edges[after][0]:
            shared = (met[before][0] + met[after][0]) / 2
            edges[before][1] = edges[after][0] = shared
    buns = tuple(
        Bun(begin - left, end - left, position)
        for (begin, end), (_, _, position) in zip(edges, met, strict=True)
        if end - begin > 2
    )
    return Cut(name, right - left, tin.depth_mm, buns)
