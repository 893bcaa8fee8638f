"""Oven spring: the pores' gas expands, carbon dioxide leaves the water, vapour joins in, until the crumb sets."""

import math

from oventide.compiled import compiled
from oventide.evidence.parameters import load

_HENRY_SLOPE_K = load("bake").value("spring.henry_slope")


@compiled
def carbon_dioxide_kept(temperature_c: float, start_c: float) -> float:
    """Share of the dissolved carbon dioxide still dissolved [1], by van 't Hoff with 2400 K (Sander's compilation).

    >>> round(carbon_dioxide_kept(50.0, 25.0), 2)
    0.54
    """
    warm_c = max(temperature_c, start_c)
    return math.exp(_HENRY_SLOPE_K * (1.0 / (warm_c + 273.15) - 1.0 / (start_c + 273.15)))


@compiled
def yeast_factor(temperature_c: float) -> float:
    """How much of its gas rate at the oven's door yeast still has [1]: full to 42 °C, nothing from 55 °C on."""
    return min(1.0, max(0.0, (55.0 - temperature_c) / 13.0))


@compiled
def gas_ratio(
    temperature_c: float,
    start_c: float,
    vapour_pa: float,
    start_vapour_pa: float,
    pressure_pa: float,
    moles_ratio: float,
) -> float:
    """Free volume of a pore's gas over its volume at the oven's door [1].

    Ideal gas: (n/n0)(T/T0)(P - p_v0)/(P - p_v). The vapour's part is cut at p_v = 0.8 P; crumb has set before that.
    """
    left = max(0.2 * pressure_pa, pressure_pa - vapour_pa)
    return moles_ratio * (temperature_c + 273.15) / (start_c + 273.15) * (pressure_pa - start_vapour_pa) / left
