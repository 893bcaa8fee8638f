"""Sugar and water: how much dissolves, how thick the syrup is, and what undissolved crystals do to it."""

from typing import Any

import numpy as np

from oventide.matter.tables import table

Values = Any
"""A plain number, or an array of them (M,): what goes in comes out."""

_FIXED = table("sucrose_viscosity")
_SOLIDS = _FIXED.column("solids")
_AT_C = np.array([20.0, 40.0, 60.0, 80.0])
_LN_MPAS = np.log(_FIXED.rows[:, 1:])
_PACKED = 0.6  # crystals' volume share at which a slurry no longer flows (random close packing)
SUCROSE_CRYSTAL_KG_M3 = 1588.0


def saturated_sucrose(temperature_c: Values) -> Values:
    """Sucrose in its saturated solution [kg/kg], 0-100 °C (Charles 1960; source `sucrose-solubility`).

    >>> round(saturated_sucrose(20.0), 3), round(saturated_sucrose(60.0), 3)
    (0.666, 0.742)
    """
    t = np.clip(temperature_c, 0.0, 100.0)
    return _like(temperature_c, (64.397 + t * (0.07251 + t * (0.0020569 - 9.035e-6 * t))) / 100.0)


def syrup_viscosity_pa_s(solids: Values, temperature_c: Values) -> Values:
    """Viscosity of dissolved sucrose [Pa·s]; solids 0-0.80 kg/kg, 5-100 °C.

    ln η by straight lines in solids and in 1/T; the last pair of points is drawn on outside the table, so that
    beyond 75 % and outside 20-80 °C the figure is an extrapolation.

    >>> round(syrup_viscosity_pa_s(0.60, 20.0), 4)
    0.0585
    """
    x, t = np.clip(solids, 0.0, 0.80), np.clip(temperature_c, 5.0, 100.0)
    row = np.clip(np.searchsorted(_SOLIDS, x, side="right") - 1, 0, len(_SOLIDS) - 2)
    part = (x - _SOLIDS[row]) / (_SOLIDS[row + 1] - _SOLIDS[row])
    inverse = 1.0 / (_AT_C + 273.15)
    column = np.clip(np.searchsorted(_AT_C, t, side="right") - 1, 0, 2)
    along = (1.0 / (t + 273.15) - inverse[column]) / (inverse[column + 1] - inverse[column])
    cold = _LN_MPAS[row, column] + part * (_LN_MPAS[row + 1, column] - _LN_MPAS[row, column])
    warm = _LN_MPAS[row, column + 1] + part * (_LN_MPAS[row + 1, column + 1] - _LN_MPAS[row, column + 1])
    return _like(x + t, np.exp(cold + along * (warm - cold)) / 1000.0)


def slurry_factor(volume_share: Values, packed: Values = _PACKED) -> Values:
    """Viscosity with dispersed matter over viscosity without (Krieger & Dougherty): (1 - φ/φm)^(-2.5 φm).

    `packed` is φm, the share at which it no longer flows: 0.6 for equal grains, more for grains of many sizes.

    >>> slurry_factor(0.0), round(slurry_factor(0.3), 2)
    (1.0, 2.83)
    """
    left = np.maximum(1e-3, 1.0 - np.asarray(volume_share) / packed)
    return _like(volume_share, np.power(left, -2.5 * np.asarray(packed)))


def syrup_density_kg_m3(solids: Values) -> Values:
    """Density of a sucrose solution near 20 °C [kg/m3], volumes adding: water 998, dissolved sucrose 1620.

    >>> round(syrup_density_kg_m3(0.66))
    1337
    """
    return 1.0 / ((1.0 - solids) / 998.0 + solids / 1620.0)


def syrup_water_activity(solids: Values) -> Values:
    """Water activity over dissolved sucrose [1] (Norrish: x_w exp(-6.47 x_s²)).

    >>> round(syrup_water_activity(0.667), 2)
    0.85
    """
    water, sucrose = (1.0 - solids) / 18.015, solids / 342.3
    x = sucrose / (water + sucrose)
    return _like(solids, (1.0 - x) * np.exp(-6.47 * x * x))


def _like(given: Values, found: Values) -> Values:
    """A plain number for a plain number, else the array."""
    return np.asarray(found) if np.ndim(given) or np.ndim(found) else float(found)
