"""Sugar weep: balances, the right way round, and the bench question of a night in the fridge."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oventide.dough.state import body_of
from oventide.dough.weep import (
    DoughWater,
    Filling,
    Layers,
    Weep,
    burnt_share,
    diffusion_m2_s,
    dough_activity,
    dough_water,
    filling_of,
    leak_word,
    plane_sheet_uptake,
    syrup_activity,
    travelled_m2,
    weep_after,
)
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition, compose
from oventide.formula.model import Line
from oventide.matter.syrup import syrup_water_activity
from oventide.units.estimate import Estimate

DRAWS = draw(list(load("weep").parameters.values()), 64, 3)
LAYERS = Layers(area_m2=0.27, half_turn_m=0.003, piece_height_m=0.045, pieces=12)
OVERNIGHT, COLD = np.full(64, 12.0), np.full(64, 4.0)


def _of(*parts: tuple[float, str]) -> Composition:
    return compose(Line(text=n, name=n, ingredient=n, grams=Estimate.certain(g)) for g, n in parts)


DOUGH = _of(
    (1000, "flour_bread_unenriched"), (420, "milk_whole_unfort"), (150, "egg_whole"), (120, "sugar_granulated"),
    (18, "salt_table"), (200, "butter_unsalted"),
)  # fmt: skip
WATER = dough_water(DOUGH, body_of(DOUGH).density, np.full(64, 0.30), 0.14)


def filled(fat: float = 164, sucrose: float = 200, layered: bool = True, **other: float) -> Filling:
    """Sugar on butter, with what else is named."""
    rest = {"invert_g": 0.0, "starch_g": 0.0, "protein_g": 0.0, "fibre_g": 0.0, "spice_g": 0.0, "water_g": 0.0} | other
    return Filling(fat_g=fat, butter_water_g=0.2 * fat, sucrose_g=sucrose, layered=layered, **rest)


def after(filling: Filling, hours: float = 12.0, celsius: float = 4.0, dough: DoughWater = WATER) -> Weep:
    return weep_after(filling, dough, LAYERS, np.full(64, hours), np.full(64, celsius), DRAWS)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(0, 400), st.floats(5, 500), st.floats(0, 60), st.floats(0, 60), st.booleans(), st.floats(0.1, 48),
    st.floats(0, 30),
)  # fmt: skip
def test_water_is_neither_lost_nor_made(
    fat: float, sugar: float, starch: float, spice: float, layered: bool, hours: float, celsius: float
) -> None:
    """What leaves the dough and what the filling brings is bound or in the syrup, to a thousandth."""
    filling = filled(fat, sugar, layered, starch_g=starch, spice_g=spice, water_g=5.0)
    found = after(filling, hours, celsius)
    brought = 5.0 + DRAWS["butter.water_released"] * filling.butter_water_g
    in_syrup = found.syrup_g * (1.0 - found.syrup_share)
    assert found.drawn_g + brought == pytest.approx(found.bound_g + in_syrup, rel=1e-3, abs=1e-6)
    sugar_gone = DRAWS["sugar.into_dough"] * found.drawn_g
    assert found.crystals_g + found.syrup_g * found.syrup_share + np.minimum(sugar_gone, sugar) == pytest.approx(
        np.full(64, sugar), rel=1e-3, abs=1e-6
    )
    assert (found.drawn_g < 1000.0 * LAYERS.half_turn_m * LAYERS.area_m2 * WATER.free_kg_m3 * 2.0).all()


@settings(max_examples=30, deadline=None)
@given(st.floats(10, 400), st.floats(1.01, 2.0), st.floats(0.5, 24))
def test_more_sugar_never_makes_less_syrup(sugar: float, more: float, hours: float) -> None:
    less, much = after(filled(sucrose=sugar), hours), after(filled(sucrose=sugar * more), hours)
    assert (much.syrup_g >= less.syrup_g * (1.0 - 1e-6)).all()


def test_it_grows_with_time_and_with_warmth() -> None:
    by_hour = [after(filled(), hours).drawn_g for hours in (1, 3, 6, 12, 24)]
    assert all((later > sooner).all() for sooner, later in itertools.pairwise(by_hour))
    assert (after(filled(), 3.0, 20.0).drawn_g > after(filled(), 3.0, 4.0).drawn_g).all()


def test_butter_is_a_barrier_and_creaming_a_better_one() -> None:
    bare, buttered, creamed = after(filled(fat=0.0)), after(filled()), after(filled(layered=False))
    assert (bare.drawn_g > buttered.drawn_g).all()
    assert (buttered.drawn_g > creamed.drawn_g).all()
    assert np.median(bare.drawn_g) > 1.3 * np.median(buttered.drawn_g)


def test_binder_holds_syrup_but_raw_starch_not_much() -> None:
    plain, spiced, starched = after(filled()), after(filled(spice_g=20)), after(filled(starch_g=10))
    assert (spiced.runs_g <= plain.runs_g).all()
    assert (starched.runs_g <= plain.runs_g).all()
    # 5 % of the sugar as raw starch holds about its own weight of syrup, no more
    assert np.median(starched.held_g - plain.held_g) == pytest.approx(9.0, abs=4.0)


def test_a_gap_wider_than_capillarity_lifts_holds_no_more() -> None:
    narrow, wide, wider = (
        weep_after(filled(), WATER, LAYERS, OVERNIGHT, COLD, {**DRAWS, "roll.gap": np.full(64, gap)}).held_g
        for gap in (0.05, 0.5, 2.0)
    )
    assert (narrow < wide).all()
    assert wider == pytest.approx(wide, rel=1e-9)


def test_no_sugar_no_syrup() -> None:
    found = after(filled(sucrose=0.0))
    assert (found.drawn_g < 1e-6).all()
    assert (found.runs_g == 0.0).all()


def test_one_sugar_is_the_syrup_of_the_matter_room() -> None:
    shares = np.array([0.2, 0.5, 0.66])
    ours = syrup_activity(shares, 0.0, 1.0 - shares)
    assert ours == pytest.approx([syrup_water_activity(float(s)) for s in shares], abs=2e-4)


def test_sweet_dough_is_drier_than_plain_dough() -> None:
    plain = _of((1000, "flour_bread_unenriched"), (620, "water_tap"), (18, "salt_table"))
    lean = dough_water(plain, body_of(plain).density, np.full(64, 0.30), 0.14)
    coefficient = DRAWS["dough.osmotic_coefficient"]
    assert (dough_activity(WATER, coefficient) < dough_activity(lean, coefficient)).all()
    assert (dough_activity(WATER, coefficient) > 0.88).all()


def test_a_path_of_one_temperature_is_diffusion_times_time() -> None:
    seconds, celsius = np.linspace(0, 7200, 9), np.full((64, 9), 4.0)
    way = travelled_m2(seconds, celsius, DRAWS, np.full(64, 5000.0))
    assert way == pytest.approx(5000.0 * diffusion_m2_s(np.full(64, 4.0), DRAWS), rel=1e-9)


def test_short_and_long_uptake_meet() -> None:
    at = np.array([0.1999999, 0.2000001])
    assert np.diff(plane_sheet_uptake(at))[0] == pytest.approx(0.0, abs=8e-4)
    assert (np.diff(plane_sheet_uptake(np.linspace(0.001, 3.0, 400))) > -8e-4).all()


def test_burnt_needs_syrup_and_heat() -> None:
    hot, cool = np.full(64, 190.0), np.full(64, 110.0)
    assert burnt_share(np.full(64, 60.0), 12, hot, 0.0, DRAWS).all()
    assert not burnt_share(np.full(64, 60.0), 12, cool, 0.0, DRAWS).any()
    assert not burnt_share(np.zeros(64), 12, hot, 0.0, DRAWS).any()
    assert burnt_share(np.full(64, 60.0), 12, np.full(64, 140.0), 1.0, DRAWS).all()


def test_words_for_a_share_of_kitchens() -> None:
    assert [leak_word(share) for share in (0.0, 0.2, 0.5, 0.9)] == ["no", "in some kitchens", "likely", "yes"]


def test_brown_sugar_counts_as_sucrose_with_its_moisture() -> None:
    filling = filling_of(_of((200, "sugar_brown"), (200, "butter_unsalted")), layered=True)
    assert filling.sugars_g > 180.0
    assert filling.water_g > 0.0
