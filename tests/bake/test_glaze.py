"""The glaze on an ensemble of crusts: directions, balances, refusals."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.bake.glaze import Glaze, likely_draws, of_icing_sugar_and_milk, on_bun, sets_after_s
from oventide.errors import Refusal
from oventide.forecast.glazing import glaze_question

DRAWS = likely_draws(64)


def test_hotter_is_thinner_in_every_kitchen() -> None:
    glaze = of_icing_sugar_and_milk(300.0, 60.0)
    thick, thin = (on_bun(glaze, np.full(64, t), DRAWS).viscosity_pa_s for t in (30.0, 80.0))
    assert (thick > thin).all()


def test_shares_add_to_all_kitchens_and_more_milk_moves_them_to_soaking() -> None:
    shares = [on_bun(of_icing_sugar_and_milk(300.0, m), np.full(64, 70.0), DRAWS).shares() for m in (45.0, 75.0, 130.0)]
    assert all(sum(share.values()) == pytest.approx(1.0) for share in shares)
    assert shares[0]["soaks in"] <= shares[1]["soaks in"] < shares[2]["soaks in"]


@given(sugar=st.floats(0.0, 500.0), water=st.floats(5.0, 300.0), t=st.floats(5.0, 95.0))
def test_a_glaze_is_finite_and_dissolves_no_more_than_it_has(sugar: float, water: float, t: float) -> None:
    state = Glaze(sugar_g=sugar, water_g=water).at(t)
    assert np.isfinite(state).all()
    assert state.dissolved <= sugar / (sugar + water) + 1e-9
    assert 0.0 <= state.dispersed < 1.0


def test_milk_thickens_more_than_its_water() -> None:
    with_milk, with_water = of_icing_sugar_and_milk(300.0, 60.0), Glaze(sugar_g=291.0, water_g=52.6, other_g=9.0)
    assert with_milk.at(50.0).viscosity_pa_s > with_water.at(50.0).viscosity_pa_s


def test_a_thick_film_and_damp_air_set_later() -> None:
    seconds = np.linspace(0.0, 7200.0, 61)
    crust = np.tile(22.0 + 40.0 * np.exp(-seconds / 1500.0), (64, 1))
    glaze = of_icing_sugar_and_milk(300.0, 75.0)

    def set_min(film_mm: float, vapour_pa: float) -> float:
        return float(np.nanmedian(sets_after_s(glaze, film_mm, seconds, crust, 4.5, vapour_pa, 22.0, DRAWS))) / 60.0

    assert set_min(0.3, 1200.0) < set_min(0.6, 1200.0) < set_min(0.6, 2200.0)


def test_the_question_is_answered_with_a_range_and_a_reason() -> None:
    word, because = glaze_question(of_icing_sugar_and_milk(300.0, 45.0), 60.0)
    assert word in ("coat", "too stiff to level")
    assert "soaks in" in because
    assert "% of its volume stays as grains" in because


def test_no_milk_is_refused() -> None:
    with pytest.raises(Refusal):
        of_icing_sugar_and_milk(300.0, 0.0)
