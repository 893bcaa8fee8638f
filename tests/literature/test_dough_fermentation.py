"""Fermentation against published figures: what is met, what was used to fit, and what is missed, by how much.

Kind: "fit" the figure was used to choose a parameter; "blind" it was not. A miss is pinned by its size: when the
model gets better the row fails and docs/models/fermentation.md is to be changed with it. Sources: sources-dough.toml.
Doughs of the sources are mostly not given; the guesses stand in each row.
"""

import numpy as np
import pytest
from numpy.typing import NDArray

from oventide.dough import state as s
from oventide.dough.fermentation import ferment_for, ferment_step, osmolality
from oventide.dough.gas import co2_solubility, degas, relative_volume
from oventide.dough.temperature import gas_law, temperature_law
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition
from oventide.laws.osmotic import osmotic_pressure_atm
from oventide.timeline.hold import OBS_RISE, DoughPhysics, HoldStage, HoldState, advance_hold

Array = NDArray[np.float64]
LIKELY = draw(s.parameters() + list(load("matter").parameters.values()), 1, 0)
ML_PER_MMOL_27C = 24.6
CARDINAL, BLEND, STEEP = 0.0, 0.5, 1.0


def dough(
    yeast_dm: float, kind: str = "fresh", water: float = 60.0, salt: float = 1.5, sugar: float = 0.0, fat: float = 0.0,
    spice: float = 0.0,
) -> Composition:  # fmt: skip
    """A dough of 100 g flour; `yeast_dm` is dry matter of yeast [g]."""
    wet = yeast_dm * 7 / 3 if kind == "fresh" else 0.0
    return Composition(
        mass_g=100 + water + salt + sugar + fat + yeast_dm + wet + spice, flour_g=100, water_g=14 + water + wet,
        added_water_g=water, water_from_liquid_g=water, water_from_egg_g=0, water_from_butter_g=0,
        water_from_dairy_g=0, water_from_other_g=0, fat_g=fat + 1, milk_fat_g=0, sugars_g=sugar, sucrose_g=sugar,
        lactose_g=0, starch_g=70, fibre_g=3, protein_g=11.5, milk_protein_g=0, egg_g=0, salt_g=salt, ash_g=salt + 0.5,
        alcohol_g=0, yeast_dry_matter_g=yeast_dm, yeast_kind=kind, spice_g=spice,
    )  # fmt: skip


def draws_with(mix: float) -> dict[str, Array]:
    return LIKELY | {"yeast.temperature_law_mix": np.array([mix])}


def ferment(composition: Composition, temperature_c: float, hours: float, mix: float = BLEND) -> tuple[Array, Array]:
    """States minute by minute, and the parameter vector."""
    draws = draws_with(mix)
    y, p = s.initial_ferment(composition, draws)[0], s.ferment_parameters(composition, draws)[0]
    states = [y.copy()]
    for _ in range(round(hours * 60)):
        ferment_step(y, p, temperature_c, 60.0)
        states.append(y.copy())
    return np.array(states), p


def growth_percent(composition: Composition, start_h: float, end_h: float) -> float:
    yeast = ferment(composition, 27.0, end_h)[0][:, s.YEAST]
    return float((yeast[-1] - yeast[round(start_h * 60)]) / yeast[0] * 100)


def law(temperature_c: float, mix: float) -> float:
    return float(gas_law(temperature_c, temperature_law(draws_with(mix))[0]))


# yeast growth, 27 °C: (dough, from h, to h, published %, tolerance in points, kind)
FRESH = 0.30
GROWTH = {
    "E1b 1.67 % yeast, 2-4 h": (dough(1.67 * FRESH), 2, 4, 26, 8, "fit"),
    "E1c 1.67 % yeast, 4-6 h": (dough(1.67 * FRESH), 4, 6, 9, 6, "fit"),
    "E1d 0.5 % yeast, 6 h": (dough(0.5 * FRESH), 0, 6, 88, 20, "fit"),
    "E1e 2 % yeast, 6 h": (dough(2 * FRESH), 0, 6, 29, 8, "fit"),
}


@pytest.mark.parametrize("row", GROWTH)
def test_yeast_growth(row: str) -> None:
    """Stored note on yeast-cell counts (yeast-growth-note)."""
    composition, start, end, published, tolerance, _ = GROWTH[row]
    assert abs(growth_percent(composition, start, end) - published) <= tolerance


# (dough, from h, to h, published %, tolerance, what the model says)
GROWTH_MISSES = {
    "E1a 1.67 % yeast, 0-2 h: none": (dough(1.67 * FRESH), 0, 2, 0, 5, 8.3),
    "E2a sponge 4 h: +50-60 % (3.2 % fresh guessed)": (dough(0.96, salt=0), 0, 4, 55, 15, 18.2),
    "E2b straight dough 3.25 h: about +35 % (2 % fresh, 5 % sugar guessed)": (
        dough(0.6, salt=2, sugar=5), 0, 3.25, 35, 12, 17.5,
    ),
    "E2c sweet-dough sponge 3.75 h: none (20 % sugar, 55 % water guessed)": (
        dough(0.96, salt=0.5, sugar=20, water=55), 0, 3.75, 0, 8, 8.8,
    ),
}  # fmt: skip


@pytest.mark.parametrize("row", GROWTH_MISSES)
def test_miss_yeast_growth(row: str) -> None:
    """yeast-growth-note and thorn-ross-1960 (abstract); the two sources do not agree with each other."""
    composition, start, end, published, tolerance, pinned = GROWTH_MISSES[row]
    got = growth_percent(composition, start, end)
    assert got == pytest.approx(pinned, abs=0.6)
    assert abs(got - published) > tolerance


def test_osmotic_pressure_at_the_lean_end() -> None:
    """E3 low end: 35 atm (handbook-osmotic, excerpt), ±10. Blind."""
    states, p = ferment(dough(0.6), 27.0, 0.0)
    assert osmotic_pressure_atm(osmolality(states[0], p), 27.0) == pytest.approx(35, abs=10)


def test_miss_osmotic_pressure_at_the_sweet_end() -> None:
    """E3 high end: 100 atm published for the sweetest doughs; 25 % sugar and 50 % water give 127. Missed by 27 %."""
    states, p = ferment(dough(0.6, sugar=25, water=50), 27.0, 0.0)
    assert osmotic_pressure_atm(osmolality(states[0], p), 27.0) == pytest.approx(127.3, abs=1.5)


def test_gas_over_sugar_has_its_top_at_a_few_per_cent() -> None:
    """E4: rises with little sugar, falls above 5 % (marek-bushuk-1967, abstract): top between 2 and 7 %. Fit."""
    sugars = (0.0, 2.0, 3.5, 5.0, 8.0, 12.0, 20.0, 30.0)
    gas = [ferment(dough(0.9, sugar=sugar), 30.0, 3.0)[0][-1, s.CO2_MADE] for sugar in sugars]
    assert 2.0 <= sugars[int(np.argmax(gas))] <= 7.0
    assert gas[4] > gas[5] > gas[6] > gas[7]


def per_kelvin(mix: float) -> float:
    return 100 * ((law(30.0, mix) / law(23.0, mix)) ** (1 / 7) - 1)


@pytest.mark.parametrize("mix", [BLEND, STEEP])
def test_one_kelvin_speeds_yeast_by_about_a_tenth(mix: float) -> None:
    """E5: +10 %/K around proof, 6-11 (trade-fermentation, read). Fit for the steeper law; the blend follows."""
    assert 6.0 <= per_kelvin(mix) <= 11.0


def test_miss_the_cardinal_law_alone_is_too_flat_around_proof() -> None:
    """E5 for the cardinal law: 5.5 %/K, below 6."""
    assert per_kelvin(CARDINAL) == pytest.approx(5.5, abs=0.05)


@pytest.mark.parametrize("mix", [CARDINAL, BLEND, STEEP])
def test_from_63_to_80_fahrenheit_yeast_doubles_its_speed(mix: float) -> None:
    """E6: ×2.0 ± 0.4 (trade-doubling, weak excerpt). Fit for the steeper law, blind for the cardinal one."""
    assert law(80 / 1.8 - 32 / 1.8, mix) / law(63 / 1.8 - 32 / 1.8, mix) == pytest.approx(2.0, abs=0.4)


@pytest.mark.parametrize("mix", [CARDINAL, STEEP])
def test_baking_strains_are_best_near_37(mix: float) -> None:
    """E24: most baking strains 36-39 °C (textbook-yeast-factors). An input of one law, fit for the other."""
    grid = np.arange(30.0, 44.0, 0.1)
    assert 35.9 <= grid[np.argmax([law(t, mix) for t in grid])] <= 39.0


@pytest.mark.parametrize("mix", [CARDINAL, BLEND, STEEP])
def test_lean_bread_doubles_in_about_two_hours(mix: float) -> None:
    """E7: 80 °F, 2 h or until double (armed-forces-d01000; 1.1 % active dry, 2.5 salt, 4.6 sugar, 67 water). Blind.

    The range 1.1-2.5 h is wide and was set by the sheet's author knowing a hand estimate.
    """
    states, p = ferment(dough(1.1 * 0.92, "active_dry", 67, 2.5, 4.6, 3), 26.67, 3.0, mix)
    rise = [relative_volume(y, p, 26.67) for y in states]
    assert rise[-1] > 2.0
    assert 1.1 <= float(np.argmax(np.array(rise) >= 2.0)) / 60 <= 2.5


@pytest.mark.parametrize("mix", [CARDINAL, BLEND, STEEP])
def test_half_the_yeast_takes_eight_hours_where_the_whole_takes_five(mix: float) -> None:
    """E8: sponge, 1.25 % compressed 5 h, half of it 8 h (army-bakers-1916), to the same gas, ±1.2 h. Blind."""
    full = ferment(dough(1.25 * FRESH, salt=0), 26.0, 5.0, mix)[0][-1, s.CO2_MADE]
    half = ferment(dough(0.625 * FRESH, salt=0), 26.0, 10.0, mix)[0][:, s.CO2_MADE]
    assert float(np.interp(full, half, np.arange(half.size))) / 60 == pytest.approx(8.0, abs=1.2)


PAN_BREAD = dough(0.9, water=62, salt=2, sugar=6, fat=3)


def proof(air_c: float, mix: float, minutes: float | None = None, height: float | None = None) -> float:
    """Rise after a proof, or minutes to a height (inf if not in 10 h).

    Guessed: test loaf of 100 g flour as a cylinder of 60 mm, film 15 W/m²K, 3 h of bulk at 27 °C and moulding before,
    no gas lost.
    """
    draws, one = draws_with(mix), np.ones(1)
    y, p = s.initial_ferment(PAN_BREAD, draws)[0], s.ferment_parameters(PAN_BREAD, draws)
    p[:, s.P_LEAK_QUIET] = p[:, s.P_LEAK_OVER] = 0.0
    ferment_for(y, p[0], 27.0, 3 * 3600.0, 60.0)
    degas(y, p[0], 0.85, 27.0)
    body = s.body_of(PAN_BREAD)
    physics = DoughPhysics(body.density * one, body.heat_capacity * one, body.conductivity * one, 0 * one)
    horizon = 60.0 * (minutes or 600.0)
    stage = HoldStage(
        shape="cylinder", faces=np.linspace(0, 1, 13), thickness_m=0.06 * one, h_bottom=0 * one, h_top=15 * one,
        air_s=np.array([0.0]), air_c=np.array([[air_c]]), bench=None, rise_free=True,
        sample_s=np.linspace(0, horizon, 11 if minutes else 101), end_s=horizon * one,
        until=None if height is None else (OBS_RISE, height, 1),
    )  # fmt: skip
    state = HoldState(np.full((1, 12), 27.0), np.repeat(y[None, None, :], 12, axis=1))
    run = advance_hold(state, stage, physics, p, draws)
    if height is None:
        return float(run.samples[0, -1, OBS_RISE])
    return float(run.end_s[0] / 60) if run.samples[0, :, OBS_RISE].max() >= height else np.inf


def minutes_to_practice_height(air_c: float, mix: float) -> float:
    """Height is what 55 min at 40 °C gives: the practice that the same page quotes (siffring-1993)."""
    return proof(air_c, mix, height=proof(40.0, mix, minutes=55.0))


def test_constant_height_at_13_c_by_the_steeper_law() -> None:
    """E9a: 270 min at 13 °C (Freilich 1949 in siffring-1993, first page), ±25 %. Looked at, not fitted closely."""
    assert minutes_to_practice_height(13.0, STEEP) == pytest.approx(270, rel=0.25)


@pytest.mark.parametrize(("mix", "pinned"), [(CARDINAL, 134.0), (BLEND, 166.0)])
def test_miss_constant_height_at_13_c(mix: float, pinned: float) -> None:
    """E9a, 270 min: the cardinal law needs half of it, the blend of the likely kitchen three fifths."""
    got = minutes_to_practice_height(13.0, mix)
    assert got == pytest.approx(pinned, rel=0.05)
    assert got < 0.75 * 270


@pytest.mark.parametrize(("mix", "pinned"), [(CARDINAL, 64.0), (BLEND, 60.0), (STEEP, 58.0)])
def test_miss_constant_height_at_57_c(mix: float, pinned: float) -> None:
    """E9b: 36 min at 57 °C. All laws need about an hour,: heat is slow to get in, and too much stops yeast."""
    got = minutes_to_practice_height(57.0, mix)
    assert got == pytest.approx(pinned, rel=0.08)
    assert got > 1.3 * 36


def test_volume_of_a_test_dough() -> None:
    """E10a: 100 g flour make 145 mL of dough (pup-loaf, excerpt), ±8 %. Blind; a check of density and mixing air."""
    states, p = ferment(dough(0.6, sugar=6), 30.0, 0.0)
    assert relative_volume(states[0], p, 30.0) * p[s.P_FRESH_ML] == pytest.approx(145, rel=0.08)


def test_gas_of_a_test_dough_is_of_the_right_order() -> None:
    """E10b: 370 mL kept at 40 % kept = 925 mL made; 4 h at 30 °C, 2 % fresh, 6 % sugar are guesses. ±25 %."""
    made = ferment(dough(0.6, sugar=6), 30.0, 4.0)[0][-1, s.CO2_MADE] * 24.9
    assert made == pytest.approx(925, rel=0.25)


@pytest.mark.parametrize(("percent", "low", "high"), [(2.0, 0.8, 1.0), (6.0, 0.0, 0.6)])
def test_cinnamon_in_bread(percent: float, low: float, high: float) -> None:
    """E17: 2 % fine, 6 % clearly smaller (bilyk-2018, abstract). Fit."""
    plain = ferment(dough(0.9, sugar=5), 27.0, 1.0)[0][-1, s.CO2_MADE]
    spiced = ferment(dough(0.9, sugar=5, spice=percent), 27.0, 1.0)[0][-1, s.CO2_MADE]
    assert low < spiced / plain < high


def test_miss_a_little_cinnamon_speeds_yeast() -> None:
    """E16: 0.05-0.5 g on 1 g yeast raises activity (wright-1954); the model only slows, here by less than 1 %."""
    plain = ferment(dough(0.9, sugar=5), 27.0, 1.0)[0][-1, s.CO2_MADE]
    spiced = ferment(dough(0.9, sugar=5, spice=0.3), 27.0, 1.0)[0][-1, s.CO2_MADE]
    assert 0.98 < spiced / plain < 1.0


@pytest.mark.parametrize(
    ("temperature_c", "bunsen"),
    [(0, 1.713), (5, 1.424), (10, 1.194), (15, 1.019), (20, 0.878), (25, 0.759), (30, 0.665), (35, 0.592), (40, 0.530)],
)
def test_co2_in_water(temperature_c: float, bunsen: float) -> None:
    """Handbook table of Bunsen coefficients (remembered) against Weiss 1974 (weiss-1974, remembered): within 2 %."""
    assert co2_solubility(float(temperature_c)) == pytest.approx(bunsen, rel=0.02)


@pytest.mark.parametrize(
    ("kind", "weight", "solids"), [("fresh", 1.0, 0.30), ("active_dry", 0.40, 0.92), ("instant", 0.33, 0.95)]
)
def test_equal_yeast_by_the_conversion_table(kind: str, weight: float, solids: float) -> None:
    """E12: compressed 1, active dry 0.40, instant 0.33; solids 30, 92, 95 % (yeast-conversions, read): as much gas."""
    power = s.initial_ferment(dough(weight * solids, kind), LIKELY)[0, s.YEAST]
    assert power == pytest.approx(0.30, rel=0.01)
