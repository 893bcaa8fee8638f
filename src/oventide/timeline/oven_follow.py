"""What follows from a step in the oven: setting, spring and colour; and what is seen of it. For lanes or one member."""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import browning_rate_1_s, darkening_rate_1_s, sugar_path_rate_1_s, wetness_brake
from oventide.bake.crumb import setting_rate_1_s, water_activity
from oventide.bake.loss import ethanol_gone
from oventide.bake.spring import carbon_dioxide_kept, gas_ratio, yeast_factor
from oventide.compiled import compiled
from oventide.lanes.members import any_of, choose
from oventide.timeline.oven_parameters import (
    BROWN_E,
    BROWN_END,
    BROWN_FACTOR,
    BROWN_K0,
    BROWN_SUGAR,
    BROWN_SUGAR_E,
    BROWN_WET,
    DISSOLVED,
    ETHANOL,
    FIRST_WATER,
    GAS_RATE,
    OBS_BASE,
    OBS_CENTRE,
    OBS_COLOUR_BASE,
    OBS_COLOUR_TOP,
    OBS_CORE,
    OBS_HEIGHT,
    OBS_LIGHTNESS_TOP,
    OBS_LOSS,
    OBS_MEAN,
    OBS_SET,
    OBS_SURFACE,
    OBS_WATER,
    PRESSURE,
    RETAINED,
    SET_E,
    SET_K0,
    SET_SHIFT,
    SORB_HALF,
    SORB_N,
    SORB_SHIFT,
    START_C,
    START_MOLES,
)
from oventide.timeline.oven_step import V_DX, vapour_pressure

Array = NDArray[np.float64]


@compiled
def follow(
    T: Array,
    W: Array,
    set_share: Array,
    colour: Array,
    gas_volume: Array,
    reached: Array,
    yeast_moles: Array,
    door_volume: Array,
    dt: float,
    surface_c: float,
    base_c: float,
    par: Array,
) -> None:
    """What follows from a step's new T and W: setting, oven spring and colour, in place."""
    n = T.shape[0]
    p_door, _, _ = vapour_pressure(par[START_C], 1.0, par)
    for i in range(n):
        free = 1.0 - set_share[i]
        open_yet = free > 1e-4
        if any_of(open_yet):
            rate = setting_rate_1_s(T[i] - par[SET_SHIFT], par[SET_K0], par[SET_E])
            set_share[i] = 1.0 - free * math.exp(-dt * choose(open_yet & (T[i] > 45.0), rate, 0.0))
            yeast_moles[i] += choose(open_yet, dt * par[GAS_RATE] * yeast_factor(T[i]), 0.0)
            p, _, _ = vapour_pressure(T[i], W[i], par)
            freed = par[DISSOLVED] * (1.0 - carbon_dioxide_kept(T[i], par[START_C]))
            moles = 1.0 + (freed + yeast_moles[i]) / max(1e-9, par[START_MOLES])
            ratio = gas_ratio(T[i], par[START_C], p, p_door, par[PRESSURE], moles)
            further = choose(open_yet, max(0.0, ratio - reached[i]), 0.0)
            # a cell that has set by the share s gives way only by (1 - s)²
            gas_volume[i] += door_volume[i] * par[RETAINED] * further * free * free
            reached[i] += further
    for side in range(2):
        i = n - 1 if side == 0 else 0
        at = surface_c if side == 0 else base_c
        if any_of(at > 60.0):
            a, _, _ = water_activity(W[i], at, par[SORB_HALF], par[SORB_N], par[SORB_SHIFT])
            brake = choose(at > 60.0, wetness_brake(a, par[BROWN_WET]), 0.0)
            lean = browning_rate_1_s(at, par[BROWN_K0], par[BROWN_E])
            sugar = par[BROWN_SUGAR] * sugar_path_rate_1_s(at, par[BROWN_SUGAR_E], par[BROWN_E])
            rate = brake * par[BROWN_FACTOR] * (lean + sugar)
            spot = 0 if side == 0 else 2
            colour[spot] = par[BROWN_END] - (par[BROWN_END] - colour[spot]) * math.exp(-rate * dt)
            if side == 0:
                # sugar speeds darkening as much as it speeds the colour difference
                speed = brake * par[BROWN_FACTOR] * (1.0 + sugar / lean)
                colour[1] *= math.exp(-dt * speed * darkening_rate_1_s(at, a))


@compiled
def dried_at_base(W: Array, mass: Array, first: float) -> float:
    """Water that the lower half has given up [kg/m2]: from the base it goes up, at a side wall it gets out."""
    gone = 0.0
    for i in range(W.shape[0] // 2):
        gone += mass[i] * max(0.0, first - W[i])
    return gone


@compiled
def observe(
    T: Array,
    W: Array,
    set_share: Array,
    colour: Array,
    mass: Array,
    work: Array,
    lost: float,
    by_sides: float,
    dough_mass: float,
    surface_c: float,
    base_c: float,
    par: Array,
    out: Array,
) -> None:
    """The observables of a member at one moment."""
    n = T.shape[0]
    height, total, heat, water = 0.0, 0.0, 0.0, 0.0
    for i in range(n):
        height += work[V_DX, i]
        total += mass[i]
        heat += mass[i] * T[i]
        water += mass[i] * W[i]
    # coldest of the middle half: nearer the faces there is crust and drying front, no core
    core, least_set, centre, at = 1e9, 1.0, T[n // 2], 0.0
    before = 0.0
    for i in range(n):
        middle = at + 0.5 * work[V_DX, i]
        inside = (middle >= 0.25 * height) & (middle <= 0.75 * height)
        core = min(core, choose(inside, T[i], 1e9))
        least_set = min(least_set, choose(inside, set_share[i], 1.0))
        if i > 0:
            # the ends of the middle half, and its centre, lie between two cells: straight lines there
            slope = (T[i] - T[i - 1]) / (middle - before)
            for place in range(3):
                level = (0.25 + 0.25 * place) * height
                here = T[i - 1] + slope * (level - before)
                between = (before <= level) & (middle > level)
                if place == 1:
                    centre = choose(between, here, centre)
                else:
                    core = min(core, choose(between, here, 1e9))
        before = middle
        at = at + work[V_DX, i]
    out[OBS_CORE] = core
    out[OBS_CENTRE] = centre
    out[OBS_SURFACE] = surface_c
    out[OBS_BASE] = base_c
    out[OBS_MEAN] = heat / total
    spirit = ethanol_gone(lost / (total * par[FIRST_WATER])) * par[ETHANOL] * total
    out[OBS_LOSS] = (lost + by_sides + spirit) / dough_mass
    out[OBS_COLOUR_TOP] = colour[0]
    out[OBS_LIGHTNESS_TOP] = colour[1]
    out[OBS_COLOUR_BASE] = colour[2]
    out[OBS_SET] = least_set
    out[OBS_HEIGHT] = 1000.0 * height
    # what left at a tin's sides was in the rim of the piece, which has no cell of its own
    out[OBS_WATER] = (water - by_sides) / total
