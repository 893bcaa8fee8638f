"""Water and steam: saturation pressure, boiling point by altitude, latent heat, diffusion in air.

Used from -5 to 180 °C; fitted to IAPWS-95 and compared with it in tests/literature.
"""

import math

from oventide.compiled import compiled
from oventide.evidence.parameters import load

_P = load("matter")
_ANTOINE_A = _P.value("water.antoine_a")
_ANTOINE_B = _P.value("water.antoine_b")
_ANTOINE_C = _P.value("water.antoine_c")
_VAPOUR_H0 = _P.value("water.vapour_enthalpy_0c")
_VAPOUR_CP = _P.value("water.vapour_heat_capacity")
_WATER_CP = _P.value("water.liquid_heat_capacity")
_SEA_LEVEL_PA = _P.value("air.sea_level_pressure")
_DIFFUSION = _P.value("water.diffusion_in_air_0c")

WATER_CP_J_KGK = _WATER_CP
"""Heat capacity of liquid water [J/(kg·K)], constant, reference of enthalpy 0 °C."""
GAS_CONSTANT = 8.314462618
"""R [J/(mol·K)], exact by definition since 2019."""
WATER_MOLAR_KG = 0.01801528
"""Molar mass of water [kg/mol]."""


@compiled
def saturation_pressure_pa(temperature_c: float) -> float:
    """Vapour pressure over liquid water [Pa] (Antoine form).

    >>> round(saturation_pressure_pa(100.0) / 101325, 3)
    0.999
    """
    return math.exp(_ANTOINE_A - _ANTOINE_B / (temperature_c + _ANTOINE_C))


@compiled
def saturation_slope(temperature_c: float) -> float:
    """d ln(p_sat)/dT [1/K] of the same equation."""
    return _ANTOINE_B / (temperature_c + _ANTOINE_C) ** 2


@compiled
def boiling_point_c(pressure_pa: float) -> float:
    """Temperature [°C] at which water boils under `pressure_pa` [Pa]: the same equation solved for T."""
    return _ANTOINE_B / (_ANTOINE_A - math.log(pressure_pa)) - _ANTOINE_C


@compiled
def air_pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere [Pa], -1000 to 11000 m.

    p = p0 (1 - 2.25577e-5 z)^5.25588 (ISO 2533).

    >>> round(air_pressure_pa(0.0)), round(boiling_point_c(air_pressure_pa(2000.0)), 1)
    (101325, 93.4)
    """
    return float(_SEA_LEVEL_PA * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


@compiled
def vapour_enthalpy_j_kg(temperature_c: float) -> float:
    """Enthalpy of water vapour [J/kg], liquid water at 0 °C being zero."""
    return _VAPOUR_H0 + _VAPOUR_CP * temperature_c


@compiled
def latent_heat_j_kg(temperature_c: float) -> float:
    """Heat of evaporation [J/kg]: vapour less liquid at the same temperature.

    >>> round(latent_heat_j_kg(100.0) / 1e6, 2)
    2.26
    """
    return _VAPOUR_H0 + (_VAPOUR_CP - _WATER_CP) * temperature_c


@compiled
def vapour_diffusion_m2_s(temperature_c: float, pressure_pa: float) -> float:
    """Diffusion of water vapour in air [m2/s]: D0 (101325/p)(T/273.15)^1.81."""
    return float(_DIFFUSION * (101325.0 / pressure_pa) * ((temperature_c + 273.15) / 273.15) ** 1.81)
