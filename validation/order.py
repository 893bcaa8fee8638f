"""Order of accuracy of the kernels in space and time, against solutions that exist on paper.

Slab and cylinder: the eigenfunction series of conduction with a film (Carslaw & Jaeger; Incropera & DeWitt). Drying
front: Stefan's problem in a half-space. A rectangular piece is a product of slabs and has no kernel of its own
(bake/position.py); no kernel is spherical.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import erf, j0, j1

from oventide.dough.gas import relative_volume
from oventide.dough.state import NY, P_DENSE_ML, P_FRESH_ML, ferment_parameters, initial_ferment, parameters
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition
from oventide.matter.properties import gas_conductivity_w_mk, porous_conductivity_w_mk
from oventide.matter.water import latent_heat_j_kg
from oventide.timeline import oven_parameters as at
from oventide.timeline.hold import OBS_MEAN_C, DoughPhysics, HoldStage, HoldState, advance_hold
from oventide.timeline.oven import OvenStage, Shares, advance_oven, oven_parameters, start_oven

Array = NDArray[np.float64]
ONE = np.ones(1)
DEAD = Composition(
    mass_g=1600, flour_g=1000, water_g=720, added_water_g=580, water_from_liquid_g=580, water_from_egg_g=0,
    water_from_butter_g=0, water_from_dairy_g=0, water_from_other_g=0, fat_g=12, milk_fat_g=0, sugars_g=0, sucrose_g=0,
    lactose_g=0, starch_g=700, fibre_g=30, protein_g=120, milk_protein_g=0, egg_g=0, salt_g=20, ash_g=25, alcohol_g=0,
    yeast_dry_matter_g=0, yeast_kind="none", spice_g=0,
)  # fmt: skip
"""Dough without yeast: conduction alone."""
SHARES = Shares(0.36, 0.085, 0.12, 0.405, 0.015, 0.015)
DENSE_K, DENSITY, HEAT = 0.45, 1200.0, 2700.0


@dataclass(frozen=True)
class Study:
    """Errors of one kernel while one thing is refined."""

    name: str
    what: str
    kernel: str
    refined: str
    """What is refined: "cells" or "step [s]"."""
    sizes: tuple[float, ...]
    """From coarse to fine."""
    errors: tuple[float, ...]
    unit: str
    wanted: float
    note: str = ""

    @property
    def order(self) -> float:
        """Slope of log error over log size, by least squares."""
        slope = float(np.polyfit(np.log(self.sizes), np.log(self.errors), 1)[0])
        return -slope if self.refined == "cells" else slope


# --- solutions on paper ------------------------------------------------------------------------------------------


def slab_mean(biot: float, fourier: float) -> float:
    """Mean θ of a slab of half thickness 1: Σ 2 Bi²/(ζ²(ζ² + Bi² + Bi)) exp(-ζ² Fo), ζ tan ζ = Bi."""
    roots = [
        brentq(lambda z: z * math.sin(z) - biot * math.cos(z), n * math.pi, (n + 0.5) * math.pi) for n in range(60)
    ]
    return sum(2 * biot**2 / (z**2 * (z**2 + biot**2 + biot)) * math.exp(-(z**2) * fourier) for z in roots)


def cylinder_mean(biot: float, fourier: float) -> float:
    """Mean θ of a cylinder of radius 1: Σ 4 Bi²/(ζ²(ζ² + Bi²)) exp(-ζ² Fo), ζ J1 = Bi J0."""
    grid = np.linspace(1e-6, 150, 60_000)
    value = grid * j1(grid) - biot * j0(grid)
    roots = [
        brentq(lambda z: z * j1(z) - biot * j0(z), grid[i], grid[i + 1])
        for i in np.flatnonzero(value[:-1] * value[1:] < 0)
    ]
    return sum(4 * biot**2 / (z**2 * (z**2 + biot**2)) * math.exp(-(z**2) * fourier) for z in roots)


def stefan_water(
    heat: float, water: float, conductivity: float, step_c: float, seconds: float, vapour_heat: float = 1780.0
) -> float:
    """Water gone behind a drying front [kg/m2], its vapour warming up on the way out.

    λ (erf((1 + β) λ) - erf(β λ)) exp((1 + β)² λ²) = ρ c ΔT/(L ρ_w √π), β = ρ_w c_v/(ρ c).
    """
    beta = water * vapour_heat / heat
    right = heat * step_c / (latent_heat_j_kg(100.0) * water * math.sqrt(math.pi))
    lam = brentq(lambda x: x * (erf((1 + beta) * x) - erf(beta * x)) * math.exp(((1 + beta) * x) ** 2) - right, 1e-6, 3)
    return water * 2.0 * lam * math.sqrt(conductivity / heat * seconds)


# --- the kernels -------------------------------------------------------------------------------------------------


def _hold(shape: str, size_m: float, film: float, cells: int, seconds: float, step_s: float) -> tuple[float, float]:
    """Mean temperature [°C] after a time in air of 5 °C from 25 °C, and the paper's, of dough without yeast."""
    draws = draw([*parameters(), *load("matter").parameters.values()], 1, 0)
    p = ferment_parameters(DEAD, draws)
    ferment = np.zeros((1, cells, NY))
    ferment[:] = initial_ferment(DEAD, draws)[:, None, :]
    stage = HoldStage(
        shape="cylinder" if shape == "cylinder" else "slab",
        faces=np.linspace(0, 1, cells + 1),
        thickness_m=size_m * ONE,
        h_bottom=film * ONE,
        h_top=film * ONE,
        air_s=np.array([0.0]),
        air_c=np.array([[5.0]]),
        bench=None,
        rise_free=False,
        sample_s=np.arange(0.0, seconds + 0.5 * step_s, step_s),
        end_s=seconds * ONE,
        until=None,
    )
    physics = DoughPhysics(DENSITY * ONE, HEAT * ONE, DENSE_K * ONE, 0 * ONE)
    run = advance_hold(HoldState(np.full((1, cells), 25.0), ferment), stage, physics, p, draws)
    # the body is as large as its gas makes it at 25 °C
    dense = p[0, P_DENSE_ML] / p[0, P_FRESH_ML]
    volume = relative_volume(ferment[0, 0], p[0], 25.0)
    k = porous_conductivity_w_mk(DENSE_K, gas_conductivity_w_mk(20.0), 1.0 - dense / volume)
    half = size_m / 2 * (math.sqrt(volume) if shape == "cylinder" else volume)
    fourier = k / (DENSITY * dense / volume * HEAT) * seconds / half**2
    theta = (cylinder_mean if shape == "cylinder" else slab_mean)(film * half / k, fourier)
    return float(run.samples[0, -1, OBS_MEAN_C]), 5.0 + 20.0 * theta


def _bare_oven(film_top: float, film_base: float, seconds: float, step_s: float) -> OvenStage:
    """Films and nothing else: no radiation, no vapour in the air."""
    box = np.zeros((1, at.NSTAGE))
    box[:, at.S_FILM], box[:, at.S_TIN], box[:, at.S_COVER], box[:, at.S_DOME] = film_top, film_base, -1.0, 1.0
    return OvenStage(
        box, np.array([0.0]), np.array([[170.0]]), np.array([0.0, seconds]), np.array([seconds]), None, step_s
    )


def _oven_slab(cells: int, step_s: float, seconds: float = 900.0) -> tuple[float, float]:
    """Mean temperature [°C] of a slab between equal films in the oven's kernel without vapour, and the paper's."""
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], 1, seed=1)
    par = oven_parameters(SHARES, draws, np.array([28.0]), np.array([1e-6]))
    for index in (at.OPEN_CRUMB, at.OPEN_CRUST, at.LIQUID_D, at.DARCY, at.FAT, at.PORE, at.RETAINED):
        par[:, index] = 0.0
    par[:, at.K_WET] = par[:, at.K_DRY] = 0.38
    state = start_oven(
        np.full((1, cells), 28.0), SHARES, np.array([1e-6]), np.array([50.0]), np.linspace(0, 1, cells + 1)
    )
    run = advance_oven(state, _bare_oven(20.0, 20.0, seconds, step_s), par)
    first = SHARES.first_water
    dense = par[0, at.DRY_VOLUME] + 1e-3 * first
    dry = 50.0 / (1.0 + first)
    half = 0.5 * dry * 1.05 * dense  # the kernel keeps 5 % of pores at least
    # the pores' gas conducts a little more as it warms; its figure at the slab's mean on the way is taken
    k = porous_conductivity_w_mk(0.38, gas_conductivity_w_mk(45.0), 1.0 - 1.0 / 1.05)
    heat = dry * (par[0, at.DRY_HEAT] + 4190.0 * first) / (2.0 * half)
    theta = slab_mean(20.0 * half / k, k / heat * seconds / half**2)
    return float(run.end.temperature_c[0].mean()), 170.0 - 142.0 * theta


def _front(cells: int, step_s: float = 1.0, seconds: float = 900.0) -> tuple[float, float]:
    """Water gone behind a drying front [kg/m2], its face held at 170 °C, and Stefan's."""
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], 1, seed=1)
    par = oven_parameters(SHARES, draws, np.array([99.5]), np.array([0.75]))
    par[:, at.OPEN_CRUMB] = par[:, at.OPEN_CRUST] = 0.05
    par[:, at.LIQUID_D] = par[:, at.FAT] = par[:, at.PORE] = par[:, at.RETAINED] = 0.0
    par[:, at.CRUST_K], par[:, at.CRUST_RATIO] = 1.0, 1.0
    par[:, at.K_WET] = par[:, at.K_DRY] = 0.38
    state = start_oven(
        np.full((1, cells), 99.5), SHARES, np.array([0.75]), np.array([19.1]), np.linspace(0, 1, cells + 1)
    )
    stage = _bare_oven(5000.0, 0.0, seconds, step_s)
    stage.conductances[:, at.S_MASS_TOP] = 1e-5
    run = advance_oven(state, stage, par)
    first = SHARES.first_water
    volume = (par[0, at.DRY_VOLUME] + 1e-3 * first) / 0.25
    k = porous_conductivity_w_mk(0.38, gas_conductivity_w_mk(135.0), 1.0 - par[0, at.DRY_VOLUME] / volume)
    paper = stefan_water(par[0, at.DRY_HEAT] / volume, first / volume, k, 70.0, seconds)
    return float(run.end.lost_kg_m2[0]), paper


# --- the studies -------------------------------------------------------------------------------------------------


def _errors(solve: Callable[[float], tuple[float, float]], sizes: Sequence[float]) -> tuple[float, ...]:
    return tuple(abs(ours - paper) for ours, paper in (solve(size) for size in sizes))


def _shape_space(shape: str) -> Study:
    sizes = (5.0, 10.0, 20.0, 40.0)
    errors = _errors(lambda cells: _hold(shape, 0.04, 15.0, int(cells), 1800.0, 2.5), sizes)
    what = f"mean of a {shape} of 40 mm after 30 min, film 15 W/(m²·K), against the series"
    return Study(f"{shape}-space", what, "outside the oven", "cells", sizes, errors, "K", 1.8)


def _shape_time(shape: str) -> Study:
    sizes = (15.0, 7.5, 3.75)
    errors = _errors(lambda step: _hold(shape, 0.008, 400.0, 160, 120.0, step), sizes)
    what = f"mean of a {shape} of 8 mm after 2 min, film 400 W/(m²·K), against the series"
    return Study(f"{shape}-time", what, "outside the oven", "step [s]", sizes, errors, "K", 1.8)


@cache
def slab_space() -> Study:
    """Cells of a slab outside the oven."""
    return _shape_space("slab")


@cache
def slab_time() -> Study:
    """Steps of a slab outside the oven."""
    return _shape_time("slab")


@cache
def cylinder_space() -> Study:
    """Cells of a log outside the oven."""
    return _shape_space("cylinder")


@cache
def cylinder_time() -> Study:
    """Steps of a log outside the oven."""
    return _shape_time("cylinder")


@cache
def oven_space() -> Study:
    """Cells of a slab in the oven."""
    sizes = (6.0, 12.0, 24.0)
    errors = _errors(lambda cells: _oven_slab(int(cells), 0.25), sizes)
    what = "mean of a slab of 44 mm after 15 min at 170 °C, vapour off, film 20 W/(m²·K), against the series"
    return Study("oven-space", what, "oven", "cells", sizes, errors, "K", 1.8)


@cache
def oven_time() -> Study:
    """Steps of a slab in the oven: backward Euler."""
    sizes = (60.0, 30.0, 15.0, 7.5)
    errors = _errors(lambda step: _oven_slab(120, step), sizes)
    what = "the same slab, 120 cells"
    return Study("oven-time", what, "oven", "step [s]", sizes, errors, "K", 0.9)


@cache
def front_space() -> Study:
    """Cells of a slab with a drying front: how fast it comes to rest, and where beside Stefan's."""
    sizes = (15.0, 30.0, 60.0, 120.0)
    found = [_front(int(cells)) for cells in (*sizes, 240.0)]
    errors = tuple(abs(a[0] - b[0]) for a, b in pairwise(found))
    last, paper = found[-1]
    what = "water lost behind a drying front in 15 min, face at 170 °C: change on halving the cells"
    note = (
        f"With 240 cells {last:.3f} kg/m², Stefan's solution {paper:.3f}: {100 * (last / paper - 1):.1f} % more. The "
        "paper's front stands at the boiling point; ours finds its own temperature. A front that passes fixed cells "
        "one by one is of the first order at best."
    )
    return Study("front-space", what, "oven", "cells", sizes, errors, "kg/m²", 0.7, note)


STUDIES: tuple[Callable[[], Study], ...] = (
    slab_space,
    slab_time,
    cylinder_space,
    cylinder_time,
    oven_space,
    oven_time,
    front_space,
)
