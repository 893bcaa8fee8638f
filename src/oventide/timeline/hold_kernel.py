"""Heat and fermentation of dough outside the oven, compiled over members.

Cells are shares of the dough's mass; a cell grows as its gas grows. Heat is advanced by a two-stage, second-order,
stiffly accurate scheme (SDIRK2) on enthalpy, which is carried from step to step, so that neither the melting of butter
nor the yeast's heat is lost or counted twice. Fermentation follows at the mean temperature of the step; its heat is
foretold from the step before and set right after it. Solid fat is a state: it melts at once and sets with time.
"""

import math

import numba
import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled, compiled_over_members
from oventide.dough.fermentation import SPEEDS, ferment_at, speeds_at
from oventide.dough.gas import bubbles_from
from oventide.dough.state import (
    AIR,
    CO2,
    CO2_MADE,
    ETHANOL,
    ETHANOL_MOLAR_G,
    HEXOSE,
    MALTOSE,
    P_CRITICAL,
    P_DENSE_ML,
    P_FRESH_ML,
)
from oventide.timeline.hold_conduction import (
    B_BENCH_START,
    B_BENCH_THICKNESS,
    B_DENSITY,
    B_H_BOTTOM,
    B_H_TOP,
    B_HEAT_CAPACITY,
    B_KNIFE,
    B_LATENT,
    B_SETTING_S,
    B_THICKNESS,
    B_TOP_SHIFT,
    BENCH_CELLS,
    CYLINDER,
    bench_layers,
    conductances,
    implicit_stage,
)

Array = NDArray[np.float64]

OBS_MEAN_C, OBS_CORE_C, OBS_TOP_C, OBS_BOTTOM_C, OBS_RISE, OBS_SOLID_FAT, OBS_SOLID_FAT_SOFTEST = 0, 1, 2, 3, 4, 5, 6
OBS_SUGAR, OBS_CO2_MADE, OBS_OVER_PROOF, OBS_ETHANOL, OBS_SOLID_FAT_OUTER = 7, 8, 9, 10, 11
HOLD_OBSERVABLES = (
    "mean_c", "core_c", "top_c", "bottom_c", "rise", "solid_fat", "solid_fat_softest", "sugar_g", "co2_made_mmol",
    "over_proof", "ethanol_g", "solid_fat_outer",
)  # fmt: skip
NOBS = 12

_GAMMA = 1.0 - 1.0 / math.sqrt(2.0)


_TABLE_FROM_C, _TABLE_PER_K, _TABLE_ROWS = -10.0, 2.0, 141


@compiled
def _speeds_from(table: Array, p: Array, temperature_c: float, speeds: Array) -> None:
    """What depends on temperature alone, from a member's table of half kelvins; beyond -10 to 60 °C reckoned anew.

    A row of the table is reckoned when it is first asked for; until then its last figure, a volume, is zero.
    """
    place = (temperature_c - _TABLE_FROM_C) * _TABLE_PER_K
    if place < 0.0 or place >= _TABLE_ROWS - 1:
        speeds_at(p, temperature_c, speeds)
        return
    row = int(place)
    share = place - row
    for at in range(row, row + 2):
        if table[at, SPEEDS - 1] <= 0.0:
            speeds_at(p, _TABLE_FROM_C + at / _TABLE_PER_K, table[at])
    for k in range(SPEEDS):
        speeds[k] = table[row, k] + share * (table[row + 1, k] - table[row, k])


@compiled
def _volume(y: Array, p: Array, speeds: Array) -> float:
    """`dough.gas.relative_volume` with what depends on temperature alone from the table."""
    gas = (bubbles_from(y[CO2], y[AIR], speeds[3]) + y[AIR]) * speeds[4]
    return float((p[P_DENSE_ML] + gas) / p[P_FRESH_ML])


@compiled
def _air_at(air_s: Array, air_c: Array, time_s: float) -> float:
    """Air temperature at a time, straight lines between knots, held at the ends [°C]."""
    last = air_s.shape[0] - 1
    if time_s <= air_s[0]:
        return float(air_c[0])
    if time_s >= air_s[last]:
        return float(air_c[last])
    i = int(np.searchsorted(air_s, time_s, side="right")) - 1
    share = (time_s - air_s[i]) / (air_s[i + 1] - air_s[i])
    return float(air_c[i] + share * (air_c[i + 1] - air_c[i]))


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
        deep = radius * (1.0 - math.sqrt(faces[i])) if shape == CYLINDER else below + height * mass * volume[i]
        if below < knife:
            part = mass * min(1.0, (knife - below) / max(1e-12, deep - below))
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
    top_c = temperature[n - 1]
    if top > 0.0:
        over = air_c + body[B_TOP_SHIFT]
        top_c = over - top * (over - temperature[n - 1]) / surface_film
    seen[OBS_TOP_C] = top_c
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
    seen[OBS_BOTTOM_C] = bench_c
    if body[B_BENCH_THICKNESS] <= 0.0:
        seen[OBS_BOTTOM_C] = air_c - bottom * (air_c - temperature[0]) / body[B_H_BOTTOM]


@compiled
def _advance_member(
    temperature: Array, ferment: Array, fat: Array, curve: Array, shape: int, faces: Array, body: Array, p: Array,
    air_s: Array, air_c: Array, has_bench: bool, rise_free: bool, times: Array, sample_at: NDArray[np.int64],
    planned_end: float, watch: int, threshold: float, direction: float, samples: Array, end_temperature: Array,
    end_ferment: Array, end_fat: Array,
) -> float:  # fmt: skip
    """One member through its times; returns when it ended [s]. Temperature, ferment and fat are advanced in place."""
    n = temperature.shape[0]
    first = BENCH_CELLS if has_bench else 0
    all_cells = n + first
    fresh_air = 1.0 - p[P_DENSE_ML] / p[P_FRESH_ML]
    insulated = not has_bench and body[B_H_BOTTOM] <= 0.0

    capacity, latent, resistance = np.zeros(all_cells), np.zeros(all_cells), np.zeros(all_cells)
    between, source, content, base = np.zeros(all_cells), np.zeros(all_cells), np.zeros(all_cells), np.zeros(all_cells)
    off, joined, diagonal, right = np.zeros(all_cells), np.zeros(all_cells), np.zeros(all_cells), np.zeros(all_cells)
    melts, side = np.zeros(all_cells), np.zeros(all_cells)
    warm, volume, geometry, old_fat, half_fat = np.zeros(all_cells), np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n)
    seen, seen_before = np.zeros(NOBS), np.zeros(NOBS)
    old_ferment = np.zeros(ferment.shape)
    table, speeds = np.zeros((_TABLE_ROWS, SPEEDS)), np.zeros(SPEEDS)

    # mass of dough per m² of floor, or per m of log; freshly mixed volume holds air
    whole = body[B_DENSITY] * (1.0 - fresh_air) * body[B_THICKNESS]
    if shape == CYLINDER:
        whole *= 0.25 * math.pi * body[B_THICKNESS]
    if has_bench:
        bench_layers(body, capacity, resistance)
        for j in range(first):
            warm[j] = body[B_BENCH_START]
            content[j] = capacity[j] * warm[j]
    for i in range(n):
        mass = whole * (faces[i + 1] - faces[i])
        capacity[first + i] = mass * body[B_HEAT_CAPACITY]
        latent[first + i] = mass * body[B_LATENT]
        warm[first + i] = temperature[i]
        content[first + i] = capacity[first + i] * temperature[i] - latent[first + i] * fat[i]
        _speeds_from(table, p, temperature[i], speeds)
        volume[i] = _volume(ferment[i], p, speeds)
        geometry[i] = volume[i]

    bottom, top = conductances(shape, faces, geometry, body, fresh_air, has_bench, capacity, resistance, between, side)

    ended, sample = -1.0, 0
    steps = times.shape[0]
    for step in range(steps):
        now = times[step]
        if step > 0:
            if rise_free:
                for i in range(n):
                    geometry[i] = volume[i]
            dt = now - times[step - 1]
            bottom, top = conductances(
                shape, faces, geometry, body, fresh_air, has_bench, capacity, resistance, between, side
            )  # fmt: skip
            for i in range(all_cells):
                base[i] = content[i]
            for i in range(n):
                temperature[i] = warm[first + i]
                old_fat[i] = fat[i]
            part = _GAMMA * dt
            set_share = 1.0 - math.exp(-part / body[B_SETTING_S])
            air = _air_at(air_s, air_c, times[step - 1] + part)
            implicit_stage(
                warm, content, capacity, latent, between, source, curve, old_fat, half_fat, side, set_share, bottom,
                top, air, air + body[B_TOP_SHIFT], part, first, all_cells, off, joined, diagonal, right, melts,
            )  # fmt: skip
            for i in range(all_cells):
                content[i] = base[i] + (1.0 - _GAMMA) / _GAMMA * (content[i] - base[i])
            set_share = 1.0 - math.exp(-(dt - part) / body[B_SETTING_S])
            air = _air_at(air_s, air_c, now)
            implicit_stage(
                warm, content, capacity, latent, between, source, curve, half_fat, fat, side, set_share, bottom,
                top, air, air + body[B_TOP_SHIFT], part, first, all_cells, off, joined, diagonal, right, melts,
            )  # fmt: skip
            for i in range(n):
                for k in range(ferment.shape[1]):
                    old_ferment[i, k] = ferment[i, k]
                mass = whole * (faces[i + 1] - faces[i])
                middle_c = 0.5 * (temperature[i] + warm[first + i])
                _speeds_from(table, p, middle_c, speeds)
                made = mass * ferment_at(ferment[i], p, speeds, dt)
                content[first + i] += dt * (made - source[first + i])
                source[first + i] = made
                _speeds_from(table, p, warm[first + i], speeds)
                volume[i] = _volume(ferment[i], p, speeds)
        sampled = sample < sample_at.shape[0] and sample_at[sample] == step
        if sampled or watch >= 0:
            bench_c = 0.0
            if has_bench:
                # the dough's underside, from the flow through the contact
                flow = between[first - 1] * (warm[first - 1] - warm[first])
                bench_c = warm[first] + flow * resistance[first]
            for k in range(NOBS):
                seen_before[k] = seen[k]
            observe(
                shape, faces, warm[first:], ferment, fat, volume, body, p, insulated, bottom, top,
                _air_at(air_s, air_c, now), bench_c, seen,
            )  # fmt: skip
        while sample < sample_at.shape[0] and sample_at[sample] == step:
            for k in range(NOBS):
                samples[sample, k] = seen[k]
            sample += 1

        if ended < 0.0:
            share, here = 1.0, False
            if watch >= 0:
                ahead = direction * (seen[watch] - threshold)
                if ahead >= 0.0:
                    here = True
                    behind = direction * (seen_before[watch] - threshold) if step > 0 else 0.0
                    share = -behind / (ahead - behind) if step > 0 and ahead > behind else 1.0
            if now >= planned_end:
                planned_share = (planned_end - times[step - 1]) / (now - times[step - 1]) if step > 0 else 1.0
                share = min(share, planned_share) if here else planned_share
                here = True
            if step == steps - 1:
                here = True
            if here:
                # straight between the two states, so that every balance still holds
                ended = now if step == 0 else times[step - 1] + share * (now - times[step - 1])
                for i in range(n):
                    was = temperature[i] if step > 0 else warm[first + i]
                    end_temperature[i] = was + share * (warm[first + i] - was)
                    fat_then = old_fat[i] if step > 0 else fat[i]
                    end_fat[i] = fat_then + share * (fat[i] - fat_then)
                    for k in range(ferment.shape[1]):
                        then = old_ferment[i, k] if step > 0 else ferment[i, k]
                        end_ferment[i, k] = then + share * (ferment[i, k] - then)
    for i in range(n):
        temperature[i] = warm[first + i]
    return ended


@compiled_over_members
def advance_members(
    temperature: Array, ferment: Array, fat: Array, curve: Array, shape: int, faces: Array, body: Array, p: Array,
    air_s: Array, air_c: Array, has_bench: bool, rise_free: bool, times: Array, sample_at: NDArray[np.int64],
    planned_end: Array, watch: int, threshold: float, direction: float, samples: Array, end_s: Array,
    end_temperature: Array, end_ferment: Array, end_fat: Array,
) -> None:  # fmt: skip
    """Every member on its own: see `_advance_member`. Arrays lead with the member."""
    for m in numba.prange(temperature.shape[0]):
        end_s[m] = _advance_member(
            temperature[m], ferment[m], fat[m], curve[m], shape, faces, body[m], p[m], air_s, air_c[m], has_bench,
            rise_free, times, sample_at, planned_end[m], watch, threshold, direction, samples[m], end_temperature[m],
            end_ferment[m], end_fat[m],
        )  # fmt: skip
