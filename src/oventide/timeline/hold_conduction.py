"""Conduction in a slab or a cylinder of dough, with a bench beneath: the parts of one implicit step, compiled."""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.dough.fat import solid_fat
from oventide.matter.properties import gas_conductivity_w_mk, porous_conductivity_w_mk

Array = NDArray[np.float64]

# Constants of a member's body: dense dough, its surroundings, its bench.
(
    B_THICKNESS, B_DENSITY, B_HEAT_CAPACITY, B_CONDUCTIVITY, B_LATENT, B_H_BOTTOM, B_H_TOP, B_BENCH_K, B_BENCH_C,
    B_BENCH_THICKNESS, B_CONTACT, B_BENCH_START, B_BENCH_FILM, B_KNIFE,
) = range(14)  # fmt: skip
NB = 14

CYLINDER = 1
BENCH_CELLS = 12
_BENCH_RATIO = 1.5
_TOLERANCE_K = 1e-3
"""Secant steps stop after a correction below this; what is left over is far smaller."""


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
def _melt_slope(at_c: float, before_c: float, offset: float) -> float:
    """Fall of solid fat per kelvin [1/K] as a secant: over the last change, or half a kelvin each way."""
    low, high = before_c, at_c
    if abs(high - low) < 0.05:
        low, high = at_c - 0.5, at_c + 0.5
    return (solid_fat(low, offset) - solid_fat(high, offset)) / (high - low)


@compiled
def implicit_stage(
    temperature: Array, content: Array, capacity: Array, latent: Array, between: Array, source: Array,
    bottom: float, top: float, air_c: float, step_s: float, offset: float, n: int,
    off: Array, joined: Array, diagonal: Array, right: Array, before: Array,
) -> None:  # fmt: skip
    """Solve C·T - L·s(T) - step·(conduction + source) = content for T, in place, by secant steps.

    between[i] joins cells i and i + 1 [W/K]; bottom and top join the ends to the air. Units per m² or per m.
    """
    last = n - 1
    for i in range(n):
        before[i] = temperature[i]
        joined[i] = 0.0
    for i in range(last):
        off[i] = -step_s * between[i]
        joined[i] -= off[i]
        joined[i + 1] -= off[i]
    for _ in range(12):
        for i in range(n):
            here = temperature[i]
            held = capacity[i] * here
            slope = capacity[i] + joined[i]
            if latent[i] > 0.0:
                held -= latent[i] * solid_fat(here, offset)
                slope += latent[i] * _melt_slope(here, before[i], offset)
            diagonal[i] = slope
            right[i] = content[i] + step_s * source[i] - held
        for i in range(last):
            flow = off[i] * (temperature[i] - temperature[i + 1])
            right[i] += flow
            right[i + 1] -= flow
        right[0] += step_s * bottom * (air_c - temperature[0])
        right[last] += step_s * top * (air_c - temperature[last])
        diagonal[0] += step_s * bottom
        diagonal[last] += step_s * top
        solve_symmetric(off, diagonal, right, n)
        largest = 0.0
        for i in range(n):
            before[i] = temperature[i]
            temperature[i] += right[i]
            largest = max(largest, abs(right[i]))
        if largest < _TOLERANCE_K:
            break


@compiled
def bench_layers(body: Array, capacity: Array, resistance: Array) -> None:
    """Heat capacity [J/(m²·K)] and half resistance [m²·K/W] of the bench's layers, thin at the dough, bottom first."""
    thin = (_BENCH_RATIO - 1.0) / (_BENCH_RATIO**BENCH_CELLS - 1.0) * body[B_BENCH_THICKNESS]
    for j in range(BENCH_CELLS):
        layer = thin * _BENCH_RATIO ** (BENCH_CELLS - 1 - j)
        capacity[j] = layer * body[B_BENCH_C]
        resistance[j] = layer / (2.0 * body[B_BENCH_K])


@compiled
def conductances(
    shape: int, faces: Array, volume: Array, body: Array, fresh_air: float, has_bench: bool,
    capacity: Array, resistance: Array, between: Array,
) -> tuple[float, float]:  # fmt: skip
    """Fill `between`; return the conductance of the bottom and the top end to the air.

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
        return 0.0, 1.0 / (joint + 1.0 / (2.0 * math.pi * inner * body[B_H_TOP]))
    for i in range(n):
        porosity = min(0.97, max(0.0, 1.0 - (1.0 - fresh_air) / volume[i]))
        k = porous_conductivity_w_mk(body[B_CONDUCTIVITY], gas_conductivity_w_mk(20.0), porosity)
        resistance[first + i] = body[B_THICKNESS] * (faces[i + 1] - faces[i]) * volume[i] / (2.0 * k)
    last = first + n - 1
    for i in range(last):
        between[i] = 1.0 / (resistance[i] + resistance[i + 1])
    if has_bench:
        between[first - 1] = 1.0 / (resistance[first - 1] + body[B_CONTACT] + resistance[first])
        bottom = 1.0 / (1.0 / body[B_BENCH_FILM] + resistance[0])
    else:
        bottom = 1.0 / (1.0 / body[B_H_BOTTOM] + resistance[0]) if body[B_H_BOTTOM] > 0.0 else 0.0
    return bottom, 1.0 / (1.0 / body[B_H_TOP] + resistance[last]) if body[B_H_TOP] > 0.0 else 0.0
