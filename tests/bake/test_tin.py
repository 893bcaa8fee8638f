"""Places in the tin: limits of the rule that no run is needed for."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.bake.position import Walls, core_at_place, slab_theta, through_gap_w_m2k

TIME = np.array([[0.0, 600.0, 1200.0, 1800.0]])
CENTRE = np.array([[28.0, 45.0, 70.0, 95.0]])


def at(*from_wall_m: float, conductance: float = 18.0, width_m: float = 0.2) -> np.ndarray:
    walls = tuple(Walls(distance, width_m, np.array([conductance])) for distance in from_wall_m)
    return core_at_place(CENTRE, TIME, np.array([170.0]), 99.6, walls)[0]


def test_nearer_to_a_wall_is_hotter_and_two_walls_more_than_one() -> None:
    centre, edge, corner = at(0.1, 0.1), at(0.033, 0.1), at(0.033, 0.033)
    assert (CENTRE[0] <= centre).all()
    assert (centre <= edge).all()
    assert (edge <= corner).all()
    assert edge[2] > centre[2] + 5.0
    assert corner[2] > edge[2] + 3.0


@given(distance=st.floats(0.005, 0.1), conductance=st.floats(0.0, 40.0), width=st.floats(0.08, 0.5))
def test_no_place_is_colder_than_the_middle_nor_hotter_than_boiling(
    distance: float, conductance: float, width: float
) -> None:
    found = at(distance, conductance=conductance, width_m=width)
    assert (found >= CENTRE[0]).all()
    assert (found <= 99.6).all()


def test_a_wall_that_lets_nothing_through_changes_nothing() -> None:
    assert at(0.033, conductance=0.0) == pytest.approx(CENTRE[0])


def test_a_gap_of_air_weakens_a_wall() -> None:
    metal = np.array([18.0])
    gaps = [float(through_gap_w_m2k(metal, gap)[0]) for gap in (0.0, 0.001, 0.005, 0.02)]
    assert gaps == sorted(gaps, reverse=True)
    assert gaps[0] == 18.0
    assert gaps[-1] > 4.0  # radiation is left


def test_one_number_and_the_series_agree_at_the_start() -> None:
    assert slab_theta(0.0, 1e-2, 1.0, terms=40) == pytest.approx(1.0, abs=1e-3)
