"""One implicit step of heat and water in a piece in the oven: the equations of docs/models/bake.md.

Cells are fixed to dry matter, so that rise only changes their thickness. Unknowns per cell: temperature T [°C] and
water W [kg/kg dry]. Backward Euler; Newton on the block-tridiagonal system; transport coefficients are taken where
the last step's trend leads to (with the step's start the core came 0.7 °C late at 10 s).
Fluxes count upward (base to top).
"""

import numpy as np
from numpy.typing import NDArray

from oventide.bake.boundary import radiation_film_w_m2k
from oventide.bake.crumb import liquid_diffusion_m2_s, water_activity
from oventide.bake.crust import dryness, pore_conductivity_w_mk, smooth_step, soft_excess, vapour_conductance
from oventide.compiled import compiled
from oventide.lanes.members import all_of, any_of, choose, opposite
from oventide.matter.milk_fat import solid_fat
from oventide.matter.properties import porous_conductivity_w_mk
from oventide.matter.water import WATER_CP_J_KGK, latent_heat_j_kg, saturation_pressure_pa, saturation_slope
from oventide.matter.water import vapour_enthalpy_j_kg as vapour_enthalpy
from oventide.timeline.oven_parameters import (
    CRUST_K,
    CRUST_RATIO,
    DARCY,
    DRY_HEAT,
    DRY_VOLUME,
    FAT,
    FAT_OFFSET,
    FIRST_WATER,
    FUSION,
    GO_SHARE,
    K_CEILING,
    K_DRY,
    K_WET,
    LIQUID_D,
    OPEN_CRUMB,
    OPEN_CRUST,
    PORE,
    PRESSURE,
    S_CONTACT,
    S_COVER,
    S_DOME,
    S_EMISSIVITY,
    S_FILM,
    S_FLOOR_STEP,
    S_LEAK,
    S_MASS_BASE,
    S_MASS_TOP,
    S_TIN,
    S_TIN_HEAT,
    S_VAPOUR,
    S_VENT,
    S_WALL_STEP,
    SOLUTE,
    SORB_HALF,
    SORB_N,
    SORB_SHIFT,
)

Array = NDArray[np.float64]
_EXCESS_PA = 400.0  # rounding of the corner where steam exceeds air pressure: 0.1 K

# rows of the workspace, (ROWS, n)
(
    V_DX,
    V_K,
    V_G,
    V_D,
    V_P,
    V_PT,
    V_PW,
    V_X,
    V_XP,
    V_C11,
    V_C12,
    V_C21,
    V_C22,
    V_R1,
    V_R2,
    V_E0,
    V_W0,
    V_T0,
    V_FK,  # conductances of the face above each cell: heat, vapour, steam by pressure, liquid
    V_FG,
    V_FS,
    V_FD,
) = range(22)
ROWS = 22


@compiled
def cell_energy(temperature_c: float, water: float, par: Array) -> float:
    """Enthalpy of a cell [J/kg dry] over dry matter, liquid water and liquid fat at 0 °C."""
    energy = (par[DRY_HEAT] + WATER_CP_J_KGK * water) * temperature_c
    if any_of(temperature_c < 38.0):
        energy = energy - par[FAT] * par[FUSION] * solid_fat(temperature_c, par[FAT_OFFSET])
    return float(energy)


@compiled
def vapour_pressure(temperature_c: float, water: float, par: Array) -> tuple[float, float, float]:
    """Vapour pressure in a cell's pores [Pa], and its slopes with temperature and water."""
    a, a_w, a_t = water_activity(water, temperature_c, par[SORB_HALF], par[SORB_N], par[SORB_SHIFT])
    p = saturation_pressure_pa(temperature_c)
    # solutes hold water back by Raoult's law
    free = water / (water + par[SOLUTE])
    slope = a_w * free + a * par[SOLUTE] / ((water + par[SOLUTE]) * (water + par[SOLUTE]))
    return a * free * p, p * free * (a * saturation_slope(temperature_c) + a_t), p * slope


@compiled
def coefficients(T: Array, W: Array, gas_volume: Array, mass: Array, par: Array, work: Array) -> None:
    """Thickness and transport coefficients of every cell, held through a step, into the workspace."""
    pressure, first = par[PRESSURE], par[FIRST_WATER]
    for i in range(T.shape[0]):
        t, w = T[i], W[i]
        dry = dryness(w, first)
        dense = par[DRY_VOLUME] + 1e-3 * w
        whole = par[DRY_VOLUME] + 1e-3 * first + gas_volume[i]
        # a cell that dries shrinks from its whole volume to the crust's share of it, but never below dense
        volume = max(1.05 * dense, (1.0 - dry) * (dense + gas_volume[i]) + dry * par[CRUST_RATIO] * whole)
        porosity = 1.0 - dense / volume
        p, p_t, _ = vapour_pressure(t, w, par)
        go = par[GO_SHARE] + (1.0 - par[GO_SHARE]) * max(dry, smooth_step((p / pressure - 0.93) / 0.01))
        open_pores = porosity * (par[OPEN_CRUMB] * (1.0 - dry) + par[OPEN_CRUST] * dry)
        g = vapour_conductance(t, p, pressure, open_pores)
        by_steam = g * latent_heat_j_kg(t) * p_t
        by_steam = by_steam * par[K_CEILING] / (by_steam + par[K_CEILING])
        solid_k = par[K_DRY] + (par[K_WET] - par[K_DRY]) * min(1.0, w / first)
        conduction = porous_conductivity_w_mk(solid_k, pore_conductivity_w_mk(t, par[PORE]), porosity)
        conduction *= 1.0 + (par[CRUST_K] - 1.0) * dry
        work[V_DX, i] = mass[i] * volume
        work[V_K, i] = conduction + (1.0 - go) * by_steam
        work[V_G, i] = go * g
        # liquid moves along wet films, per volume of dough; their conductance falls with the square of what is left
        wet = min(1.0, w / first)
        work[V_D, i] = liquid_diffusion_m2_s(t, par[LIQUID_D]) * wet * wet / volume
    for i in range(T.shape[0] - 1):
        a, b = 0.5 * work[V_DX, i], 0.5 * work[V_DX, i + 1]
        work[V_FK, i] = 1.0 / (a / work[V_K, i] + b / work[V_K, i + 1])
        work[V_FG, i] = 1.0 / (a / work[V_G, i] + b / work[V_G, i + 1])
        work[V_FS, i] = par[DARCY] / (a + b)
        work[V_FD, i] = 1.0 / (a / max(1e-30, work[V_D, i]) + b / max(1e-30, work[V_D, i + 1]))


@compiled
def implicit_step(
    T: Array,
    W: Array,
    ahead_c: Array,
    ahead_w: Array,
    gas_volume: Array,
    mass: Array,
    air_c: float,
    wall_c: float,
    dt: float,
    idle: bool,
    par: Array,
    stage: Array,
    work: Array,
    flows: Array,
) -> float:
    """Advance T and W in place by dt [s]; iterations taken, or -1 (state restored) where Newton did not settle.

    Members side by side have each its own dt, and stay as they are once they have settled: what one of them does, no
    other feels. `idle` members are not waited for.
    `ahead_c` and `ahead_w` are where the last step's trend leads to: Newton begins there, and the transport
    coefficients are taken at that temperature.
    `wall_c` is the tin's wall at the step's start; it is a lumped mass between the air below and the dough, and being
    linear it is eliminated before the Newton steps.
    `flows` receives vapour out of the top and base [kg/(m2·s)] and heat through the top and base air sides
    [W/m2, into the dough], enthalpy of the vapour counted apart in `flows[4]` [W/m2, out], the wall's new
    temperature in `flows[5]` [°C].
    """
    n = T.shape[0]
    pressure = par[PRESSURE]
    coefficients(ahead_c, W, gas_volume, mass, par, work)
    for i in range(n):
        work[V_E0, i] = cell_energy(T[i], W[i], par)
        work[V_W0, i] = W[i]
        work[V_T0, i] = T[i]
        T[i], W[i] = ahead_c[i], ahead_w[i]
    top, covered = n - 1, stage[S_COVER] >= 0.0
    half_top = 0.5 * work[V_DX, top] / work[V_K, top]
    half_base = 0.5 * work[V_DX, 0] / work[V_K, 0]
    film = stage[S_FILM] * stage[S_DOME]
    half_air = half_top
    radiation = radiation_film_w_m2k(air_c + stage[S_WALL_STEP], work[V_T0, top], stage[S_EMISSIVITY])
    u_radiation = choose(covered, 0.0, radiation)
    u_top_air = choose(covered, stage[S_COVER], film + radiation)
    u_top = 1.0 / (1.0 / max(1e-12, u_top_air) + half_air)
    effective_air = air_c + u_radiation * stage[S_WALL_STEP] / max(1e-12, u_top_air)
    # wall: C dTw/dt = U_out (T_below - Tw) - U_in (Tw - T0), backward Euler
    u_in = 1.0 / (stage[S_CONTACT] + half_base)
    u_out = max(1e-12, stage[S_TIN])
    keeps = stage[S_TIN_HEAT] / dt
    below_c = (keeps * wall_c + u_out * (air_c + stage[S_FLOOR_STEP])) / (keeps + u_out)
    u_base = u_in * (keeps + u_out) / (keeps + u_out + u_in)
    half_vapour_top = 0.5 * work[V_DX, top] / max(1e-30, work[V_G, top])
    half_vapour_base = 0.5 * work[V_DX, 0] / max(1e-30, work[V_G, 0])
    outside = choose(covered, stage[S_LEAK], stage[S_MASS_TOP] * stage[S_DOME])
    m_top = choose(outside > 0.0, 1.0 / (1.0 / max(1e-300, outside) + half_vapour_top), 0.0)
    open_base = stage[S_MASS_BASE] > 0.0
    m_base = choose(open_base, 1.0 / (1.0 / max(1e-300, stage[S_MASS_BASE]) + half_vapour_base), 0.0)
    vent = stage[S_VENT]
    vent_base = choose(open_base, vent, 0.0)
    settled, lost, taken = idle, idle & opposite(idle), 0.0
    for iteration in range(12):
        for i in range(n):
            p, p_t, p_w = vapour_pressure(T[i], W[i], par)
            x, x_p = 0.0, 0.0
            if any_of(p - pressure > -16.0 * _EXCESS_PA):
                x, x_p = soft_excess(p - pressure, _EXCESS_PA)
            work[V_P, i], work[V_PT, i], work[V_PW, i] = p, p_t, p_w
            work[V_X, i], work[V_XP, i] = x, x_p
        # flux through the lower face of cell 0
        h0 = vapour_enthalpy(T[0])
        j_low = -m_base * (work[V_P, 0] - stage[S_VAPOUR]) - vent_base * work[V_X, 0]
        slope = m_base + vent_base * work[V_XP, 0]
        j_low_t, j_low_w = -slope * work[V_PT, 0], -slope * work[V_PW, 0]
        q_low = u_base * (below_c - T[0]) + j_low * h0
        q_low_t, q_low_w = -u_base + j_low_t * h0, j_low_w * h0
        jb_t, jb_w, qb_t, qb_w = 0.0, 0.0, 0.0, 0.0  # slopes of the lower face's fluxes with the cell below
        flows[1] = choose(settled, flows[1], -j_low)
        flows[3] = choose(settled, flows[3], u_base * (below_c - T[0]))
        base_vapour_heat = -j_low * h0
        top_vapour_heat = 0.0
        for i in range(n):
            if i < top:
                k, g, darcy, d = work[V_FK, i], work[V_FG, i], work[V_FS, i], work[V_FD, i]
                vapour = g * (work[V_P, i] - work[V_P, i + 1]) + darcy * (work[V_X, i] - work[V_X, i + 1])
                liquid = d * (W[i] - W[i + 1])
                middle = 0.5 * (T[i] + T[i + 1])
                hv, hl = vapour_enthalpy(middle), WATER_CP_J_KGK * middle
                j_up = vapour + liquid
                q_up = k * (T[i] - T[i + 1]) + vapour * hv + liquid * hl
                sl, su = g + darcy * work[V_XP, i], g + darcy * work[V_XP, i + 1]
                v_t, v_w = sl * work[V_PT, i], sl * work[V_PW, i]
                u_t, u_w = -su * work[V_PT, i + 1], -su * work[V_PW, i + 1]
                ju_t, ju_w = v_t, v_w + d
                jn_t, jn_w = u_t, u_w - d
                qu_t, qu_w = k + v_t * hv, v_w * hv + d * hl
                qn_t, qn_w = -k + u_t * hv, u_w * hv - d * hl
            else:
                hv = vapour_enthalpy(T[top])
                j_up = m_top * (work[V_P, top] - stage[S_VAPOUR]) + vent * work[V_X, top]
                slope = m_top + vent * work[V_XP, top]
                ju_t, ju_w = slope * work[V_PT, top], slope * work[V_PW, top]
                q_up = -u_top * (effective_air - T[top]) + j_up * hv
                qu_t, qu_w = u_top + ju_t * hv, ju_w * hv
                jn_t, jn_w, qn_t, qn_w = 0.0, 0.0, 0.0, 0.0
                flows[0] = choose(settled, flows[0], j_up)
                flows[2] = choose(settled, flows[2], u_top * (effective_air - T[top]))
                top_vapour_heat = j_up * hv
            rate = mass[i] / dt
            e = cell_energy(T[i], W[i], par)
            r1 = -(rate * (e - work[V_E0, i]) + q_up - q_low)
            r2 = -(rate * (W[i] - work[V_W0, i]) + j_up - j_low)
            heat = par[DRY_HEAT] + WATER_CP_J_KGK * W[i]
            if any_of(T[i] < 38.5):
                # secant over half a kelvin each side: the melting curve has corners
                heat = heat + (
                    par[FAT]
                    * par[FUSION]
                    * (solid_fat(T[i] - 0.5, par[FAT_OFFSET]) - solid_fat(T[i] + 0.5, par[FAT_OFFSET]))
                )
            b11 = rate * heat + qu_t - q_low_t
            b12 = rate * WATER_CP_J_KGK * T[i] + qu_w - q_low_w
            b21 = ju_t - j_low_t
            b22 = rate + ju_w - j_low_w
            if i > 0:
                a11, a12, a21, a22 = -qb_t, -qb_w, -jb_t, -jb_w
                c11, c12, c21, c22 = work[V_C11, i - 1], work[V_C12, i - 1], work[V_C21, i - 1], work[V_C22, i - 1]
                b11 -= a11 * c11 + a12 * c21
                b12 -= a11 * c12 + a12 * c22
                b21 -= a21 * c11 + a22 * c21
                b22 -= a21 * c12 + a22 * c22
                r1 -= a11 * work[V_R1, i - 1] + a12 * work[V_R2, i - 1]
                r2 -= a21 * work[V_R1, i - 1] + a22 * work[V_R2, i - 1]
            det = 1.0 / (b11 * b22 - b12 * b21)
            work[V_C11, i] = det * (b22 * qn_t - b12 * jn_t)
            work[V_C12, i] = det * (b22 * qn_w - b12 * jn_w)
            work[V_C21, i] = det * (b11 * jn_t - b21 * qn_t)
            work[V_C22, i] = det * (b11 * jn_w - b21 * qn_w)
            work[V_R1, i] = det * (b22 * r1 - b12 * r2)
            work[V_R2, i] = det * (b11 * r2 - b21 * r1)
            q_low, j_low = q_up, j_up
            q_low_t, q_low_w, j_low_t, j_low_w = qn_t, qn_w, jn_t, jn_w
            qb_t, qb_w, jb_t, jb_w = qu_t, qu_w, ju_t, ju_w
        flows[4] = choose(settled, flows[4], top_vapour_heat + base_vapour_heat)
        worst_t, worst_w = 0.0, 0.0
        x1, x2 = 0.0, 0.0
        for back in range(n):
            i = n - 1 - back
            y1, y2 = work[V_R1, i], work[V_R2, i]
            if back > 0:
                y1 -= work[V_C11, i] * x1 + work[V_C12, i] * x2
                y2 -= work[V_C21, i] * x1 + work[V_C22, i] * x2
            x1, x2 = y1, y2
            step_t = min(15.0, max(-15.0, x1))
            step_w = max(-0.7 * W[i], x2)
            T[i] += choose(settled, 0.0, step_t)
            W[i] = max(1e-4, W[i] + choose(settled, 0.0, step_w))
            worst_t = max(worst_t, abs(x1))
            worst_w = max(worst_w, abs(x2))
        taken = choose(settled, taken, iteration + 1.0)
        astray = opposite((worst_t < 1e6) & (worst_w < 1e6) | settled)
        lost = lost | astray
        # Newton squares the error: what is left is below 1e-4 K
        settled = settled | astray | (worst_t < 0.03) & (worst_w < 1e-4)
        if all_of(settled):
            break
    failed = lost | opposite(settled)
    for i in range(n):
        T[i], W[i] = choose(failed, work[V_T0, i], T[i]), choose(failed, work[V_W0, i], W[i])
    flows[5] = (keeps * wall_c + u_out * (air_c + stage[S_FLOOR_STEP]) + u_in * T[0]) / (keeps + u_out + u_in)
    return choose(failed, -1.0, taken)
