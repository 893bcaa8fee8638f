"""The tide chart for a narrow screen: time runs down, a row for each step, the levels as three columns.

Each row has its own scale of time, so that five minutes of rolling and ten hours of cold can both be read; the clock
at each line says so.
"""

import math
from collections.abc import Callable, Sequence

from markupsafe import Markup

from oventide.forecast.model import Forecast, StepForecast
from oventide.web.clock import Clock
from oventide.web.levels import Panel
from oventide.web.readings import step_name
from oventide.web.svg import at, box, line, path, text
from oventide.web.tide_marks import NOTHING_OVER, Overlay, Ring, place_class, plate

WIDTH = 372.0
LABELS = 104.0
LANE = 14.0
HEAD = 74.0
Down = Callable[[float], float]
Edges = Sequence[tuple[float, float, float, float]]
"""Each row: start and end [min], top and bottom on the chart."""
LEAST = 58.0
MOST = 190.0


def row_height(minutes: float) -> float:
    """A row's height: taller for longer, but far less than in proportion.

    >>> row_height(5), row_height(720)
    (58.0, 190.0)
    """
    return min(max(LEAST, 7.1 * math.sqrt(max(minutes, 0.0))), MOST)


def tall_chart(forecast: Forecast, panels: Sequence[Panel], clock: Clock, over: Overlay = NOTHING_OVER) -> Markup:
    """The chart as SVG; colours come from the page's stylesheet."""
    steps = [step for step in forecast.steps if step.start.likely_min < clock.span_min]
    edges, top = [], HEAD
    for step in steps:
        end = min(step.end.likely_min, clock.span_min)
        tall = row_height(end - step.start.likely_min)
        edges.append((step.start.likely_min, end, top, top + tall))
        top += tall
    bottom = top
    left = LABELS + LANE + 14
    column = (WIDTH - left) / max(len(panels), 1)

    def y(minutes: float) -> float:
        for start, end, above, below in edges:
            if minutes <= end:
                share = (minutes - start) / (end - start) if end > start else 0.0
                return above + min(max(share, 0.0), 1.0) * (below - above)
        return bottom

    parts: list[str] = []
    for index, panel in enumerate(panels):
        rings = [ring for ring in over.rings if ring.look == panel.look and 0 <= ring.minute <= clock.span_min]
        parts.append(_column(panel, left + index * column, column - 8, bottom, y, edges, over.ghost_of(panel), rings))
    for step, (start, end, above, below) in zip(steps, edges, strict=True):
        del end
        cls, pattern = place_class(step)
        parts.append(line(0, above, WIDTH, above, "tc-edge"))
        parts.append(box(LABELS, above, LANE, below - above, f"tc-block {cls}", pattern))
        parts.append(text(0, above + 19, clock.at(start), 17, cls="tc-number tc-clock"))
        name = step_name(step, forecast)
        for at_row, words in enumerate(_wrapped(f"{step.index + 1} {name}", 13)[: 3 if below - above > 70 else 2]):
            parts.append(text(0, above + 37 + 17 * at_row, words, 14.5))
    for track, step in enumerate(step for step in steps if _has_window(step, clock)):
        above, below = y(step.end.earliest_min), y(step.end.latest_min)
        x = LABELS + LANE + (1 if track % 2 == 0 else 5)
        parts.append(box(x, above, 4, below - above, "tc-window-fill"))
        parts.append(line(x - 1, y(step.end.likely_min), x + 6, y(step.end.likely_min), "tc-window"))
    parts.append(line(0, bottom, WIDTH, bottom, "tc-axis"))
    if edges:
        parts.append(text(0, bottom + 20, clock.at(edges[-1][1]), 17, cls="tc-number"))
    now = clock.now_min
    if now is not None and edges and edges[0][0] <= now <= edges[-1][1]:
        parts.append(line(0, y(now), WIDTH, y(now), "tc-now"))
        parts.append(text(WIDTH, y(now) - 4, "now", 15, "end", "tc-now-text"))
    for stretch in over.planned:
        tall = max(y(stretch.end) - y(stretch.start), 2)
        parts.append(box(LABELS - 7, y(stretch.start), 5, tall, "tc-planned"))
    links = [
        f'<a href="#s{step.index + 1}" tabindex="-1" aria-label="Step {step.index + 1} '
        f'{Markup.escape(step_name(step, forecast))}">{box(0, above, LABELS + LANE, below - above, "tc-hit")}</a>'
        for step, (_, _, above, below) in zip(steps, edges, strict=True)
        if over.linked
    ]
    hands, foot = [], bottom + 26
    knots = " ".join(f"{at(start)}:{at(above)}" for start, _, above, _ in edges)
    for handle in over.handles:
        hands.append(
            f'<g class="tc-hand" data-for="{Markup.escape(handle.name)}">'
            f"{line(0, y(handle.minute), WIDTH, y(handle.minute), 'tc-mast')}"
            f"{plate(handle, WIDTH, foot + 6, (0, WIDTH), f'{knots} {at(edges[-1][1])}:{at(bottom)}', 'y')}</g>"
        )
        foot += 56
    label = f"Tide chart of {forecast.product}, time running down: the same figures stand in the table below"
    return Markup(
        f'<svg viewBox="0 0 {at(WIDTH)} {at(foot)}" xmlns="http://www.w3.org/2000/svg" role="group"'
        f' aria-label="{Markup.escape(label)}"><g aria-hidden="true">{"".join(parts)}</g>'
        f"{''.join(links)}{''.join(hands)}</svg>"
    )


def _has_window(step: StepForecast, clock: Clock) -> bool:
    return step.end.latest_min - step.end.earliest_min > 4 and step.end.likely_min <= clock.span_min + 1


def _wrapped(words: str, most: int) -> list[str]:
    rows: list[str] = []
    for word in words.split():
        if rows and len(rows[-1]) + len(word) < most:
            rows[-1] += f" {word}"
        else:
            rows.append(word)
    return rows


def _column(
    panel: Panel, left: float, wide: float, bottom: float, y: Down, edges: Edges, ghost: Panel | None,
    rings: Sequence[Ring],
) -> str:  # fmt: skip
    def x(value: float) -> float:
        return left + wide * panel.axis.share(value)

    first, last = panel.minutes[0], panel.minutes[-1]
    known = {m for m in panel.minutes if edges and edges[0][0] <= m <= edges[-1][1]}
    moments = sorted(known | {edge for pair in edges for edge in pair[:2] if first <= edge <= last})
    figures = [(y(m), panel.at(m)) for m in moments]
    low = [(x(f[0]), down) for down, f in figures]
    middle = [(x(f[1]), down) for down, f in figures]
    high = [(x(f[2]), down) for down, f in figures]
    pattern = ("hatch-up", "hatch-dots", "hatch-down")[panel.look]
    parts = [f'<g class="tc-{panel.look}">', box(left, HEAD, wide, bottom - HEAD, "tc-ground")]
    if middle:
        water = [(left, middle[0][1]), *middle, (left, middle[-1][1])]
        parts.append(f'<path class="tc-water" d="{path(water, True)}"/>')
        parts.append(f'<path class="tc-band" fill="url(#{pattern})" d="{path([*low, *reversed(high)], True)}"/>')
        parts.append(f'<path class="tc-limit" d="{path(low)}"/><path class="tc-limit" d="{path(high)}"/>')
        if ghost is not None:
            planned = [(x(ghost.at(m)[1]), y(m)) for m in moments]
            parts.append(f'<path class="tc-ghost" d="{path(planned)}"/>')
        parts.append(f'<path class="tc-median" d="{path(middle)}"/>')
        for beside in panel.beside:
            points = [(x(v), y(m)) for m, v in zip(beside.minutes, beside.middle, strict=True)]
            parts.append(f'<path class="tc-beside" d="{path(points)}"/>')
    parts += [f'<circle class="tc-ring" cx="{at(x(r.value))}" cy="{at(y(r.minute))}" r="6"/>' for r in rings]
    parts.append("</g>")
    for at_row, word in enumerate(_wrapped(panel.name, 12)[:2]):
        parts.append(text(left, 16 + 15 * at_row, word, min(14.0, wide / (0.68 * len(word))), cls="tc-name"))
    ticks = panel.axis.ticks
    shown = [ticks[0], panel.axis.bend[0] if panel.axis.bend else ticks[-1]]
    parts.append(text(left, 46, panel.unit, 13, cls="tc-soft"))
    for place, value in enumerate(shown):
        anchor = "start" if place == 0 else "middle" if panel.axis.bend else "end"
        parts.append(text(x(value), HEAD - 6, panel.figure(value).split("\u202f")[0], 12, anchor, "tc-soft"))
        parts.append(line(x(value), HEAD, x(value), bottom, "tc-grid"))
    return "".join(parts)
