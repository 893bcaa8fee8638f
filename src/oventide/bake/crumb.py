"""The wet inside: how the crumb sets, and how much pull its water keeps.

Starch gelatinises as a first-order reaction (Zanoni, Peri & Bruno 1995); the crumb counts as set where 98 % of
it is done. Water activity follows an Oswin curve whose place moves with temperature.
"""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.evidence.parameters import load
from oventide.matter.water import GAS_CONSTANT, WATER_MOLAR_KG, boiling_point_c

Array = NDArray[np.float64]


@compiled
def setting_rate_1_s(temperature_c: float, k0_1_s: float, energy_j_mol: float) -> float:
    """Rate of gelatinisation [1/s]: k0 exp(-E/RT).

    >>> import math
    >>> rate = setting_rate_1_s(80.0, 2.8e18, 139000.0)
    >>> round(-math.log(0.02) / rate / 60, 1)  # minutes to 98 %
    8.4
    """
    return k0_1_s * math.exp(-energy_j_mol / (GAS_CONSTANT * (temperature_c + 273.15)))


@compiled
def water_activity(
    water: float, temperature_c: float, half: float, exponent: float, shift_1_k: float
) -> tuple[float, float, float]:
    """Water activity [1], its slope with water [kg dry/kg] and with temperature [1/K].

    a = 1/(1 + (W/A)^(-1/n)), A = A25 exp(-s (t - 25)): `half` A25 is the water [kg/kg dry] at a = 0.5 and 25 °C,
    `exponent` n, `shift_1_k` s.

    >>> round(water_activity(0.09, 25.0, 0.09, 0.38, 0.005)[0], 2)
    0.5
    """
    y = math.exp(-(math.log(water / half) + shift_1_k * (temperature_c - 25.0)) / exponent)
    a = 1.0 / (1.0 + y)
    by_log = a * a * y / exponent
    return a, by_log / water, by_log * shift_1_k


@compiled
def liquid_diffusion_m2_s(temperature_c: float, at_25c: float) -> float:
    """Liquid water's diffusion in crumb [m2/s], from its value at 25 °C, as T/viscosity (about 3.9 times at 100 °C)."""
    kelvin = temperature_c + 273.15
    # Viscosity of water, Vogel form: 2.414e-5 · 10^(247.8/(T - 140)) Pa·s
    return at_25c * (kelvin / 298.15) * math.pow(10.0, 247.8 / 158.15 - 247.8 / (kelvin - 140.0))


def held_back_water(osmoles_mol_kg_dry: Array | float) -> Array:
    """Water that solutes hold back [kg/kg dry], κ in a_w = W/(W + κ) (Raoult): osmoles times water's molar mass."""
    return np.asarray(osmoles_mol_kg_dry, dtype=np.float64) * WATER_MOLAR_KG


def boiling_with_solutes_c(pressure_pa: float, osmolality_mol_kg: float) -> float:
    """Boiling point of water with solutes [°C], osmolality per kg of water; Raoult's law.

    >>> round(boiling_with_solutes_c(101325.0, 1.0) - boiling_with_solutes_c(101325.0, 0.0), 2)
    0.5
    """
    return float(boiling_point_c(pressure_pa * (1.0 + WATER_MOLAR_KG * osmolality_mol_kg)))


def setting_shift_k(by_sugar: Array | float, sugar_of_solution: Array | float) -> Array:
    """How much later starch sets with sugar in its water [K]: s·(100 c)^n, c sugar over sugar and water [1].

    From memory of calorimetry with wheat starch: some 5 K at 20 %, 13 at 40 %, 25 at 60 %.

    >>> [int(setting_shift_k(0.053, c) + 0.5) for c in (0.2, 0.4, 0.6)]
    [5, 13, 25]
    """
    power = load("bake").value("setting.sugar_power")
    return np.asarray(by_sugar * np.power(100.0 * np.asarray(sugar_of_solution), power), dtype=np.float64)
