"""The roll as layers: bounds, limits, order."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.bake.layers import (
    along_over_mixture,
    dissolving_kelvin,
    hashin_shtrikman_bounds,
    layers_of_roll,
    wiener_bounds,
)
from oventide.matter.properties import shares_of

K = st.floats(0.03, 2.0)


@given(share=st.floats(0.01, 0.99), one=K, other=K)
def test_isotropic_bounds_lie_inside_the_layered_ones(share: float, one: float, other: float) -> None:
    high, low = wiener_bounds(np.array([share, 1.0 - share]), np.array([one, other]))
    upper, lower = hashin_shtrikman_bounds(share, one, other)
    assert low - 1e-9 <= lower <= upper <= high + 1e-9


@given(dough=K, spread=K, share=st.floats(0.0, 0.6), gas=st.floats(0.0, 0.8), hollow=st.floats(0.0, 0.2))
def test_along_is_never_less_than_across(dough: float, spread: float, share: float, gas: float, hollow: float) -> None:
    found = layers_of_roll(dough, spread, share, np.array([gas]), hollow)
    assert found.across[0] <= found.sideways[0] * (1 + 1e-9)
    assert found.sideways[0] <= found.along[0] * (1 + 1e-9)


def test_a_roll_of_nothing_but_dough_is_dough() -> None:
    found = layers_of_roll(0.37, 0.2, 0.0, np.array([0.5]))
    assert found.along == pytest.approx(found.across)


def test_a_filling_changes_conduction_upward_by_little() -> None:
    dough = shares_of(0.38, 0.09, 0.11, 0.39, 0.015, 0.015)
    spread = shares_of(0.08, 0.01, 0.33, 0.57, 0.0, 0.01)
    whole = shares_of(0.32, 0.074, 0.154, 0.426, 0.012, 0.014)
    draws = {"layers.spread_conductivity": np.array([0.6, 1.0, 1.5]), "layers.hollow": np.array([0.05, 0.01, 0.0])}
    factor = along_over_mixture(dough, spread, whole, 0.18, np.full(3, 0.55), draws)
    assert (np.diff(factor) > 0).all()
    assert ((factor > 0.85) & (factor < 1.25)).all()


def test_dissolving_sugar_holds_a_piece_back_by_less_than_a_kelvin() -> None:
    assert 0.3 < dissolving_kelvin(90.0, 765.0) < 1.0
