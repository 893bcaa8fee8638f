"""What is seen of dough outside the oven at one moment: the observables, compiled for lanes or one member."""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.dough.state import CO2_MADE, ETHANOL, ETHANOL_MOLAR_G, HEXOSE, MALTOSE, P_CRITICAL
from oventide.lanes.members import choose
from oventide.timeline.hold_conduction import (
    B_BENCH_THICKNESS,
    B_H_BOTTOM,
    B_H_TOP,
    B_KNIFE,
    B_THICKNESS,
    B_TOP_SHIFT,
    CYLINDER,
)

Array = NDArray[np.float64]

OBS_MEAN_C, OBS_CORE_C, OBS_TOP_C, OBS_BOTTOM_C, OBS_RISE, OBS_SOLID_FAT, OBS_SOLID_FAT_SOFTEST = 0, 1, 2, 3, 4, 5, 6
OBS_SUGAR, OBS_CO2_MADE, OBS_OVER_PROOF, OBS_ETHANOL, OBS_SOLID_FAT_OUTER = 7, 8, 9, 10, 11
HOLD_OBSERVABLES = (
    "mean_c", "core_c", "top_c", "bottom_c", "rise", "solid_fat", "solid_fat_softest", "sugar_g", "co2_made_mmol",
    "over_proof", "ethanol_g", "solid_fat_outer",
)  # fmt: skip
NOBS = 12


@compiled
def observe(
    shape: int, faces: Array, temperature: Array, ferment: Array, fat: Array, volume: Array, body: Array, p: Array,
    insulated: bool, bottom: float, top: float, air_c: float, bench_c: float, seen: Array,
) -> None:  # fmt: skip
    """Fill the observables of one member. bottom and top are the end conductances per m² (slab) or m (cylinder)."""
    n = temperature.shape[0]
    mean, rise, solid, softest, sugar, made, ethanol, outer, outer_mass = 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0
    for i in range(n):
        mass = faces[i + 1] - faces[i]
        mean += mass * temperature[i]
        rise += mass * volume[i]
        sugar += mass * (ferment[i, HEXOSE] + ferment[i, MALTOSE])
        made += mass * ferment[i, CO2_MADE]
        ethanol += mass * ferment[i, ETHANOL]
    # depth below the surface that the hand meets: cell by cell from the top down
    height = 0.5 * body[B_THICKNESS] if shape == CYLINDER else body[B_THICKNESS]
    knife = min(body[B_KNIFE], 0.5 * height)
    below = 0.0
    radius = height * math.sqrt(rise)
    for j in range(n):
        i = n - 1 - j
        mass = faces[i + 1] - faces[i]
        here = fat[i]
        solid += mass * here
        softest = min(softest, here)
        deep = below + height * mass * volume[i]
        if shape == CYLINDER:
            deep = radius * (1.0 - math.sqrt(faces[i]))
        part = choose(below < knife, mass * min(1.0, (knife - below) / max(1e-12, deep - below)), 0.0)
        outer += part * here
        outer_mass += part
        below = deep
    seen[OBS_MEAN_C] = mean
    seen[OBS_RISE] = rise
    seen[OBS_SOLID_FAT] = solid
    seen[OBS_SOLID_FAT_SOFTEST] = softest
    seen[OBS_SUGAR] = sugar
    seen[OBS_CO2_MADE] = made
    seen[OBS_OVER_PROOF] = rise - p[P_CRITICAL]
    seen[OBS_ETHANOL] = ethanol * ETHANOL_MOLAR_G / 1000.0
    seen[OBS_SOLID_FAT_OUTER] = outer / outer_mass
    # the very surface: where the film's flow meets the dough's
    surface_film = body[B_H_TOP]
    if shape == CYLINDER:
        surface_film *= 2.0 * math.pi * radius
    over = air_c + body[B_TOP_SHIFT]
    met = over - top * (over - temperature[n - 1]) / max(1e-300, surface_film)
    seen[OBS_TOP_C] = choose(top > 0.0, met, temperature[n - 1])
    if shape == CYLINDER or insulated:
        # nothing flows through the axis (or the insulated floor): a parabola through the two innermost cells
        if shape == CYLINDER:
            near, far = 0.5 * faces[1], 0.5 * (faces[1] + faces[2])
        else:
            near, far = (0.5 * faces[1]) ** 2, (0.5 * (faces[1] + faces[2])) ** 2
        seen[OBS_CORE_C] = temperature[0] + (temperature[0] - temperature[1]) * near / (far - near)
        seen[OBS_BOTTOM_C] = seen[OBS_CORE_C]
        return
    middle = 0
    while faces[middle + 1] < 0.5:
        middle += 1
    core = temperature[middle]
    if faces[middle + 1] - 0.5 < 1e-9 and middle + 1 < n:
        core = 0.5 * (core + temperature[middle + 1])
    seen[OBS_CORE_C] = core
    bare = air_c - bottom * (air_c - temperature[0]) / max(1e-300, body[B_H_BOTTOM])
    seen[OBS_BOTTOM_C] = choose(body[B_BENCH_THICKNESS] > 0.0, bench_c, bare)
