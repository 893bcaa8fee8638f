"""The bake by itself, drawn wider: covered and open, core and surface, with the moment when the cover comes off.

On the whole tide a minute is a hair; here it is wide enough to be taken hold of.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from oventide.web.clock import Clock
from oventide.web.levels import Panel
from oventide.web.svg import at, box, line, path, text, width_of
from oventide.web.tide_marks import HANDLE_HIGH, Handle, Mark, plate

BAND = 34.0
PANEL = 240.0
FOOT = 52.0
LEFT = 56.0
RIGHT = 16.0
Place = Callable[[float], float]


@dataclass(frozen=True)
class Bake:
    """What is drawn of a bake. Minutes are the chart's own: 0 is the start of the first step."""

    begin_min: float
    uncover_min: float
    end_min: float
    panel: Panel
    """Core with its range; the surface beside it."""
    ghost: Panel | None = None
    """Core and surface as they are written, where another moment is tried."""
    ghost_uncover_min: float | None = None
    aims: Sequence[Mark] = ()
    handle: Handle | None = None


def cut_chart(bake: Bake, clock: Clock, width: float) -> Markup:
    """The bake as SVG, one minute as wide as the paper allows."""
    plot = width - LEFT - RIGHT
    span = max(bake.end_min - bake.begin_min, 1.0)
    top, bottom = BAND + 26, BAND + 26 + PANEL

    def x(minute: float) -> float:
        return LEFT + plot * min(max((minute - bake.begin_min) / span, 0.0), 1.0)

    def y(value: float) -> float:
        return bottom - PANEL * bake.panel.axis.share(value)

    parts = [box(LEFT, top, plot, PANEL, "tc-ground")]
    parts += _scale(bake, clock, x, y, top, bottom, width)
    parts += _band(bake, x)
    for ghost in (bake.ghost,) if bake.ghost else ():
        for minutes, values in ((ghost.minutes, ghost.middle), *((b.minutes, b.middle) for b in ghost.beside)):
            points = [(x(m), y(v)) for m, v in zip(minutes, values, strict=True)]
            parts.append(f'<path class="tc-ghost" d="{path(points)}"/>')
    panel = bake.panel
    xs = [x(minute) for minute in panel.minutes]
    low, middle, high = (
        [(left, y(v)) for left, v in zip(xs, row, strict=True)] for row in (panel.low, panel.middle, panel.high)
    )
    parts.append('<g class="tc-0">')
    parts.append(f'<path class="tc-band" fill="url(#hatch-up)" d="{path([*high, *reversed(low)], True)}"/>')
    parts.append(f'<path class="tc-median" d="{path(middle)}"/>')
    parts.append(text(xs[-1] - 6, middle[-1][1] - 10, "core", 16, "end", "tc-number"))
    for beside in panel.beside:
        thin = [(x(m), y(v)) for m, v in zip(beside.minutes, beside.middle, strict=True)]
        parts.append(f'<path class="tc-beside" d="{path(thin)}"/>')
        parts.append(text(thin[-1][0] - 6, thin[-1][1] - 8, beside.name, 16, "end", "tc-soft"))
    for mark in bake.aims:
        if bake.begin_min <= mark.minute <= bake.end_min + 1:
            parts.append(
                f'<path class="tc-mark" d="M{at(x(mark.minute))} {at(y(mark.low))}V{at(y(mark.high))}"/>'
                f'<circle class="tc-mark" cx="{at(x(mark.minute))}" cy="{at(y(mark.middle))}" r="5"/>'
            )
    parts.append("</g>")
    height, hand = bottom + FOOT, ""
    if bake.handle is not None:
        mast = line(x(bake.handle.minute), 0, x(bake.handle.minute), height, "tc-mast")
        knots = f"{at(bake.begin_min)}:{at(LEFT)} {at(bake.end_min)}:{at(LEFT + plot)}"
        grip = plate(bake.handle, x(bake.handle.minute), height, (0, width), knots, "x")
        hand = f'<g class="tc-hand" data-for="{bake.handle.name}">{mast}{grip}</g>'
        height += HANDLE_HIGH + 4
    label = "The bake by itself: core and surface over the minutes in the oven, covered and open"
    return Markup(
        f'<svg viewBox="0 0 {at(width)} {at(height)}" xmlns="http://www.w3.org/2000/svg" role="group"'
        f' aria-label="{label}"><g aria-hidden="true">{"".join(parts)}</g>{hand}</svg>'
    )


def _scale(bake: Bake, clock: Clock, x: Place, y: Place, top: float, bottom: float, width: float) -> list[str]:
    parts = []
    for tick in bake.panel.axis.ticks:
        parts.append(line(LEFT, y(tick), width - RIGHT, y(tick), "tc-grid"))
        parts.append(text(LEFT - 8, y(tick) + 5, bake.panel.figure(tick).split("\u202f")[0], 15, "end", "tc-soft"))
    parts.append(text(0, top - 8, bake.panel.unit, 15, cls="tc-soft"))
    parts.append(line(LEFT, bottom, width - RIGHT, bottom, "tc-axis"))
    whole = bake.end_min - bake.begin_min
    every = next((e for e in (5, 10, 15, 30, 60) if (width - LEFT - RIGHT) / max(whole, 1) * e >= 62), 60)
    for count in range(int(whole // every) + 1):
        minute = bake.begin_min + count * every
        parts.append(line(x(minute), bottom, x(minute), bottom + 8, "tc-axis"))
        parts.append(text(x(minute), bottom + 25, clock.at(minute), 15, "middle", "tc-number"))
        parts.append(text(x(minute), bottom + 43, f"{count * every}\u202fmin", 14, "middle", "tc-soft"))
    return parts


def _band(bake: Bake, x: Place) -> list[str]:
    parts = []
    stretches = (("covered", bake.begin_min, bake.uncover_min, "lane-covered"),
                 ("open", bake.uncover_min, bake.end_min, ""))  # fmt: skip
    for name, begin, end, pattern in stretches:
        left, right = x(begin), x(end)
        parts.append(box(left, 2, right - left, BAND, f"tc-block tc-{name}", pattern))
        words = f"{name} {round(end - begin)}\u202fmin"
        if right - left > width_of(words, 16) + 20:
            parts.append(box(left + 5, 7, width_of(words, 16) + 10, BAND - 10, "tc-plate"))
            parts.append(text(left + 10, 25, words, 16, cls="tc-number"))
    if bake.ghost_uncover_min is not None:
        parts.append(line(x(bake.ghost_uncover_min), 0, x(bake.ghost_uncover_min), BAND + 12, "tc-written"))
        side = "end" if bake.ghost_uncover_min > (bake.begin_min + bake.end_min) / 2 else "start"
        place = x(bake.ghost_uncover_min) + (-5 if side == "end" else 5)
        parts.append(text(place, BAND + 20, "as written", 14, side, "tc-soft"))
    return parts
