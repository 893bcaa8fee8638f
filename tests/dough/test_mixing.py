"""The mixing balance: what must hold whatever the figures, and what is said where a temperature cannot be reached."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.dough.mixing import (
    FLOUR_HEAT,
    WATER_HEAT,
    MixHeat,
    MixPart,
    dough_temperature_c,
    dough_temperatures_c,
    factor_from_rise,
    ice_for_water,
    liquid_for,
)
from oventide.errors import Refusal
from oventide.evidence.parameters import draw, load

REST = [
    MixPart("flour", 1.0, FLOUR_HEAT, 21.0),
    MixPart("butter", 0.2, 2200.0, 8.0, milk_fat_kg=0.164),
    MixPart("egg", 0.15, 3300.0, 8.0),
    MixPart("sugar", 0.12, 1250.0, 21.0),
]
HEAT = MixHeat(flour_kg=1.0, friction_k=6.0)


@given(st.floats(20.0, 30.0), st.floats(0.0, 14.0), st.floats(5.0, 30.0))
def test_the_liquid_found_gives_the_dough_wanted(desired_c: float, friction_k: float, flour_c: float) -> None:
    parts = [MixPart("flour", 1.0, FLOUR_HEAT, flour_c), *REST[1:]]
    plan = liquid_for(desired_c, parts, MixHeat(flour_kg=1.0, friction_k=friction_k), 0.5)
    if plan.reached:
        assert plan.dough_c == pytest.approx(desired_c, abs=0.02)
    else:
        assert plan.note
        assert abs(plan.dough_c - desired_c) > 0.02


def test_warmer_water_makes_a_warmer_dough() -> None:
    doughs = [
        dough_temperature_c([*REST, MixPart("water", 0.5, WATER_HEAT, c)], HEAT) for c in np.linspace(1.0, 50.0, 20)
    ]
    assert np.all(np.diff(doughs) > 0)


def test_milk_that_would_have_to_freeze_is_said_to_be_out_of_reach() -> None:
    hot_kitchen = [MixPart("flour", 1.0, FLOUR_HEAT, 32.0), MixPart("butter", 0.2, 2200.0, 28.0, milk_fat_kg=0.164)]
    plan = liquid_for(22.0, hot_kitchen, MixHeat(flour_kg=1.0, friction_k=14.0), 0.5, can_take_ice_kg=0.0)
    assert not plan.reached
    assert plan.wanted_c < 0
    assert plan.ice_kg == 0
    assert plan.dough_c > 22.0
    assert "ice" in plan.note
    with_ice = liquid_for(22.0, hot_kitchen, MixHeat(flour_kg=1.0, friction_k=14.0), 0.5)
    assert 0 < with_ice.ice_kg < 0.5
    assert with_ice.dough_c < plan.dough_c


def test_ice_stands_for_part_of_the_liquid_and_reaches_the_dough_wanted() -> None:
    warm = [MixPart("flour", 1.0, FLOUR_HEAT, 27.0), *REST[1:]]
    plan = liquid_for(22.0, warm, MixHeat(flour_kg=1.0, friction_k=12.0), 0.5, tap_c=18.0)
    assert plan.wanted_c < 0
    assert plan.reached
    assert plan.ice_kg > 0
    assert plan.dough_c == pytest.approx(22.0, abs=0.02)


def test_liquid_that_would_harm_yeast_is_said_so() -> None:
    cold = [MixPart("flour", 1.0, FLOUR_HEAT, 2.0), *REST[1:]]
    plan = liquid_for(28.0, cold, MixHeat(flour_kg=1.0, friction_k=0.0), 0.3)
    assert not plan.reached
    assert plan.liquid_c == 50.0
    assert "yeast" in plan.note
    assert plan.dough_c < 28.0


def test_members_agree_with_one_by_one() -> None:
    from oventide.dough.state import parameters

    draws = draw(parameters() + list(load("matter").parameters.values()), 16, 1)
    starts = np.tile([part.temperature_c for part in REST], (16, 1))
    friction = np.linspace(2.0, 10.0, 16)
    many = dough_temperatures_c(REST, starts, 1.0, friction, draws)
    for m in (0, 7, 15):
        heat = MixHeat(
            1.0, friction[m], draws["mixing.hydration_heat"][m], draws["milk_fat.solid_offset"][m],
            draws["milk_fat.fusion_heat"][m],
        )  # fmt: skip
        assert many[m] == pytest.approx(dough_temperature_c(REST, heat), abs=1e-9)


def test_a_rise_counts_n_times_in_the_rule() -> None:
    assert factor_from_rise(3.0) == 9.0
    assert factor_from_rise(3.0, 4) == 12.0


@pytest.mark.parametrize("call", [
    lambda: liquid_for(24.0, REST, HEAT, 0.0),
    lambda: dough_temperature_c([], HEAT),
    lambda: ice_for_water(1.0, 10.0, 20.0),
    lambda: ice_for_water(1.0, 10.0, -5.0, added=True),
])  # fmt: skip
def test_what_cannot_be_reckoned_is_refused_with_a_remedy(call) -> None:
    with pytest.raises(Refusal) as refusal:
        call()
    assert all(complaint.remedy for complaint in refusal.value.complaints)
