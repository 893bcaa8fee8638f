"""The make-up drawn to scale: sheet, log with its cuts, section of the roll, plan of the tin.

Units of every drawing are mm of the real thing, so that a page or a sheet of paper may show it at any size; text
grows with the drawing and stays at least 4 mm in the drawing's own measure. The paper ruler is in `ruler`.
"""

import itertools
import math

from oventide.makeup.model import Geometry
from oventide.makeup.ruler import counted, ruler_svg
from oventide.makeup.spiral import TWO_PI, roll_up
from oventide.makeup.svg import COPPER, DOUGH, INK, SPREAD, TIDE, Canvas, text_height
from oventide.makeup.tins import name_of

__all__ = ["log_svg", "ruler_svg", "section_svg", "sheet_svg", "tin_svg"]


def sheet_svg(made: Geometry) -> str:
    """The sheet from above: spread, bare strip along the far edge, the way it is rolled."""
    width, length = made.sheet_width_mm, made.sheet_length_mm
    text = max(4.0, max(width, length) / 30)
    pad, side = 1.5 * text, 8.5 * text
    full = max(width + pad + side, 24 * text)
    spread = (
        f"spread {made.spread_g_per_cm2:.2f} g/cm², {made.spread_mm:.1f} mm thick" if made.spread_g else "no spread"
    )
    bare = f"; the far {made.seam_margin_mm:.0f} mm stay bare" if made.seam_margin_mm else ""
    each = f"{made.sheets} sheets, each " if made.sheets > 1 else "Sheet "
    caption = f"{each}{length:.0f} × {width:.0f} mm, {made.thickness_mm:.1f} mm thick; {spread}{bare}."
    under = 2.2 * text
    canvas = Canvas(
        full, pad + length + under + text_height(caption, full - 2 * pad, text) + text,
        "Sheet from above, to scale", caption + " It is rolled up along its length, away from the baker.", text,
    )  # fmt: skip
    canvas.rect(pad, pad, width, length, "ov-dough", fill=DOUGH, heavy=1.5)
    if made.spread_g:
        margin = made.seam_margin_mm
        canvas.rect(pad, pad + margin, width, length - margin, "ov-spread", fill=SPREAD, heavy=0.8)
        if margin:
            canvas.line(
                (pad, pad + margin), (pad + width, pad + margin), "ov-seam", stroke=COPPER, dashed=True, heavy=1.5
            )
    middle = pad + width / 2
    canvas.arrow((middle, pad + 0.72 * length), (middle, pad + 0.32 * length), "ov-roll", stroke=COPPER, heavy=3)
    canvas.text(middle + 0.8 * text, pad + 0.55 * length, "roll this way", bold=True)
    canvas.text(middle, pad + 0.07 * length + text, "far edge, the seam", anchor="middle")
    canvas.text(middle, pad + length - 0.6 * text, "near edge", anchor="middle")
    right = pad + width + 0.9 * text
    canvas.measure((right, pad), (right, pad + length), f"{length:.0f} mm", 0.6 * text)
    base = pad + length + 0.9 * text
    canvas.measure((pad, base), (pad + width, base), f"{width:.0f} mm", 0.35 * text)
    canvas.paragraph(pad, pad + length + under + text, caption, full - 2 * pad)
    return canvas.svg()


def log_svg(made: Geometry) -> str:
    """The log from above with every cut and its distance from the left end [mm]."""
    length, diameter = made.log_length_mm, made.log_diameter_mm
    text = max(4.0, length / 36)
    pad = 1.5 * text
    labels = [f"{mark:.0f}" for mark in made.cut_marks_mm]
    widest = max((len(label) for label in labels), default=1) * 0.62 * text + 0.7 * text
    rows = min(max(math.ceil(widest / _spacing(made)), 1), 4)
    full = max(length + 2 * pad, 30 * text)
    trim = f", {made.trim_mm:.0f} mm trimmed off each end" if made.trim_mm else ""
    kerf = f", {made.kerf_mm:.1f} mm lost in each cut" if made.kerf_mm else ""
    each = f"{made.sheets} logs, each " if made.sheets > 1 else "Log "
    caption = (
        f"{each}{length:.0f} mm long and about {diameter:.0f} mm across: {counted(made.pieces_per_sheet)} of "
        f"{made.piece_height_mm:.1f} mm, about {made.piece_g:.0f} g{trim}{kerf}. Cut by eye: {made.how_to_cut}. "
        "Figures: mm from the left end."
    )
    top, below = pad, 1.3 * text * rows + 0.9 * text
    canvas = Canvas(
        full, top + diameter + below + text_height(caption, full - 2 * pad, text) + 1.2 * text,
        "Log with cut marks, to scale", caption + " Marks at " + ", ".join(labels) + " mm.", text,
    )  # fmt: skip
    canvas.rect(pad, top, length, diameter, "ov-dough", fill=DOUGH, heavy=1.5, radius=min(diameter, length) / 12)
    if made.trim_mm:
        for x in (pad, pad + length - made.trim_mm):
            canvas.rect(x, top, made.trim_mm, diameter, "ov-trim", fill=SPREAD, heavy=0.8)
    canvas.line((pad, top + diameter * 0.3), (pad + length, top + diameter * 0.3), "ov-seam", stroke=COPPER, heavy=0.8)
    for index, (mark, label) in enumerate(zip(made.cut_marks_mm, labels, strict=True)):
        x, drop = pad + mark, top + diameter + 0.5 * text + 1.3 * text * (index % rows)
        canvas.line((x, top - 0.5 * text), (x, drop), "ov-cut", stroke=TIDE, heavy=1.6)
        if made.kerf_mm > 2 * canvas.line_mm:
            canvas.rect(x - made.kerf_mm / 2, top, made.kerf_mm, diameter, "ov-kerf", fill="#ffffff", stroke=TIDE)
        canvas.text(x, drop + 0.95 * text, label, anchor="middle", halo=True)
    canvas.paragraph(pad, top + diameter + below + 1.4 * text, caption, full - 2 * pad)
    return canvas.svg()


def _spacing(made: Geometry) -> float:
    """Least distance between marks [mm]."""
    marks = made.cut_marks_mm
    return min((b - a for a, b in itertools.pairwise(marks)), default=made.log_length_mm)


def section_svg(made: Geometry) -> str:
    """The cut face of a piece: the true spiral of dough and spread, with all its turns."""
    roll = roll_up(made.sheet_length_mm, made.thickness_mm, made.spread_mm, made.seam_margin_mm)
    reach = made.log_across_seam_mm / 2 + made.thickness_mm
    text = max(4.0, reach / 9)
    pad, beside = 1.2 * text, 15 * text
    caption = (
        f"Cut face, to scale: {made.turns:.1f} turns, about {made.log_diameter_mm:.0f} mm across, piece "
        f"{made.piece_height_mm:.0f} mm high."
    )
    full = 2 * reach + 2 * pad + beside
    canvas = Canvas(
        full, 2 * reach + 2 * pad + text_height(caption, full - 2 * pad, text) + text,
        "Section of the roll, to scale",
        f"{caption} Dough {made.thickness_mm:.1f} mm and spread {made.spread_mm:.1f} mm in each turn.", text,
    )  # fmt: skip
    cx = cy = pad + reach
    winding, growth = roll.winding, roll.winding.pitch_mm / TWO_PI
    steps = max(int(winding.end_angle / TWO_PI * 90), 24)
    whole: list[tuple[float, float]] = []
    filled: list[tuple[float, float]] = []
    for step in range(steps + 1):
        angle = winding.end_angle * step / steps
        # the spread lies on the inner face, so the dough's own middle is half a spread further out; past the
        # spread's end the bare strip sinks onto the turn before it within a twelfth of a turn
        sunk = min(max((angle - roll.spread_end_angle) / (TWO_PI / 12), 0.0), 1.0) if made.seam_margin_mm else 0.0
        out = growth * angle + made.spread_mm * (0.5 - sunk)
        whole.append((cx + out * math.cos(angle), cy + out * math.sin(angle)))
        if angle <= roll.spread_end_angle:
            inner = max(growth * angle - made.thickness_mm / 2, 0.0)
            filled.append((cx + inner * math.cos(angle), cy + inner * math.sin(angle)))
    outline = max(canvas.line_mm * 1.6, 0.35)
    if made.spread_mm:
        canvas.path(filled, "ov-spread", stroke=COPPER, stroke_mm=made.spread_mm + 0.2)
    canvas.path(whole, "ov-outline", stroke=INK, stroke_mm=made.thickness_mm)
    canvas.path(whole, "ov-dough", stroke=DOUGH, stroke_mm=max(made.thickness_mm - 2 * outline, 0.3))
    x = cx + reach + 0.8 * text
    lines = [f"dough {made.thickness_mm:.1f} mm", f"{made.turns:.1f} turns", f"⌀ {made.log_diameter_mm:.0f} mm"]
    if made.spread_mm:
        lines.insert(1, f"spread {made.spread_mm:.1f} mm")
    y = cy - (len(lines) - 1) * 0.8 * text
    for words in lines:
        canvas.text(x, y, words)
        y += 1.6 * text
    canvas.paragraph(pad, 2 * (pad + reach) + text, caption, full - 2 * pad)
    return canvas.svg()


def tin_svg(made: Geometry) -> str:
    """The tin from above: pieces before proof (solid) and after proof (dashed), with the gaps [mm]."""
    tin = made.tin
    assert tin is not None, "a result of geometry() carries its tin"
    text = max(4.0, max(tin.length_mm, tin.width_mm) / 28)
    pad, right = 1.6 * text, 7.5 * text
    full = tin.length_mm + pad + right
    holds = counted(made.pieces_per_tin) + (f" in each of {made.tins} tins" if made.tins > 1 else "")
    share = (round(100 * value) for value in (made.fill_before, made.fill_after_proof, made.fill_after_bake))
    caption = (
        f"{name_of(tin)[0].upper()}{name_of(tin)[1:]}, {tin.depth_mm:.0f} mm deep: {holds}, {made.layout}. "
        + "Fill {} % before proof, about {} % after proof and {} % after baking. ".format(*share)
        + "Solid: as set; dashed: after proof, if nothing were in the way."
    )
    gaps = f" Gap between neighbours {_gap(made.gap_mm)} mm, to the wall {_gap(made.wall_gap_mm)} mm."
    canvas = Canvas(
        full, tin.width_mm + pad + 2.6 * text + text_height(caption, full - pad, text) + text,
        "Plan of the tin, to scale", caption + gaps, text,
    )  # fmt: skip
    left, top = pad, pad
    if tin.shape == "round":
        canvas.circle(left + tin.length_mm / 2, top + tin.width_mm / 2, tin.length_mm / 2, "ov-tin", heavy=3)
    else:
        canvas.rect(left, top, tin.length_mm, tin.width_mm, "ov-tin", heavy=3)

    def at(x: float, y: float) -> tuple[float, float]:
        return left + x, top + tin.width_mm - y

    for place in made.places:
        x, y = at(place.x_mm, place.y_mm)
        canvas.circle(x, y, place.radius_mm, "ov-piece", fill=DOUGH, heavy=1.6)
    for place in made.places:
        x, y = at(place.x_mm, place.y_mm)
        canvas.circle(x, y, made.proof_radius_mm, "ov-proof", stroke=COPPER, heavy=1.6, dashed=True)
    nearest = _nearest_pair(made)
    if nearest is not None and made.gap_mm > 0:
        a, b = made.places[nearest[0]], made.places[nearest[1]]
        dx, dy = (b.x_mm - a.x_mm) / made.pitch_mm, (b.y_mm - a.y_mm) / made.pitch_mm
        start = at(a.x_mm + dx * a.radius_mm, a.y_mm + dy * a.radius_mm)
        end = at(b.x_mm - dx * b.radius_mm, b.y_mm - dy * b.radius_mm)
        canvas.line(start, end, "ov-measure", stroke=TIDE, heavy=2.5)
        x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        if abs(end[0] - start[0]) >= abs(end[1] - start[1]):
            canvas.text(x, y - 0.5 * text, f"{made.gap_mm:.0f}", anchor="middle", halo=True, bold=True)
        else:
            canvas.text(x + 0.5 * text, y + 0.35 * text, f"{made.gap_mm:.0f}", halo=True, bold=True)
    edge = left + tin.length_mm + 0.9 * text
    canvas.measure((edge, top), (edge, top + tin.width_mm), f"{tin.width_mm:.0f} mm", 0.6 * text)
    base = top + tin.width_mm + text
    canvas.measure((left, base), (left + tin.length_mm, base), f"{tin.length_mm:.0f} mm", 0.35 * text)
    canvas.paragraph(left, base + 2.6 * text, caption, full - pad)
    return canvas.svg()


def _gap(millimetres: float) -> str:
    return f"{millimetres:.0f}" if round(millimetres) else "0"


def _nearest_pair(made: Geometry) -> tuple[int, int] | None:
    """Two neighbours with the least gap, first in reading order, side by side rather than one behind the other."""
    best, found = math.inf, None
    for i, one in enumerate(made.places):
        for j in range(i):
            other = made.places[j]
            distance = math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)
            # a hair's preference for level pairs, whose figure is easiest to read
            weighed = distance + 1e-6 * abs(one.y_mm - other.y_mm)
            if weighed < best - 1e-9:
                best, found = weighed, (j, i)
    return found
