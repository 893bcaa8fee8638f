"""Conduction in a slab or a cylinder of dough, with a bench beneath: the parts of one implicit step, compiled."""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.lanes.members import all_of, choose, row_of
from oventide.matter.properties import gas_conductivity_w_mk, porous_conductivity_w_mk

Array = NDArray[np.float64]

# Constants of a member's body: dense dough, its surroundings, its bench.
(
    B_THICKNESS, B_DENSITY, B_HEAT_CAPACITY, B_CONDUCTIVITY, B_LATENT, B_H_BOTTOM, B_H_TOP, B_BENCH_K, B_BENCH_C,
    B_BENCH_THICKNESS, B_CONTACT, B_BENCH_START, B_BENCH_FILM, B_KNIFE, B_TOP_SHIFT, B_SETTING_S,
    B_SIDES,
) = range(17)  # fmt: skip
NB = 17

CYLINDER = 1
BENCH_CELLS = 12
_BENCH_RATIO = 1.5
_TOLERANCE_K = 1e-3
"""Newton stops when the melting that it took for granted and that which came differ by less than this."""
CURVE_FROM_C, CURVE_PER_K, CURVE_ROWS = -10.0, 2.0, 141
"""A member's curve of solid fat: every half kelvin from -10 to 60 °C."""


@compiled
def solve_symmetric(off: Array, diagonal: Array, right: Array, n: int) -> None:
    """Solve a symmetric tridiagonal system in place: `right` becomes the solution, `diagonal` is overwritten.

    off[i] stands between rows i and i + 1 (Thomas without pivoting: the matrix is diagonally dominant).
    """
    diagonal[0] = 1.0 / diagonal[0]
    for i in range(1, n):
        factor = off[i - 1] * diagonal[i - 1]
        diagonal[i] = 1.0 / (diagonal[i] - factor * off[i - 1])
        right[i] -= factor * right[i - 1]
    right[n - 1] *= diagonal[n - 1]
    for i in range(n - 2, -1, -1):
        right[i] = (right[i] - off[i] * right[i + 1]) * diagonal[i]


@compiled
def _set_or_melted(curve: Array, temperature_c: float, was: float, set_share: float) -> tuple[float, float]:
    """Solid fat [1] after a step, and its slope [1/K]: melting follows at once, setting by `set_share` of the gap."""
    place = min(max((temperature_c - CURVE_FROM_C) * CURVE_PER_K, 0.0), CURVE_ROWS - 1.001)
    row = math.floor(place)
    low = row_of(curve, row)
    slope = row_of(curve, row + 1) - low
    balance = low + (place - row) * slope
    sets = balance > was
    slope = slope * CURVE_PER_K
    return choose(sets, was + set_share * (balance - was), balance), choose(sets, set_share * slope, slope)


@compiled
def implicit_stage(
    temperature: Array, content: Array, capacity: Array, latent: Array, between: Array, source: Array, curve: Array,
    was: Array, solid: Array, side: Array, set_share: float, bottom: float, top: float, air_c: float, top_air_c: float,
    step_s: float, first: int, n: int, off: Array, joined: Array, diagonal: Array, right: Array, melts: Array,
) -> None:  # fmt: skip
    """Solve C·T - L·s(T) - step·(conduction + source) = content for T, in place, by Newton; `content` takes the flows.

    between[i] joins cells i and i + 1 [W/K]; bottom, top and side join to the air. Units per m² or per m. Cells
    from `first` on are dough: `was` is their solid fat before the stage, `solid` becomes that after it. What a Newton
    step leaves over stays in `content`, so that no heat is lost.
    """
    last = n - 1
    for i in range(n):
        joined[i] = step_s * side[i]
    for i in range(last):
        off[i] = -step_s * between[i]
        joined[i] -= off[i]
        joined[i + 1] -= off[i]
    joined[0] += step_s * bottom
    joined[last] += step_s * top
    settled = temperature[0] < -1e9
    for _ in range(12):
        for i in range(n):
            here = temperature[i]
            held = capacity[i] * here
            slope = capacity[i] + joined[i]
            if i >= first:
                share, melts[i] = _set_or_melted(curve, here, was[i - first], set_share)
                solid[i - first] = share
                held -= latent[i] * share
                slope -= latent[i] * melts[i]
            diagonal[i] = slope
            right[i] = content[i] + step_s * (source[i] + side[i] * (air_c - here)) - held
        for i in range(last):
            flow = off[i] * (temperature[i] - temperature[i + 1])
            right[i] += flow
            right[i + 1] -= flow
        right[0] += step_s * bottom * (air_c - temperature[0])
        right[last] += step_s * top * (top_air_c - temperature[last])
        solve_symmetric(off, diagonal, right, n)
        largest = 0.0 * right[0]
        for i in range(n):
            temperature[i] += choose(settled, 0.0, right[i])
            if i >= first:
                share, _ = _set_or_melted(curve, temperature[i], was[i - first], set_share)
                missed = latent[i] * (share - solid[i - first] - melts[i] * right[i]) / (capacity[i] + joined[i])
                solid[i - first] = share
                largest = max(largest, abs(missed))
        settled = settled | (largest < _TOLERANCE_K)
        if all_of(settled):
            break
    for i in range(n):
        content[i] += step_s * (source[i] + side[i] * (air_c - temperature[i]))
    for i in range(last):
        flow = off[i] * (temperature[i] - temperature[i + 1])
        content[i] += flow
        content[i + 1] -= flow
    content[0] += step_s * bottom * (air_c - temperature[0])
    content[last] += step_s * top * (top_air_c - temperature[last])


@compiled
def bench_layers(body: Array, capacity: Array, resistance: Array) -> None:
    """Heat capacity [J/(m²·K)] and half resistance [m²·K/W] of the bench's layers, thin at the dough, bottom first."""
    thin = (_BENCH_RATIO - 1.0) / (_BENCH_RATIO**BENCH_CELLS - 1.0) * body[B_BENCH_THICKNESS]
    for j in range(BENCH_CELLS):
        layer = thin * _BENCH_RATIO ** (BENCH_CELLS - 1 - j)
        capacity[j] = layer * body[B_BENCH_C]
        resistance[j] = layer / (2.0 * body[B_BENCH_K])


@compiled
def _end(film: float, resistance: float) -> float:
    """A film and half a cell in series; no film lets nothing through."""
    return choose(film > 0.0, 1.0 / (1.0 / max(1e-300, film) + resistance), 0.0)


@compiled
def conductances(
    shape: int, faces: Array, volume: Array, body: Array, fresh_air: float, has_bench: bool,
    capacity: Array, resistance: Array, between: Array, side: Array,
) -> tuple[float, float]:  # fmt: skip
    """Fill `between` and `side`; return the conductance of the bottom and the top end to the air.

    Slab per m² of floor; cylinder per metre of length, radial, nothing through the axis.
    """
    n = volume.shape[0]
    first = BENCH_CELLS if has_bench else 0
    if shape == CYLINDER:
        radius = 0.5 * body[B_THICKNESS]
        inner = 0.0
        joint = 0.0
        for i in range(n):
            outer = math.sqrt(inner * inner + radius * radius * (faces[i + 1] - faces[i]) * volume[i])
            centre = math.sqrt(0.5 * (inner * inner + outer * outer))
            porosity = min(0.97, max(0.0, 1.0 - (1.0 - fresh_air) / volume[i]))
            k = porous_conductivity_w_mk(body[B_CONDUCTIVITY], gas_conductivity_w_mk(20.0), porosity)
            if i > 0:
                between[i - 1] = 1.0 / (joint + math.log(centre / inner) / (2.0 * math.pi * k))
            joint = math.log(outer / centre) / (2.0 * math.pi * k)
            inner = outer
        return 0.0 * inner, 1.0 / (joint + 1.0 / (2.0 * math.pi * inner * body[B_H_TOP]))
    for i in range(n):
        porosity = min(0.97, max(0.0, 1.0 - (1.0 - fresh_air) / volume[i]))
        k = porous_conductivity_w_mk(body[B_CONDUCTIVITY], gas_conductivity_w_mk(20.0), porosity)
        height = body[B_THICKNESS] * (faces[i + 1] - faces[i]) * volume[i]
        resistance[first + i] = height / (2.0 * k)
        side[first + i] = k * height * body[B_SIDES]
    last = first + n - 1
    for i in range(last):
        between[i] = 1.0 / (resistance[i] + resistance[i + 1])
    if has_bench:
        between[first - 1] = 1.0 / (resistance[first - 1] + body[B_CONTACT] + resistance[first])
        bottom = 1.0 / (1.0 / body[B_BENCH_FILM] + resistance[0])
    else:
        bottom = _end(body[B_H_BOTTOM], resistance[0])
    return bottom, _end(body[B_H_TOP], resistance[last])
