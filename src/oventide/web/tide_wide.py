"""The tide chart for wide screens and paper: one clock along the bottom, water levels above it, the quay on top.

The quay is the row of steps; where a step happens is its pattern, and its name flies from a mast where the block is
too narrow. Brackets under the quay are windows: earliest to latest end, with the likely end as a tick.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from oventide.forecast.model import Forecast, StepForecast
from oventide.timeline.procedure import Product
from oventide.web.clock import Clock
from oventide.web.levels import Panel
from oventide.web.readings import step_name
from oventide.web.svg import at, box, line, path, text, width_of
from oventide.web.tide_marks import NOTHING_OVER, Mark, Overlay, aims_of, place_class, plate

LEFT = 150.0
RIGHT = 26.0
FLAG = 16.0
FLAG_ROW = 23.0
QUAY = 40.0
WINDOW_ROW = 15.0
PANEL = 150.0
GAP = 30.0
AXIS = 58.0
HANDLES = 52.0
RAN = 12.0


@dataclass(frozen=True)
class Flag:
    """A step's name on its mast."""

    x: float
    words: str
    row: int


def fly_flags(steps: Sequence[tuple[float, str]]) -> tuple[Flag, ...]:
    """Rows for names that start at x and run to the right, so that no mast crosses a name.

    Later names fly lower: a name clears every mast to its right that reaches its row.

    >>> [flag.row for flag in fly_flags([(0, "roll up"), (10, "cut"), (400, "bake")])]
    [1, 0, 0]
    """
    placed: list[Flag] = []
    for x, words in reversed(list(steps)):
        end = x + width_of(words, FLAG) + 14
        row = 0
        while any(flag.row >= row and flag.x < end for flag in placed):
            row += 1
        placed.append(Flag(x, words, row))
    return tuple(reversed(placed))


def hours_between(width: float, span_min: float) -> int:
    """Minutes between labelled hours, so that labels keep apart."""
    per_hour = width / max(span_min, 1) * 60
    for hours in (0.5, 1, 2, 3, 6, 12, 24):
        if per_hour * hours >= 62:
            return int(hours * 60)
    return 1440


def wide_chart(
    forecast: Forecast,
    product: Product,
    panels: Sequence[Panel],
    clock: Clock,
    width: float = 1240.0,
    over: Overlay = NOTHING_OVER,
) -> Markup:
    """The chart as SVG; colours come from the page's stylesheet. The product tells what is aimed at."""
    chart = _Chart(forecast, product, panels, clock, width, over)
    return Markup(chart.draw())


class _Chart:
    def __init__(
        self, forecast: Forecast, product: Product, panels: Sequence[Panel], clock: Clock, width: float, over: Overlay
    ) -> None:
        self.forecast, self.product, self.panels, self.clock, self.width = forecast, product, panels, clock, width
        self.over = over
        self.span = clock.span_min
        self.plot = width - LEFT - RIGHT
        self.parts: list[str] = []
        self._hoist()
        beyond = max((flag.x + 8 + width_of(flag.words, FLAG) - width for flag in self.flags), default=0.0)
        if beyond > 0:  # the last names would fly over the paper's edge: draw the whole a little narrower
            self.plot -= beyond
            self._hoist()
        rows = max((flag.row for flag in self.flags), default=-1) + 1
        self.quay_top = 8 + rows * FLAG_ROW
        self.window_top = self.quay_top + QUAY + 6 + (RAN + 4 if over.planned else 0)
        self.window_rows = self._window_rows()
        depth = max(self.window_rows.values(), default=-1) + 1
        self.panels_top = self.window_top + depth * WINDOW_ROW + 26
        self.bottom = self.panels_top + len(panels) * PANEL + max(len(panels) - 1, 0) * GAP
        self.height = self.bottom + AXIS + HANDLES * len(over.handles)

    def _hoist(self) -> None:
        steps = self.forecast.steps
        self.inside = {s.index: self._block_width(s) > width_of(self._words(s), FLAG) + 16 for s in steps}
        self.flags = fly_flags(
            [(self.x(s.start.likely_min) + 1, self._words(s)) for s in steps if not self.inside[s.index]]
        )

    def x(self, minutes: float) -> float:
        return LEFT + self.plot * min(max(minutes / max(self.span, 1e-9), 0.0), 1.0)

    def _words(self, step: StepForecast) -> str:
        return f"{step.index + 1} {step_name(step, self.forecast)}"

    def _block_width(self, step: StepForecast) -> float:
        return self.x(step.end.likely_min) - self.x(step.start.likely_min)

    def _window_rows(self) -> dict[int, int]:
        ends: list[float] = []
        rows = {}
        for step in self.forecast.steps:
            start, end = self.x(step.end.earliest_min), self.x(step.end.latest_min)
            if end - start < 3 or step.end.likely_min > self.span + 1:
                continue
            row = next((r for r, taken in enumerate(ends) if taken + 24 < start), len(ends))
            if row == len(ends):
                ends.append(end)
            ends[row] = end
            rows[step.index] = row
        return rows

    def draw(self) -> str:
        self._grid()
        still, self.parts = self.parts, []
        self._reaches()
        for index, panel in enumerate(self.panels):
            self._panel(panel, self.panels_top + index * (PANEL + GAP))
        self._quay()
        self._planned()
        self._windows()
        moving, self.parts = self.parts, []
        for index, panel in enumerate(self.panels):
            self._panel_axis(panel, self.panels_top + index * (PANEL + GAP))
        self._names()
        self._axis()
        self._now()
        label = f"Tide chart of {self.forecast.product}: the same figures stand in the table below"
        cut = f"cut-{at(self.width)}"
        return (
            f'<svg viewBox="0 0 {at(self.width)} {at(self.height)}" xmlns="http://www.w3.org/2000/svg" role="group"'
            f' aria-label="{Markup.escape(label)}">'
            f'<clipPath id="{cut}"><rect x="{at(LEFT - 1)}" y="0" width="{at(self.width)}" height="{at(self.height)}"/>'
            f'</clipPath><g aria-hidden="true">{"".join(still)}<g clip-path="url(#{cut})"><g class="tc-moves">'
            f"{''.join(moving)}</g></g>{''.join(self.parts)}</g>{self._links()}{self._handles()}</svg>"
        )

    def _grid(self) -> None:
        for index in range(len(self.panels)):
            top = self.panels_top + index * (PANEL + GAP)
            self.parts.append(box(LEFT, top, self.plot, PANEL, "tc-ground"))
        for minute in self.clock.ticks(60 if self.span > 240 else 30):
            cls = "tc-day" if self.clock.is_midnight(minute) else "tc-hour"
            self.parts.append(line(self.x(minute), self.panels_top - 8, self.x(minute), self.bottom, cls))

    def _reaches(self) -> None:
        for step in self.forecast.steps:
            if step.index in self.window_rows and step.kind in ("bulk", "retard", "proof", "bake", "temper", "chill"):
                start, end = self.x(step.end.earliest_min), self.x(step.end.latest_min)
                self.parts.append(box(start, self.panels_top, end - start, self.bottom - self.panels_top, "tc-reach"))

    def _panel(self, panel: Panel, top: float) -> None:
        def y(value: float) -> float:
            return top + PANEL * (1 - panel.axis.share(value))

        xs = [self.x(m) for m in panel.minutes]
        inside = [i for i, m in enumerate(panel.minutes) if m <= self.span]
        upper = [(xs[i], y(panel.high[i])) for i in inside]
        lower = [(xs[i], y(panel.low[i])) for i in inside]
        median = [(xs[i], y(panel.middle[i])) for i in inside]
        floor = top + PANEL
        self.parts.append(f'<g class="tc-{panel.look}">')
        if median:
            water = [(median[0][0], floor), *median, (median[-1][0], floor)]
            self.parts.append(f'<path class="tc-water" d="{path(water, True)}"/>')
        for tick in panel.axis.ticks:
            self.parts.append(line(LEFT, y(tick), LEFT + self.plot, y(tick), "tc-grid"))
        ghost = self.over.ghost_of(panel)
        if ghost is not None:
            points = [(self.x(m), y(v)) for m, v in zip(ghost.minutes, ghost.middle, strict=True) if m <= self.span]
            self.parts.append(f'<path class="tc-ghost" d="{path(points)}"/>')
        pattern = ("hatch-up", "hatch-dots", "hatch-down")[panel.look]
        band = path([*upper, *reversed(lower)], True)
        self.parts.append(f'<path class="tc-band" fill="url(#{pattern})" d="{band}"/>')
        self.parts.append(f'<path class="tc-limit" d="{path(upper)}"/><path class="tc-limit" d="{path(lower)}"/>')
        self.parts.append(f'<path class="tc-median" d="{path(median)}"/>')
        for beside in panel.beside:
            known = zip(beside.minutes, beside.middle, strict=True)
            points = [(self.x(m), y(v)) for m, v in known if m <= self.span]
            if points:
                self.parts.append(f'<path class="tc-beside" d="{path(points)}"/>')
                peak = min(points, key=lambda point: point[1])
                self.parts.append(text(peak[0] - 8, max(peak[1] + 12, top + 14), beside.name, 14, "end", "tc-soft"))
        for mark in aims_of(self.product, self.forecast, panel):
            self._mark(mark, y)
        for ring in self.over.rings:
            if ring.look == panel.look and 0 <= ring.minute <= self.span:
                self.parts.append(
                    f'<circle class="tc-ring" cx="{at(self.x(ring.minute))}" cy="{at(y(ring.value))}" r="7"/>'
                )
        self.parts.append("</g>")

    def _mark(self, mark: Mark, y: Callable[[float], float]) -> None:
        x = self.x(mark.minute)
        self.parts.append(
            f'<path class="tc-mark" d="M{at(x)} {at(y(mark.low))}V{at(y(mark.high))}"/>'
            f'<circle class="tc-mark" cx="{at(x)}" cy="{at(y(mark.middle))}" r="5"/>'
        )

    def _panel_axis(self, panel: Panel, top: float) -> None:
        def y(value: float) -> float:
            return top + PANEL * (1 - panel.axis.share(value))

        self.parts.append(line(LEFT, top, LEFT, top + PANEL, "tc-axis"))
        words = panel.name.split(" ")
        half = " ".join(words[: (len(words) + 1) // 2]), " ".join(words[(len(words) + 1) // 2 :])
        self.parts.append(text(0, top + 15, half[0], 16, cls="tc-name"))
        if half[1]:
            self.parts.append(text(0, top + 34, half[1], 16, cls="tc-name"))
        self.parts.append(text(0, top + (54 if half[1] else 36), panel.unit, 15, cls="tc-soft"))
        for tick in panel.axis.ticks:
            shown = panel.figure(tick).split("\u202f")[0]
            self.parts.append(text(LEFT - 8, y(tick) + 5, shown, 14, "end", "tc-soft"))
        if panel.axis.bend:
            bend = y(panel.axis.bend[0])
            self.parts.append(
                f'<path class="tc-break" d="M{at(LEFT - 5)} {at(bend + 4)}l10 -5M{at(LEFT - 5)} {at(bend + 0)}l10 -5"/>'
            )

    def _quay(self) -> None:
        top, base = self.quay_top, self.quay_top + QUAY
        for flag in self.flags:
            y = top - 6 - flag.row * FLAG_ROW
            self.parts.append(line(flag.x, top, flag.x, y - 13, "tc-lead"))
            self.parts.append(text(flag.x + 5, y, flag.words, FLAG, cls="tc-number"))
        for step in self.forecast.steps:
            x, wide = self.x(step.start.likely_min), self._block_width(step)
            cls, pattern = place_class(step)
            self.parts.append(box(x, top, wide, QUAY, f"tc-block {cls}", pattern))
            if self.inside[step.index]:
                words = self._words(step)
                self.parts.append(box(x + 4, top + 8, width_of(words, FLAG) + 8, QUAY - 16, "tc-plate"))
                self.parts.append(text(x + 8, top + 26, words, FLAG, cls="tc-number"))
        self.parts.append(line(LEFT, base, LEFT + self.plot, base, "tc-axis"))

    def _names(self) -> None:
        self.parts.append(text(0, self.quay_top + 26, "Steps", 16, cls="tc-name"))
        if self.over.planned:
            self.parts.append(text(0, self.quay_top + QUAY + 15, "Planned", 15, cls="tc-name"))
        if self.window_rows:
            self.parts.append(text(0, self.window_top + 13, "Windows", 16, cls="tc-name"))

    def _planned(self) -> None:
        """What was planned, under the quay of what happened."""
        top = self.quay_top + QUAY + 4
        for stretch in self.over.planned:
            begin, end = self.x(stretch.start), self.x(stretch.end)
            self.parts.append(box(begin, top, max(end - begin, 1), RAN, "tc-planned"))

    def _links(self) -> str:
        """Each step, on its block and its name, leads to its own place on the page; the list does so by keyboard."""
        if not self.over.linked:
            return ""
        flags = iter(self.flags)
        links = []
        for step in self.forecast.steps:
            x, wide = self.x(step.start.likely_min), self._block_width(step)
            hits = box(x, self.quay_top, max(wide, 6), QUAY, "tc-hit")
            if not self.inside[step.index]:
                flag = next(flags)
                y = self.quay_top - 6 - flag.row * FLAG_ROW
                hits += box(flag.x, y - 17, width_of(flag.words, FLAG) + 8, FLAG_ROW, "tc-hit")
            links.append(
                f'<a href="#s{step.index + 1}" tabindex="-1" aria-label="Step {Markup.escape(self._words(step))}">'
                f"{hits}</a>"
            )
        return "".join(links)

    def _handles(self) -> str:
        drawn = []
        for row, handle in enumerate(self.over.handles):
            top = self.bottom + AXIS + HANDLES * row
            x = self.x(handle.minute)
            knots = f"0:{at(LEFT)} {at(self.span)}:{at(LEFT + self.plot)}"
            mast = line(x, self.quay_top, x, top, "tc-mast")
            drawn.append(
                f'<g class="tc-hand" data-for="{Markup.escape(handle.name)}">{mast}'
                f"{plate(handle, x, top, (LEFT, self.width), knots, 'x')}</g>"
            )
        return "".join(drawn)

    def _windows(self) -> None:
        for step in self.forecast.steps:
            row = self.window_rows.get(step.index)
            if row is None:
                continue
            y = self.window_top + row * WINDOW_ROW
            start, end, likely = (self.x(m) for m in (step.end.earliest_min, step.end.latest_min, step.end.likely_min))
            self.parts.append(box(start, y + 2, end - start, 9, "tc-window-fill"))
            self.parts.append(line(likely, y - 1, likely, y + 14, "tc-window"))
            self.parts.append(text(end + 4, y + 12, str(step.index + 1), 13, cls="tc-number"))

    def _axis(self) -> None:
        base = self.bottom + 10
        self.parts.append(line(LEFT, base, LEFT + self.plot, base, "tc-axis"))
        every = hours_between(self.plot, self.span)
        for minute in self.clock.ticks(max(every // 4, 15)):
            self.parts.append(line(self.x(minute), base, self.x(minute), base + 5, "tc-axis"))
        for minute in self.clock.ticks(every):
            self.parts.append(line(self.x(minute), base, self.x(minute), base + 10, "tc-axis"))
            self.parts.append(text(self.x(minute), base + 26, self.clock.at(minute), 16, "middle", "tc-number"))
        days = [0.0, *(m for m in self.clock.ticks(60) if self.clock.is_midnight(m) and m > 0)]
        for minute in days:
            name = self.clock.day(minute)
            if name and self.x(minute) < self.width - RIGHT - 60:
                self.parts.append(text(self.x(minute), base + 45, name, 15, cls="tc-name"))
        words = "Clock" if self.clock.start_minute is not None else "Hours from the start"
        for row, word in enumerate(words.replace(" from", "|from").split("|")):
            self.parts.append(text(0, base + 26 + 18 * row, word, 16, cls="tc-name"))

    def _now(self) -> None:
        now = self.clock.now_min
        if now is None or not 0 <= now <= self.span:
            return
        x = self.x(now)
        self.parts.append(line(x, self.quay_top, x, self.bottom + 10, "tc-now"))
        side = "end" if x > self.width - 90 else "start"
        self.parts.append(text(x + (-6 if side == "end" else 6), self.panels_top - 8, f"now {self.clock.at(now)}", 16,
                               side, "tc-now-text"))  # fmt: skip
