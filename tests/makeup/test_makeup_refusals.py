"""Nonsense is refused with field, value and remedy; defaults and doubts are said."""

import pytest

from oventide.errors import Refusal
from oventide.makeup.geometry import geometry
from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.makeup.swap import swap

SQUARE = Tin(shape="square", length_mm=200, width_mm=200)


def make(dough_g: float = 500, spread_g: float = 150, **asked: object) -> Geometry:
    return geometry(dough_g, 1.15, spread_g, 1.1, MakeUp.model_validate(asked), 1.7, 2.3)


@pytest.mark.parametrize(
    ("figures", "field"),
    [
        ({"dough_g": 0}, "makeup.dough_g"),
        ({"dough_g": -5}, "makeup.dough_g"),
        ({"spread_g": -1}, "makeup.spread_g"),
        ({"pieces": 0}, "makeup.pieces"),
        ({"pieces": -3}, "makeup.pieces"),
        ({"sheet_length_mm": 0, "sheet_width_mm": 300}, "makeup.sheet_length_mm"),
        ({"sheet_length_mm": 300, "sheet_width_mm": -300}, "makeup.sheet_width_mm"),
        ({"sheet_length_mm": 1500, "sheet_width_mm": 1500}, "makeup.sheet"),
        ({"sheet_length_mm": 80, "sheet_width_mm": 80}, "makeup.sheet"),
        ({"sheet_length_mm": 300, "sheet_width_mm": 300, "pieces": 60}, "makeup.pieces"),
        ({"sheet_length_mm": 300, "sheet_width_mm": 4000}, "makeup.sheet_width_mm"),
        ({"sheet_length_mm": 60, "sheet_width_mm": 250}, "makeup.sheet_length_mm"),
        ({"sheet_length_mm": 300, "sheet_width_mm": 300, "trim_mm": 150, "pieces": 4}, "makeup.trim_mm"),
        ({"tin": Tin(shape="square", length_mm=30, width_mm=30)}, "makeup.tin"),
        ({"tin": Tin(shape="round", length_mm=200, width_mm=180)}, "makeup.tin"),
        ({"tins": 0}, "makeup.tins"),
        ({"tins": 12, "pieces": 9}, "makeup.tins"),
        ({"pieces": 9, "sheets": 2}, "makeup.sheets"),
        ({"seam_margin_mm": 90}, "makeup.seam_margin_mm"),
    ],
)
def test_refused(figures: dict[str, object], field: str) -> None:
    with pytest.raises(Refusal) as caught:
        make(**figures)  # type: ignore[arg-type]
    fields = [complaint.field for complaint in caught.value.complaints]
    assert field in fields
    for complaint in caught.value.complaints:
        assert complaint.problem
        assert complaint.remedy


def test_nothing_given_says_every_default() -> None:
    made = make(980, 260)
    said = " ".join(made.assumed)
    for word in ("Pieces: 15", "Sheet width", "Sheet length", "Tin: "):
        assert word in said
    assert 4 <= made.thickness_mm <= 8
    assert made.gap_mm > 0


def test_a_piece_weight_that_does_not_add_up_is_said() -> None:
    made = make(pieces=9, piece_g=100)
    assert any("would need 900 g" in warning for warning in made.warnings)


def test_prime_counts_come_from_one_log() -> None:
    made = make(1500, 300, pieces=19)
    assert made.sheets == 1
    assert made.piece_height_mm > 20


def test_two_tins_from_one_small_sheet_size_means_two_sheets() -> None:
    made = make(1000, 300, pieces=18, tins=2, sheet_length_mm=300, sheet_width_mm=300, tin=SQUARE)
    one = make(500, 150, pieces=9, sheet_length_mm=300, sheet_width_mm=300, tin=SQUARE)
    assert made.sheets == 2
    assert any("one of the size given for each tin" in sentence for sentence in made.assumed)
    assert made.thickness_mm == pytest.approx(one.thickness_mm)
    assert made.piece_g == pytest.approx(one.piece_g)
    assert made.fill_after_bake == pytest.approx(one.fill_after_bake)


def test_crowded_low_and_overfull_tins_are_said_in_words() -> None:
    sheet = {"sheet_length_mm": 300, "sheet_width_mm": 300, "pieces": 9}
    crowded = make(**sheet, tin=Tin(shape="square", length_mm=130, width_mm=130))  # type: ignore[arg-type]
    assert any("overlap" in warning for warning in crowded.warnings)
    low = make(**sheet, tin=Tin(shape="square", length_mm=300, width_mm=300))  # type: ignore[arg-type]
    assert any("stand low" in warning for warning in low.warnings)
    full = make(**sheet, tin=Tin(shape="square", length_mm=160, width_mm=160, depth_mm=40))  # type: ignore[arg-type]
    assert any("over the brim" in warning for warning in full.warnings)


def test_swap_keeps_piece_or_count() -> None:
    wide = Tin(shape="rectangle", length_mm=300, width_mm=200)
    piece, count = swap(9, 80, SQUARE, wide)
    assert (piece.pieces, piece.piece_g) == (14, 80)
    assert piece.crowding == pytest.approx(1.5 * 9 / 14)
    assert (count.pieces, count.piece_g, count.factor) == (9, 120, 1.5)
    back, _ = swap(piece.pieces, 80, wide, SQUARE)
    assert back.pieces == 9


def test_swap_refuses_nonsense() -> None:
    with pytest.raises(Refusal):
        swap(0, 80, SQUARE, SQUARE)
    with pytest.raises(Refusal):
        swap(9, -80, SQUARE, SQUARE)
