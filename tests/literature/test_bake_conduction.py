"""The oven's kernel against solutions that exist on paper, and against another solver."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.special import erf, j0, j1

from oventide.bake.position import slab_theta
from oventide.evidence.parameters import draw, load
from oventide.matter.properties import porous_conductivity_w_mk
from oventide.matter.water import latent_heat_j_kg
from oventide.timeline import oven_parameters as at
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import OvenStage, Shares, advance_oven, oven_parameters, start_oven

SHARES = Shares(0.36, 0.085, 0.12, 0.405, 0.015, 0.015)

# Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table 5.1 (values from memory, high confidence)
ONE_TERM = [
    ("slab", 0.1, 0.3111, 1.0161), ("slab", 1.0, 0.8603, 1.1191), ("slab", 10.0, 1.4289, 1.2620),
    ("cylinder", 0.1, 0.4417, 1.0246), ("cylinder", 1.0, 1.2558, 1.2071), ("cylinder", 10.0, 2.1795, 1.5677),
    ("sphere", 0.1, 0.5423, 1.0298), ("sphere", 1.0, 1.5708, 1.2732), ("sphere", 10.0, 2.8363, 1.9249),
]  # fmt: skip


@pytest.mark.parametrize(("shape", "biot", "zeta_printed", "c_printed"), ONE_TERM)
def test_one_term_coefficients(shape: str, biot: float, zeta_printed: float, c_printed: float) -> None:
    if shape == "slab":
        zeta = brentq(lambda z: z * math.sin(z) - biot * math.cos(z), 1e-6, math.pi / 2)
        c = 4 * math.sin(zeta) / (2 * zeta + math.sin(2 * zeta))
    elif shape == "cylinder":
        zeta = brentq(lambda z: z * j1(z) - biot * j0(z), 1e-6, 2.4048)
        c = 2 / zeta * j1(zeta) / (j0(zeta) ** 2 + j1(zeta) ** 2)
    else:
        zeta = brentq(lambda z: math.sin(z) - z * math.cos(z) - biot * math.sin(z), 1e-3, math.pi - 1e-9)
        c = 4 * (math.sin(zeta) - zeta * math.cos(zeta)) / (2 * zeta - math.sin(2 * zeta))
    assert zeta == pytest.approx(zeta_printed, abs=1e-4)
    assert c == pytest.approx(c_printed, abs=1e-4)
    if shape == "slab":  # the package's own series, late enough for one term to carry it
        assert slab_theta(0.0, 2.0, biot) == pytest.approx(c_printed * math.exp(-2.0 * zeta_printed**2), rel=2e-3)


def _plain(members: int = 1) -> dict[str, np.ndarray]:
    parameters = [*load("bake").parameters.values(), *load("matter").parameters.values()]
    return draw(parameters, members, seed=1)


def _bare_stage(
    film_top: float, film_base: float, air_c: float, seconds: float, step_s: float, count: int
) -> OvenStage:
    box = np.zeros((1, at.NSTAGE))
    box[:, at.S_FILM], box[:, at.S_TIN], box[:, at.S_COVER], box[:, at.S_DOME] = film_top, film_base, -1.0, 1.0
    return OvenStage(
        box, np.array([0.0]), np.array([[air_c]]), np.linspace(0, seconds, count), np.array([seconds]), None, step_s
    )


def test_without_vapour_it_is_the_slab_series() -> None:
    """Symmetric slab, Bi about 1.3, against the full series (Incropera & DeWitt, section 5.5)."""
    par = oven_parameters(SHARES, _plain(), np.array([28.0]), np.array([1e-6]))
    for index in (at.OPEN_CRUMB, at.OPEN_CRUST, at.LIQUID_D, at.DARCY, at.FAT, at.PORE, at.RETAINED):
        par[:, index] = 0.0
    par[:, at.K_WET] = par[:, at.K_DRY] = 0.38
    state = start_oven(np.full((1, 91), 28.0), SHARES, np.array([1e-6]), np.array([50.0]), graded_faces(91))
    run = advance_oven(state, _bare_stage(20.0, 20.0, 170.0, 1800.0, 0.5, 4), par)
    first = SHARES.first_water
    dense = par[0, at.DRY_VOLUME] + 1e-3 * first
    dry = 50.0 / (1.0 + first)
    half = 0.5 * dry * 1.05 * dense  # the kernel keeps 5 % of pores at least
    k = porous_conductivity_w_mk(0.38, 0.03, 1.0 - 1.0 / 1.05)
    heat = dry * (par[0, at.DRY_HEAT] + 4190.0 * first) / (2.0 * half)
    for sample, seconds in enumerate((600.0, 1200.0, 1800.0), start=1):
        theta = slab_theta(0.0, k / heat * seconds / half**2, 20.0 * half / k)
        assert run.samples[0, sample, at.OBS_CENTRE] == pytest.approx(170.0 - 142.0 * theta, abs=0.06)


def _stefan(par: np.ndarray, density_dry: float, k: float, first: float, step_c: float, seconds: float) -> float:
    """Water gone behind a drying front [kg/m2]: Stefan's problem with the vapour warming up on its way out.

    T'' + 2(η + βλ)T' = 0, so λ (erf((1+β)λ) - erf(βλ)) exp((1+β)²λ²) = ρ c ΔT/(L ρ_w √π), β = ρ_w c_v/(ρ c).
    """
    heat = density_dry * par[0, at.DRY_HEAT]
    water = density_dry * first
    beta = water * 1780.0 / heat
    right = heat * step_c / (latent_heat_j_kg(100.0) * water * math.sqrt(math.pi))
    lam = brentq(
        lambda x: x * (erf((1 + beta) * x) - erf(beta * x)) * math.exp(((1 + beta) * x) ** 2) - right, 1e-6, 3.0
    )
    return water * 2.0 * lam * math.sqrt(k / heat * seconds)


def test_drying_front_is_stefans() -> None:
    """Slab at the boiling point, face held at 170 °C: water lost after 5, 15, 30 min (Carslaw & Jaeger, ch. 11).

    The paper's front stands at the boiling point; ours finds its own temperature, so a few per cent are expected.
    """
    par = oven_parameters(SHARES, _plain(), np.array([99.5]), np.array([0.75]))
    par[:, at.OPEN_CRUMB] = par[:, at.OPEN_CRUST] = 0.05
    par[:, at.LIQUID_D] = par[:, at.FAT] = par[:, at.PORE] = par[:, at.RETAINED] = 0.0
    par[:, at.CRUST_K], par[:, at.CRUST_RATIO] = 1.0, 1.0
    par[:, at.K_WET] = par[:, at.K_DRY] = 0.38
    state = start_oven(np.full((1, 120), 99.5), SHARES, np.array([0.75]), np.array([19.1]), graded_faces(120, 0.002))
    stage = _bare_stage(5000.0, 0.0, 170.0, 1800.0, 1.0, 7)
    stage.conductances[:, at.S_MASS_TOP] = 1e-5
    run = advance_oven(state, stage, par)
    first = SHARES.first_water
    volume = (par[0, at.DRY_VOLUME] + 1e-3 * first) / 0.25
    porosity = 1.0 - par[0, at.DRY_VOLUME] / volume
    k = porous_conductivity_w_mk(0.38, 0.026 + 6e-5 * 135.0, porosity)
    ours = run.samples[0, [1, 3, 6], at.OBS_LOSS] * 19.1
    paper = [_stefan(par, 1.0 / volume, k, first, 70.0, seconds) for seconds in (300.0, 900.0, 1800.0)]
    assert ours == pytest.approx(paper, rel=0.06)


def _rates(
    time_s: float, u: np.ndarray, mass: np.ndarray, par: np.ndarray, air_c: float, box: np.ndarray
) -> np.ndarray:
    """The same equations written a second time, in NumPy, for SciPy's BDF. Gas volume fixed, no fat."""
    n = len(mass)
    T, W = u[:n], np.maximum(u[n:], 1e-4)
    P, first = par[at.PRESSURE], par[at.FIRST_WATER]
    gas = 0.60 / 0.40 * (par[at.DRY_VOLUME] + 1e-3 * first)
    sigmoid = lambda x: 1.0 / (1.0 + np.exp(-np.clip(x, -60, 60)))  # noqa: E731
    soft = lambda x, w: w * np.logaddexp(0.0, x / w)  # noqa: E731
    a = 1.0 / (1.0 + (W / (par[at.SORB_HALF] * np.exp(-par[at.SORB_SHIFT] * (T - 25.0)))) ** (-1.0 / par[at.SORB_N]))
    psat = np.exp(23.2916 - 3882.28 / (T + 229.943))
    p = a * psat
    a_t = a * (1 - a) * par[at.SORB_SHIFT] / par[at.SORB_N]
    p_t = p * 3882.28 / (T + 229.943) ** 2 + psat * a_t
    dry = sigmoid((0.35 * first - W) / (0.03 * first))
    dense = par[at.DRY_VOLUME] + 1e-3 * W
    whole = par[at.DRY_VOLUME] + 1e-3 * first + gas
    volume = np.maximum(1.05 * dense, (1 - dry) * (dense + gas) + dry * par[at.CRUST_RATIO] * whole)
    eps = 1 - dense / volume
    go = par[at.GO_SHARE] + (1 - par[at.GO_SHARE]) * np.maximum(dry, sigmoid((p / P - 0.93) / 0.01))
    K = T + 273.15
    diffusion = 2.2e-5 * 101325.0 / P * (K / 273.15) ** 1.81
    pores = eps * (par[at.OPEN_CRUMB] * (1 - dry) + par[at.OPEN_CRUST] * dry)
    g = pores * diffusion * 0.01801528 / (8.314462618 * K) / np.maximum(0.03, soft(1 - p / P, 0.08))
    latent = 2.501e6 + (1780.0 - 4190.0) * T
    steam = g * latent * p_t
    steam = steam * par[at.K_CEILING] / (steam + par[at.K_CEILING])
    ks = par[at.K_DRY] + (par[at.K_WET] - par[at.K_DRY]) * np.minimum(1, W / first)
    kg = 0.026 + 6e-5 * T + 4 * 5.670374419e-8 * K**3 * par[at.PORE]
    k = ks * (2 * ks + kg - 2 * eps * (ks - kg)) / (2 * ks + kg + eps * (ks - kg))
    k = k * (1 + (par[at.CRUST_K] - 1) * dry) + (1 - go) * steam
    liquid_d = par[at.LIQUID_D] * K / 298.15 * 10 ** (247.8 / 158.15 - 247.8 / (K - 140.0))
    liquid_d = liquid_d * np.minimum(1, W / first) ** 2 / volume
    dx = mass * volume
    face = lambda c: 1.0 / (0.5 * dx[:-1] / c[:-1] + 0.5 * dx[1:] / c[1:])  # noqa: E731
    x = soft(p - P, 400.0)
    vapour = face(go * g) * (p[:-1] - p[1:]) + par[at.DARCY] / (0.5 * (dx[:-1] + dx[1:])) * (x[:-1] - x[1:])
    liquid = face(liquid_d) * (W[:-1] - W[1:])
    middle = 0.5 * (T[:-1] + T[1:])
    q = np.zeros(n + 1)
    j = np.zeros(n + 1)
    q[1:-1] = face(k) * (T[:-1] - T[1:]) + vapour * (2.501e6 + 1780.0 * middle) + liquid * 4190.0 * middle
    j[1:-1] = vapour + liquid
    q[0] = (air_c - T[0]) / (1 / box[at.S_TIN] + box[at.S_CONTACT] + 0.5 * dx[0] / k[0])
    wall, skin = air_c + 273.15, K[-1]
    radiation = box[at.S_EMISSIVITY] * 5.670374419e-8 * (wall**2 + skin**2) * (wall + skin)
    u_top = 1 / (1 / (box[at.S_FILM] * box[at.S_DOME] + radiation) + 0.5 * dx[-1] / k[-1])
    film = 1 / (1 / (box[at.S_MASS_TOP] * box[at.S_DOME]) + 0.5 * dx[-1] / (go[-1] * g[-1]))
    j[-1] = film * (p[-1] - box[at.S_VAPOUR]) + box[at.S_VENT] * x[-1]
    q[-1] = -u_top * (air_c - T[-1]) + j[-1] * (2.501e6 + 1780.0 * T[-1])
    w_rate = -(j[1:] - j[:-1]) / mass
    e_rate = -(q[1:] - q[:-1]) / mass
    t_rate = (e_rate - 4190.0 * T * w_rate) / (par[at.DRY_HEAT] + 4190.0 * W)
    return np.concatenate([t_rate, w_rate])


@pytest.mark.slow
def test_another_solver_gives_the_same_bake() -> None:
    """Open tin, 25 min at 170 °C: SciPy's BDF on the equations written anew, to 0.1 °C and 0.02 points of loss."""
    from oventide.timeline.oven import oven_stage

    draws = _plain()
    par = oven_parameters(SHARES, draws, np.array([28.0]), np.array([0.6]))
    par[:, at.FAT] = par[:, at.RETAINED] = 0.0
    state = start_oven(np.full((1, 24), 28.0), SHARES, np.array([0.6]), np.array([19.1]), graded_faces(24))
    stage = oven_stage(
        "convection", "light_metal", False, np.array([0.0]), np.array([170.0]), np.array([0.0, 600.0, 1500.0]),
        np.array([1500.0]), draws, longest_step_s=0.25,
    )  # fmt: skip
    stage.conductances[:, at.S_TIN_HEAT] = 0.0  # a wall without mass
    run = advance_oven(state, stage, par, keep_profiles=1)
    mass = state.dry_mass_kg_m2[0] * np.diff(state.faces)
    start = np.concatenate([state.temperature_c[0], state.water[0]])
    other = solve_ivp(
        _rates, (0.0, 1500.0), start, method="BDF", t_eval=[600.0, 1500.0], rtol=1e-5, atol=1e-6,
        args=(mass, par[0], 170.0, stage.conductances[0]),
    )  # fmt: skip
    assert other.success
    for sample, column in ((1, 0), (2, 1)):
        assert run.profiles[0, sample, :, 0] == pytest.approx(other.y[:24, column], abs=0.1)
    lost = (mass * (state.water[0] - other.y[24:, 1])).sum() / 19.1
    assert run.samples[0, 2, at.OBS_LOSS] == pytest.approx(lost, abs=2e-4)
