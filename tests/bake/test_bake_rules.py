"""Closures of the bake: colour, setting, water activity, glaze, doneness, loss."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.bake.boundary import TIN_MATERIALS, surroundings
from oventide.bake.colour import browning_factor, colour_word, lysine_of, sugar_browning_1_s, wetness_brake
from oventide.bake.cooling import cool_enough, surface_window
from oventide.bake.crumb import liquid_diffusion_m2_s, water_activity
from oventide.bake.crust import soft_excess, vapour_conductance
from oventide.bake.doneness import doneness, first_crossing
from oventide.bake.glaze import Glaze, coating_window_c, drained_film_m, on_surface, sets_after_s
from oventide.bake.loss import loss_share, scaling_weight_g, water_share_after
from oventide.bake.recovery import Load, air_after_loading
from oventide.bake.spring import carbon_dioxide_kept, gas_ratio, yeast_factor
from oventide.errors import Refusal
from oventide.evidence.parameters import draw, load


def draws(members: int = 1) -> dict[str, np.ndarray]:
    return draw(list(load("bake").parameters.values()), members, seed=3)


@given(w=st.floats(0.005, 0.8), t=st.floats(5, 150))
def test_water_activity_slopes(w: float, t: float) -> None:
    """Slopes given against slopes by difference; rising with water and with warmth."""
    a, a_w, a_t = water_activity(w, t, 0.09, 0.38, 0.005)
    dw, dt = 1e-6 * w, 1e-4
    by_w = (water_activity(w + dw, t, 0.09, 0.38, 0.005)[0] - water_activity(w - dw, t, 0.09, 0.38, 0.005)[0]) / (
        2 * dw
    )
    by_t = (water_activity(w, t + dt, 0.09, 0.38, 0.005)[0] - water_activity(w, t - dt, 0.09, 0.38, 0.005)[0]) / (
        2 * dt
    )
    assert 0 < a < 1
    assert a_w == pytest.approx(by_w, rel=1e-4)
    assert a_t == pytest.approx(by_t, rel=1e-3, abs=1e-8)


@given(x=st.floats(-1e5, 1e5))
def test_soft_excess(x: float) -> None:
    y, slope = soft_excess(x, 400.0)
    assert max(0.0, x) - 1e-9 <= y <= max(0.0, x) + 400.0 * math.log(2) + 1e-6
    assert 0.0 <= slope <= 1.0


def test_vapour_moves_easier_near_boiling() -> None:
    rates = [vapour_conductance(99.0, share * 101325.0, 101325.0, 0.3) for share in (0.2, 0.6, 0.9, 0.99)]
    assert rates == sorted(rates)
    assert liquid_diffusion_m2_s(25.0, 5e-10) == pytest.approx(5e-10)
    assert 3.0 < liquid_diffusion_m2_s(100.0, 1.0) < 4.5


def test_spring_parts() -> None:
    assert carbon_dioxide_kept(30.0, 30.0) == 1.0
    assert yeast_factor(30.0) == 1.0
    assert yeast_factor(55.0) == 0.0
    # dry gas only: Charles's law
    assert gas_ratio(80.0, 30.0, 0.0, 0.0, 101325.0, 1.0) == pytest.approx(353.15 / 303.15)
    # vapour at half the pressure doubles it
    assert gas_ratio(30.0, 30.0, 50662.5, 0.0, 101325.0, 1.0) == pytest.approx(2.0)


def test_browning_causes_are_apart_and_only_ever_add() -> None:
    d = draws(64)
    lean = browning_factor(d)
    assert lean == pytest.approx(d["browning.factor"])
    plain = sugar_browning_1_s(d, 1.5, 1.5, lysine_of(11.0), 95.0)
    assert (plain < 2e-5).all()  # lean bread keeps to its own law
    sweet = sugar_browning_1_s(d, 12.0, 1.5, lysine_of(11.0), 105.0)
    milky = sugar_browning_1_s(d, 12.0, 4.5, lysine_of(11.0, 2.0), 110.0)
    eggy = sugar_browning_1_s(d, 12.0, 1.5, lysine_of(11.0, 0.0, 3.0), 110.0)
    assert (sweet > plain).all()
    assert (milky > sweet).all()
    assert (eggy > sweet).all()
    assert np.median(browning_factor(d, wash="egg")) > np.median(browning_factor(d, wash="milk")) > np.median(lean)
    rich = browning_factor(d) * sugar_browning_1_s(d, 14.0, 2.5, lysine_of(11.0, 1.75, 2.5), 108.0)
    assert np.quantile(rich, 0.95) / np.quantile(rich, 0.05) > 3.0  # it is known badly, and says so


def test_wet_surface_hardly_browns() -> None:
    assert wetness_brake(0.5, 0.1) == 1.0
    assert wetness_brake(1.0, 0.1) == pytest.approx(0.1)
    assert [colour_word(e) for e in (0, 10, 17, 25, 35, 42, 50)] == [
        "pale", "straw", "light golden", "golden", "golden brown", "dark brown", "burnt",
    ]  # fmt: skip


def test_tins_in_the_order_a_baker_knows() -> None:
    """In a fan oven dark metal heats the base most, bright metal less; silicone less than dark metal."""
    d = draws()
    u = {tin: float(surroundings("convection", tin, d).steady_base[0]) for tin in TIN_MATERIALS}
    assert u["dark_metal"] > u["glass"] > u["light_metal"]
    assert u["dark_metal"] > u["silicone"]
    assert float(surroundings("deck", "light_metal", d).steady_base[0]) > u["light_metal"]
    out = surroundings("rack", "light_metal", d, in_tin=False)
    assert out.base_open[0] == 1.0


def test_crossing() -> None:
    times = np.array([0.0, 60.0, 120.0])
    values = np.array([[0.0, 10.0, 20.0], [30.0, 20.0, 10.0], [0.0, 1.0, 2.0]])
    assert first_crossing(times, values, 15.0)[0] == pytest.approx(90.0)
    assert first_crossing(times, values, 15.0)[1] == 0.0  # already met
    assert np.isnan(first_crossing(times, values, 15.0)[2])
    assert first_crossing(times, values, 15.0, rising=False)[1] == pytest.approx(90.0)


def test_done_needs_all_three() -> None:
    times = np.linspace(0, 1800, 31)
    core = np.array([np.linspace(30, 99, 31)] * 2)
    firm = np.array([np.linspace(0, 1, 31)] * 2)
    colour = np.array([np.linspace(0, 30, 31), np.linspace(0, 10, 31)])
    read = doneness(times, core, firm, colour, 100.0, 20.0, 38.0)
    assert read.done[0] == max(read.hot[0], read.set[0], read.coloured[0])
    assert np.isnan(read.done[1])  # never coloured
    assert np.isnan(read.too_dark).all()


def test_surface_window_and_packing() -> None:
    times = np.linspace(0, 3600, 61)
    surface = np.array([np.linspace(110, 30, 61)])
    window = surface_window(times, surface, 45.0, 60.0)
    assert 0 < window.opens[0] < window.closes[0]
    assert cool_enough(times, surface, 35.0)[0] == pytest.approx(3600 * 75 / 80)


def test_hot_surface_thins_a_glaze() -> None:
    """The same icing: stiff on a cold bun, coats a warm one, runs on a hot one; less water coats hotter."""
    icing = Glaze(sugar_g=300, water_g=60)
    viscosity = [icing.at(t).viscosity_pa_s for t in (20.0, 40.0, 60.0, 80.0)]
    assert viscosity == sorted(viscosity, reverse=True)
    low, high = coating_window_c(icing)
    low_stiff, high_stiff = coating_window_c(Glaze(sugar_g=300, water_g=45))
    assert low < high
    assert low_stiff > low
    assert high_stiff >= high
    syrup = Glaze(sugar_g=100, water_g=80)
    assert on_surface(syrup, 70.0).word == "soaks in"
    assert on_surface(Glaze(sugar_g=300, water_g=40), 22.0).word in ("coat", "too stiff to level")
    assert on_surface(syrup, 70.0).stays_mm < on_surface(icing, 30.0).stays_mm


def test_fat_thickens_and_drains_less() -> None:
    with_fat = Glaze(sugar_g=300, water_g=60, fat_g=60)
    assert with_fat.at(50.0).viscosity_pa_s > Glaze(sugar_g=300, water_g=60).at(50.0).viscosity_pa_s
    assert drained_film_m(4.0, 1350.0, 0.03, 60.0) == pytest.approx(2 * drained_film_m(1.0, 1350.0, 0.03, 60.0))


def test_a_glaze_sets_as_it_dries_and_a_thin_syrup_on_a_cold_bun_does_not() -> None:
    times = np.linspace(0, 7200, 121)
    cooling = 22.0 + 40.0 * np.exp(-times / 1800.0)
    icing = sets_after_s(Glaze(sugar_g=300, water_g=60), 0.4, times, cooling, 4.5, 1200.0)
    assert 60.0 < icing < 7200.0
    cold = np.full(20, 22.0)
    assert np.isnan(sets_after_s(Glaze(sugar_g=100, water_g=100), 0.4, times[:20], cold, 4.5, 1200.0))


def test_dry_glaze_is_refused() -> None:
    with pytest.raises(Refusal, match="holds some water"):
        Glaze(sugar_g=100, water_g=0)


@given(share=st.floats(0.0, 0.3), baked=st.floats(10, 500))
def test_weights_close(share: float, baked: float) -> None:
    dough = scaling_weight_g(baked, share)
    assert dough * (1 - share) == pytest.approx(baked)
    assert loss_share(np.array([share * dough]), np.array([dough]))[0] == pytest.approx(share)
    if share < 0.36:
        water = water_share_after(0.36, share) * baked
        assert water == pytest.approx(0.36 * dough - share * dough)


def test_oven_comes_back_and_a_load_delays_it() -> None:
    """After the door: below the setting, back within minutes, later with more in it; nothing overshoots by much."""
    d = draws(64)
    setting, room = np.full(64, 175.0), np.full(64, 22.0)
    air = {
        tins: air_after_loading("static", setting, room, Load(1.1 * tins, 0.04 * tins, np.full(64, 27.0)), d)
        for tins in (1, 4)
    }
    times, one = air[1]
    assert (one[:, 0] < 170.0).all()
    assert np.median(one[:, list(times).index(600.0)]) == pytest.approx(173.0, abs=3.0)
    assert (air[4][1][:, 1:] < one[:, 1:] + 6.0).all()
    assert np.median(air[4][1][:, 8]) < np.median(one[:, 8]) - 5.0
    assert one.max() < 195.0
    steamed = air_after_loading("deck", setting, room, Load(1.1, 0.04, np.full(64, 27.0)), d, steam_kg=0.4)[1]
    dry = air_after_loading("deck", setting, room, Load(1.1, 0.04, np.full(64, 27.0)), d)[1]
    assert (steamed[:, -1] < dry[:, -1]).all()
