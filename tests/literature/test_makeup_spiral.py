"""Sheet, roll and cuts beside the trade's practice; published figures stand in the validation book."""

from oventide.makeup.cuts import cut
from oventide.makeup.geometry import geometry
from oventide.makeup.model import MakeUp, Tin


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
