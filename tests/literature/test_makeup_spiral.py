"""Sheet, roll and cuts against published figures. The source stands beside each row."""

import itertools
import math

import pytest

from oventide.makeup.cuts import cut
from oventide.makeup.geometry import geometry
from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.makeup.spiral import concentric_length, roll_up, wind
from oventide.units.measure import GRAMS, MILLIMETRES

INCH = MILLIMETRES["in"]
OUNCE = GRAMS["oz"]


def test_exact_archimedean_spiral() -> None:
    """Arc length s = a/2 [θ √(1+θ²) + asinh θ], standard calculus (remembered): 400 mm at a pitch of 8 mm."""
    roll = wind(400, 8)
    assert roll.end_angle / (2 * math.pi) == pytest.approx(3.9754, abs=0.002)
    assert roll.end_radius_mm == pytest.approx(31.803, abs=0.002)


def test_spiral_against_integration() -> None:
    """The closed arc length against a plain sum of chords of the same spiral (independent of the formula)."""
    roll = wind(400, 8)
    a, steps = 8 / (2 * math.pi), 200_000
    angles = [roll.end_angle * i / steps for i in range(steps + 1)]
    points = [(a * t * math.cos(t), a * t * math.sin(t)) for t in angles]
    length = sum(math.dist(p, q) for p, q in itertools.pairwise(points))
    assert length == pytest.approx(400, abs=1e-3)


def test_area_conservation() -> None:
    """Rolled tape L = π (D² - d²) / 4t (mathematics article, excerpt read): 400 mm of 8 mm, no core."""
    roll = roll_up(400, 8, 0)
    assert roll.area_diameter_mm == pytest.approx(63.83, abs=0.02)
    assert roll.area_diameter_mm / 16 == pytest.approx(3.99, abs=0.01)  # turns by D / 2t
    assert roll.mean_diameter_mm == pytest.approx(roll.area_diameter_mm, rel=0.005)


def test_concentric_rings() -> None:
    """Rolled tape as rings of inner diameters, π N (D0 + h (N - 1)) (same article): short of the exact length."""
    assert concentric_length(0, 8, 4) == pytest.approx(301.6, abs=0.1)
    assert concentric_length(0, 8, wind(400, 8).end_angle / (2 * math.pi)) < 400


def usda_sheet(spread_g: float = 0.0) -> Geometry:
    asked = MakeUp(
        sheet_length_mm=10 * INCH, sheet_width_mm=25 * INCH, pieces=25,
        tin=Tin(shape="sheet_pan", length_mm=26 * INCH, width_mm=18 * INCH),
    )  # fmt: skip
    return geometry(54 * OUNCE, 1.15, spread_g, 0.9, asked, 1.7, 2.3)


def test_usda_sheet_thickness() -> None:
    """USDA quantity recipe 1988 (as posted): 3 lb 6 oz on 25 × 10 in is printed as 1/4 in and is 0.325 in.

    The printed thickness would need a dough of 1.495 g/cm³, denser than any: the recipe contradicts itself.
    """
    made = usda_sheet()
    assert made.thickness_mm / INCH == pytest.approx(0.325, abs=0.005)
    density_needed = 54 * OUNCE / (25 * 10 * 0.25 * (INCH / 10) ** 3)
    assert density_needed == pytest.approx(1.495, abs=0.005)


def test_usda_pieces() -> None:
    """Same recipe: a log of 25 in cut at 1 in gives 25 pieces of 2.16 oz of dough."""
    made = usda_sheet()
    assert made.piece_height_mm == pytest.approx(INCH)
    assert made.piece_g / OUNCE == pytest.approx(2.16, abs=0.005)
    assert len(made.cut_marks_mm) == 24


def test_usda_filling_per_area() -> None:
    """Same recipe: 5 1/4 oz of sugar over two sheets is 0.0461 g/cm² and 4.86 % of the dough."""
    made = usda_sheet(5.25 * OUNCE / 2)
    assert made.spread_g == pytest.approx(74.4, abs=0.05)
    assert made.spread_g_per_cm2 == pytest.approx(0.0461, abs=0.0001)
    assert 100 * made.spread_g / made.dough_g == pytest.approx(4.86, abs=0.01)


def test_danish_sheet_density() -> None:
    """A pastry writer's Danish sheet (2010): 14 oz at 14 × 12 in is about 1/8 in thick, so about 1.15 g/cm³."""
    asked = MakeUp(sheet_length_mm=12 * INCH, sheet_width_mm=14 * INCH, pieces=10)
    made = geometry(14 * OUNCE, 1.15, 0, 1.0, asked, 1.5, 2.0)
    assert made.thickness_mm / INCH == pytest.approx(1 / 8, rel=0.01)


def test_thirty_centimetre_sheet_fills_a_twenty_centimetre_tin_with_nine() -> None:
    """Common practice, no source: a 30 cm sheet from about half a kilo fills a 20 cm square tin with nine.

    Our geometry with 500 g at 1.15 g/cm³ and 150 g of spread: 4.8 mm thick, a log 49 mm across, pieces of 33 mm and
    72 g with gaps of 17 mm. It "fills" if the pieces meet once baked: twice the baked radius is near the pitch, and
    the tin is then half to four fifths full. Rise 1.7 and 2.3 are round figures, not fitted.
    """
    tin = Tin(shape="square", length_mm=200, width_mm=200)
    asked = MakeUp(sheet_length_mm=300, sheet_width_mm=300, pieces=9, tin=tin)
    made = geometry(500, 1.15, 150, 1.1, asked, 1.7, 2.3)
    assert made.layout == "grid 3 × 3"
    assert 4 <= made.thickness_mm <= 6
    assert 30 <= made.piece_height_mm <= 45
    assert made.gap_mm > 0
    assert 0.9 <= 2 * made.bake_radius_mm / made.pitch_mm <= 1.1
    assert 0.5 <= made.fill_after_bake <= 0.8
    assert not made.warnings


def test_nine_by_thirds_of_thirds() -> None:
    """Arithmetic: thirds of a 300 mm log at 100 and 200, thirds of those between."""
    marks = cut(300, 9).marks_mm
    assert [round(mark, 1) for mark in marks] == [33.3, 66.7, 100.0, 133.3, 166.7, 200.0, 233.3, 266.7]
