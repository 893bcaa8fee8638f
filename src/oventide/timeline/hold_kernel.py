"""Heat and fermentation of dough outside the oven, LANES members side by side.

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
from oventide.dough.state import AIR, CO2, P_DENSE_ML, P_FRESH_ML
from oventide.lanes.members import all_of, any_of, choose, greatest, opposite, row_of, side_by_side
from oventide.lanes.number import LANES
from oventide.timeline.hold_conduction import (
    B_BENCH_START,
    B_DENSITY,
    B_H_BOTTOM,
    B_HEAT_CAPACITY,
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
from oventide.timeline.hold_seen import NOBS, observe

Array = NDArray[np.float64]

_GAMMA = 1.0 - 1.0 / math.sqrt(2.0)
_TABLE_FROM_C, _TABLE_PER_K, _TABLE_ROWS = -30.0, 2.0, 181

# rows of the room to work in, for every cell
(
    CAPACITY, LATENT, RESISTANCE, BETWEEN, SOURCE, CONTENT, BASE, OFF, JOINED, DIAGONAL, RIGHT, MELTS, SIDE, WARM,
    VOLUME, GEOMETRY, OLD_FAT, HALF_FAT, OLD_C,
) = range(19)  # fmt: skip
NROOM = 19


@compiled
def _place(temperature_c: float) -> float:
    """Where a temperature stands in the table of half kelvins from -30 to 60 °C; its ends are held."""
    return min(_TABLE_ROWS - 1.001, max(0.0, (temperature_c - _TABLE_FROM_C) * _TABLE_PER_K))


@compiled
def _fill(table: Array, known: Array, p: Array, place: float) -> None:
    """Reckon the rows of the table that are asked for now and never were before."""
    for at in range(int(-greatest(-place)), int(greatest(place)) + 2):
        if known[at] == 0.0:
            known[at] = 1.0
            speeds_at(p, _TABLE_FROM_C + at / _TABLE_PER_K + 0.0 * place, table[:, at])


@compiled
def _speed(rates: Array, place: float) -> float:
    """One figure from its row of the table, by a straight line."""
    row = math.floor(place)
    low = row_of(rates, row)
    return low + (place - row) * (row_of(rates, row + 1) - low)


@compiled
def _volume(y: Array, p: Array, table: Array, place: float) -> float:
    """`dough.gas.relative_volume` with what depends on temperature alone from the table."""
    gas = (bubbles_from(y[CO2], y[AIR], _speed(table[3], place)) + y[AIR]) * _speed(table[4], place)
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
def _heat(
    fat: Array, curve: Array, body: Array, air_s: Array, air_c: Array, was_s: float, now_s: float, first: int,
    bottom: float, top: float, room: Array,
) -> None:  # fmt: skip
    """Both stages of the heat step from `was_s` to `now_s`, in place."""
    cells, n = room.shape[1], fat.shape[0]
    content, base, old_fat = room[CONTENT], room[BASE], room[OLD_FAT]
    for i in range(cells):
        base[i] = content[i]
    for i in range(n):
        room[OLD_C, i] = room[WARM, first + i]
        old_fat[i] = fat[i]
    dt = now_s - was_s
    part = _GAMMA * dt
    for stage in range(2):
        length = part if stage == 0 else dt - part
        air = _air_at(air_s, air_c, was_s + part if stage == 0 else now_s)
        implicit_stage(
            room[WARM], content, room[CAPACITY], room[LATENT], room[BETWEEN], room[SOURCE], curve,
            old_fat if stage == 0 else room[HALF_FAT], room[HALF_FAT] if stage == 0 else fat, room[SIDE],
            1.0 - math.exp(-length / body[B_SETTING_S]), bottom, top, air, air + body[B_TOP_SHIFT], part, first, cells,
            room[OFF], room[JOINED], room[DIAGONAL], room[RIGHT], room[MELTS],
        )  # fmt: skip
        if stage == 0:
            for i in range(cells):
                content[i] = base[i] + (1.0 - _GAMMA) / _GAMMA * (content[i] - base[i])


@compiled
def advance_block(
    temperature: Array, ferment: Array, fat: Array, curve: Array, shape: int, faces: Array, body: Array, p: Array,
    air_s: Array, air_c: Array, has_bench: bool, rise_free: bool, times: Array, sample_at: NDArray[np.int64],
    planned_end: Array, watch: int, threshold: float, direction: float, samples: Array, ended: Array,
    end_temperature: Array, end_ferment: Array, end_fat: Array, old_ferment: Array, table: Array, known: Array,
    room: Array, seen: Array, before: Array, speeds: Array,
) -> None:  # fmt: skip
    """Members side by side through their times; `ended` (1,) receives when each ended [s].

    Temperature, ferment and fat are advanced in place. The last seven arrays are room to work in.
    """
    n = temperature.shape[0]
    first = BENCH_CELLS if has_bench else 0
    fresh_air = 1.0 - p[P_DENSE_ML] / p[P_FRESH_ML]
    insulated = not has_bench and all_of(body[B_H_BOTTOM] <= 0.0)
    capacity, between, content, source = room[CAPACITY], room[BETWEEN], room[CONTENT], room[SOURCE]
    warm, volume, geometry, resistance = room[WARM], room[VOLUME], room[GEOMETRY], room[RESISTANCE]

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
        room[LATENT, first + i] = mass * body[B_LATENT]
        warm[first + i] = temperature[i]
        content[first + i] = capacity[first + i] * temperature[i] - room[LATENT, first + i] * fat[i]
        place = _place(temperature[i])
        _fill(table, known, p, place)
        volume[i] = _volume(ferment[i], p, table, place)
        geometry[i] = volume[i]

    bottom, top = conductances(
        shape, faces, geometry[:n], body, fresh_air, has_bench, capacity, resistance, between, room[SIDE]
    )  # fmt: skip
    done = planned_end[0] < -1.0
    sample, steps = 0, times.shape[0]
    for step in range(steps):
        now = times[step]
        was = times[max(0, step - 1)]
        if step > 0:
            if rise_free:
                for i in range(n):
                    geometry[i] = volume[i]
            bottom, top = conductances(
                shape, faces, geometry[:n], body, fresh_air, has_bench, capacity, resistance, between, room[SIDE]
            )  # fmt: skip
            _heat(fat, curve, body, air_s, air_c, was, now, first, bottom, top, room)
            dt = now - was
            for i in range(n):
                for k in range(ferment.shape[1]):
                    old_ferment[i, k] = ferment[i, k]
                mass = whole * (faces[i + 1] - faces[i])
                place = _place(0.5 * (room[OLD_C, i] + warm[first + i]))
                _fill(table, known, p, place)
                for k in range(SPEEDS):
                    speeds[k] = _speed(table[k], place)
                made = mass * ferment_at(ferment[i], p, speeds, dt)
                content[first + i] += dt * (made - source[first + i])
                source[first + i] = made
                place = _place(warm[first + i])
                _fill(table, known, p, place)
                volume[i] = _volume(ferment[i], p, table, place)
        sampled = sample < sample_at.shape[0] and sample_at[sample] == step
        if sampled or watch >= 0:
            bench_c = 0.0 * warm[0]
            if has_bench:
                # the dough's underside, from the flow through the contact
                flow = between[first - 1] * (warm[first - 1] - warm[first])
                bench_c = warm[first] + flow * resistance[first]
            for k in range(NOBS):
                before[k] = seen[k]
            observe(
                shape, faces, warm[first:], ferment, fat, volume, body, p, insulated, bottom, top,
                _air_at(air_s, air_c, now), bench_c, seen,
            )  # fmt: skip
        while sample < sample_at.shape[0] and sample_at[sample] == step:
            for k in range(NOBS):
                samples[sample, k] = seen[k]
            sample += 1

        share = choose(planned_end[0] <= now, 1.0, -1.0)
        if step > 0:
            share = choose(share > 0.0, (planned_end[0] - was) / (now - was), share)
        if watch >= 0:
            ahead = direction * (seen[watch] - threshold)
            crossed = 1.0 + 0.0 * ahead
            if step > 0:
                behind = direction * (before[watch] - threshold)
                crossed = choose(ahead > behind, -behind / max(1e-300, ahead - behind), 1.0)
            share = choose(ahead >= 0.0, choose(share >= 0.0, min(share, crossed), crossed), share)
        if step == steps - 1:
            share = choose(share < 0.0, 1.0, share)
        ends = (share >= 0.0) & opposite(done)
        if any_of(ends):
            # straight between the two states, so that every balance still holds
            ended[0] = choose(ends, was + share * (now - was), ended[0])
            for i in range(n):
                then_c = room[OLD_C, i] if step > 0 else warm[first + i]
                end_temperature[i] = choose(ends, then_c + share * (warm[first + i] - then_c), end_temperature[i])
                then_fat = room[OLD_FAT, i] if step > 0 else fat[i]
                end_fat[i] = choose(ends, then_fat + share * (fat[i] - then_fat), end_fat[i])
                for k in range(ferment.shape[1]):
                    then = old_ferment[i, k] if step > 0 else ferment[i, k]
                    end_ferment[i, k] = choose(ends, then + share * (ferment[i, k] - then), end_ferment[i, k])
            done = done | ends
    for i in range(n):
        temperature[i] = warm[first + i]


@compiled
def _carry(
    who: NDArray[np.int64], temperature: Array, ferment: Array, fat: Array, curve: Array, shape: int, faces: Array,
    body: Array, p: Array, air_s: Array, air_c: Array, has_bench: bool, rise_free: bool, times: Array,
    sample_at: NDArray[np.int64], planned_end: Array, watch: int, threshold: float, direction: float, samples: Array,
    end_s: Array, end_temperature: Array, end_ferment: Array, end_fat: Array,
) -> None:  # fmt: skip
    """Set the members `who` (LANES,) side by side, carry them, and put them back."""
    n, kinds = ferment.shape[1], ferment.shape[2]
    warmth, yeast, solid = np.empty((2, n, LANES)), np.empty((3, n, kinds, LANES)), np.empty((2, n, LANES))
    curves, bodies, figures = (
        np.empty((curve.shape[1], LANES)), np.empty((body.shape[1], LANES)), np.empty((p.shape[1], LANES)),
    )  # fmt: skip
    air, ends = np.empty((air_s.shape[0], LANES)), np.empty((2, LANES))
    for lane in range(LANES):
        m = who[lane]
        warmth[0, :, lane], yeast[0, :, :, lane], solid[0, :, lane] = temperature[m], ferment[m], fat[m]
        curves[:, lane], bodies[:, lane], figures[:, lane] = curve[m], body[m], p[m]
        air[:, lane], ends[0, lane], ends[1, lane] = air_c[m], planned_end[m], -1.0
    yeast[1:], warmth[1], solid[1] = 0.0, 0.0, 0.0
    taken = np.zeros((samples.shape[1], NOBS, LANES))
    cells = n + (BENCH_CELLS if has_bench else 0)
    warm, grown, fats, when = side_by_side(warmth), side_by_side(yeast), side_by_side(solid), side_by_side(ends)
    small = side_by_side(np.zeros((2 * NOBS + SPEEDS, LANES)))
    advance_block(
        warm[0], grown[0], fats[0], side_by_side(curves), shape, faces, side_by_side(bodies), side_by_side(figures),
        air_s, side_by_side(air), has_bench, rise_free, times, sample_at, when[:1], watch, threshold, direction,
        side_by_side(taken), when[1:], warm[1], grown[1], fats[1], grown[2],
        side_by_side(np.zeros((SPEEDS, _TABLE_ROWS, LANES))), np.zeros(_TABLE_ROWS),
        side_by_side(np.zeros((NROOM, cells, LANES))), small[:NOBS], small[NOBS : 2 * NOBS], small[2 * NOBS :],
    )  # fmt: skip
    for lane in range(LANES):
        m = who[lane]
        temperature[m], ferment[m], fat[m] = warmth[0, :, lane], yeast[0, :, :, lane], solid[0, :, lane]
        samples[m], end_s[m] = taken[:, :, lane], ends[1, lane]
        end_temperature[m], end_ferment[m] = warmth[1, :, lane], yeast[1, :, :, lane]
        end_fat[m] = solid[1, :, lane]


@compiled_over_members
def advance_members(
    temperature: Array, ferment: Array, fat: Array, curve: Array, shape: int, faces: Array, body: Array, p: Array,
    air_s: Array, air_c: Array, has_bench: bool, rise_free: bool, times: Array, sample_at: NDArray[np.int64],
    planned_end: Array, watch: int, threshold: float, direction: float, samples: Array, end_s: Array,
    end_temperature: Array, end_ferment: Array, end_fat: Array,
) -> None:  # fmt: skip
    """Every member through its times: see `advance_block`. Arrays lead with the member."""
    members = temperature.shape[0]
    for block in numba.prange((members + LANES - 1) // LANES):
        who = np.minimum(block * LANES + np.arange(LANES), members - 1)
        _carry(
            who, temperature, ferment, fat, curve, shape, faces, body, p, air_s, air_c, has_bench, rise_free, times,
            sample_at, planned_end, watch, threshold, direction, samples, end_s, end_temperature, end_ferment, end_fat,
        )  # fmt: skip
