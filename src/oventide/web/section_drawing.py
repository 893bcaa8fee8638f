"""The section through the tin as SVG: buns to scale, bands with their figures, crust in its colour, and the course."""

import itertools
from collections.abc import Sequence

from markupsafe import Markup

from oventide.services.tin_section import InKitchen, TinSection
from oventide.web.browned import crust_colour
from oventide.web.figures import Units, plain, temperature
from oventide.web.section_cut import Bun, Cut
from oventide.web.section_view import Scale, coldest, core_of, field_of, scale_of
from oventide.web.svg import at, box, line, path, text, width_of

WALL_MM = 3.0
CRUST_LEAST_MM = 1.2
FOOT = 46.0
SHOULDER_MM = 6.0


def section_svg(
    section: TinSection, kitchen: InKitchen, k: int, cut: Cut, view: str, units: Units, width: float, name: str
) -> Markup:
    """One cut at one moment. `name` makes the drawing's inner names its own on the page."""
    drawn = _Section(section, kitchen, k, cut, view, units, width, name)
    return Markup(drawn.draw())


class _Section:
    def __init__(
        self,
        section: TinSection,
        kitchen: InKitchen,
        k: int,
        cut: Cut,
        view: str,
        units: Units,
        width: float,
        name: str,
    ) -> None:
        self.section, self.kitchen, self.k, self.cut, self.view, self.units = section, kitchen, k, cut, view, units
        self.width, self.name = width, name
        self.scale: Scale = scale_of(section, view)
        self.unit = (width - 8) / (cut.width_mm + 2 * WALL_MM)
        self.high_mm = max(max(kitchen.height_mm), cut.depth_mm) + 9
        self.floor = self.high_mm * self.unit + 4
        self.parts: list[str] = []

    def x(self, mm: float) -> float:
        return 4 + (mm + WALL_MM) * self.unit

    def y(self, mm: float) -> float:
        return self.floor - mm * self.unit

    def draw(self) -> str:
        for number, bun in enumerate(self.cut.buns):
            self._bun(number, bun)
        self._tin()
        minute = plain(self.section.minutes[self.k])
        label = f"Section {self.cut.name} at {minute} min, to scale; the figures stand beside it"
        height = self.floor + FOOT
        return (
            f'<svg viewBox="0 0 {at(self.width)} {at(height)}" xmlns="http://www.w3.org/2000/svg" role="img"'
            f' aria-label="{label}"><g aria-hidden="true">{"".join(self.parts)}</g></svg>'
        )

    def _outline(self, bun: Bun, high: float) -> str:
        """A bun's outline; its shoulders are round where it may rise."""
        round_mm = min(SHOULDER_MM, high / 3, (bun.right_mm - bun.left_mm) / 3)
        left, right, top, base = self.x(bun.left_mm), self.x(bun.right_mm), self.y(high), self.y(0)
        turn = round_mm * self.unit
        return (
            f"M{at(left)} {at(base)}V{at(top + turn)}Q{at(left)} {at(top)} {at(left + turn)} {at(top)}"
            f"H{at(right - turn)}Q{at(right)} {at(top)} {at(right)} {at(top + turn)}V{at(base)}Z"
        )

    def _bun(self, number: int, bun: Bun) -> None:
        kitchen, k = self.kitchen, self.k
        tops, high = kitchen.top_mm[k], kitchen.height_mm[k]
        clip = f"{self.name}-{number}"
        outline = self._outline(bun, high)
        left, wide = self.x(bun.left_mm), (bun.right_mm - bun.left_mm) * self.unit
        self.parts.append(f'<clipPath id="{clip}"><path d="{outline}"/></clipPath><g clip-path="url(#{clip})">')
        cells = field_of(kitchen, bun.position, self.view)
        known = k < len(cells)
        edges: list[tuple[float, float]] = []
        if known:
            runs = self._runs(cells[k], tops)
            for low, top, band in runs:
                self.parts.append(box(left, self.y(top), wide, self.y(low) - self.y(top), f"sx-{self._look(band)}"))
                self.parts.append(
                    f'<rect x="{at(left)}" y="{at(self.y(top))}" width="{at(wide)}"'
                    f' height="{at(max(self.y(low) - self.y(top), 0.1))}" fill="url(#sx-p{self._look(band)})"/>'
                )
            for (_, top, below), (_, _, above) in itertools.pairwise(runs):
                self.parts.append(line(left, self.y(top), left + wide, self.y(top), "sx-edge"))
                edges.append((top, self.scale.edges[max(below, above) - 1]))
        else:
            self.parts.append(box(left, self.y(high), wide, self.y(0) - self.y(high), "tc-ground"))
        self._crust(left, wide, high)
        self.parts.append(f'</g><path class="sx-outline" d="{outline}"/>')
        self._figures(bun, left, wide, high, edges)

    def _look(self, band: int) -> int:
        """The look of a band: the driest crumb and the hottest are both the heaviest."""
        return len(self.scale.edges) - band if self.view == "water" else band

    def _runs(self, cells: Sequence[float], tops: Sequence[float]) -> list[tuple[float, float, int]]:
        """Neighbouring cells of one band, as (from, to, band) [mm]."""
        runs: list[tuple[float, float, int]] = []
        below = 0.0
        for value, top in zip(cells, tops, strict=True):
            band = self.scale.band(value)
            if runs and runs[-1][2] == band:
                runs[-1] = (runs[-1][0], top, band)
            else:
                runs.append((below, top, band))
            below = top
        return runs

    def _crust(self, left: float, wide: float, high: float) -> None:
        tops, water, first = (
            self.kitchen.top_mm[self.k],
            self.kitchen.water_percent[self.k],
            self.kitchen.water_percent[0],
        )
        thick = {"top": CRUST_LEAST_MM, "base": CRUST_LEAST_MM}
        dry = [w < 0.5 * before for w, before in zip(water, first, strict=True)]
        upper = next((i for i in range(len(dry) - 1, -1, -1) if not dry[i]), 0)
        lower = next((i for i in range(len(dry)) if not dry[i]), 0)
        thick["top"] = max(thick["top"], high - tops[upper])
        thick["base"] = max(thick["base"], tops[lower - 1] if lower else 0.0)
        for side, colour in (("top", self.kitchen.colour_top[self.k]), ("base", self.kitchen.colour_base[self.k])):
            from_mm = high - thick[side] if side == "top" else 0.0
            to_mm = high if side == "top" else thick[side]
            self.parts.append(
                f'<rect class="sx-crust" x="{at(left)}" y="{at(self.y(to_mm))}" width="{at(wide)}"'
                f' height="{at(self.y(from_mm) - self.y(to_mm))}" fill="{crust_colour(colour)}"/>'
            )

    def _figures(self, bun: Bun, left: float, wide: float, high: float, edges: Sequence[tuple[float, float]]) -> None:
        middle = left + wide / 2
        taken = [self.y(high / 2)]
        core = core_of(self.kitchen, bun.position)
        if self.view == "temperature" and self.k < len(core):
            self._plate(middle, self.y(high / 2), temperature(core[self.k], self.units), 19)
        for top, edge in edges:
            y = self.y(top)
            words = self.scale.told(edge, self.units).split("\u202f")[0]
            if all(abs(y - other) > 17 for other in taken[1:]) and self.y(high) + 10 < y < self.floor - 8:
                self._plate(left + wide - width_of(words, 14) / 2 - 9, y, words, 14)
                taken.append(y)
        self.parts.append(text(middle, self.floor + 22, bun.position, 16, "middle", "tc-name"))

    def _plate(self, x: float, y: float, words: str, size: float) -> None:
        wide = width_of(words, size) + 8
        self.parts.append(box(x - wide / 2, y - size * 0.62, wide, size * 1.24, "tc-plate"))
        self.parts.append(text(x, y + size * 0.36, words, size, "middle", "tc-number"))

    def _tin(self) -> None:
        cut = self.cut
        left, right = self.x(-WALL_MM / 2), self.x(cut.width_mm + WALL_MM / 2)
        if cut.has_walls:
            top, base = self.y(cut.depth_mm), self.y(-WALL_MM / 2)
            wall = f"H{at(self.x(cut.width_mm))}" if cut.is_half else f"H{at(right)}V{at(top)}"
            self.parts.append(f'<path class="sx-tin" d="M{at(left)} {at(top)}V{at(base)}{wall}"/>')
            minute = self.section.minutes[self.k]
            covered = any(s.covered and s.begins_min <= minute < s.ends_min for s in self.section.stays)
            if covered:
                lid = self.y(max(cut.depth_mm, self.kitchen.height_mm[self.k] + 1.5) + 2.5)
                self.parts.append(box(left, lid - 4, right - left, 6, "tc-block tc-covered", "lane-covered"))
        bar = 50 * self.unit
        self.parts.append(line(4, self.floor + 40, 4 + bar, self.floor + 40, "tc-axis"))
        self.parts.append(text(10 + bar, self.floor + 44, "50\u202fmm", 14, cls="tc-soft"))


def course_svg(section: TinSection, k: int, units: Units, width: float) -> Markup:
    """The slider's ground: covered and open, the coldest core with its range, and what counts as done."""
    left, right, top, high = 46.0, 12.0, 40.0, 130.0
    plot, last = width - left - right, section.minutes[-1]
    floor_c, most_c = 0.0, 110.0

    def x(minute: float) -> float:
        return left + plot * min(max(minute / max(last, 1e-9), 0.0), 1.0)

    def y(celsius: float) -> float:
        return top + high * (1 - (celsius - floor_c) / (most_c - floor_c))

    parts = [box(left, top, plot, high, "tc-ground")]
    for stay in section.stays:
        begin, end = x(stay.begins_min), x(stay.ends_min)
        look, pattern = ("tc-covered", "lane-covered") if stay.covered else ("tc-open", "")
        name = "covered" if stay.covered else "open" if stay.air_c is not None else stay.name.lower()
        parts.append(box(begin, 2, end - begin, 28, f"tc-block {look}", pattern))
        if end - begin > width_of(name, 15) + 14:
            parts.append(box(begin + 4, 5, width_of(name, 15) + 8, 22, "tc-plate"))
            parts.append(text(begin + 8, 21, name, 15, cls="tc-number"))
    for tick in (25, 50, 75, 100):
        parts.append(line(left, y(tick), width - right, y(tick), "tc-grid"))
        parts.append(text(left - 6, y(tick) + 5, temperature(tick, units).split("\u202f")[0], 14, "end", "tc-soft"))
    curves = {kitchen.which: coldest(kitchen) for kitchen in section.kitchens}
    xs = [x(minute) for minute in section.minutes]
    parts.append('<g class="tc-0">')
    if {"low", "high"} <= set(curves):
        band = [*zip(xs, map(y, curves["high"]), strict=True)]
        band += reversed([*zip(xs, map(y, curves["low"]), strict=True)])
        parts.append(f'<path class="tc-band" fill="url(#hatch-up)" d="{path(band, True)}"/>')
    if "likely" in curves:
        parts.append(f'<path class="tc-median" d="{path(zip(xs, map(y, curves["likely"]), strict=True))}"/>')
    parts.append("</g>")
    parts.append(line(left, y(section.done_c), width - right, y(section.done_c), "tc-written"))
    done = f"{temperature(section.done_c, units)}: done inside"
    parts.append(text(left + 6, y(section.done_c) - 5, done, 14, cls="tc-soft"))
    parts.append(line(left, top + high, width - right, top + high, "tc-axis"))
    every = next((e for e in (5, 10, 15, 30, 60, 120) if plot / max(last, 1) * e >= 46), 120)
    for minute in range(0, int(last) + 1, every):
        parts.append(line(x(minute), top + high, x(minute), top + high + 6, "tc-axis"))
        parts.append(text(x(minute), top + high + 22, str(minute), 15, "middle", "tc-number"))
    parts.append(text(0, top + high + 22, "min", 14, cls="tc-soft"))
    parts.append(line(x(section.minutes[k]), 0, x(section.minutes[k]), top + high, "tc-mast"))
    return Markup(
        f'<svg viewBox="0 0 {at(width)} {at(top + high + 28)}" xmlns="http://www.w3.org/2000/svg" role="img"'
        f' aria-label="Core of the coldest bun over the minutes, covered and open"><g aria-hidden="true">'
        f"{''.join(parts)}</g></svg>"
    )
