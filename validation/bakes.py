"""Bakes that the checks of the oven read: the likely kitchen, and doughs that stand for those of the sources."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import browning_factor, lysine_of, sugar_browning_1_s
from oventide.bake.recovery import Load, air_after_loading
from oventide.evidence.parameters import draw, load
from oventide.timeline import oven_parameters as at
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import Shares, advance_oven, oven_parameters, oven_stage, start_oven

ENRICHED = Shares(0.36, 0.085, 0.12, 0.405, 0.015, 0.015, milk_fat=0.10)
LEAN = Shares(0.445, 0.075, 0.012, 0.44, 0.015, 0.013)
OPEN_25 = ((False, 170.0, 25.0),)
COVERED_20_OPEN_10 = ((True, 170.0, 20.0), (False, 170.0, 10.0))
Reading = dict[str, float]
Array = NDArray[np.float64]


@cache
def bake(
    stages: tuple[tuple[bool, float, float], ...],
    kind: str = "convection",
    tin: str = "light_metal",
    lean: bool = False,
    kg_m2: float = 19.1,
    cells: int = 24,
    sides: float = 0.0,
    dome: float | None = None,
    in_tin: bool = True,
    steam_kg: float | None = None,
    fall_c: float = 0.0,
    altitude_m: float = 0.0,
) -> Reading:
    """Stages (covered, air °C, minutes), then an hour in the room at 22 °C. `fall_c` lets the air fall along a stage.

    `steam_kg` counts door and steam in; None leaves the air as it is given.
    """
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], 1, seed=1)
    shares = LEAN if lean else ENRICHED
    # per 100 g flour: 14 g of sugars split, 2.5 g of lactose, 20 g of egg
    sugar = 0.0 if lean else sugar_browning_1_s(draws, 14.0, 2.5, lysine_of(11.0, 1.75, 2.5), 108.0)
    gas = np.array([0.60])
    par = oven_parameters(
        shares, draws, np.array([28.0]), gas, 0.02, 0.0, browning_factor(draws), sugar_browning=sugar,
        osmoles_mol_kg_dry=0.5 if lean else 1.2, sugar_of_solution=0.03 if lean else 0.17, ethanol_kg_kg_dry=0.015,
        altitude_m=altitude_m,
    )  # fmt: skip
    state = start_oven(np.full((1, cells), 28.0), shares, gas, np.array([kg_m2]), graded_faces(cells))
    for covered, air_c, minutes in stages:
        seconds = 60.0 * minutes
        air_s, air = np.array([0.0, seconds]), np.array([[air_c, air_c - fall_c]])
        vapour = 4000.0
        if steam_kg is not None:
            into = Load(0.04 * kg_m2, 0.04, state.temperature_c.mean(axis=1))
            air_s, air = air_after_loading(kind, air[:, 0], np.array([22.0]), into, draws, steam_kg)
            vapour += 3e4 * steam_kg
        stage = oven_stage(
            kind, tin, covered, air_s, air, np.arange(0.0, seconds + 1, 60.0), np.array([seconds]), draws,
            in_tin=in_tin, sides_over_plan=sides, vapour_pa=vapour, altitude_m=altitude_m,
        )  # fmt: skip
        if dome is not None:
            stage.conductances[:, at.S_DOME] = dome
        run = advance_oven(state, stage, par, keep_profiles=1)
        state = run.end
    rack = oven_stage(
        "rack", tin, False, np.array([0.0]), np.array([22.0]), np.array([0.0, 3600.0]), np.array([3600.0]), draws,
        in_tin=in_tin,
    )  # fmt: skip
    cooled = advance_oven(state, rack, par)
    t, w = run.profiles[0, -1, :, 0], run.profiles[0, -1, :, 1]
    above = int(np.argmax(w[::-1] > 0.35 * shares.first_water))  # dry cells on top; the front is the next one
    middles = 0.5 * (state.faces[1:] + state.faces[:-1])
    inner = (middles > 0.2) & (middles < 0.8)
    halfway = run.profiles[0, run.profiles.shape[1] // 2, :, 0]
    last = run.samples[0, -1]
    return {
        "core": last[at.OBS_CORE],
        "surface": last[at.OBS_SURFACE],
        "base": last[at.OBS_BASE],
        "loss": 100 * last[at.OBS_LOSS],
        "loss_cooled": 100 * cooled.samples[0, -1, at.OBS_LOSS],
        "colour": last[at.OBS_COLOUR_TOP],
        "colour_base": last[at.OBS_COLOUR_BASE],
        "lightness": last[at.OBS_LIGHTNESS_TOP],
        "set": last[at.OBS_SET],
        "front": t[len(w) - 1 - above],
        "coldest_at": float(middles[inner][np.argmin(halfway[inner])]),
    }


def like(name: str, wanted: float, steps: tuple[float, ...], kind: str, tin: str) -> float:
    """By how much the oven is set apart from 170 °C, 25 min, for the reading `name` to be `wanted` [K]."""
    found = [bake(((False, 170.0 + step, 25.0),), kind=kind, tin=tin)[name] for step in steps]
    return float(np.interp(wanted, found, steps))


@cache
def bun_core() -> tuple[Array, Array]:
    """Core of a hamburger bun, minutes and °C: about 58 g, 94 mm across, dark pan, still oven 218 °C, 13 min.

    The size is ours: 8.4 kg/m2 on its floor and a dome of 1.3 times it; the door's fall counts.
    """
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], 1, seed=1)
    gas, start = np.array([0.60]), np.full((1, 24), 30.0)
    par = oven_parameters(LEAN, draws, np.array([30.0]), gas, 0.02, osmoles_mol_kg_dry=0.5, sugar_of_solution=0.1)
    state = start_oven(start, LEAN, gas, np.array([8.4]), graded_faces(24))
    air_s, air = air_after_loading("static", np.array([218.3]), np.array([22.0]), Load(0.7, 0.08, start[:, 0]), draws)
    sample_s = np.arange(0.0, 781.0, 5.0)
    stage = oven_stage("static", "dark_metal", False, air_s, air, sample_s, np.array([780.0]), draws)
    stage.conductances[:, at.S_DOME] = 1.3
    return sample_s / 60.0, advance_oven(state, stage, par).samples[0, :, at.OBS_CORE]


def minutes_to_five_logs(d_61c_min: float, z_k: float) -> float:
    """When the bun's core has taken five decades of a germ that needs `d_61c_min` for one at 61 °C [min]."""
    minutes, core = bun_core()
    decades = np.concatenate([[0.0], np.cumsum(np.diff(minutes) * 10 ** ((core[1:] - 61.0) / z_k) / d_61c_min)])
    return float(np.interp(5.0, decades, minutes))
