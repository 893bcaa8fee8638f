"""A row of buns in a tin in two dimensions: an independent run of the oven's equations, for the rule of places.

Vertical times horizontal, from the tin's middle (symmetry) to its wall; unknowns temperature and water of every cell;
written anew in NumPy and solved by SciPy's BDF. The dough's figures are the likely ones of the first formulation of
the oven (36 % water, 60 % gas), set down here so that the run stays what it was. Gas volume is fixed: no spring.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.sparse import csr_array, lil_array

Array = NDArray[np.float64]

DRY_HEAT, DRY_VOLUME = 1786.7, 7.30e-4  # J/(kg K), m3/kg
FIRST_WATER, PRESSURE = 0.5625, 101325.0
K_WET, K_DRY, K_CEILING, CRUST_K = 0.372, 0.2346, 1.0, 1.35
OPEN_CRUMB, OPEN_CRUST, GO_SHARE = 0.5, 0.07, 0.1
LIQUID_D, DARCY, PORE = 5e-10, 1.25e-7, 1.5e-3
SORB_HALF, SORB_N, SORB_SHIFT = 0.09, 0.38, 0.005
COVER, LEAK, VENT = 8.0, 5e-9, 1e-6
EMISSIVITY, FILM, VAPOUR_PA = 0.9, 20.0 * 1.13, 4000.0
SIGMA = 5.670374419e-8
GAS = 0.6


def _logistic(x: Array) -> Array:
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(x, -60.0, 60.0))))


def _soft(x: Array, width: float) -> Array:
    return np.asarray(width * np.logaddexp(0.0, x / width))


def _fine_at_both(cells: int) -> Array:
    u = np.linspace(0.03, 0.97, cells + 1)
    f = -np.cos(np.pi * u)
    return np.asarray((f - f[0]) / (f[-1] - f[0]))


def _fine_at_end(cells: int) -> Array:
    f = np.sin(0.48 * np.pi * np.linspace(0.0, 1.0, cells + 1))
    return np.asarray(f / f[-1])


@dataclass
class TinRun:
    """One bake. Half the tin's width [m] (None: no wall, one dimension), conductances [W/m2K], air [°C], cover [s]."""

    half_m: float | None = 0.1
    base: float = 18.0
    wall: float = 18.0
    area_kg_m2: float = 19.1
    start_c: float = 28.0
    air_c: float = 170.0
    covered_s: float = 0.0
    columns: int = 14
    rows: int = 16
    seconds: Array = field(default_factory=lambda: np.zeros(1))
    temperature_c: Array = field(default_factory=lambda: np.zeros((1, 1, 1)))

    def __post_init__(self) -> None:
        gas = GAS / (1.0 - GAS) * (DRY_VOLUME + 1e-3 * FIRST_WATER)
        self.volume = DRY_VOLUME + 1e-3 * FIRST_WATER + gas
        self.height = self.area_kg_m2 / (1.0 + FIRST_WATER) * self.volume
        self.dz = np.diff(_fine_at_both(self.rows)) * self.height
        if self.half_m is None:
            self.columns = 1
            self.dx = np.ones(1)
        else:
            self.dx = np.diff(_fine_at_end(self.columns)) * self.half_m

    def _closures(self, t: Array, w: Array) -> tuple[Array, Array, Array, Array, Array]:
        """Vapour pressure, its excess over air pressure, vapour and heat conductivity, liquid diffusion of cells."""
        a = 1.0 / (1.0 + (w / (SORB_HALF * np.exp(-SORB_SHIFT * (t - 25.0)))) ** (-1.0 / SORB_N))
        p = a * np.exp(23.2916 - 3882.28 / (t + 229.943))
        p_t = p * 3882.28 / (t + 229.943) ** 2 + p * (1.0 - a) * SORB_SHIFT / SORB_N
        dry = _logistic((0.35 * FIRST_WATER - w) / (0.03 * FIRST_WATER))
        pores = 1.0 - (DRY_VOLUME + 1e-3 * w) / self.volume
        go = GO_SHARE + (1.0 - GO_SHARE) * np.maximum(dry, _logistic((p / PRESSURE - 0.93) / 0.01))
        kelvin = t + 273.15
        diffusion = 2.2e-5 * 101325.0 / PRESSURE * (kelvin / 273.15) ** 1.81
        g = pores * (OPEN_CRUMB * (1.0 - dry) + OPEN_CRUST * dry) * diffusion * 0.01801528 / (8.314462618 * kelvin)
        g = g / np.maximum(0.03, _soft(1.0 - p / PRESSURE, 0.08))
        steam = g * (2.501e6 + (1780.0 - 4190.0) * t) * p_t
        steam = steam * K_CEILING / (steam + K_CEILING)
        solid = K_DRY + (K_WET - K_DRY) * np.minimum(1.0, w / FIRST_WATER)
        gas = 0.026 + 6e-5 * t + 4.0 * SIGMA * kelvin**3 * PORE
        k = solid * (2 * solid + gas - 2 * pores * (solid - gas)) / (2 * solid + gas + pores * (solid - gas))
        k = k * (1.0 + (CRUST_K - 1.0) * dry) + (1.0 - go) * steam
        liquid = LIQUID_D * kelvin / 298.15 * 10 ** (247.8 / 158.15 - 247.8 / (kelvin - 140.0))
        return p, _soft(p - PRESSURE, 400.0), go * g, k, liquid * np.minimum(1.0, w / FIRST_WATER) ** 2 / self.volume

    def _rates(self, time_s: float, u: Array) -> Array:
        """d(T, W)/dt of every cell."""
        count, shape = self.rows * self.columns, (self.rows, self.columns)
        t, w = u[:count].reshape(shape), np.maximum(u[count:], 1e-4).reshape(shape)
        p, x, g, k, liquid = self._closures(t, w)
        heat, water = np.zeros(shape), np.zeros(shape)
        for axis, size in ((0, self.dz[:, None]), (1, self.dx[None, :])):
            if shape[axis] < 2:
                continue
            low = (slice(None, -1), slice(None)) if axis == 0 else (slice(None), slice(None, -1))
            high = (slice(1, None), slice(None)) if axis == 0 else (slice(None), slice(1, None))
            wide = np.broadcast_to(size, shape)

            def face(c: Array, low=low, high=high, wide=wide) -> Array:  # type: ignore[no-untyped-def]
                return np.asarray(1.0 / (0.5 * wide[low] / c[low] + 0.5 * wide[high] / c[high]))

            vapour = face(g) * (p[low] - p[high]) + 2.0 * DARCY / (wide[low] + wide[high]) * (x[low] - x[high])
            creep = face(liquid) * (w[low] - w[high])
            middle = 0.5 * (t[low] + t[high])
            q = face(k) * (t[low] - t[high]) + vapour * (2.501e6 + 1780.0 * middle) + creep * 4190.0 * middle
            for side, sign in ((low, -1.0), (high, 1.0)):
                heat[side] += sign * q / wide[side]
                water[side] += sign * (vapour + creep) / wide[side]
        heat[0] += (self.air_c - t[0]) / (1.0 / self.base + 0.5 * self.dz[0] / k[0]) / self.dz[0]
        if self.half_m is not None:
            wall = 1.0 / self.wall + 0.5 * self.dx[-1] / k[:, -1]
            heat[:, -1] += (self.air_c - t[:, -1]) / wall / self.dx[-1]
        if time_s < self.covered_s:
            above, film = COVER, LEAK
        else:
            hot, skin = self.air_c + 273.15, t[-1] + 273.15
            above = FILM + EMISSIVITY * SIGMA * (hot * hot + skin * skin) * (hot + skin)
            film = 0.622 * FILM / (1010.0 * PRESSURE * 0.9)
        u_top = 1.0 / (1.0 / above + 0.5 * self.dz[-1] / k[-1])
        out = (p[-1] - VAPOUR_PA) / (1.0 / film + 0.5 * self.dz[-1] / g[-1]) + VENT * x[-1]
        heat[-1] += (u_top * (self.air_c - t[-1]) - out * (2.501e6 + 1780.0 * t[-1])) / self.dz[-1]
        water[-1] -= out / self.dz[-1]
        w_rate = water * self.volume
        t_rate = (heat * self.volume - 4190.0 * t * w_rate) / (DRY_HEAT + 4190.0 * w)
        return np.concatenate([t_rate.ravel(), w_rate.ravel()])

    def _neighbours(self) -> csr_array:
        count = self.rows * self.columns
        found = lil_array((2 * count, 2 * count))
        for i in range(self.rows):
            for j in range(self.columns):
                for a, b in ((i, j), (i + 1, j), (i - 1, j), (i, j + 1), (i, j - 1)):
                    if 0 <= a < self.rows and 0 <= b < self.columns:
                        for row in (i * self.columns + j, i * self.columns + j + count):
                            for column in (a * self.columns + b, a * self.columns + b + count):
                                found[row, column] = 1.0
        return csr_array(found)

    def run(self, minutes: float) -> "TinRun":
        """Bake, and keep the temperatures (rows, columns, K) at every minute."""
        count = self.rows * self.columns
        u = np.concatenate([np.full(count, self.start_c), np.full(count, FIRST_WATER)])
        self.seconds = np.arange(0.0, 60.0 * minutes + 1.0, 60.0)
        stretches = [(0.0, self.covered_s), (self.covered_s, self.seconds[-1])] if self.covered_s else []
        kept = [u[:, None]]
        near = np.concatenate([np.full(count, 3e-3), np.full(count, 1e-5)])
        for begin, end in stretches or [(0.0, self.seconds[-1])]:
            wanted = self.seconds[(self.seconds > begin) & (self.seconds <= end)]
            solved = solve_ivp(
                self._rates, (begin, end), kept[-1][:, -1], method="BDF", t_eval=wanted, rtol=1e-4, atol=near,
                jac_sparsity=self._neighbours(),
            )  # fmt: skip
            if not solved.success:
                raise RuntimeError(solved.message)
            kept.append(solved.y)
        whole = np.concatenate(kept, axis=1)
        self.temperature_c = whole[:count].reshape(self.rows, self.columns, -1)
        return self

    def core_c(self, from_wall_m: float | None = None) -> Array:
        """Coldest of the middle half of the height at a distance from the wall, minute by minute [°C]."""
        z = np.cumsum(self.dz) - 0.5 * self.dz
        inside = (z > 0.25 * self.height) & (z < 0.75 * self.height)
        if self.half_m is None or from_wall_m is None:
            return np.asarray(self.temperature_c[inside, 0].min(axis=0))
        x = np.cumsum(self.dx) - 0.5 * self.dx
        column = np.stack(
            [
                [np.interp(self.half_m - from_wall_m, x, row[:, k]) for k in range(self.seconds.size)]
                for row in self.temperature_c
            ]
        )
        return np.asarray(column[inside].min(axis=0))


def bar_c(
    minutes: float, half_m: float, height_m: float, wall: float, ends: float, diffusivity: float, k: float,
    start_c: float, air_c: float, from_wall_m: tuple[float, ...], cells: int = 60,
) -> tuple[float, ...]:  # fmt: skip
    """The same geometry with constant properties and no water: middle of the height of a bar, explicit in time [°C]."""
    dx, dz = half_m / cells, height_m / cells
    dt = 0.2 * min(dx, dz) ** 2 / diffusivity
    steps = int(np.ceil(60.0 * minutes / dt))
    dt = 60.0 * minutes / steps
    t = np.full((cells, cells), start_c)
    u_wall = 1.0 / (1.0 / wall + 0.5 * dx / k)
    u_end = 1.0 / (1.0 / ends + 0.5 * dz / k)
    for _ in range(steps):
        q = np.zeros_like(t)
        f = (t[:-1] - t[1:]) * k / dz / dz
        q[:-1] -= f
        q[1:] += f
        f = (t[:, :-1] - t[:, 1:]) * k / dx / dx
        q[:, :-1] -= f
        q[:, 1:] += f
        q[0] += u_end * (air_c - t[0]) / dz
        q[-1] += u_end * (air_c - t[-1]) / dz
        q[:, -1] += u_wall * (air_c - t[:, -1]) / dx
        t = t + dt * q * diffusivity / k
    x = (np.arange(cells) + 0.5) * dx
    middle = 0.5 * (t[cells // 2 - 1] + t[cells // 2])
    return tuple(float(np.interp(half_m - distance, x, middle)) for distance in from_wall_m)
