"""What must hold for every make-up: volumes and lengths add up, pieces stand inside, doubling doubles."""

import itertools
import math
from xml.etree import ElementTree

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.evidence.parameters import load
from oventide.makeup import drawing
from oventide.makeup.cuts import cut, cuts_in_words
from oventide.makeup.free import free_placing
from oventide.makeup.geometry import geometry
from oventide.makeup.layout import choose, positions, regular_candidates
from oventide.makeup.model import Geometry, MakeUp, Tin, TinShape
from oventide.makeup.room_in_tin import most_room_possible, room
from oventide.makeup.ruler import PAPERS_MM, strips_of
from oventide.makeup.spiral import roll_up

FEW = settings(max_examples=25, deadline=None)


@st.composite
def made_up(draw: st.DrawFn) -> Geometry:
    """A make-up that is not refused, with or without its sheet and tin given."""
    pieces = draw(st.sampled_from([1, 2, 4, 6, 9, 12, 25]))
    dough = pieces * draw(st.floats(50, 110))
    sheet = draw(st.booleans())
    asked = MakeUp(
        sheet_length_mm=draw(st.floats(200, 450)) if sheet else None,
        sheet_width_mm=max(pieces * draw(st.floats(20, 50)), 60.0) if sheet else None,
        pieces=pieces,
        kerf_mm=draw(st.sampled_from([0.0, 0.5])),
        trim_mm=draw(st.sampled_from([0.0, 4.0])),
        seam_margin_mm=draw(st.sampled_from([0.0, 12.0])),
    )
    rise = draw(st.floats(1.2, 2.0))
    try:
        return geometry(dough, draw(st.floats(0.9, 1.2)), dough * draw(st.floats(0, 0.5)), 1.1, asked, rise, rise + 0.5)
    except Refusal:
        assume(False)
        raise


@FEW
@given(made_up())
def test_mass_and_length_add_up(made: Geometry) -> None:
    total = made.dough_g + made.spread_g
    assert made.pieces * made.piece_g + made.trim_g + made.kerf_g == pytest.approx(total)
    cuts = len(made.cut_marks_mm)
    length = made.pieces_per_sheet * made.piece_height_mm + 2 * made.trim_mm + cuts * made.kerf_mm
    assert length == pytest.approx(made.log_length_mm)
    assert made.pieces_per_sheet * made.sheets == made.pieces


@FEW
@given(made_up())
def test_volume_is_conserved(made: Geometry) -> None:
    layers = made.sheet_length_mm * made.thickness_mm + (made.sheet_length_mm - made.seam_margin_mm) * made.spread_mm
    assert math.pi / 4 * made.log_diameter_mm**2 == pytest.approx(layers)
    assert made.tin is not None
    brim = made.tin.length_mm * made.tin.width_mm * made.tin.depth_mm
    piece = math.pi / 4 * made.log_diameter_mm**2 * made.piece_height_mm
    assert made.fill_before * brim == pytest.approx(made.pieces_per_tin * piece)
    assert made.fill_before < made.fill_after_proof < made.fill_after_bake


@FEW
@given(made_up())
def test_marks_rise_and_pieces_stand_inside(made: Geometry) -> None:
    marks = (0.0, *made.cut_marks_mm, made.log_length_mm)
    assert all(later > earlier for earlier, later in itertools.pairwise(marks))
    assert made.tin is not None
    assert len(made.places) == made.pieces_per_tin
    assert made.wall_gap_mm >= 0  # the tin was chosen for them
    for place in made.places:
        assert place.radius_mm - 1e-6 <= place.x_mm <= made.tin.length_mm - place.radius_mm + 1e-6
        assert place.radius_mm - 1e-6 <= place.y_mm <= made.tin.width_mm - place.radius_mm + 1e-6


@FEW
@given(made_up())
def test_drawings_are_well_formed_and_say_what_they_show(made: Geometry) -> None:
    pages = [drawing.sheet_svg(made), drawing.log_svg(made), drawing.section_svg(made), drawing.tin_svg(made)]
    for page in [*pages, *drawing.ruler_svg(made, "a4"), *drawing.ruler_svg(made, "letter")]:
        root = ElementTree.fromstring(page)
        space = {"s": "http://www.w3.org/2000/svg"}
        assert root.find("s:title", space) is not None
        assert root.find("s:desc", space) is not None
        assert root.get("viewBox")
        for text in root.iterfind(".//s:text", space):
            assert float(text.get("font-size", "0")) >= 4
            assert text.get("transform") is None


@FEW
@given(st.floats(200, 400), st.floats(250, 500), st.integers(2, 9))
def test_doubling_every_length_doubles_the_roll(length: float, width: float, pieces: int) -> None:
    def asked(scale: float) -> Geometry:
        tin = Tin(shape="square", length_mm=scale * 300, width_mm=scale * 300, depth_mm=scale * 50)
        makeup = MakeUp(sheet_length_mm=scale * length, sheet_width_mm=scale * width, pieces=pieces, tin=tin)
        dough = length * width * 6 / 1000 * 1.1 * scale**3
        return geometry(dough, 1.1, dough / 4, 1.1, makeup, 1.6, 2.1)

    try:
        one, two = asked(1), asked(2)
    except Refusal:
        assume(False)
        return
    for name in ("thickness_mm", "spread_mm", "log_diameter_mm", "piece_height_mm", "pitch_mm", "proof_radius_mm"):
        assert getattr(two, name) == pytest.approx(2 * getattr(one, name), rel=1e-6)
    assert two.turns == pytest.approx(one.turns)
    assert two.fill_after_bake == pytest.approx(one.fill_after_bake)
    assert two.layout == one.layout


@given(st.floats(100, 600), st.integers(1, 48), st.floats(0, 20), st.floats(0, 1))
def test_cuts_add_up(log: float, pieces: int, trim: float, kerf: float) -> None:
    made = cut(log, pieces, trim, kerf)
    assert pieces * made.piece_mm + 2 * trim + made.kerfs_mm == pytest.approx(log)


@given(st.floats(100, 1000), st.floats(2, 20), st.floats(0, 8))
def test_exact_spiral_agrees_with_conserved_area(length: float, dough: float, spread: float) -> None:
    roll = roll_up(length, dough, spread)
    assume(roll.turns >= 2)
    assert roll.mean_diameter_mm == pytest.approx(roll.area_diameter_mm, rel=0.015)


@given(st.integers(1, 200))
def test_words_of_cuts_multiply_to_the_pieces(pieces: int) -> None:
    words, product = cuts_in_words(pieces), 1
    for step in words.split(", then "):
        last = step.removesuffix(" by the marks").split(" in ")[-1]
        product *= {"halves": 2, "thirds": 3}.get(last) or int(last if last.isdigit() else 1)
    assert product == pieces


@given(st.floats(40, 3000))
def test_strips_cover_the_log(log: float) -> None:
    strips = strips_of(log)
    assert strips[0][0] == 0
    assert strips[-1][1] == log
    assert all(one[1] == two[0] for one, two in itertools.pairwise(strips))
    assert max(end - start for start, end in strips) <= min(width for width, _ in PAPERS_MM.values()) - 38


@pytest.mark.parametrize("shape", ["square", "rectangle", "round", "sheet_pan"])
@pytest.mark.parametrize("pieces", [1, 2, 9, 12, 24])
def test_layouts_hold_every_piece(shape: TinShape, pieces: int) -> None:
    tin = Tin(shape=shape, length_mm=300, width_mm=200 if shape in ("rectangle", "sheet_pan") else 300)
    layout = choose(pieces, tin)
    assert len(layout.points) == len(positions(layout, tin)) == pieces
    for one, two in itertools.combinations(layout.points, 2):
        assert math.dist(one, two) >= 2 * layout.room_mm - 1e-6
    assert layout.wall_mm >= layout.room_mm - 1e-6


def test_nine_in_a_square_has_four_corners_and_one_centre() -> None:
    tin = Tin(shape="square", length_mm=200, width_mm=200)
    found = positions(choose(9, tin), tin)
    assert (found.count("corner"), found.count("edge"), found.count("centre")) == (4, 4, 1)


@pytest.mark.parametrize("pieces", [7, 8, 12])
@pytest.mark.parametrize("shape", ["square", "round"])
def test_no_placing_is_better_than_the_record_or_than_what_is_possible(shape: TinShape, pieces: int) -> None:
    """More room than the best known packing of circles, beyond its printed digits, would be an error of ours."""
    one = Tin(shape=shape, length_mm=1000, width_mm=1000, depth_mm=50)
    regular = [points for _, _, points in regular_candidates(pieces, one)]
    start = max(regular, key=lambda points: room(points, one))
    ours = max(room(start, one), room(free_placing(pieces, one, begin=start), one)) / 1000
    size = load("makeup").value(f"best.{shape}.n{pieces:02d}")
    record = 1 / size if shape == "square" else 0.5 / size
    assert ours / record - 1 < 3e-4
    assert ours * 1000 <= most_room_possible(pieces, one) * (1 + 1e-9)
