"""What must hold for matter whatever the figures are."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.matter.air import dew_point_c, mass_film_kg_m2spa
from oventide.matter.milk_fat import melting_heat_capacity, solid_fat, temperature_at_solid
from oventide.matter.properties import conductivity_bounds_w_mk, dough_physics, porous_conductivity_w_mk, shares_of
from oventide.matter.syrup import slurry_factor, syrup_viscosity_pa_s
from oventide.matter.tables import table
from oventide.matter.water import boiling_point_c, saturation_pressure_pa, saturation_slope

part = st.floats(0.01, 1.0)


@given(t=st.floats(-10, 50), step=st.floats(0.01, 20), offset=st.floats(-0.05, 0.05))
def test_solid_fat_falls_with_warmth_and_stays_a_share(t: float, step: float, offset: float) -> None:
    cold, warm = solid_fat(t, offset), solid_fat(t + step, offset)
    assert 0.0 <= warm <= cold <= 1.0


@given(low=st.floats(-5, 40), high=st.floats(-5, 40))
def test_melting_heat_is_the_integral(low: float, high: float) -> None:
    """The secant times its step is exactly the heat of what melted, so that no step can lose melting heat."""
    if abs(high - low) < 1e-2:
        return
    heat = melting_heat_capacity(low, high, 0.0, 95000.0) * (high - low)
    assert heat == pytest.approx(95000.0 * (solid_fat(low, 0.0) - solid_fat(high, 0.0)), abs=1e-6)


@given(share=st.floats(0.01, 0.7))
def test_temperature_at_solid_is_the_inverse(share: float) -> None:
    assert solid_fat(temperature_at_solid(share), 0.0) == pytest.approx(share, abs=1e-5)


def test_fat_table_is_guarded() -> None:
    """Ten rows, falling, and their sum: a typing error in the data shows here."""
    solid = table("milk_fat_solids").column("solid")
    assert len(solid) == 10
    assert (np.diff(solid) < 0).all()
    assert solid.sum() == pytest.approx(3.185)
    rows = table("choi_okos").rows
    assert rows.shape == (6, 9)
    assert rows[:, 3].sum() == pytest.approx(997.18 + 1329.9 + 925.59 + 1599.1 + 1311.5 + 2423.8)
    assert (np.diff(table("sucrose_viscosity").rows[:, 1:], axis=1) < 0).all()


@given(part, part, part, part, part, part)
def test_bounds_enclose_and_scale_does_not_matter(w: float, p: float, f: float, c: float, d: float, a: float) -> None:
    shares = shares_of(w, p, f, c, d, a)
    high, low = conductivity_bounds_w_mk(shares, 20.0)
    assert 0.1 < low <= high < 0.7
    one, ten = (
        dough_physics(w, p, f, c, d, a, f / 2),
        dough_physics(10 * w, 10 * p, 10 * f, 10 * c, 10 * d, 10 * a, 5 * f),
    )
    assert one == pytest.approx(ten)


@given(porosity=st.floats(0.0, 0.94), more=st.floats(0.0, 0.05))
def test_pores_insulate(porosity: float, more: float) -> None:
    assert (
        porous_conductivity_w_mk(0.38, 0.026, porosity + more)
        <= porous_conductivity_w_mk(0.38, 0.026, porosity) + 1e-12
    )


@given(t=st.floats(1, 170))
def test_saturation_slope_is_the_derivative(t: float) -> None:
    numeric = (np.log(saturation_pressure_pa(t + 1e-3)) - np.log(saturation_pressure_pa(t - 1e-3))) / 2e-3
    assert saturation_slope(t) == pytest.approx(numeric, rel=1e-5)
    assert boiling_point_c(saturation_pressure_pa(t)) == pytest.approx(t, abs=1e-9)


def test_dew_point_and_mass_film() -> None:
    assert dew_point_c(saturation_pressure_pa(42.0)) == pytest.approx(42.0, abs=1e-6)
    assert mass_film_kg_m2spa(20.0, 101325.0) == pytest.approx(1.35e-7, rel=0.01)


@given(x=st.floats(0, 0.74), t=st.floats(10, 80))
def test_syrup_thickens_with_sugar_and_thins_with_warmth(x: float, t: float) -> None:
    assert syrup_viscosity_pa_s(x + 0.01, t) > syrup_viscosity_pa_s(x, t) > syrup_viscosity_pa_s(x, t + 5)
    assert slurry_factor(0.2) < slurry_factor(0.4) < slurry_factor(0.59)
