"""When pieces meet: limits and directions."""

import numpy as np
import pytest

from oventide.makeup.geometry import geometry
from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.makeup.touch import dough_share, meets_at_rise


def nine(side_mm: float) -> Geometry:
    tin = Tin(shape="square", length_mm=side_mm, width_mm=side_mm)
    asked = MakeUp(sheet_length_mm=300, sheet_width_mm=300, pieces=9, tin=tin)
    return geometry(500, 1.15, 150, 1.1, asked, 1.5, 1.9)


def test_growing_alike_in_all_directions_is_the_cube() -> None:
    made = nine(200.0)
    share = dough_share(made)
    rise = float(meets_at_rise(made, 1.0 / 3.0)[0])
    assert 1.0 + share * (rise - 1.0) == pytest.approx((made.pitch_mm / made.log_diameter_mm) ** 3)
    assert 0.7 < share < 0.8


def test_a_tighter_tin_and_a_slacker_dough_meet_sooner() -> None:
    slack = np.array([0.30, 0.45])
    assert (meets_at_rise(nine(180.0), slack) < meets_at_rise(nine(200.0), slack)).all()
    assert meets_at_rise(nine(200.0), slack)[1] < meets_at_rise(nine(200.0), slack)[0]


def test_pieces_that_touch_have_met_and_a_single_one_never_does() -> None:
    assert meets_at_rise(nine(148.0), 0.36)[0] == pytest.approx(1.0, abs=0.05)
    assert np.isinf(meets_at_rise(_one(), 0.36)[0])


def _one() -> Geometry:
    tin = Tin(shape="square", length_mm=120, width_mm=120)
    asked = MakeUp(sheet_length_mm=200, sheet_width_mm=60, pieces=1, tin=tin)
    return geometry(70, 1.15, 15, 1.1, asked, 1.5, 1.9)
