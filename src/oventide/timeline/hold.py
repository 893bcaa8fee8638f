"""Dough where there is no oven: in the fridge, on the bench, in the tin at proof. Heat, fermentation and fat together.

Slab or cylinder, any history of the air, a bench that conducts, a cover, growth by rise (which also insulates), and
the yeast's own heat. Open dough also evaporates: its top feels air that is colder by `top_shift_k`.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oventide.dough.state import NY, P_FAT_OFFSET
from oventide.matter.milk_fat import milk_fat_curves
from oventide.timeline.hold_conduction import (
    B_BENCH_C,
    B_BENCH_FILM,
    B_BENCH_K,
    B_BENCH_START,
    B_BENCH_THICKNESS,
    B_CONDUCTIVITY,
    B_CONTACT,
    B_DENSITY,
    B_H_BOTTOM,
    B_H_TOP,
    B_HEAT_CAPACITY,
    B_KNIFE,
    B_LATENT,
    B_SETTING_S,
    B_SIDES,
    B_THICKNESS,
    B_TOP_SHIFT,
    CURVE_FROM_C,
    CURVE_PER_K,
    CURVE_ROWS,
    NB,
)
from oventide.timeline.hold_kernel import advance_members
from oventide.timeline.hold_seen import (
    HOLD_OBSERVABLES,
    NOBS,
    OBS_BOTTOM_C,
    OBS_CO2_MADE,
    OBS_CORE_C,
    OBS_ETHANOL,
    OBS_MEAN_C,
    OBS_OVER_PROOF,
    OBS_RISE,
    OBS_SOLID_FAT,
    OBS_SOLID_FAT_OUTER,
    OBS_SOLID_FAT_SOFTEST,
    OBS_SUGAR,
    OBS_TOP_C,
)

Array = NDArray[np.float64]

FIRST_STEP_S = 15.0
LONGEST_STEP_S = 200.0
LONGEST_QUIET_STEP_S = 600.0
"""A change of surroundings is met with short steps, which then grow with the time gone, up to ten minutes."""


@dataclass(frozen=True)
class Bench:
    """What lies under a slab. Each (M,)."""

    conductivity: Array
    """[W/(m·K)]"""
    volumetric_heat: Array
    """[J/(m³·K)]"""
    thickness_m: Array
    contact_resistance: Array
    """Flour, film, air between bench and dough [m²·K/W]."""
    start_c: Array


@dataclass(frozen=True)
class HoldStage:
    """One stay in one surrounding. M members, n cells, K samples, A knots of air temperature."""

    shape: Literal["slab", "cylinder"]
    faces: Array
    """(n+1,) relative dry mass, 0 (bottom or axis) to 1 (top or surface)."""
    thickness_m: Array
    """(M,) slab thickness or cylinder diameter at relative volume 1 (freshly mixed); grows with the rise."""
    h_bottom: Array
    """(M,) film and cover in series [W/(m²·K)]; 0 is insulated or a plane of symmetry. A cylinder has none."""
    h_top: Array
    air_s: Array
    """(A,) since the step began [s]."""
    air_c: Array
    """(M, A) [°C], straight lines between."""
    bench: Bench | None
    rise_free: bool
    """False: the body keeps the size it came with, as a log wrapped tightly."""
    sample_s: Array
    """(K,) from 0 to the horizon, rising."""
    end_s: Array
    """(M,) planned end, at most the horizon."""
    until: tuple[int, float, int] | None
    """(observable, threshold, +1 rising or -1 falling): ends at the first crossing, at `end_s` at the latest."""
    sides_per_m2: Array | None = None
    """(M,) what the sides of a slab add [1/m²]: every cell loses k·height·this to the air; see `container.sides`."""
    top_shift_k: Array | None = None
    """(M,) how much warmer (colder, where water evaporates) than the air the top's surroundings are to it."""


@dataclass(frozen=True)
class DoughPhysics:
    """Dense dough. Each (M,)."""

    density: Array
    """[kg/m³]"""
    heat_capacity: Array
    """Without the melting of butter [J/(kg·K)]."""
    conductivity: Array
    """[W/(m·K)]"""
    milk_fat_share: Array
    """[kg/kg dough]; all fat that sets, where `solid_curve` is given."""
    solid_curve: Array | None = None
    """(M, CURVE_ROWS) solid share of that fat in balance, from `solid_curves`; None is milk fat."""


@dataclass
class HoldState:
    """Temperature (M, n) [°C], ferment vectors (M, n, NY), and solid fat (M, n); None is fat that has set for long."""

    temperature_c: Array
    ferment: Array
    solid_fat: Array | None = None


@dataclass(frozen=True)
class HoldRun:
    """Samples (M, K, NOBS) to the horizon; when each member ended (M,) [s], and its state then."""

    samples: Array
    end_s: Array
    end: HoldState


def curve_temperatures_c() -> Array:
    """Temperatures at which a curve of solid fat is given (CURVE_ROWS,) [°C]."""
    return CURVE_FROM_C + np.arange(CURVE_ROWS) / CURVE_PER_K


def solid_in_balance(curve: Array, temperature_c: Array) -> Array:
    """Solid fat of cells (M, n) that have been at their temperature for long, from curves (M, CURVE_ROWS)."""
    place = np.clip((temperature_c - CURVE_FROM_C) * CURVE_PER_K, 0.0, CURVE_ROWS - 1.001)
    row = place.astype(np.int64)
    low = np.take_along_axis(curve, row, axis=1)
    return np.asarray(low + (place - row) * (np.take_along_axis(curve, row + 1, axis=1) - low))


def _times(stage: HoldStage) -> tuple[Array, NDArray[np.int64]]:
    """Moments of the kernel [s] and the place of every sample among them."""
    horizon = float(stage.sample_s[-1])
    knots = np.unique(np.concatenate([stage.sample_s, stage.air_s[(stage.air_s > 0) & (stage.air_s < horizon)], [0.0]]))
    slopes = np.diff(stage.air_c, axis=1) / np.diff(stage.air_s) if stage.air_s.size > 1 else np.zeros((1, 0))
    # a bend of more than 0.2 K a minute is a change of surroundings: short steps again
    bends = np.abs(np.diff(slopes, axis=1, prepend=0.0, append=0.0)).max(axis=0) > 0.2 / 60.0
    changes = [0.0, *(stage.air_s[: bends.size][bends].tolist() if stage.air_s.size > 1 else [])]
    moments = [0.0]
    latest = 0
    for knot in knots[knots > 0].tolist():
        while knot - moments[-1] > 1e-6:
            now = moments[-1]
            while latest + 1 < len(changes) and changes[latest + 1] <= now + 1e-6:
                latest += 1
            since = now - changes[latest]
            longest = max(FIRST_STEP_S, min(0.25 * since, LONGEST_STEP_S + 0.04 * since, LONGEST_QUIET_STEP_S))
            left = knot - now
            parts = math.ceil(left / longest - 1e-9)
            # the last two before a knot are made alike, so that none is tiny
            moments.append(knot if parts == 1 else now + (left / 2.0 if parts == 2 else longest))
    times = np.array(moments)
    return times, np.searchsorted(times, stage.sample_s - 1e-6).astype(np.int64)


def _body(stage: HoldStage, physics: DoughPhysics, draws: dict[str, Array]) -> Array:
    members = stage.thickness_m.shape[0]
    body = np.zeros((members, NB))
    body[:, B_THICKNESS] = stage.thickness_m
    body[:, B_DENSITY] = physics.density
    body[:, B_HEAT_CAPACITY] = physics.heat_capacity
    body[:, B_CONDUCTIVITY] = physics.conductivity
    body[:, B_LATENT] = physics.milk_fat_share * draws["milk_fat.fusion_heat"]
    body[:, B_H_BOTTOM] = stage.h_bottom
    body[:, B_H_TOP] = stage.h_top
    body[:, B_BENCH_FILM] = draws["hold.bench_film"]
    body[:, B_KNIFE] = draws["fat.knife_depth"] / 1000.0
    body[:, B_TOP_SHIFT] = 0.0 if stage.top_shift_k is None else stage.top_shift_k
    body[:, B_SIDES] = 0.0 if stage.sides_per_m2 is None else stage.sides_per_m2
    body[:, B_SETTING_S] = 60.0 * draws["milk_fat.setting_time"]
    if stage.bench is not None:
        body[:, B_BENCH_K] = stage.bench.conductivity
        body[:, B_BENCH_C] = stage.bench.volumetric_heat
        body[:, B_BENCH_THICKNESS] = stage.bench.thickness_m
        body[:, B_CONTACT] = stage.bench.contact_resistance
        body[:, B_BENCH_START] = stage.bench.start_c
    return body


def advance_hold(
    state: HoldState, stage: HoldStage, physics: DoughPhysics, p: Array, draws: dict[str, Array]
) -> HoldRun:
    """Carry dough through one stay outside the oven.

    state temperature (M, n) [°C] and ferment (M, n, NY), not changed; `p` (M, NP) from `dough.state`; `draws` (M,)
    by name: needs milk_fat.fusion_heat, milk_fat.setting_time, hold.bench_film, fat.knife_depth. Valid 0-45 °C, not
    frozen.
    Second order in time; agrees with an independent integration within 0.1 °C and 0.5 % of the gas (tests).
    """
    members, cells = state.temperature_c.shape
    temperature = np.array(state.temperature_c, dtype=np.float64, order="C")
    ferment = np.array(state.ferment, dtype=np.float64, order="C")
    curve = physics.solid_curve
    if curve is None:
        curve = milk_fat_curves(curve_temperatures_c(), p[:, P_FAT_OFFSET])
    fat = solid_in_balance(curve, temperature) if state.solid_fat is None else np.array(state.solid_fat)
    times, sample_at = _times(stage)
    samples = np.zeros((members, stage.sample_s.shape[0], NOBS))
    end_s = np.zeros(members)
    end_fat = np.zeros((members, cells))
    end = HoldState(np.zeros((members, cells)), np.zeros((members, cells, NY)), end_fat)
    watch, threshold, direction = stage.until if stage.until is not None else (-1, 0.0, 1)
    shape = 1 if stage.shape == "cylinder" else 0
    bench = stage.bench is not None and shape == 0
    advance_members(
        temperature, ferment, np.ascontiguousarray(fat), np.ascontiguousarray(curve), shape,
        np.ascontiguousarray(stage.faces), _body(stage, physics, draws),
        np.ascontiguousarray(p), np.ascontiguousarray(stage.air_s, dtype=np.float64),
        np.ascontiguousarray(stage.air_c, dtype=np.float64), bench, stage.rise_free, times, sample_at,
        np.ascontiguousarray(stage.end_s, dtype=np.float64), int(watch), float(threshold), float(direction), samples,
        end_s, end.temperature_c, end.ferment, end_fat,
    )  # fmt: skip
    return HoldRun(samples=samples, end_s=end_s, end=end)


__all__ = [
    "HOLD_OBSERVABLES",
    "NOBS",
    "OBS_BOTTOM_C",
    "OBS_CO2_MADE",
    "OBS_CORE_C",
    "OBS_ETHANOL",
    "OBS_MEAN_C",
    "OBS_OVER_PROOF",
    "OBS_RISE",
    "OBS_SOLID_FAT",
    "OBS_SOLID_FAT_OUTER",
    "OBS_SOLID_FAT_SOFTEST",
    "OBS_SUGAR",
    "OBS_TOP_C",
    "Bench",
    "DoughPhysics",
    "HoldRun",
    "HoldStage",
    "HoldState",
    "advance_hold",
    "curve_temperatures_c",
    "solid_in_balance",
]
