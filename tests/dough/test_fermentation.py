"""What must hold of yeast and gas in a cell, whatever the dough and the temperature."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.dough import state as s
from oventide.dough.fat import firmness, solid_fat, threshold_temperatures_c, thresholds
from oventide.dough.fermentation import ferment_for, ferment_step, osmolality
from oventide.dough.gas import co2_bubbles_mmol, dissolved_co2_mmol, gas_fraction, relative_volume
from oventide.dough.proof import proof_state, shaped_target
from oventide.dough.temperature import L_MOST, gas_law, temperature_law
from oventide.errors import Refusal
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition

ALL = s.parameters() + list(load("matter").parameters.values())
BASE = {
    "mass_g": 1000, "flour_g": 500, "water_g": 300, "added_water_g": 230, "water_from_liquid_g": 0,
    "water_from_egg_g": 40, "water_from_butter_g": 16, "water_from_dairy_g": 174, "water_from_other_g": 0, "fat_g": 95,
    "milk_fat_g": 85, "sugars_g": 68, "sucrose_g": 58, "lactose_g": 9, "starch_g": 345, "fibre_g": 15, "protein_g": 68,
    "milk_protein_g": 7, "egg_g": 50, "salt_g": 9, "ash_g": 14, "alcohol_g": 0, "yeast_dry_matter_g": 7.5,
    "yeast_kind": "instant", "spice_g": 0,
}  # fmt: skip
LIKELY = draw(ALL, 1, 0)


def cell(draws=LIKELY, **changes):
    composition = Composition(**(BASE | changes))
    return s.initial_ferment(composition, draws)[0], s.ferment_parameters(composition, draws)[0]


def made_in(hours: float, temperature_c: float, step_s: float = 60.0, **changes) -> float:
    y, p = cell(**changes)
    ferment_for(y, p, temperature_c, hours * 3600, step_s)
    return float(y[s.CO2_MADE])


@given(st.floats(-5, 60), st.floats(1.0, 300.0), st.integers(0, 63))
def test_a_step_keeps_every_account_and_no_state_goes_below_nothing(temperature_c, dt_s, member) -> None:
    draws = {name: values[member : member + 1] for name, values in draw(ALL, 64, 5).items()}
    y, p = cell(draws)
    sugar = y[s.HEXOSE] + y[s.STARCH_SUGAR]
    yeast = y[s.YEAST] + y[s.GROWTH_LEFT]
    heat = 0.0
    for _ in range(20):
        heat += ferment_step(y, p, temperature_c, dt_s) * dt_s
    assert np.all(y >= 0)
    assert y[s.CO2] + y[s.CO2_LOST] == pytest.approx(y[s.CO2_MADE], abs=1e-9)
    left = y[s.HEXOSE] + y[s.MALTOSE] + y[s.STARCH_SUGAR]
    assert left + y[s.CO2_MADE] * p[s.P_SUGAR_PER_CO2] == pytest.approx(sugar, abs=1e-9)
    assert y[s.YEAST] + y[s.GROWTH_LEFT] + y[s.DEAD] == pytest.approx(yeast, abs=1e-9)
    assert heat == pytest.approx(y[s.CO2_MADE] * p[s.P_HEAT] / p[s.P_DOUGH_KG], rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("temperature_c", [5.0, 27.0, 35.0])
def test_long_steps_tell_the_same_story(temperature_c: float) -> None:
    assert made_in(4, temperature_c, 300.0) == pytest.approx(made_in(4, temperature_c, 5.0), rel=0.005)


def test_yeast_that_runs_out_of_sugar_stops() -> None:
    """A lean dough at 30 °C for days makes no more CO2 than its sugar holds."""
    y, p = cell(sugars_g=0, sucrose_g=0, lactose_g=0)
    all_sugar = y[s.HEXOSE] + y[s.STARCH_SUGAR]
    ferment_for(y, p, 30.0, 72 * 3600.0, 300.0)
    assert y[s.CO2_MADE] * p[s.P_SUGAR_PER_CO2] == pytest.approx(all_sugar, rel=0.01)


def test_more_sugar_more_salt_more_fat_and_cold_slow_yeast() -> None:
    plain = made_in(2, 27.0)
    assert made_in(2, 27.0, sugars_g=128, sucrose_g=118) < plain
    assert made_in(2, 27.0, salt_g=18) < plain
    assert made_in(2, 27.0, fat_g=195, milk_fat_g=185) < plain
    assert made_in(2, 20.0) < plain
    assert made_in(2, 27.0, yeast_dry_matter_g=15) > 1.7 * plain


def test_yeast_for_sweet_dough_stands_more_sugar() -> None:
    sweet = {"sugars_g": 128, "sucrose_g": 118}
    assert made_in(2, 27.0, yeast_kind="instant_osmotolerant", **sweet) > 1.2 * made_in(2, 27.0, **sweet)


def test_kinds_of_yeast_start_at_their_own_pace() -> None:
    """Equal active matter: fresh is first, active dry last."""
    active = {"fresh": 1.0, "instant": 0.957, "active_dry": 0.815}
    early = {k: made_in(0.5, 27.0, yeast_kind=k, yeast_dry_matter_g=7 / share) for k, share in active.items()}
    assert early["fresh"] > early["instant"] > early["active_dry"]


def test_lactose_is_not_fermented_but_counts_as_a_particle() -> None:
    without, p0 = cell(lactose_g=0, sugars_g=59)
    with_it, p1 = cell(lactose_g=9, sugars_g=68)
    assert with_it[s.HEXOSE] == pytest.approx(without[s.HEXOSE])
    assert osmolality(with_it, p1) > osmolality(without, p0)


def test_freshly_mixed_dough_has_relative_volume_one() -> None:
    y, p = cell()
    assert relative_volume(y, p, 26.0) == pytest.approx(1.0, abs=0.01)
    assert gas_fraction(y, p, 26.0) == pytest.approx(0.08, abs=0.01)


@given(st.floats(0.01, 60.0), st.floats(0.0, 42.0))
def test_gas_splits_between_water_fat_and_bubbles(co2: float, temperature_c: float) -> None:
    y, p = cell()
    y[s.CO2] = co2
    bubbles, dissolved = co2_bubbles_mmol(y, p, temperature_c), dissolved_co2_mmol(y, p, temperature_c)
    assert 0 <= bubbles <= co2
    assert 0 <= dissolved <= co2
    y[s.CO2] = 2 * co2
    assert co2_bubbles_mmol(y, p, temperature_c) > bubbles


def test_cold_dough_is_smaller_and_holds_more_in_solution() -> None:
    y, p = cell()
    y[s.CO2] = 12.0
    assert relative_volume(y, p, 4.0) < relative_volume(y, p, 27.0)
    assert dissolved_co2_mmol(y, p, 4.0) > dissolved_co2_mmol(y, p, 27.0)


def test_dough_rises_higher_on_a_mountain() -> None:
    composition = Composition(**BASE)
    y = s.initial_ferment(composition, LIKELY)[0]
    y[s.CO2] = 12.0
    sea, high = (s.ferment_parameters(composition, LIKELY, altitude)[0] for altitude in (0.0, 2000.0))
    assert relative_volume(y, high, 27.0) > 1.1 * relative_volume(y, sea, 27.0)


def test_every_law_is_one_at_30_and_nothing_in_the_heat() -> None:
    draws = draw(ALL, 64, 2)
    for row in temperature_law(draws):
        assert gas_law(30.0, row) == pytest.approx(1.0)
        assert gas_law(row[L_MOST] + 0.1, row) == 0.0
        assert all(gas_law(t, row) >= 0 for t in np.arange(-10, 60, 0.5))


def test_a_sponge_is_spread_over_all_the_flour() -> None:
    sponge, dough = np.arange(1.0, s.NY + 1.0), np.zeros(s.NY)
    dough[s.YEAST], dough[s.HEXOSE] = 1.0, 10.0
    mixed = s.mixed([(sponge, 30.0), (dough, 70.0)])
    assert mixed[s.HEXOSE] == pytest.approx(0.3 * sponge[s.HEXOSE] + 0.7 * 10.0)
    assert mixed[s.ADAPTED] == pytest.approx(0.3 * sponge[s.YEAST] * sponge[s.ADAPTED] / mixed[s.YEAST])


def test_no_flour_is_refused() -> None:
    with pytest.raises(Refusal):
        cell(flour_g=0)
    with pytest.raises(Refusal):
        s.mixed([(np.zeros(s.NY), 0.0)])


def test_names_of_parameters_are_unique() -> None:
    names = [parameter.name for parameter in s.parameters()]
    assert len(names) == len(set(names))


def test_butter_words_follow_the_curve() -> None:
    at = thresholds()
    assert at.oiling_out < at.too_soft < at.getting_soft < at.too_hard
    assert [firmness(solid_fat(c, 0.0)) for c in (5.0, 14.0, 18.0, 24.0, 33.0)] == [
        "firm and brittle", "good", "soft", "too soft", "oiling out",
    ]  # fmt: skip
    summer, winter = threshold_temperatures_c(-0.05), threshold_temperatures_c(0.05)
    assert all(summer[name] < winter[name] for name in summer)


def test_proof_words_run_from_young_to_over_proofed() -> None:
    aim = shaped_target()
    words = [proof_state(rise, -1.0) for rise in (1.0, 1.3, aim.likely, 1.9)]
    assert words == ["young", "nearly there", "ready", "past it"]
    assert proof_state(1.5, 0.2) == "over-proofed"
