"""Foods below their freezing point: ice, enthalpy, heat capacity.

Equations of the ASHRAE handbook (Thermal Properties of Foods): Chen's enthalpy and heat capacity, Tchigeov's ice
fraction. Numbers or arrays alike. Enthalpy counts from -40 °C.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
ICE_HEAT_KJ_KG = 333.6
"""Heat of fusion of ice at 0 °C [kJ/kg]."""
_REFERENCE_C = -40.0


def unfrozen_heat_capacity_kj_kgk(solids: float | Array) -> Array:
    """Heat capacity above freezing [kJ/(kg·K)] from the solids [kg/kg] (Chen): 4.19 - 2.30 x - 0.628 x³.

    >>> round(float(unfrozen_heat_capacity_kj_kgk(0.4179)), 2)
    3.18
    """
    return np.asarray(4.19 - 2.30 * solids - 0.628 * solids**3)


def ice_share(water: float, freezing_point_c: float, celsius: float) -> float:
    """Ice over food [kg/kg] below its initial freezing point (Tchigeov); no bound water is taken off.

    >>> round(ice_share(0.5821, -1.7, -20.0), 2)
    0.52
    """
    below = freezing_point_c - celsius
    if below <= 0.0:
        return 0.0
    return float(1.105 * water / (1.0 + 0.7138 / np.log(below + 1.0)))


def enthalpy_kj_kg(
    water: Array | float, bound: Array | float, freezing_point_c: Array | float, celsius: Array
) -> Array:
    """Enthalpy [kJ/kg] over -40 °C (Chen): water and bound (unfreezable) water [kg/kg], freezing point and temperature.

    Frozen: (t - tr)(1.55 + 1.26 xs - (xw - xb) L tf/(tr t)); above: straight on with the unfrozen heat capacity.
    Valid from -40 °C up; for foods of little freezable water the heat capacities are rough (3 to 5 %).
    """
    solids = 1.0 - np.asarray(water, dtype=np.float64)
    freezable = np.maximum(np.asarray(water) - np.asarray(bound), 0.0)
    point = np.asarray(freezing_point_c, dtype=np.float64)

    def frozen(t: Array) -> Array:
        ice = freezable * ICE_HEAT_KJ_KG * point / (_REFERENCE_C * t)
        return np.asarray((t - _REFERENCE_C) * (1.55 + 1.26 * solids - ice))

    cold = np.minimum(np.asarray(celsius, dtype=np.float64), point)
    above = np.maximum(np.asarray(celsius) - point, 0.0)
    return np.asarray(frozen(cold) + above * unfrozen_heat_capacity_kj_kgk(np.asarray(solids)))


def freezing_point_c(activity: Array | float) -> Array:
    """Temperature [°C] at which ice forms in a food of this water activity [1]: ln a = (L/R)(1/T0 - 1/T).

    The heat of fusion is held at its value at 0 °C; down to about -8 °C that is within 2 %.

    >>> round(float(freezing_point_c(0.95)), 1)
    -5.2
    """
    fusion_j_mol = ICE_HEAT_KJ_KG * 18.01528
    kelvin = 1.0 / (1.0 / 273.15 - 8.314462618 * np.log(activity) / fusion_j_mol)
    return np.asarray(kelvin - 273.15)
