"""Butter for the spread that stands in the room: how warm it is, from its mass and the room.

One block, warm alike all through but for a resistance of its own behind each face (a third of the way to its middle):
with a film of 8 W/(m²·K) and 250 g the Biot number is near one, the mean is right within half a kelvin, and the outside
is ahead of it. Its fat melts on the way (matter/milk_fat.py). It stands on a plate: four sides and the top take
heat, the base less.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.matter.milk_fat import milk_fat_curves
from oventide.matter.properties import conductivity_bounds_w_mk, density_kg_m3, heat_capacity_j_kgk, shares_of

Array = NDArray[np.float64]

_STEP_S = 60.0
_KNOTS_C = np.arange(-5.0, 45.01, 0.25)


def butter_in_the_room(
    mass_g: Array, start_c: Array, room_c: Array, draws: Mapping[str, Array], minutes: float
) -> tuple[Array, Array, Array]:
    """Seconds (K,), mean temperature (M, K) [°C] and solid fat (M, K) of butter that is put out at `start_c`.

    `draws` needs milk_fat.solid_offset, milk_fat.fusion_heat, film.room_air, butter.slenderness and butter.base, (M,)
    each.
    """
    fat, water = load("live").value("butter.fat"), load("live").value("butter.water")
    shares = shares_of(water, 1.0 - fat - water, fat, 0.0, 0.0, 0.0)
    density = float(density_kg_m3(shares, 15.0))
    heat = float(heat_capacity_j_kgk(shares, 15.0))
    conductivity = 0.5 * sum(conductivity_bounds_w_mk(shares, 15.0))
    volume = mass_g / 1000.0 / density
    thick = draws["butter.slenderness"] * np.cbrt(volume)
    plan = volume / thick
    wide, film = np.sqrt(plan), draws["film.room_air"]
    conductance = plan * (1.0 + draws["butter.base"]) / (1.0 / film + 0.5 * thick / (3.0 * conductivity))
    conductance += 4.0 * wide * thick / (1.0 / film + 0.5 * wide / (3.0 * conductivity))
    curve = milk_fat_curves(_KNOTS_C, draws["milk_fat.solid_offset"])
    latent = fat * draws["milk_fat.fusion_heat"]
    # heat content per kg at the knots, rising: sensible heat and what has melted
    content = heat * _KNOTS_C[None, :] - latent[:, None] * curve
    seconds = np.arange(0.0, 60.0 * minutes + 1.0, _STEP_S)
    warm, solid = np.empty((mass_g.size, seconds.size)), np.empty((mass_g.size, seconds.size))
    now = _rows(start_c, _KNOTS_C, content)
    for place in range(seconds.size):
        at = _inverse(now, content)
        warm[:, place], solid[:, place] = at, _rows(at, _KNOTS_C, curve)
        now = now + conductance * (room_c - at) * _STEP_S / (mass_g / 1000.0)
    return seconds, warm, solid


def _rows(x: Array, knots: Array, values: Array) -> Array:
    """Straight lines between equally spaced knots, for each member its own row of values."""
    place = np.clip((x - knots[0]) / (knots[1] - knots[0]), 0.0, knots.size - 1.001)
    left = place.astype(np.int64)
    rows = np.arange(x.size)
    low = values[rows, left]
    return np.asarray(low + (place - left) * (values[rows, left + 1] - low))


def _inverse(content: Array, table: Array) -> Array:
    """Temperature at which each member's table has the heat content."""
    left = np.clip((table <= content[:, None]).sum(axis=1) - 1, 0, table.shape[1] - 2)
    rows = np.arange(content.size)
    low, high = table[rows, left], table[rows, left + 1]
    share = np.clip((content - low) / (high - low), 0.0, 1.0)
    return np.asarray(_KNOTS_C[left] + share * (_KNOTS_C[1] - _KNOTS_C[0]))
