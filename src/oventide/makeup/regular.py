"""Regular placings that a hand can set: grids, staggered rows, rings round a centre."""

import math
from collections.abc import Iterator
from functools import partial

import numpy as np

from oventide.makeup.model import Tin
from oventide.makeup.room_in_tin import Array, widest

_RING_LIMIT = 48


def grids(pieces: int, tin: Tin) -> Iterator[tuple[str, Array]]:
    """Rows of equal cells; the last row may hold fewer pieces, spread over its whole length."""
    for columns in range(1, pieces + 1):
        rows = -(-pieces // columns)
        last = pieces - columns * (rows - 1)
        if rows > 1 and last < columns - 1:
            continue
        points = []
        for row in range(rows):
            count = last if row == rows - 1 else columns
            y = tin.width_mm * ((rows - row - 0.5) / rows - 0.5)
            points += [(tin.length_mm * ((column + 0.5) / count - 0.5), y) for column in range(count)]
        full = f"grid {rows} × {columns}"
        named = full if last == columns else f"rows of {columns}, the last of {last}"
        yield named, np.array(points)


def staggered_rows(pieces: int, tin: Tin) -> Iterator[tuple[str, Array]]:
    """Rows set into the gaps of the row before: k, k - 1, k … or k, k, k …, along either side of the tin.

    Like `rings`, yields only placings that have at least the room of those before.
    """
    floor = 0.0
    for rows in range(2, pieces + 1):
        for turned in (False, True):
            long, wide = (tin.width_mm, tin.length_mm) if turned else (tin.length_mm, tin.width_mm)
            for counts, kind in _row_counts(pieces, rows):
                found = widest(partial(_staggered, counts, kind, long, wide), min(long, wide) / 2, floor)
                if found is not None:
                    floor = found[0]
                    points = found[1][:, ::-1] if turned else found[1]
                    yield "staggered rows of " + _listed(counts), np.ascontiguousarray(points)


def _row_counts(pieces: int, rows: int) -> Iterator[tuple[tuple[int, ...], str]]:
    """Counts by row that add up: equal rows, or long and short ones in turn."""
    if pieces % rows == 0:
        yield (pieces // rows,) * rows, "equal"
    for first_long in (True, False):
        longs = (rows + 1) // 2 if first_long else rows // 2
        shorts = rows - longs
        long, rest = divmod(pieces + shorts, rows)
        if rest == 0 and long >= 2:
            yield tuple(long if (row % 2 == 0) == first_long else long - 1 for row in range(rows)), "in turn"


def _staggered(counts: tuple[int, ...], kind: str, long: float, wide: float, radius: float) -> Array | None:
    inner, across = long - 2 * radius, wide - 2 * radius
    if inner < 0 or across < 0:
        return None
    most = max(counts)
    step = inner / (most - 0.5) if kind == "equal" else inner / max(most - 1, 1)
    points = []
    for row, count in enumerate(counts):
        shift = step / 2 if (row % 2 == 1 if kind == "equal" else count < most) else 0.0
        y = wide / 2 - radius - across * row / (len(counts) - 1)
        points += [(-long / 2 + radius + shift + step * index, y) for index in range(count)]
    return np.array(points)


def rings(pieces: int, tin: Tin) -> Iterator[tuple[str, Array]]:
    """Rings in a round tin, with or without a piece in the centre: the outer ring at the wall, inner ones close in."""
    radius, floor = tin.length_mm / 2, 0.0
    for centre in (0, 1):
        if pieces - centre < 1:
            continue
        for counts in _ring_counts(pieces - centre, centre):
            found = widest(partial(_ringed, counts, centre, radius), radius, floor)
            if found is not None:
                floor = found[0]
                yield _ring_name(counts, centre), found[1]


def _ring_counts(pieces: int, centre: int) -> Iterator[tuple[int, ...]]:
    if pieces > _RING_LIMIT:
        return
    if pieces >= 2:
        yield (pieces,)
    for inner in range(2, pieces // 2 + 1):
        yield (inner, pieces - inner)
        if centre and inner >= 4:
            for middle in range(inner + 3, (pieces - inner) // 2 + 3):
                outer = pieces - inner - middle
                if outer > middle:
                    yield (inner, middle, outer)


def _ringed(counts: tuple[int, ...], centre: int, tin_radius: float, radius: float) -> Array | None:
    """Rings from the centre out, each as close in as its own neighbours and the ring before allow."""
    outermost = tin_radius - radius
    placed = np.zeros((1, 2)) if centre else np.zeros((0, 2))
    distance = 0.0
    for index, count in enumerate(counts):
        own = radius / math.sin(math.pi / count)
        if index == len(counts) - 1:
            if own > outermost * (1 + 1e-12):
                return None
            distance = outermost
        elif index == 0:
            distance = max(own, 2 * radius if centre else 0.0)
        else:
            distance = max(own, distance + 2 * radius)
        angles = 2 * math.pi * np.arange(count) / count
        best, best_gap = None, -1.0
        for turn in np.linspace(0, 2 * math.pi / count, 1 if len(placed) <= 1 else 25):
            ring = distance * np.column_stack([np.sin(angles + turn), np.cos(angles + turn)])
            gap = float(np.hypot(*(ring[:, None, :] - placed[None, :, :]).T).min()) if len(placed) else math.inf
            if gap > best_gap:
                best, best_gap = ring, gap
        assert best is not None
        placed = np.vstack([placed, best])
    return placed


def honeycomb(pieces: int, tin: Tin) -> Iterator[tuple[str, Array]]:
    """Many pieces in a round tin: staggered rows cut off by the wall."""
    radius = tin.length_mm / 2
    for origin in ((0.0, 0.0), (0.5, 0.0), (0.5, math.sqrt(3) / 6)):
        found = widest(partial(_honeycomb, pieces, origin, radius), radius)
        if found is not None:
            yield "staggered rows", found[1]


def _honeycomb(pieces: int, origin: tuple[float, float], tin_radius: float, radius: float) -> Array | None:
    reach = int(tin_radius / radius) + 2
    if reach > 40:  # a start for the halving only: far more places than pieces
        radius, reach = tin_radius / 38, 40
    rows, columns = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    x = (columns + 0.5 * (rows % 2) - origin[0]) * 2 * radius
    y = (rows * math.sqrt(3) / 2 - origin[1]) * 2 * radius
    points = np.column_stack([x.ravel(), y.ravel()])
    from_centre = np.hypot(points[:, 0], points[:, 1])
    inside = points[from_centre <= tin_radius - radius]
    if len(inside) < pieces:
        return None
    nearest = np.argsort(np.hypot(inside[:, 0], inside[:, 1]), kind="stable")[:pieces]
    return np.asarray(inside[nearest])


def _listed(counts: tuple[int, ...]) -> str:
    """Counts by row, said short where there are many: "4, 3, 4, 3", "5 and 4 in turn (9 rows)"."""
    if len(counts) > 6:
        turns = f"{counts[0]}" if counts[0] == counts[1] else f"{counts[0]} and {counts[1]} in turn"
        return f"{turns} ({len(counts)} rows)"
    return ", ".join(str(count) for count in counts)


def _ring_name(counts: tuple[int, ...], centre: int) -> str:
    rings_named = f"ring of {counts[0]}" if len(counts) == 1 else "rings of " + " and ".join(map(str, counts))
    return f"centre and {rings_named}" if centre else rings_named
