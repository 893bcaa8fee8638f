"""Properties of foods and of milk fat against published figures."""

import numpy as np
import pytest

from oventide.matter.milk_fat import solid_fat, temperature_at_solid
from oventide.matter.properties import (
    component_property,
    conductivity_bounds_w_mk,
    density_kg_m3,
    dough_physics,
    heat_capacity_j_kgk,
    porous_conductivity_w_mk,
    shares_of,
)

FAT_ONLY = shares_of(0, 0, 1, 0, 0, 0)


def test_milk_fat() -> None:
    """University of Guelph, Milk Lipids: k 0.17 W/mK and 915 kg/m3 at 20 °C, 2.1 kJ/kgK at 40 °C (read); within 4 %."""
    assert component_property(2, 0, 20.0) == pytest.approx(0.17, rel=0.04)
    assert density_kg_m3(FAT_ONLY, 20.0) == pytest.approx(915.0, rel=0.04)
    assert heat_capacity_j_kgk(FAT_ONLY, 40.0) == pytest.approx(2100.0, rel=0.04)


def test_butter_melts_where_it_is_said_to() -> None:
    """Guelph: all melted at 37 °C (read). J. Dairy Res. 39: 325 (abstract read): soft point 95 % melted, 28-36 °C."""
    assert solid_fat(37.5, 0.0) < 0.005
    assert 28.0 < temperature_at_solid(0.05) < 36.0


def test_butter_spreads_between_20_and_40_percent_solid() -> None:
    """A passage quoting Rønholt, Mortensen & Knudsen 2013 (second hand): spreadable at 20-40 % solid, some 13-20 °C."""
    assert temperature_at_solid(0.40) == pytest.approx(13.0, abs=0.5)
    assert temperature_at_solid(0.20) == pytest.approx(20.0, abs=0.5)


@pytest.mark.parametrize(
    ("component", "first", "printed"), [(0, 0, 0.6037), (0, 6, 4.1293), (1, 6, 2.0319), (3, 6, 1.5857)]
)
def test_choi_okos_at_20_c(component: int, first: int, printed: float) -> None:
    """ASHRAE Refrigeration Handbook, Thermal Properties of Foods, tables 1 and 2, worked out by hand at 20 °C."""
    assert component_property(component, first, 20.0) == pytest.approx(printed, rel=2e-4)


def test_heat_capacity_against_chens_rule() -> None:
    """ASHRAE (`ashrae-foods`), Chen (1985): c = 4.19 - 2.30 x_s - 0.628 x_s³ kJ/kgK (from memory); to 3 %."""
    for solids in (0.55, 0.64):
        scale = solids / 0.64
        ours = dough_physics(
            1 - solids, 0.085 * scale, 0.12 * scale, 0.405 * scale, 0.015 * scale, 0.015 * scale
        ).heat_capacity
        assert ours == pytest.approx(1000 * (4.19 - 2.30 * solids - 0.628 * solids**3), rel=0.03)


def test_conductivity_mixes_by_volume() -> None:
    """Parallel bound = Σ v k with volume shares (ASHRAE, same chapter): worked out here for water and fat."""
    shares = shares_of(0.5, 0, 0.5, 0, 0, 0)
    v_water = (0.5 / 995.74) / (0.5 / 995.74 + 0.5 / 917.24)
    high, low = conductivity_bounds_w_mk(shares, 20.0)
    assert high == pytest.approx(v_water * 0.60366 + (1 - v_water) * 0.17512, rel=1e-3)
    assert low < high


def test_crumb_conductivity_brackets_the_published() -> None:
    """J. Food Eng. 26: 497-510 (1995, abstract read): crumb, porosity 75 %: α 5.04e-7 m2/s, 236 kg/m3, k 0.32.

    That holds while water evaporates and condenses; without it ours is below, with it above (bake checks).
    """
    alpha, density = np.exp(0.01 * 75 - 15.25), 979 - 9.90 * 75
    published = alpha * density * 2600.0
    dry_road = porous_conductivity_w_mk(0.38, 0.03, 0.75)
    assert dry_road < published < 1.1
