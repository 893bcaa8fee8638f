"""Staling, drying, freezing: the right way round, and Pham beside an independent integration of the enthalpy."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from oventide.bake import drying, freezing, staling
from oventide.evidence.parameters import draw, load
from oventide.matter.freezing import enthalpy_kj_kg, ice_share, unfrozen_heat_capacity_kj_kgk

DRAWS = draw(list(load("keeping").parameters.values()), 32, 5)
POINT, WIDTH = np.full(32, -5.0), np.full(32, 2.6)


def stale(days: float, celsius: float) -> np.ndarray:
    """Staling after a time at one temperature."""
    seconds = np.linspace(0.0, 86400.0 * days, 5)
    return staling.stale_after(seconds, np.full((32, 5), celsius), np.zeros(32), np.ones(32), POINT, WIDTH)


@settings(max_examples=40, deadline=None)
@given(st.floats(-30, 60), st.floats(0.01, 30))
def test_bread_never_gets_fresher_by_itself(celsius: float, days: float) -> None:
    course = stale(days, celsius)
    assert (np.diff(course, axis=1) >= 0.0).all()
    assert (course >= 0.0).all()
    assert (course < 1.0).all() or days * 2.0 > 20.0


def test_the_fridge_is_the_worst_place_and_freezing_stops_it() -> None:
    fridge, room, warm, freezer = (float(stale(2.0, c)[0, -1]) for c in (4.0, 21.0, 30.0, -18.0))
    assert fridge > room > warm
    assert freezer < 0.03


def test_the_rate_is_one_line_through_the_freezing_point() -> None:
    rates = staling.rate_per_day(np.array([-5.001, -5.0, -4.999]))
    assert np.ptp(rates) < 1e-3 * rates[1]


def test_a_first_order_course() -> None:
    """s = 1 - exp(-t/τ) at 21 °C, where τ is 3.7 days."""
    assert float(stale(3.7, 21.0)[0, -1]) == pytest.approx(1.0 - np.exp(-1.0), abs=1e-6)


def test_fat_lowers_the_limit_and_sugar_slows() -> None:
    assert (staling.limit_over_fresh(40.0, DRAWS) < staling.limit_over_fresh(2.0, DRAWS)).all()
    assert (staling.slowness(20.0, DRAWS) > staling.slowness(2.0, DRAWS)).all()
    assert (staling.limit_over_fresh(80.0, DRAWS) > 1.0).all()


def test_reheating_takes_most_of_it_back() -> None:
    full, left = np.full(32, 0.8), np.full(32, 0.15)
    assert staling.melted_back(full, np.full(32, 40.0), left) == pytest.approx(full)
    assert staling.melted_back(full, np.full(32, 75.0), left) == pytest.approx(0.15 * full)
    half = staling.melted_back(full, np.full(32, 57.5), left)
    assert ((half < full) & (half > 0.15 * full)).all()


def test_loss_by_wrap_and_time() -> None:
    seconds = 3600.0 * np.array([0.0, 6.0, 24.0, 96.0])
    step, dry = np.full(32, 1000.0), np.full(32, 200.0)
    lost = {wrap: drying.lost_kg_m2(seconds, step, wrap, dry, DRAWS) for wrap in drying.WRAPS}
    for course in lost.values():
        assert (course[:, 0] == 0.0).all()
        assert (np.diff(course, axis=1) > 0.0).all()
    assert (lost["open"] > lost["paper"]).all(where=seconds > 0)
    assert (lost["paper"] > lost["box"]).all(where=seconds > 0)
    assert (lost["box"] > lost["bag"]).all(where=seconds > 0)


def test_loss_is_the_integral_of_its_law() -> None:
    """d(loss)/dt = Δp/(R0 + a √t), by finite differences."""
    one = {name: values[:1] for name, values in DRAWS.items()}
    seconds = np.linspace(0.0, 86400.0, 20001)
    lost = drying.lost_kg_m2(seconds, np.array([900.0]), "paper", np.array([200.0]), one)[0]
    rate = np.gradient(lost, seconds)[100:-1]
    inverse = 900.0 / rate
    slope = np.polyfit(np.sqrt(seconds[100:-1]), inverse, 1)
    assert np.polyval(slope, np.sqrt(seconds[100:-1])) == pytest.approx(inverse, rel=2e-3)


def test_a_wrapped_crust_softens_an_open_one_does_not() -> None:
    assert np.isinf(drying.crust_soft_s("open", DRAWS)).all()
    assert (drying.crust_soft_s("bag", DRAWS) < 86400.0).all()


def test_enthalpy_rises_and_ice_shrinks() -> None:
    celsius = np.linspace(-39.0, 20.0, 200)
    assert (np.diff(enthalpy_kj_kg(0.34, 0.12, -5.0, celsius)) > 0.0).all()
    ice = [ice_share(0.34, -5.0, t) for t in (-30.0, -15.0, -6.0, -5.0, 5.0)]
    assert ice == sorted(ice, reverse=True)
    assert ice[-1] == 0.0


def _frozen_by_integration(half_m: float, film: float, air_c: float, start_c: float, end_c: float) -> float:
    """Seconds until the middle of a slab of crumb reaches `end_c`: enthalpy in 40 cells, SciPy's BDF."""
    water, bound, point, density = 0.33, 0.16, -5.0, 300.0
    table_c = np.concatenate([np.linspace(-39.0, point, 4000), np.linspace(point + 0.01, 40.0, 500)])
    table_h = 1000.0 * enthalpy_kj_kg(water, bound, point, table_c)
    cells = 40
    width = half_m / cells

    def change(_: float, heat: np.ndarray) -> np.ndarray:
        celsius = np.interp(heat, table_h, table_c)
        inner = 0.22 * np.diff(celsius) / width
        skin = (air_c - celsius[-1]) / (1.0 / film + 0.5 * width / 0.22)
        flow = np.concatenate([[0.0], inner, [skin]])
        return np.asarray(np.diff(flow) / (width * density))

    def there(_: float, heat: np.ndarray) -> float:
        return float(np.interp(heat[0], table_h, table_c) - end_c)

    there.terminal = True  # type: ignore[attr-defined]
    begin = np.full(cells, np.interp(start_c, table_c, table_h))
    run = solve_ivp(change, (0.0, 1e5), begin, method="BDF", events=there, rtol=1e-6, atol=1.0)
    return float(run.t_events[0][0])


@pytest.mark.parametrize(("across_mm", "film", "air_c"), [(50, 8, -18), (50, 8, -30), (60, 25, -30), (35, 8, -20)])
def test_pham_beside_an_independent_integration(across_mm: float, film: float, air_c: float) -> None:
    """A slab of crumb, 21 °C to -10 °C inside: Pham, moved down for a crumb freezing at -5 °C, within a fifth."""
    water, bound, point, end_c, start_c = 0.33, 0.16, -5.0, -10.0, 21.0
    ice = (water - bound) * (1.0 - point / end_c)
    lower = -1.5 - point
    middle = float(freezing.mean_freezing_c(end_c, air_c)) - lower
    cooling = 1000.0 * unfrozen_heat_capacity_kj_kgk(1.0 - water) * (start_c - middle)
    freeze = ice * 333.6e3 + 1000.0 * (1.55 + 1.26 * (1.0 - water)) * max(middle - end_c, 0.0)
    ours = float(
        freezing.pham_s(300.0, cooling, freeze, start_c, end_c, air_c, across_mm / 1000, film, 0.22, 1.0, lower)
    )
    theirs = _frozen_by_integration(across_mm / 2000, film, air_c, start_c, end_c)
    assert ours == pytest.approx(theirs, rel=0.20)


def test_a_body_never_passes_the_airs_temperature() -> None:
    tau = np.array([1000.0])
    assert np.isinf(freezing.until_s(tau, 20.0, 4.0, 3.0)).all()
    assert freezing.until_s(tau, 20.0, 4.0, 20.0)[0] == 0.0
    assert freezing.until_s(tau, 20.0, 4.0, 10.0)[0] > 0.0
