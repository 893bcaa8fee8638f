"""Conduction of the hold kernel against series and contact solutions (carslaw-jaeger, from memory)."""

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import erf, j0, j1

from oventide.dough.state import NY, P_DENSE_ML, P_FRESH_ML, ferment_parameters, initial_ferment, parameters
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition
from oventide.matter.properties import gas_conductivity_w_mk, porous_conductivity_w_mk
from oventide.timeline.hold import (
    OBS_BOTTOM_C,
    OBS_CORE_C,
    OBS_MEAN_C,
    OBS_TOP_C,
    Bench,
    DoughPhysics,
    HoldStage,
    HoldState,
    advance_hold,
)

Array = NDArray[np.float64]
DEAD = Composition(
    mass_g=1600, flour_g=1000, water_g=720, added_water_g=580, water_from_liquid_g=580, water_from_egg_g=0,
    water_from_butter_g=0, water_from_dairy_g=0, water_from_other_g=0, fat_g=12, milk_fat_g=0, sugars_g=0, sucrose_g=0,
    lactose_g=0, starch_g=700, fibre_g=30, protein_g=120, milk_protein_g=0, egg_g=0, salt_g=20, ash_g=25, alcohol_g=0,
    yeast_dry_matter_g=0, yeast_kind="none", spice_g=0,
)  # fmt: skip
DENSE_K, DENSITY, HEAT = 0.45, 1200.0, 2700.0
ONE = np.ones(1)
DRAWS = draw(parameters() + list(load("matter").parameters.values()), 1, 0)
P = ferment_parameters(DEAD, DRAWS)
AIR_SHARE = 1.0 - P[0, P_DENSE_ML] / P[0, P_FRESH_ML]
K = porous_conductivity_w_mk(DENSE_K, gas_conductivity_w_mk(20.0), AIR_SHARE)
DIFFUSIVITY = K / (DENSITY * (1.0 - AIR_SHARE) * HEAT)


def run(shape, thickness, start_c, air_c, seconds, h_top, h_bottom=0.0, cells=40, bench=None, samples=None, faces=None):
    sample_s = np.linspace(0.0, seconds, 31) if samples is None else samples
    physics = DoughPhysics(DENSITY * ONE, HEAT * ONE, DENSE_K * ONE, 0 * ONE)
    ferment = np.zeros((1, cells, NY))
    ferment[:] = initial_ferment(DEAD, DRAWS)[:, None, :]
    stage = HoldStage(
        shape=shape, faces=np.linspace(0, 1, cells + 1) if faces is None else faces, thickness_m=thickness * ONE,
        h_bottom=h_bottom * ONE, h_top=h_top * ONE, air_s=np.array([0.0]), air_c=np.array([[air_c]]), bench=bench,
        rise_free=False, sample_s=sample_s, end_s=seconds * ONE, until=None,
    )  # fmt: skip
    state = HoldState(np.full((1, cells), start_c), ferment)
    return sample_s, advance_hold(state, stage, physics, P, DRAWS)


def slab_core(half: float, h: float, times: Array) -> Array:
    """θ at the middle plane: Σ 4 sin ζ/(2ζ + sin 2ζ) exp(-ζ²Fo), ζ tan ζ = Bi."""
    biot, fourier = h * half / K, DIFFUSIVITY * times / half**2
    roots = [brentq(lambda z: z * np.sin(z) - biot * np.cos(z), n * np.pi, n * np.pi + np.pi / 2) for n in range(40)]
    return sum(4 * np.sin(z) / (2 * z + np.sin(2 * z)) * np.exp(-(z**2) * fourier) for z in roots)


def cylinder_core(radius: float, h: float, times: Array) -> Array:
    """θ on the axis: Σ 2 J1(ζ)/(ζ(J0² + J1²)) exp(-ζ²Fo), ζ J1 = Bi J0."""
    biot, fourier = h * radius / K, DIFFUSIVITY * times / radius**2
    grid = np.linspace(1e-6, 120, 60000)
    value = grid * j1(grid) - biot * j0(grid)
    roots = [
        brentq(lambda z: z * j1(z) - biot * j0(z), grid[i], grid[i + 1])
        for i in np.flatnonzero(value[:-1] * value[1:] < 0)
    ]
    return sum(2 * j1(z) / (z * (j0(z) ** 2 + j1(z) ** 2)) * np.exp(-(z**2) * fourier) for z in roots)


@pytest.mark.parametrize(("thickness", "h"), [(0.02, 5.0), (0.04, 8.0), (0.12, 15.0)])
def test_slab_cooled_on_both_faces_follows_the_series(thickness: float, h: float) -> None:
    seconds = 3.0 * 3600
    times, got = run("slab", thickness, 25.0, 5.0, seconds, h, h_bottom=h)
    expected = 5.0 + 20.0 * slab_core(thickness / 2, h, times)
    late = DIFFUSIVITY * times / (thickness / 2) ** 2 > 0.05
    assert np.abs(got.samples[0, late, OBS_CORE_C] - expected[late]).max() < 0.05


def test_slab_on_an_insulated_floor_is_half_of_a_symmetric_one() -> None:
    times, got = run("slab", 0.03, 25.0, 5.0, 7200.0, 8.0)
    expected = 5.0 + 20.0 * slab_core(0.03, 8.0, times)
    late = DIFFUSIVITY * times / 0.03**2 > 0.05
    assert np.abs(got.samples[0, late, OBS_BOTTOM_C] - expected[late]).max() < 0.05


@pytest.mark.parametrize(("diameter", "h"), [(0.05, 8.0), (0.065, 5.0), (0.10, 15.0)])
def test_cylinder_follows_the_series(diameter: float, h: float) -> None:
    times, got = run("cylinder", diameter, 20.0, 4.0, 2.5 * 3600, h)
    expected = 4.0 + 16.0 * cylinder_core(diameter / 2, h, times)
    late = DIFFUSIVITY * times / (diameter / 2) ** 2 > 0.05
    assert np.abs(got.samples[0, late, OBS_CORE_C] - expected[late]).max() < 0.05


def test_dough_on_a_thick_bench_follows_two_half_spaces_in_contact() -> None:
    """Contact temperature (e1 T1 + e2 T2)/(e1 + e2), and erf into the dough, while both are deep."""
    bench_k, bench_c = 2.8, 2.2e6
    bench = Bench(bench_k * ONE, bench_c * ONE, 0.20 * ONE, 1e-9 * ONE, 15.0 * ONE)
    # cells of 0.2 mm at the bench, growing upwards
    steps = 1.08 ** np.arange(60)
    faces = np.concatenate([[0.0], np.cumsum(steps) / steps.sum()])
    times = np.array([0.0, 60.0, 120.0, 300.0, 600.0])
    _, got = run("slab", 0.20, 25.0, 25.0, 600.0, 1e-9, bench=bench, cells=60, samples=times, faces=faces)
    dough_e = np.sqrt(K * DENSITY * (1 - AIR_SHARE) * HEAT)
    bench_e = np.sqrt(bench_k * bench_c)
    contact = (dough_e * 25.0 + bench_e * 15.0) / (dough_e + bench_e)
    assert np.abs(got.samples[0, 1:, OBS_BOTTOM_C] - contact).max() < 0.1
    depth = 0.20 * (faces[1:] + faces[:-1]) / 2
    expected = contact + (25.0 - contact) * erf(depth / (2 * np.sqrt(DIFFUSIVITY * 600.0)))
    assert np.abs(got.end.temperature_c[0] - expected).max() < 0.1


def test_granite_cools_a_thin_sheet_in_minutes_and_wood_in_tens_of_minutes() -> None:
    """Common practice, no source. A 6 mm sheet of 24 °C on a 16 °C bench in 16 °C air, time to 18 °C."""
    minutes = {}
    for name, k, c in (("granite", 2.8, 2.2e6), ("wood", 0.16, 0.9e6)):
        bench = Bench(k * ONE, c * ONE, 0.03 * ONE, 2e-3 * ONE, 16.0 * ONE)
        times = np.linspace(0, 5400, 181)
        _, got = run("slab", 0.006, 24.0, 16.0, 5400.0, 8.0, bench=bench, cells=16, samples=times)
        minutes[name] = float(times[np.argmax(got.samples[0, :, OBS_MEAN_C] < 18.0)]) / 60
    assert 1.0 < minutes["granite"] < 8.0
    assert 10.0 < minutes["wood"] < 60.0


def test_top_surface_is_between_dough_and_air() -> None:
    times, got = run("slab", 0.04, 25.0, 5.0, 3600.0, 8.0, h_bottom=8.0)
    top = got.samples[0, 1:, OBS_TOP_C]
    assert np.all(top < got.samples[0, 1:, OBS_MEAN_C])
    assert np.all(top > 5.0)
    assert np.allclose(got.samples[0, 1:, OBS_TOP_C], got.samples[0, 1:, OBS_BOTTOM_C], atol=1e-6)
    assert times[0] == 0.0


def test_a_linear_air_history_is_followed_with_its_lag() -> None:
    """Thin, well conducting body in air that warms steadily: it trails by the time constant (1 - exp)."""
    physics = DoughPhysics(DENSITY * ONE, HEAT * ONE, 50.0 * ONE, 0 * ONE)
    ferment = np.zeros((1, 4, NY))
    ferment[:] = initial_ferment(DEAD, DRAWS)[:, None, :]
    stage = HoldStage(
        shape="slab", faces=np.linspace(0, 1, 5), thickness_m=0.01 * ONE, h_bottom=0 * ONE, h_top=10.0 * ONE,
        air_s=np.array([0.0, 7200.0]), air_c=np.array([[20.0, 30.0]]), bench=None, rise_free=False,
        sample_s=np.array([0.0, 7200.0]), end_s=7200.0 * ONE, until=None,
    )  # fmt: skip
    got = advance_hold(HoldState(np.full((1, 4), 20.0), ferment), stage, physics, P, DRAWS)
    tau = DENSITY * (1 - AIR_SHARE) * HEAT * 0.01 / 10.0
    slope = 10.0 / 7200.0
    expected = 30.0 - slope * tau * (1 - np.exp(-7200.0 / tau))
    assert got.samples[0, 1, OBS_MEAN_C] == pytest.approx(expected, abs=0.03)
