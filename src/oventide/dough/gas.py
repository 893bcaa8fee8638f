"""Where the gas is: dissolved, in bubbles, or gone; and how much the dough has risen.

Everything per 100 g flour. Bubbles hold the air of mixing and CO2; water and liquid fat hold CO2 by Henry's law.
"""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.dough.state import (
    AIR,
    CO2,
    CO2_LOST,
    GAS_KPA_ML_PER_MMOL_K,
    P_AIR_WORKED_IN,
    P_DENSE_ML,
    P_FAT_CO2,
    P_FAT_OFFSET,
    P_FRESH_AIR,
    P_FRESH_ML,
    P_MILK_FAT_SHARE,
    P_PRESSURE,
    P_SALTED_WATER,
)
from oventide.lanes.members import any_of, choose
from oventide.matter.milk_fat import solid_fat
from oventide.matter.water import saturation_pressure_pa

Array = NDArray[np.float64]

_NORMAL_ML_KPA = 22.414 * 101.325
"""A millimole of ideal gas at 0 °C, as volume times pressure [mL·kPa]."""


@compiled
def co2_solubility(temperature_c: float) -> float:
    """Bunsen coefficient of CO2 in pure water [L (0 °C, 1 atm) per L water at 1 atm], 0-40 °C.

    Weiss (1974): ln K0 = -58.0931 + 90.5069 (100/T) + 22.2940 ln(T/100), K0 in mol/(L·atm), T in K.

    >>> round(co2_solubility(25.0), 2)
    0.76
    """
    hundredths = (temperature_c + 273.15) / 100.0
    return 22.414 * math.exp(-58.0931 + 90.5069 / hundredths + 22.2940 * math.log(hundredths))


@compiled
def gas_pressure_kpa(p: Array, temperature_c: float) -> float:
    """Pressure of dry gas in the bubbles [kPa]: the air's, plus the film's, less the vapour of dough water."""
    return float(p[P_PRESSURE] - 0.97 * saturation_pressure_pa(temperature_c) / 1000.0)


@compiled
def co2_held_mmol(p: Array, temperature_c: float, pressure_kpa: float) -> float:
    """CO2 that water and liquid fat hold under pure CO2 at a pressure [mmol per 100 g flour]."""
    liquid_fat = p[P_FAT_CO2]
    if any_of((liquid_fat > 0.0) & (p[P_MILK_FAT_SHARE] > 0.0)):
        liquid_fat = liquid_fat * (1.0 - p[P_MILK_FAT_SHARE] * solid_fat(temperature_c, p[P_FAT_OFFSET]))
    return float((co2_solubility(temperature_c) * p[P_SALTED_WATER] + liquid_fat) * (pressure_kpa / _NORMAL_ML_KPA))


@compiled
def bubbles_from(total: float, air: float, held: float) -> float:
    """CO2 in bubbles [mmol]: the root of n² + n(N + A - C) - C N = 0.

    N air in the bubbles, C all CO2 of the dough, A = H·P the CO2 that the liquids hold under pure CO2.
    From Raoult and Henry: dissolved = A·n/(n + N).
    """
    b = air + held - total
    root = math.sqrt(b * b + 4.0 * max(0.0, total) * air)
    bubbles = choose(b > 0.0, 2.0 * total * air / max(1e-300, b + root), 0.5 * (root - b))
    return choose(total <= 0.0, 0.0, bubbles)


@compiled
def co2_bubbles_mmol(y: Array, p: Array, temperature_c: float) -> float:
    """CO2 in bubbles [mmol per 100 g flour], in balance with water and liquid fat."""
    return bubbles_from(y[CO2], y[AIR], co2_held_mmol(p, temperature_c, gas_pressure_kpa(p, temperature_c)))


@compiled
def dissolved_co2_mmol(y: Array, p: Array, temperature_c: float) -> float:
    """CO2 dissolved in water and liquid fat [mmol per 100 g flour]."""
    return float(y[CO2] - co2_bubbles_mmol(y, p, temperature_c))


@compiled
def gas_ml(y: Array, p: Array, temperature_c: float) -> float:
    """Gas in bubbles [mL per 100 g flour], moist, at the dough's temperature."""
    moles = co2_bubbles_mmol(y, p, temperature_c) + y[AIR]
    return float(moles * GAS_KPA_ML_PER_MMOL_K * (temperature_c + 273.15) / gas_pressure_kpa(p, temperature_c))


@compiled
def relative_volume(y: Array, p: Array, temperature_c: float) -> float:
    """Volume over that of freshly mixed dough, mixing air included [1]."""
    return float((p[P_DENSE_ML] + gas_ml(y, p, temperature_c)) / p[P_FRESH_ML])


@compiled
def gas_fraction(y: Array, p: Array, temperature_c: float) -> float:
    """Share of the volume that is gas [1]."""
    gas = gas_ml(y, p, temperature_c)
    return float(gas / (gas + p[P_DENSE_ML]))


@compiled
def degas(y: Array, p: Array, share: float, temperature_c: float = 20.0) -> None:
    """Press a share of the gas out of the bubbles, in place: sheeting, rolling, knocking back.

    Dissolved CO2 stays; it comes out again into the bubbles left. A part of the mixing air (`gas.air_worked_in`)
    is worked in anew in proportion to the handling. Give the dough's temperature: it says how much was in bubbles.
    """
    out = share * co2_bubbles_mmol(y, p, temperature_c)
    y[CO2] -= out
    y[CO2_LOST] += out
    y[AIR] = (1.0 - share) * y[AIR] + share * p[P_AIR_WORKED_IN] * p[P_FRESH_AIR]
