"""Sheet, roll and cuts."""

import itertools
import math

from oventide.makeup.geometry import geometry
from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.makeup.spiral import concentric_length, roll_up, wind
from oventide.units.measure import GRAMS, MILLIMETRES
from validation.model import Check

INCH = MILLIMETRES["in"]
OUNCE = GRAMS["oz"]


def _arc(turns: float, pitch_mm: float) -> float:
    """Length of an Archimedean spiral, closed form."""
    angle = 2 * math.pi * turns
    return pitch_mm / (4 * math.pi) * (angle * math.hypot(1, angle) + math.asinh(angle))


def _chords(angle: float, pitch_mm: float, steps: int = 50_000) -> float:
    """Length of the same spiral as a plain sum of chords."""
    a = pitch_mm / (2 * math.pi)
    angles = [angle * at / steps for at in range(steps + 1)]
    points = [(a * t * math.cos(t), a * t * math.sin(t)) for t in angles]
    return sum(math.dist(p, q) for p, q in itertools.pairwise(points))


def _usda_sheet(spread_g: float = 0.0) -> Geometry:
    asked = MakeUp(
        sheet_length_mm=10 * INCH, sheet_width_mm=25 * INCH, pieces=25,
        tin=Tin(shape="sheet_pan", length_mm=26 * INCH, width_mm=18 * INCH),
    )  # fmt: skip
    return geometry(54 * OUNCE, 1.15, spread_g, 0.9, asked, 1.7, 2.3)


def _danish_sheet() -> float:
    asked = MakeUp(sheet_length_mm=12 * INCH, sheet_width_mm=14 * INCH, pieces=10)
    return geometry(14 * OUNCE, 1.15, 0, 1.0, asked, 1.5, 2.0).thickness_mm / INCH


TURNS = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0)

CHECKS = (
    Check(
        "spiral.turns", "makeup", "turns of a sheet rolled up, 8 mm thick", "archimedes-arc",
        "arc length, from memory: sheets of the lengths that 1 to 8 turns take", TURNS,
        lambda: [wind(_arc(turns, 8.0), 8).end_angle / (2 * math.pi) for turns in TURNS], "turns", 0.002, True,
        kind="curve", x=tuple(round(_arc(turns, 8.0), 2) for turns in TURNS), x_name="sheet [mm]",
    ),
    Check(
        "spiral.radius", "makeup", "outer radius of 400 mm at a pitch of 8 mm", "archimedes-arc", "arc length, from memory",
        (31.803,), lambda: wind(400, 8).end_radius_mm, "mm", 0.002, True,
    ),
    Check(
        "spiral.chords", "makeup", "length of the spiral as a plain sum of chords", "archimedes-arc",
        "no formula: 50 000 chords of the same spiral", (400.0,), lambda: _chords(wind(400, 8).end_angle, 8.0), "mm",
        1e-3, True,
    ),
    Check(
        "spiral.rolled-tape", "makeup", "diameter of 400 mm rolled up, 8 mm thick", "rolled-tape",
        "L = π (D² - d²)/4t", (63.83,), lambda: roll_up(400, 8, 0).area_diameter_mm, "mm", 0.02, True,
    ),
    Check(
        "spiral.turns-by-diameter", "makeup", "turns by D/2t", "rolled-tape", "same article", (3.99,),
        lambda: roll_up(400, 8, 0).area_diameter_mm / 16, "turns", 0.01, True,
    ),
    Check(
        "spiral.rings", "makeup", "length of four rings of inner diameters, 8 mm thick", "rolled-tape",
        "π N (D0 + h (N - 1))", (301.6,), lambda: concentric_length(0, 8, 4), "mm", 0.1, True,
    ),
    Check(
        "spiral.usda-thickness", "makeup", "thickness of 3 lb 6 oz of dough on 25 × 10 in", "usda-school-rolls",
        "quantity recipe, 1988, as posted", (0.25,), lambda: _usda_sheet().thickness_mm / INCH, "in", 0.03, True,
        miss="A quarter of an inch would need a dough of 1.495 g/cm³, denser than any: the recipe contradicts itself.",
    ),
    Check(
        "spiral.usda-piece", "makeup", "dough in each of 25 pieces", "usda-school-rolls", "same recipe", (2.16,),
        lambda: _usda_sheet().piece_g / OUNCE, "oz", 0.005, True,
    ),
    Check(
        "spiral.usda-piece-height", "makeup", "height of a piece of a 25 in log cut in 25", "usda-school-rolls",
        "same recipe", (1.0,), lambda: _usda_sheet().piece_height_mm / INCH, "in", 0.005, True,
    ),
    Check(
        "spiral.usda-filling", "makeup", "sugar on the sheet", "usda-school-rolls",
        "5 1/4 oz over two sheets, by arithmetic", (0.0461,), lambda: _usda_sheet(5.25 * OUNCE / 2).spread_g_per_cm2,
        "g/cm²", 1e-4, True,
    ),
    Check(
        "spiral.danish-thickness", "makeup", "thickness of 14 oz of dough on 14 × 12 in", "danish-sheet", "post",
        (0.125,), _danish_sheet, "in", 0.00125, True, note="At our likely density of 1.15 g/cm³.",
    ),
)  # fmt: skip
