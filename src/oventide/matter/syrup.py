"""Sugar and water: how much dissolves, how thick the syrup is, and what undissolved crystals do to it."""

import numpy as np

from oventide.matter.tables import table

_FIXED = table("sucrose_viscosity")
_SOLIDS = _FIXED.column("solids")
_AT_C = np.array([20.0, 40.0, 60.0, 80.0])
_LN_MPAS = np.log(_FIXED.rows[:, 1:])
_PACKED = 0.6  # crystals' volume share at which a slurry no longer flows (random close packing)
SUCROSE_CRYSTAL_KG_M3 = 1588.0


def saturated_sucrose(temperature_c: float) -> float:
    """Sucrose in its saturated solution [kg/kg], 0-100 °C (Charles 1960; source `sucrose-solubility`).

    >>> round(saturated_sucrose(20.0), 3), round(saturated_sucrose(60.0), 3)
    (0.666, 0.742)
    """
    t = min(100.0, max(0.0, temperature_c))
    return (64.397 + t * (0.07251 + t * (0.0020569 - 9.035e-6 * t))) / 100.0


def syrup_viscosity_pa_s(solids: float, temperature_c: float) -> float:
    """Viscosity of dissolved sucrose [Pa·s]; solids 0-0.80 kg/kg, 5-100 °C.

    ln η by straight lines in solids and in 1/T; the last pair of points is drawn on outside the table, so that
    beyond 75 % and outside 20-80 °C the figure is an extrapolation.

    >>> round(syrup_viscosity_pa_s(0.60, 20.0), 4)
    0.0585
    """
    x = min(0.80, max(0.0, solids))
    t = min(100.0, max(5.0, temperature_c))
    row = min(len(_SOLIDS) - 2, int(np.searchsorted(_SOLIDS, x, side="right")) - 1)
    part = (x - _SOLIDS[row]) / (_SOLIDS[row + 1] - _SOLIDS[row])
    at_solids = _LN_MPAS[row] + part * (_LN_MPAS[row + 1] - _LN_MPAS[row])
    inverse = 1.0 / (_AT_C + 273.15)
    column = min(2, max(0, int(np.searchsorted(_AT_C, t, side="right")) - 1))
    along = (1.0 / (t + 273.15) - inverse[column]) / (inverse[column + 1] - inverse[column])
    return float(np.exp(at_solids[column] + along * (at_solids[column + 1] - at_solids[column])) / 1000.0)


def slurry_factor(volume_share: float) -> float:
    """Viscosity with dispersed matter over viscosity without (Krieger & Dougherty): (1 - φ/0.6)^-1.5.

    >>> slurry_factor(0.0), round(slurry_factor(0.3), 2)
    (1.0, 2.83)
    """
    left = max(1e-3, 1.0 - volume_share / _PACKED)
    return float(left ** (-2.5 * _PACKED))


def syrup_density_kg_m3(solids: float) -> float:
    """Density of a sucrose solution near 20 °C [kg/m3], volumes adding: water 998, dissolved sucrose 1620.

    >>> round(syrup_density_kg_m3(0.66))
    1337
    """
    return 1.0 / ((1.0 - solids) / 998.0 + solids / 1620.0)


def syrup_water_activity(solids: float) -> float:
    """Water activity over dissolved sucrose [1] (Norrish: x_w exp(-6.47 x_s²)).

    >>> round(syrup_water_activity(0.667), 2)
    0.85
    """
    water, sucrose = (1.0 - solids) / 18.015, solids / 342.3
    x = sucrose / (water + sucrose)
    return float((1.0 - x) * np.exp(-6.47 * x * x))
