"""Members through the oven: steps of their own length, spring, setting, colour, samples, end."""

import math

import numba
import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import browning_rate_1_s, darkening_rate_1_s, sugar_path_rate_1_s, wetness_brake
from oventide.bake.crumb import setting_rate_1_s, water_activity
from oventide.bake.loss import ethanol_gone
from oventide.bake.spring import carbon_dioxide_kept, gas_ratio, yeast_factor
from oventide.compiled import compiled, compiled_over_members
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
    NOBS,
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
    S_SIDES,
    SET_E,
    SET_K0,
    SET_SHIFT,
    SORB_HALF,
    SORB_N,
    SORB_SHIFT,
    START_C,
    START_MOLES,
)
from oventide.timeline.oven_step import ROWS, V_DX, V_K, coefficients, implicit_step, vapour_pressure

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
        if free > 1e-4:
            if T[i] > 45.0:
                set_share[i] = 1.0 - free * math.exp(
                    -dt * setting_rate_1_s(T[i] - par[SET_SHIFT], par[SET_K0], par[SET_E])
                )
            if par[GAS_RATE] > 0.0:
                yeast_moles[i] += dt * par[GAS_RATE] * yeast_factor(T[i])
            p, _, _ = vapour_pressure(T[i], W[i], par)
            freed = par[DISSOLVED] * (1.0 - carbon_dioxide_kept(T[i], par[START_C]))
            moles = 1.0 + (freed + yeast_moles[i]) / max(1e-9, par[START_MOLES])
            ratio = gas_ratio(T[i], par[START_C], p, p_door, par[PRESSURE], moles)
            if ratio > reached[i]:
                # a cell that has set by the share s gives way only by (1 - s)²
                gas_volume[i] += door_volume[i] * par[RETAINED] * (ratio - reached[i]) * free * free
                reached[i] = ratio
    for side in range(2):
        i = n - 1 if side == 0 else 0
        at = surface_c if side == 0 else base_c
        if at > 60.0:
            a, _, _ = water_activity(W[i], at, par[SORB_HALF], par[SORB_N], par[SORB_SHIFT])
            brake = wetness_brake(a, par[BROWN_WET])
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
    for i in range(n):
        middle = at + 0.5 * work[V_DX, i]
        if 0.25 * height <= middle <= 0.75 * height:
            core = min(core, T[i])
            least_set = min(least_set, set_share[i])
        if at <= 0.5 * height < at + work[V_DX, i]:
            centre = T[i]
        at += work[V_DX, i]
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
    out[OBS_WATER] = water / total


@compiled
def air_at(t: float, times: Array, air: Array) -> float:
    """Air temperature at t by straight lines, the last value held."""
    if t <= times[0]:
        return float(air[0])
    for i in range(times.shape[0] - 1):
        if t <= times[i + 1]:
            return float(air[i] + (air[i + 1] - air[i]) * (t - times[i]) / max(1e-9, times[i + 1] - times[i]))
    return float(air[-1])


@compiled
def blend(a: Array, b: Array, share: float, out: Array) -> None:
    """out = a + share (b - a)."""
    for i in range(a.shape[0]):
        out[i] = a[i] + share * (b[i] - a[i])


@compiled
def march_member(
    m: int,
    temperature: Array,
    water: Array,
    set_share: Array,
    colour: Array,
    gas_volume: Array,
    reached: Array,
    yeast_moles: Array,
    door_volume: Array,
    lost: Array,
    wall: Array,
    side_lost: Array,
    mass: Array,
    dough_mass: Array,
    air_s: Array,
    air_c: Array,
    par: Array,
    stage: Array,
    sample_s: Array,
    end_s: Array,
    until_index: int,
    until_value: float,
    until_sign: int,
    longest_s: float,
    keep: int,
    samples: Array,
    ended_s: Array,
    profiles: Array,
    balance: Array,
) -> None:
    """One member of `march`: a function of its own, because numba compiles the parallel loop slowly."""
    n = temperature.shape[1]
    horizon = sample_s[-1]
    work = np.empty((ROWS, n))
    flows = np.zeros(6)
    ahead, trend = np.empty(n), np.zeros(n)
    T, W, S = temperature[m].copy(), water[m].copy(), set_share[m].copy()
    C, V, R, Y = colour[m].copy(), gas_volume[m].copy(), reached[m].copy(), yeast_moles[m].copy()
    T0, W0, S0, C0, V0, R0, Y0 = T.copy(), W.copy(), S.copy(), C.copy(), V.copy(), R.copy(), Y.copy()
    obs, obs0 = np.zeros(NOBS), np.zeros(NOBS)
    gone, wall_c, aside = lost[m], wall[m], side_lost[m]
    t, dt, k, done = 0.0, 0.2, 0, False
    stop = max(horizon, end_s[m])
    coefficients(T, W, V, mass[m], par[m], work)
    surface, base = T[n - 1], T[0]
    observe(T, W, S, C, mass[m], work, gone, aside, dough_mass[m], surface, base, par[m], obs)
    while k < sample_s.shape[0] and sample_s[k] <= 0.0:
        samples[m, k] = obs
        if m < keep:
            for i in range(n):
                profiles[m, k, i, 0], profiles[m, k, i, 1] = T[i], W[i]
        k += 1
    while t < stop - 1e-6:
        dt = min(dt, stop - t)
        if not done and t < end_s[m]:
            dt = min(dt, end_s[m] - t)
        air = air_at(t + dt, air_s, air_c[m])
        T0[:], W0[:], S0[:], C0[:], V0[:], R0[:], Y0[:] = T, W, S, C, V, R, Y
        obs0[:] = obs
        gone0, wall0, aside0 = gone, wall_c, aside
        for i in range(n):
            ahead[i] = T[i] + min(2.0, max(-2.0, trend[i] * dt))
        taken = implicit_step(T, W, ahead, V, mass[m], air, wall_c, dt, par[m], stage[m], work, flows)
        if taken < 0:
            balance[m, 3] += 1.0
            dt *= 0.4
            trend[:] = 0.0
            if dt < 1e-4:
                for rest in range(k, sample_s.shape[0]):
                    samples[m, rest] = np.nan
                ended_s[m] = np.nan
                break
            continue
        balance[m, 2] += taken
        gone += dt * (flows[0] + flows[1])
        wall_c = flows[5]
        aside = max(aside, stage[m, S_SIDES] * dried_at_base(W, mass[m], par[m, FIRST_WATER]))
        balance[m, 0] += dt * (flows[2] + flows[3])
        balance[m, 1] += dt * flows[4]
        surface = T[n - 1] + flows[2] * 0.5 * work[V_DX, n - 1] / work[V_K, n - 1]
        base = T[0] + flows[3] * 0.5 * work[V_DX, 0] / work[V_K, 0]
        follow(T, W, S, C, V, R, Y, door_volume[m], dt, surface, base, par[m])
        observe(T, W, S, C, mass[m], work, gone, aside, dough_mass[m], surface, base, par[m], obs)
        after = t + dt
        while k < sample_s.shape[0] and sample_s[k] <= after + 1e-9:
            share = (sample_s[k] - t) / dt
            blend(obs0, obs, share, samples[m, k])
            if m < keep:
                for i in range(n):
                    profiles[m, k, i, 0] = T0[i] + share * (T[i] - T0[i])
                    profiles[m, k, i, 1] = W0[i] + share * (W[i] - W0[i])
            k += 1
        if not done:
            share = -1.0
            if after >= end_s[m] - 1e-9:
                share = 1.0
            if until_index >= 0:
                before_gap = until_sign * (obs0[until_index] - until_value)
                gap = until_sign * (obs[until_index] - until_value)
                if gap >= 0.0:
                    share = 0.0 if before_gap >= 0.0 else before_gap / (before_gap - gap)
            if share >= 0.0:
                done = True
                ended_s[m] = t + share * dt
                blend(T0, T, share, temperature[m])
                blend(W0, W, share, water[m])
                blend(S0, S, share, set_share[m])
                blend(C0, C, share, colour[m])
                blend(V0, V, share, gas_volume[m])
                blend(R0, R, share, reached[m])
                blend(Y0, Y, share, yeast_moles[m])
                lost[m] = gone0 + share * (gone - gone0)
                wall[m] = wall0 + share * (wall_c - wall0)
                side_lost[m] = aside0 + share * (aside - aside0)
        step = after - t
        t = after
        # few iterations and a calm state: longer steps
        change = 0.0
        for i in range(n):
            change = max(change, abs(T[i] - T0[i]))
            trend[i] = (T[i] - T0[i]) / step
        grow = 1.6 if taken <= 3 else (1.15 if taken <= 4 else 0.7)
        if change > 4.0:
            grow = min(grow, 4.0 / change)
        dt = min(longest_s, dt * grow)


@compiled_over_members
def march(
    temperature: Array,
    water: Array,
    set_share: Array,
    colour: Array,
    gas_volume: Array,
    reached: Array,
    yeast_moles: Array,
    door_volume: Array,
    lost: Array,
    wall: Array,
    side_lost: Array,
    mass: Array,
    dough_mass: Array,
    air_s: Array,
    air_c: Array,
    par: Array,
    stage: Array,
    sample_s: Array,
    end_s: Array,
    until_index: int,
    until_value: float,
    until_sign: int,
    longest_s: float,
    keep: int,
    samples: Array,
    ended_s: Array,
    profiles: Array,
    balance: Array,
) -> None:
    """Advance every member to its end; samples go on to the horizon. State arrays become the state at the end.

    `balance` (M, 4): heat in, heat out with vapour [J/m2], Newton iterations, steps that were taken again shorter.
    """
    for m in numba.prange(temperature.shape[0]):
        march_member(
            m, temperature, water, set_share, colour, gas_volume, reached, yeast_moles, door_volume, lost, wall,
            side_lost, mass, dough_mass, air_s, air_c, par, stage, sample_s, end_s, until_index, until_value,
            until_sign, longest_s, keep, samples, ended_s, profiles, balance,
        )  # fmt: skip
