"""The balance drawn as tide staffs: a post with marks, the level in it, the known range beside it.

The drawing carries no words, so that it can be stretched to any size; the words stand beneath it as text.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from oventide.services.balancing import Level, is_moved
from oventide.web.differences import level_sentence
from oventide.web.figures import percent, plain
from oventide.web.levels import nice_step
from oventide.web.svg import box, line, path

WIDE, HIGH = 64.0, 120.0
POST, LEVEL, RANGE = (0.0, 12.0), (12.0, 48.0), (50.0, 62.0)
BLOCKS = 10
SIGNS = {"above": "▲", "below": "▼", "within": "", "": ""}


@dataclass(frozen=True)
class Staff:
    """One figure with its staff."""

    level: Level
    was: float | None
    """The figure of the revision that is open, where it moved."""
    svg: Markup

    @property
    def figure(self) -> str:
        """The figure without its unit, which is per cent on every staff."""
        return percent(self.level.value).split("\u202f")[0]

    @property
    def sign(self) -> str:
        """Above or below the range, as a sign."""
        return SIGNS[self.level.standing]

    @property
    def range_words(self) -> str:
        """The known range, without its unit."""
        low, high = self.level.low, self.level.high
        return "" if low is None or high is None else f"{plain(low, 1)}–{plain(high, 1)}"

    @property
    def was_words(self) -> str:
        """What it was."""
        return "" if self.was is None else f"was {percent(self.was)}"


def top_of(level: Level) -> float:
    """The figure at the top of the staff: a round one well above the range, which stays while the level moves in it.

    >>> top_of(Level(measure="salt", name="Salt", short="Salt", value=1.9, of="on flour", low=0.9, high=2.5))
    4.0
    """
    if level.of != "on flour":
        return 100.0 if level.value > 50 or level.measure == "liquid_fat" else 50.0
    reach = max((level.high or 0.0) * 1.4, level.value * 1.08, 0.5)
    step = nice_step(reach, 5)
    return math.ceil(reach / step - 1e-9) * step


def draw(level: Level, was: float | None) -> Markup:
    """The staff as SVG; colours come from the stylesheet, by class."""
    top = top_of(level)

    def y(value: float) -> float:
        return HIGH * (1.0 - min(max(value / top, 0.0), 1.0))

    parts = [box(LEVEL[0], 0, LEVEL[1] - LEVEL[0], HIGH, "st-ground")]
    parts += [
        box(POST[0], HIGH * at / BLOCKS, POST[1] - POST[0], HIGH / BLOCKS, "st-ink" if at % 2 else "st-bare")
        for at in range(BLOCKS)
    ]
    floor = 0.0
    layers: Sequence[tuple[str, float]] = [(p.name, p.value) for p in level.parts] or [("whole", level.value)]
    for name, value in layers:
        parts.append(box(LEVEL[0], y(floor + value), LEVEL[1] - LEVEL[0], y(floor) - y(floor + value), f"st-{name}"))
        if name != "whole":
            parts.append(box(LEVEL[0], y(floor + value), LEVEL[1] - LEVEL[0], y(floor) - y(floor + value), "st-over",
                             f"st-p-{name}"))  # fmt: skip
        floor += value
    if level.low is not None and level.high is not None:
        parts.append(box(RANGE[0], y(level.high), RANGE[1] - RANGE[0], y(level.low) - y(level.high), "st-range"))
        for edge in (level.low, level.high):
            parts.append(line(LEVEL[0], y(edge), RANGE[1], y(edge), "st-edge"))
    parts.append(box(LEVEL[0] - 3, max(y(level.value) - 1.6, 0), LEVEL[1] - LEVEL[0] + 6, 3.2, "st-line"))
    at = y(level.value if was is None else was)
    notch = path([(LEVEL[0], at), (LEVEL[0] + 10, at - 6), (LEVEL[0] + 10, at + 6)], closed=True)
    parts.append(f'<path class="st-was{"" if was is not None else " st-none"}" d="{notch}"/>')
    frame = f'viewBox="0 0 {plain(WIDE)} {plain(HIGH)}" preserveAspectRatio="none" aria-hidden="true"'
    return Markup(f"<svg {frame}>{''.join(parts)}</svg>")


def staffs_of(levels: Sequence[Level], saved: Sequence[Level]) -> tuple[Staff, ...]:
    """A staff for each figure, with a notch where it stood in the revision that is open."""
    before = {each.measure: each.value for each in saved}
    found = []
    for level in levels:
        was = before.get(level.measure)
        moved = was if was is not None and is_moved(was, level.value) else None
        found.append(Staff(level, moved, draw(level, moved)))
    return tuple(found)


def said_of(levels: Sequence[Level], saved: Sequence[Level], number: int) -> str:
    """What moved since the revision that is open, in one sentence; empty where nothing did."""
    before = {each.measure: each for each in saved}
    moved = [
        level_sentence(before[each.measure], each)
        for each in levels
        if each.measure in before and is_moved(before[each.measure].value, each.value)
    ]
    return f"Since revision {number}: {'; '.join(moved)}." if moved else ""
