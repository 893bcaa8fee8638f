"""Rate laws: their fixed points, their limits, and what must always hold."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.laws.arrhenius import arrhenius, arrhenius_between, q10
from oventide.laws.cardinal import cardinal_acidity, cardinal_temperature, square_root_temperature
from oventide.laws.death import death_per_h, kept
from oventide.laws.osmotic import osmotic_brake, osmotic_pressure_atm
from oventide.laws.uptake import left_after_uptake


@given(st.floats(-20, 70))
def test_a_cardinal_rate_lies_between_nothing_and_its_best(temperature_c: float) -> None:
    rate = cardinal_temperature(temperature_c, -1.0, 36.0, 46.0)
    assert 0.0 <= rate <= 1.0 + 1e-12
    if -1.0 < temperature_c < 46.0:
        assert rate > 0.0 or temperature_c < -0.99 or temperature_c > 45.99


def test_the_cardinal_law_is_a_square_root_law_in_the_cold() -> None:
    """Near Tmin the root of the rate is a straight line in T (Ratkowsky)."""
    roots = [np.sqrt(cardinal_temperature(t, -1.0, 36.0, 46.0)) for t in (0.0, 1.0, 2.0, 3.0)]
    assert np.allclose(np.diff(roots), np.diff(roots)[0], rtol=0.02)


def test_the_cardinal_law_has_its_top_at_the_optimum() -> None:
    grid = np.arange(30, 42, 0.01)
    assert grid[np.argmax([cardinal_temperature(t, -1.0, 36.0, 46.0) for t in grid])] == pytest.approx(36.0, abs=0.02)


def test_cardinal_acidity_is_one_at_its_best_and_nothing_outside() -> None:
    assert cardinal_acidity(5.3, 3.9, 5.3, 6.7) == 1.0
    assert cardinal_acidity(3.8, 3.9, 5.3, 6.7) == 0.0


def test_arrhenius_and_its_shorthand_agree() -> None:
    """Ea = R ln(Q10) T1 T2 / 10 K, exactly."""
    ea = 8.314462618 * np.log(2.0) * 293.15 * 303.15 / 10.0
    assert q10(arrhenius(20.0, ea, 30.0), arrhenius(30.0, ea, 30.0), 20.0, 30.0) == pytest.approx(2.0)


def test_arrhenius_between_halves_at_its_halves() -> None:
    wide = arrhenius_between(4.0, 64e3, 1e6, 4.0, 1e6, 60.0)
    assert wide == pytest.approx(0.5 * arrhenius(4.0, 64e3, 30.0), rel=1e-6)
    hot = arrhenius_between(42.0, 64e3, 1e6, -30.0, 1e6, 42.0)
    assert hot == pytest.approx(0.5 * arrhenius(42.0, 64e3, 30.0), rel=1e-6)


@given(st.floats(0, 30), st.floats(0, 30))
def test_more_solute_brakes_more(first: float, second: float) -> None:
    low, high = sorted((first, second))
    assert osmotic_brake(high, 3.3, 2.5) <= osmotic_brake(low, 3.3, 2.5)


def test_van_t_hoff() -> None:
    """One mole per litre at 0 °C is 22.4 atm, the old textbook figure."""
    assert osmotic_pressure_atm(1.0, 0.0) == pytest.approx(22.4, abs=0.02)


@given(st.floats(0, 50), st.floats(0, 100), st.floats(1e-3, 5))
def test_uptake_never_takes_more_than_there_is(start: float, demand: float, half: float) -> None:
    left = left_after_uptake(start, demand, half)
    assert 0.0 <= left <= start
    if start > 0:
        assert left == pytest.approx(max(0.0, start - demand * left / (left + half)), abs=1e-7 * (1 + start + demand))


def test_uptake_in_small_steps_follows_the_exact_solution() -> None:
    """ds/dt = -k s/(s+K): s + K ln s = s0 + K ln s0 - k t."""
    s, k, half, steps = 2.0, 1.0, 0.3, 20000
    for _ in range(steps):
        s = left_after_uptake(s, k / steps * 2.0, half)
    assert s + half * np.log(s) == pytest.approx(2.0 + half * np.log(2.0) - 2.0, abs=2e-3)


def test_heat_kills_ten_times_as_fast_every_z_kelvins() -> None:
    fast, slow = death_per_h(59.0, 8.0, 4.9, 43.0), death_per_h(54.1, 8.0, 4.9, 43.0)
    assert fast / slow == pytest.approx(10.0, rel=0.1)
    assert death_per_h(42.9, 8.0, 4.9, 43.0) == 0.0


@given(st.floats(0.0, 30.0))
def test_what_is_kept_is_the_exponential(x: float) -> None:
    assert kept(x) == pytest.approx(np.exp(-x), rel=3e-6)


def test_the_square_root_law_is_straight_in_the_cold() -> None:
    roots = [np.sqrt(square_root_temperature(t, 2.0, 0.29, 48.0)) for t in (3.0, 4.0, 5.0, 6.0)]
    assert np.allclose(np.diff(roots), np.diff(roots)[0], rtol=0.01)
