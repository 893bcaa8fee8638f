"""How much of the butter's fat is solid, and what its melting takes.

The share of solid fat against temperature is a table (evidence/data/matter_tables.toml, `milk_fat_solids`),
straight lines between its points. Feed and season move it: summer fat is softer, winter fat harder, by about
five points. Quickly cooled fat has more solid than tempered fat; one curve is an approximation.
"""

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.lanes.members import choose
from oventide.matter.tables import table

Array = NDArray[np.float64]

_TEMPERATURE_C = table("milk_fat_solids").column("temperature")
_SOLID = table("milk_fat_solids").column("solid")
_LAST = len(_TEMPERATURE_C) - 1
_WIDTH = np.diff(_TEMPERATURE_C)
_FALL = -np.diff(_SOLID) / _WIDTH


@compiled
def solid_fat(temperature_c: float, offset: float) -> float:
    """Share of milk fat that is solid [1] at `temperature_c` [°C].

    `offset` [1] moves the curve up (winter, +0.05) or down (summer, -0.05); it fades to nothing where the fat
    is all liquid, because no feed makes milk fat solid above 38 °C. Below -5 °C the first value holds.

    >>> round(solid_fat(17.5, 0.0), 3), solid_fat(40.0, 0.05)
    (0.265, 0.0)
    """
    # each straight line adds its fall as far as the temperature has come along it
    share = _SOLID[0] + 0.0 * temperature_c
    for i in range(_LAST):
        share = share - _FALL[i] * min(_WIDTH[i], max(0.0, temperature_c - _TEMPERATURE_C[i]))
    share = choose(temperature_c >= _TEMPERATURE_C[_LAST], 0.0, share)
    # Full offset from 0.10 solid upwards, none at 0.
    moved = share + offset * min(1.0, share / 0.10)
    return float(min(1.0, max(0.0, moved)))


def milk_fat_curves(temperatures_c: Array, offsets: Array) -> Array:
    """`solid_fat` of every member (M,) at temperatures (T,), as (M, T).

    >>> milk_fat_curves(np.array([17.5, 40.0]), np.array([0.0])).round(3).tolist()
    [[0.265, 0.0]]
    """
    share = np.interp(temperatures_c, _TEMPERATURE_C, _SOLID)[None, :]
    moved = share + offsets[:, None] * np.minimum(1.0, share / 0.10)
    return np.clip(moved, 0.0, 1.0)


@compiled
def melting_heat_capacity(from_c: float, to_c: float, offset: float, fusion_j_kg: float) -> float:
    """Latent part of milk fat's heat capacity [J/(kg fat·K)] over a temperature step, as a secant.

    L·(S(from) - S(to))/(to - from). Over a vanishing step a half kelvin on each side is taken: the curve is
    a chain of straight lines, and its pointwise slope would make an implicit step miss the melting heat.
    """
    low, high = from_c, to_c
    if abs(to_c - from_c) < 1e-3:
        low, high = from_c - 0.5, from_c + 0.5
    return fusion_j_kg * (solid_fat(low, offset) - solid_fat(high, offset)) / (high - low)


def temperature_at_solid(share: float, offset: float = 0.0) -> float:
    """Temperature [°C] at which milk fat has the solid share given, by bisection; the inverse of `solid_fat`.

    >>> round(temperature_at_solid(0.40), 1), round(temperature_at_solid(0.20), 1)
    (13.0, 19.7)
    """
    low, high = float(_TEMPERATURE_C[0]), float(_TEMPERATURE_C[_LAST])
    for _ in range(60):
        middle = 0.5 * (low + high)
        if solid_fat(middle, offset) > share:
            low = middle
        else:
            high = middle
    return float(np.round(0.5 * (low + high), 6))
