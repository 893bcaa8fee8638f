"""The timeline's equations written a second time, for SciPy's integrators, cell by cell and without splitting.

What the program's kernels share is taken from it: constants of the member, laws of yeast by temperature, properties of
water. How heat, water, gas and fermentation are coupled, and how time is advanced, is written anew.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from oventide.dough import state as s
from oventide.dough.temperature import L_AT_26, gas_law, growth_law
from oventide.evidence.parameters import load
from oventide.matter.milk_fat import milk_fat_curves
from oventide.timeline import oven_parameters as at
from oventide.timeline.hold import curve_temperatures_c

Array = NDArray[np.float64]
R_GAS = 8.314462618
SIGMA = 5.670374419e-8
WATER_CP = 4190.0
HOLD_STATES = 13
"""Temperature, adapted, ready, yeast, left to grow, hexose, starch, maltose, induced, CO2, made, ethanol, solid fat."""
ORDER = (
    s.ADAPTED, s.READY_TO_GROW, s.YEAST, s.GROWTH_LEFT, s.HEXOSE, s.STARCH_SUGAR, s.MALTOSE, s.MALTOSE_READY, s.CO2,
    s.CO2_MADE, s.ETHANOL,
)  # fmt: skip


def saturation_pa(celsius: Array) -> Array:
    """Vapour pressure of water [Pa], the same three figures."""
    a, b, c = (load("matter").value(f"water.antoine_{name}") for name in "abc")
    return np.asarray(np.exp(a - b / (celsius + c)))


def saturation_slope(celsius: Array) -> Array:
    """d ln p/dT [1/K]."""
    b, c = (load("matter").value(f"water.antoine_{name}") for name in "bc")
    return np.asarray(b / (celsius + c) ** 2)


def maxwell_eucken(dense: Array | float, gas: Array | float, share: Array) -> Array:
    """Conductivity with closed pores."""
    up = 2 * dense + gas - 2 * share * (dense - gas)
    return np.asarray(dense * up / (2 * dense + gas + share * (dense - gas)))


# --- outside the oven ----------------------------------------------------------------------------------------------


class Hold:
    """One stay outside the oven of one member, a slab without a bench."""

    def __init__(self, stage: Any, physics: Any, p: Array, draws: dict[str, Array], air_mmol: float) -> None:
        self.p, self.air_mmol = p[0], air_mmol
        self.weights = np.diff(stage.faces)
        self.thickness, self.h_top, self.h_bottom = (
            float(value[0]) for value in (stage.thickness_m, stage.h_top, stage.h_bottom)
        )
        self.shift = 0.0 if stage.top_shift_k is None else float(stage.top_shift_k[0])
        self.sides = 0.0 if stage.sides_per_m2 is None else float(stage.sides_per_m2[0])
        self.air_s, self.air_c = stage.air_s, stage.air_c[0]
        self.dense_k, self.heat = float(physics.conductivity[0]), float(physics.heat_capacity[0])
        self.latent = float(physics.milk_fat_share[0] * draws["milk_fat.fusion_heat"][0])
        self.setting_s = 60.0 * float(draws["milk_fat.setting_time"][0])
        curve = physics.solid_curve
        self.curve_c = curve_temperatures_c()
        self.curve = (milk_fat_curves(self.curve_c, p[:, s.P_FAT_OFFSET]) if curve is None else curve)[0]
        self.dense_share = float(p[0, s.P_DENSE_ML] / p[0, s.P_FRESH_ML])
        self.mass = float(physics.density[0]) * self.dense_share * self.thickness * self.weights
        self.end_s = float(stage.end_s[0])

    def solid(self, celsius: Array) -> Array:
        """Solid fat in balance."""
        return np.interp(celsius, self.curve_c, self.curve)

    def bubbles_and_volume(self, celsius: Array, co2: Array) -> tuple[Array, Array]:
        """CO2 in bubbles [mmol] and volume relative to freshly mixed dough: Henry and Raoult."""
        p, kelvin = self.p, celsius + 273.15
        bunsen = 22.414 * np.exp(-58.0931 + 90.5069 / (kelvin / 100) + 22.2940 * np.log(kelvin / 100))
        pressure = p[s.P_PRESSURE] - 0.97 * saturation_pa(celsius) / 1000
        milk = np.interp(celsius, self.curve_c, milk_fat_curves(self.curve_c, p[None, s.P_FAT_OFFSET])[0])
        held = bunsen * p[s.P_SALTED_WATER] + p[s.P_FAT_CO2] * (1 - p[s.P_MILK_FAT_SHARE] * milk)
        held = held * pressure / (22.414 * 101.325)
        b = self.air_mmol + held - co2
        bubbles = 0.5 * (np.sqrt(b * b + 4 * co2 * self.air_mmol) - b)
        volume = p[s.P_DENSE_ML] + (bubbles + self.air_mmol) * R_GAS * kelvin / pressure
        return bubbles, volume / p[s.P_FRESH_ML]

    def rates(self, time_s: float, flat: Array) -> Array:
        """Per second."""
        p = self.p
        z = flat.reshape(-1, HOLD_STATES)
        t, adapted, ready, yeast, left, hexose, starch, maltose, induced, co2, _made, ethanol, fat = z.T
        out = np.zeros_like(z)
        gas = np.array([gas_law(float(c), p) for c in t])
        growth = np.array([growth_law(float(c), p) for c in t])
        sugars = 1000 * (hexose / s.HEXOSE_MOLAR_G + maltose / (2 * s.HEXOSE_MOLAR_G)) / p[s.P_SOLVENT]
        osm = p[s.P_OSMOLES] / p[s.P_SOLVENT] + sugars * (1 + p[s.P_CROWDING] * sugars)
        out[:, 1] = (1 - adapted) * gas / p[L_AT_26] / p[s.P_LAG]
        out[:, 2] = p[s.P_GROWTH_LAG] * (1 - ready) * growth
        brake_growth = 1 / (1 + (osm * p[s.P_GROWTH_PER_HALF_OSM]) ** 5)
        grown = p[s.P_GROWTH] / p[s.P_GROWTH_ALLOWANCE] * growth * brake_growth * ready**4 * yeast * left
        out[:, 3], out[:, 4] = grown, -grown
        brake = p[s.P_STATIC] / (1 + (osm * p[s.P_PER_HALF_OSM]) ** p[s.P_OSM_STEEP])
        sober = np.maximum(0, 1 - ethanol * p[s.P_PER_ETHANOL_STOP])
        full = p[s.P_RATE] * gas * brake * sober * yeast * adapted
        sated = hexose / (hexose + p[s.P_HEXOSE_HALF])
        from_hexose = full * sated
        fed = maltose / (maltose + p[s.P_MALTOSE_HALF])
        from_maltose = full * (1 - sated) * induced * p[s.P_MALTOSE_SPEED] * fed
        speed = np.exp(-p[s.P_AMYLASE_EA] / R_GAS * (1 / (t + 273.15) - 1 / 303.15))
        freed = p[s.P_AMYLASE] * starch * speed
        made = from_hexose + from_maltose
        out[:, 5] = -p[s.P_SUGAR_PER_CO2] * from_hexose
        out[:, 6] = -freed
        out[:, 7] = freed - p[s.P_SUGAR_PER_CO2] * from_maltose
        out[:, 8] = (1 - induced) * (1 - sated) / p[s.P_INDUCTION] * gas
        bubbles, volume = self.bubbles_and_volume(t, co2)
        over = np.clip((volume - p[s.P_CRITICAL]) / p[s.P_WIDTH], -40, 40)
        leak = p[s.P_LEAK_QUIET] + p[s.P_LEAK_OVER] / (1 + np.exp(-over))
        out[:, 9], out[:, 10], out[:, 11] = made - bubbles * leak, made, made
        out[:, 1:12] /= 3600
        k = maxwell_eucken(self.dense_k, 0.026 + 6e-5 * 20, np.clip(1 - self.dense_share / volume, 0, 0.97))
        half = self.thickness * self.weights * volume / (2 * k)
        air = float(np.interp(time_s, self.air_s, self.air_c))
        flow = np.zeros(t.size + 1)
        flow[1:-1] = (t[:-1] - t[1:]) / (half[:-1] + half[1:])
        flow[0] = (air - t[0]) / (1 / self.h_bottom + half[0]) if self.h_bottom > 0 else 0.0
        flow[-1] = (t[-1] - air - self.shift) / (1 / self.h_top + half[-1])
        own = made / 3600 * p[s.P_HEAT] / p[s.P_DOUGH_KG]
        aside = k * self.thickness * self.weights * volume * self.sides * (air - t)
        net = (flow[:-1] - flow[1:] + aside) / self.mass + own
        balance = self.solid(t)
        slope = (self.solid(t - 1e-4) - self.solid(t + 1e-4)) / 2e-4
        sets = (balance - fat) / self.setting_s
        # what is not yet solid sets with time and gives its heat off; what is solid melts at once
        setting = (balance > fat + 1e-9) | (net < 0)
        out[:, 0] = (net + np.where(setting, self.latent * sets, 0)) / (
            self.heat + np.where(setting, 0, self.latent * slope)
        )
        out[:, 12] = np.where(setting, sets, -slope * out[:, 0])
        return out.ravel()

    def run(self, z: Array) -> Array:
        """Carry the states (n, HOLD_STATES) to the end of the stay."""
        done = solve_ivp(
            self.rates, (0, self.end_s), z.ravel(), method="LSODA", rtol=1e-6, atol=1e-8, max_step=300.0,
            lband=2 * HOLD_STATES - 1, uband=2 * HOLD_STATES - 1,
        )  # fmt: skip
        assert done.success, done.message
        return np.asarray(done.y[:, -1].reshape(-1, HOLD_STATES))


def hold_states(state: Any, solid: Array) -> Array:
    """The program's state of its first member as ours (n, HOLD_STATES)."""
    columns = [state.temperature_c[0], *(state.ferment[0, :, index] for index in ORDER), solid]
    return np.stack(columns, axis=1)


# --- in the oven ---------------------------------------------------------------------------------------------------


class Oven:
    """One stretch in the oven or on the rack of one member. States: T, W, set, gas, reached by cell, then the wall."""

    def __init__(self, state: Any, stage: Any, par: Array) -> None:
        self.par, self.box = par[0], stage.conductances[0]
        self.air_s, self.air_c, self.end_s = stage.air_s, stage.air_c[0], float(stage.end_s[0])
        self.mass = state.dry_mass_kg_m2[0] * np.diff(state.faces)
        self.door = state.door_volume[0]
        self.cells = self.mass.size
        water = load("matter").value
        self.vapour_0, self.vapour_cp = water("water.vapour_enthalpy_0c"), water("water.vapour_heat_capacity")
        self.diffusion, self.henry = water("water.diffusion_in_air_0c"), load("bake").value("spring.henry_slope")

    def pressure(self, t: Array, w: Array) -> tuple[Array, Array]:
        """Vapour pressure in the pores, and its slope with temperature."""
        par = self.par
        half = par[at.SORB_HALF] * np.exp(-par[at.SORB_SHIFT] * (t - 25))
        a = 1 / (1 + (w / half) ** (-1 / par[at.SORB_N]))
        p = a * w / (w + par[at.SOLUTE]) * saturation_pa(t)
        return p, p * (saturation_slope(t) + (1 - a) * par[at.SORB_SHIFT] / par[at.SORB_N])

    def ratio(self, t: Array, w: Array) -> Array:
        """Free volume of a pore's gas over that at the door."""
        par = self.par
        p, _ = self.pressure(t, w)
        door_p = self.pressure(np.array([par[at.START_C]]), np.array([1.0]))[0][0]
        henry = self.henry
        start = par[at.START_C] + 273.15
        kept = np.where(t > par[at.START_C], np.exp(henry * (1 / (t + 273.15) - 1 / start)), 1.0)
        moles = 1 + par[at.DISSOLVED] * (1 - kept) / par[at.START_MOLES]
        left = np.maximum(0.2 * par[at.PRESSURE], par[at.PRESSURE] - p)
        return np.asarray(moles * (t + 273.15) / start * (par[at.PRESSURE] - door_p) / left)

    def rates(self, time_s: float, u: Array) -> Array:
        """Per second."""
        par, box, n = self.par, self.box, self.cells
        t, w, done, gas, reached = (u[k * n : (k + 1) * n] for k in range(5))
        t, w, wall = np.clip(t, -40, 400), np.clip(w, 1e-4, 5), u[-1]  # an integrator may try odd states
        done, reached = np.clip(done, 0, 1), np.clip(reached, 0, 1e3)
        air = float(np.interp(time_s, self.air_s, self.air_c))
        first, total_p, kelvin = par[at.FIRST_WATER], par[at.PRESSURE], t + 273.15

        def smooth(x: Array) -> Array:
            return np.asarray(1 / (1 + np.exp(-np.clip(x, -60, 60))))

        p, p_t = self.pressure(t, w)
        dry = smooth((0.35 * first - w) / (0.03 * first))
        dense = par[at.DRY_VOLUME] + 1e-3 * w
        whole = par[at.DRY_VOLUME] + 1e-3 * first + gas
        volume = np.maximum(1.05 * dense, (1 - dry) * (dense + gas) + dry * par[at.CRUST_RATIO] * whole)
        pores = 1 - dense / volume
        go = par[at.GO_SHARE] + (1 - par[at.GO_SHARE]) * np.maximum(dry, smooth((p / total_p - 0.93) / 0.01))
        spread = self.diffusion * 101325 / total_p * (kelvin / 273.15) ** 1.81
        way = pores * (par[at.OPEN_CRUMB] * (1 - dry) + par[at.OPEN_CRUST] * dry)
        g = way * spread * 0.01801528 / (R_GAS * kelvin)
        g = g / np.maximum(0.03, 0.08 * np.logaddexp(0, (1 - p / total_p) / 0.08))
        vapour_0, vapour_cp = self.vapour_0, self.vapour_cp
        steam = g * (vapour_0 + (vapour_cp - WATER_CP) * t) * p_t
        steam = steam * par[at.K_CEILING] / (steam + par[at.K_CEILING])
        solid = par[at.K_DRY] + (par[at.K_WET] - par[at.K_DRY]) * np.minimum(1, w / first)
        k = maxwell_eucken(solid, 0.026 + 6e-5 * t + 4 * SIGMA * kelvin**3 * par[at.PORE], pores)
        k = k * (1 + (par[at.CRUST_K] - 1) * dry) + (1 - go) * steam
        creep = par[at.LIQUID_D] * kelvin / 298.15 * 10 ** (247.8 / 158.15 - 247.8 / (kelvin - 140))
        creep = np.maximum(1e-30, creep * np.minimum(1, w / first) ** 2 / volume)
        dx = self.mass * volume
        g = go * g

        def face(c: Array) -> Array:
            return np.asarray(1 / (0.5 * dx[:-1] / c[:-1] + 0.5 * dx[1:] / c[1:]))

        excess = 400 * np.logaddexp(0, (p - total_p) / 400)
        vapour = face(g) * (p[:-1] - p[1:])
        vapour = vapour + par[at.DARCY] / (0.5 * (dx[:-1] + dx[1:])) * (excess[:-1] - excess[1:])
        liquid = face(creep) * (w[:-1] - w[1:])
        middle = 0.5 * (t[:-1] + t[1:])
        q, j = np.zeros(n + 1), np.zeros(n + 1)
        q[1:-1] = face(k) * (t[:-1] - t[1:]) + vapour * (vapour_0 + vapour_cp * middle) + liquid * WATER_CP * middle
        j[1:-1] = vapour + liquid
        # base: the tin's wall between the air below and the dough
        inward = 1 / (box[at.S_CONTACT] + 0.5 * dx[0] / k[0])
        below = air + box[at.S_FLOOR_STEP]
        outward = box[at.S_TIN]
        if box[at.S_TIN_HEAT] > 0:
            wall_rate = (outward * (below - wall) - inward * (wall - t[0])) / box[at.S_TIN_HEAT]
        else:
            wall, wall_rate = (outward * below + inward * t[0]) / (outward + inward), 0.0
        q[0] = inward * (wall - t[0])
        if box[at.S_MASS_BASE] > 0:
            open_base = 1 / (1 / box[at.S_MASS_BASE] + 0.5 * dx[0] / g[0])
            j[0] = -open_base * (p[0] - box[at.S_VAPOUR]) - box[at.S_VENT] * excess[0]
            q[0] += j[0] * (vapour_0 + vapour_cp * t[0])
        # top: film and radiation, or the cover
        if box[at.S_COVER] >= 0:
            film, around, outside = box[at.S_COVER], air, box[at.S_LEAK]
        else:
            sky = air + box[at.S_WALL_STEP] + 273.15
            glow = box[at.S_EMISSIVITY] * SIGMA * (sky**2 + kelvin[-1] ** 2) * (sky + kelvin[-1])
            film = box[at.S_FILM] * box[at.S_DOME] + glow
            around = air + glow * box[at.S_WALL_STEP] / film
            outside = box[at.S_MASS_TOP] * box[at.S_DOME]
        over = 1 / (1 / outside + 0.5 * dx[-1] / g[-1]) if outside > 0 else 0.0
        j[-1] = over * (p[-1] - box[at.S_VAPOUR]) + box[at.S_VENT] * excess[-1]
        q[-1] = -(around - t[-1]) / (1 / film + 0.5 * dx[-1] / k[-1]) + j[-1] * (vapour_0 + vapour_cp * t[-1])
        w_rate = (j[:-1] - j[1:]) / self.mass
        heat = par[at.DRY_HEAT] + WATER_CP * w + par[at.FAT] * par[at.FUSION] * self._melting(t)
        t_rate = ((q[:-1] - q[1:]) / self.mass - WATER_CP * t * w_rate) / heat
        sets = par[at.SET_K0] * np.exp(-par[at.SET_E] / (R_GAS * (t - par[at.SET_SHIFT] + 273.15)))
        done_rate = np.where(t > 45, (1 - done) * sets, 0.0)
        here = self.ratio(t, w)
        ahead = (self.ratio(t + 0.01 * t_rate, w + 0.01 * w_rate) - here) / 0.01
        # the largest ratio so far: followed where the ratio is at it, with a switch that an integrator can bear
        grows = np.maximum(0, ahead) * np.clip(1 + (here - reached) / 1e-3, 0, 1)
        grows = np.where(1 - done > 1e-4, grows, 0.0)  # a cell that has set gives way no more
        gas_rate = self.door * par[at.RETAINED] * grows * (1 - done) ** 2
        return np.concatenate([t_rate, w_rate, done_rate, gas_rate, grows, [wall_rate]])

    def _joined(self) -> Array:
        """Which rate depends on which state: cells on themselves and their neighbours, the wall on the first."""
        n = self.cells
        near = np.abs(np.subtract.outer(np.arange(n), np.arange(n))) <= 1
        joined = np.ones((5 * n + 1, 5 * n + 1))
        joined[: 5 * n, : 5 * n] = np.kron(np.ones((5, 5)), near)
        joined[:, -1], joined[-1, :] = 0, 0
        for k in range(5):
            joined[k * n, -1] = joined[-1, k * n] = 1
        joined[-1, -1] = 1
        return joined

    def _melting(self, t: Array) -> Array:
        curve = milk_fat_curves(np.concatenate([t - 1e-3, t + 1e-3]), self.par[None, at.FAT_OFFSET])[0]
        return np.where(t < 38, (curve[: t.size] - curve[t.size :]) / 2e-3, 0.0)

    def run(self, u: Array) -> Array:
        """Carry the states to the end of the stretch."""
        done = solve_ivp(
            self.rates, (0, self.end_s), u, method="BDF", rtol=1e-4, atol=1e-5, max_step=30.0,
            jac_sparsity=self._joined(),
        )  # fmt: skip
        assert done.success, done.message
        return np.asarray(done.y[:, -1])


def oven_states(state: Any, temperature_c: Array) -> Array:
    """The program's state of its first member as ours, with temperatures of our own."""
    parts = [temperature_c, state.water[0], state.set_fraction[0], state.gas_volume[0], state.reached[0]]
    return np.concatenate([*parts, [float(temperature_c.mean())]])
