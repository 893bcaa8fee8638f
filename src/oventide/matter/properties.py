"""Density, heat capacity and conductivity of dough from what it is made of.

Choi & Okos (1986) give every component as a quadratic in °C. Mixtures: specific volumes add; heat capacities
add by mass; conductivity lies between layers side by side (parallel) and layers across (series), by VOLUME
share, not mass share. Pores by Maxwell-Eucken with gas as the dispersed phase.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.matter.tables import table

COMPONENTS: tuple[str, ...] = table("choi_okos").names
"""Order of a composition vector: water, protein, fat, carbohydrate, fibre, ash."""

_ROWS = table("choi_okos").rows
Array = NDArray[np.float64]


class Physics(NamedTuple):
    """Dense dough (without gas): density [kg/m3], heat capacity [J/(kg·K)], conductivity [W/(m·K)], milk fat [kg/kg].

    The heat capacity leaves out the melting of milk fat; that is `milk_fat.melting_heat_capacity`.
    """

    density: float
    heat_capacity: float
    conductivity: float
    milk_fat_share: float


@compiled
def component_property(component: int, first: int, temperature_c: float) -> float:
    """One quadratic of the Choi-Okos table: a + b t + c t², in the table's unit. `first` is its first column."""
    t = min(150.0, max(-40.0, temperature_c))
    return float(_ROWS[component, first] + t * (_ROWS[component, first + 1] + t * _ROWS[component, first + 2]))


@compiled
def density_kg_m3(shares: Array, temperature_c: float) -> float:
    """Density of a mixture without pores [kg/m3]; shares by mass in the order of COMPONENTS, adding to 1."""
    volume = 0.0
    for i in range(6):
        volume += shares[i] / component_property(i, 3, temperature_c)
    return 1.0 / volume


@compiled
def heat_capacity_j_kgk(shares: Array, temperature_c: float) -> float:
    """Heat capacity of a mixture [J/(kg·K)], mass shares."""
    total = 0.0
    for i in range(6):
        total += shares[i] * component_property(i, 6, temperature_c)
    return 1000.0 * total


@compiled
def conductivity_bounds_w_mk(shares: Array, temperature_c: float) -> tuple[float, float]:
    """Conductivity [W/(m·K)] with the components side by side (high) and one behind another (low)."""
    volume = 0.0
    for i in range(6):
        volume += shares[i] / component_property(i, 3, temperature_c)
    high, resistance = 0.0, 0.0
    for i in range(6):
        part = shares[i] / component_property(i, 3, temperature_c) / volume
        high += part * component_property(i, 0, temperature_c)
        resistance += part / component_property(i, 0, temperature_c)
    return high, 1.0 / resistance


@compiled
def gas_conductivity_w_mk(temperature_c: float) -> float:
    """Conductivity of the gas in pores [W/(m·K)]: air, 0.026 at 0 °C rising 6e-5 a kelvin."""
    return 0.026 + 6e-5 * temperature_c


@compiled
def porous_conductivity_w_mk(dense: float, gas: float, porosity: float) -> float:
    """Maxwell-Eucken: closed pores of share `porosity` in a dense phase [W/(m·K)].

    >>> round(porous_conductivity_w_mk(0.4, 0.026, 0.0), 3), round(porous_conductivity_w_mk(0.4, 0.026, 1.0), 3)
    (0.4, 0.026)
    """
    return dense * (2.0 * dense + gas - 2.0 * porosity * (dense - gas)) / (2.0 * dense + gas + porosity * (dense - gas))


def shares_of(water: float, protein: float, fat: float, carbohydrate: float, fibre: float, ash: float) -> Array:
    """Mass shares in the order of COMPONENTS, scaled to add to 1 (salt counts as ash, alcohol as water)."""
    parts = np.array([water, protein, fat, carbohydrate, fibre, ash], dtype=np.float64)
    return np.asarray(parts / parts.sum())


def dough_physics(
    water: float,
    protein: float,
    fat: float,
    carbohydrate: float,
    fibre: float,
    ash: float,
    milk_fat: float = 0.0,
    temperature_c: float = 20.0,
) -> Physics:
    """Dense dough from the masses (or shares) of its components [any mass unit] at `temperature_c` [°C].

    Conductivity is the mean of the parallel and the series bound (our choice; the bounds lie about 14 % either
    side of it for dough). `milk_fat` is part of `fat`.

    >>> physics = dough_physics(0.36, 0.085, 0.12, 0.405, 0.015, 0.015, milk_fat=0.10)
    >>> round(physics.density), round(physics.heat_capacity), round(physics.conductivity, 3)
    (1207, 2588, 0.336)
    """
    shares = shares_of(water, protein, fat, carbohydrate, fibre, ash)
    total = water + protein + fat + carbohydrate + fibre + ash
    high, low = conductivity_bounds_w_mk(shares, temperature_c)
    return Physics(
        density=float(density_kg_m3(shares, temperature_c)),
        heat_capacity=float(heat_capacity_j_kgk(shares, temperature_c)),
        conductivity=float(0.5 * (high + low)),
        milk_fat_share=milk_fat / total,
    )
