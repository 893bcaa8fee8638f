"""Dough outside the oven: conduction against series, benches, boxes, wet surfaces, and foods cooled in pans."""

import math
from collections.abc import Sequence

import numpy as np
from CoolProp.HumidAirProp import HAPropsSI
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import erf, j0, j1

from oventide.dough.state import NY, P_DENSE_ML, P_FRESH_ML, initial_ferment
from oventide.matter.properties import gas_conductivity_w_mk, porous_conductivity_w_mk
from oventide.timeline.container import laid_in, middle_c, sides
from oventide.timeline.drying import wet_surface
from oventide.timeline.hold import (
    OBS_BOTTOM_C,
    OBS_CORE_C,
    OBS_MEAN_C,
    Bench,
    DoughPhysics,
    HoldRun,
    HoldStage,
    HoldState,
    advance_hold,
)
from oventide.timeline.procedure import Container
from oventide.timeline.shape import Body
from validation.doughs import LIKELY, dough, parameters
from validation.model import Check

Array = NDArray[np.float64]
ONE = np.ones(1)
DEAD = dough(0.0, kind="none")
P = parameters(DEAD)[None, :]
AIR_SHARE = float(1.0 - P[0, P_DENSE_ML] / P[0, P_FRESH_ML])
DENSE_K, DENSITY, HEAT = 0.45, 1200.0, 2700.0
K = float(porous_conductivity_w_mk(DENSE_K, gas_conductivity_w_mk(20.0), AIR_SHARE))
DIFFUSIVITY = K / (DENSITY * (1.0 - AIR_SHARE) * HEAT)
HOURS = (0.5, 1.0, 2.0, 3.0, 4.0, 6.0)


def hold(
    thickness: float, start_c: float, air_c: float, times_s: Sequence[float], h_top: float, h_bottom: float,
    shape: str = "slab", bench: Bench | None = None, cells: int = 40, beside: float = 0.0,
    physics: tuple[float, float, float] = (DENSITY, HEAT, DENSE_K), faces: Array | None = None,
) -> HoldRun:  # fmt: skip
    """Dead dough, or a food with its own density, heat capacity and conductivity, without growth."""
    density, heat, conductivity = physics
    ferment = np.zeros((1, cells, NY))
    ferment[:] = initial_ferment(DEAD, LIKELY)[:, None, :]
    stage = HoldStage(
        shape="cylinder" if shape == "cylinder" else "slab",
        faces=np.linspace(0.0, 1.0, cells + 1) if faces is None else faces, thickness_m=thickness * ONE,
        h_bottom=h_bottom * ONE, h_top=h_top * ONE, air_s=np.array([0.0]), air_c=np.array([[air_c]]), bench=bench, sides_per_m2=beside * ONE,
        rise_free=False, sample_s=np.array([0.0, *times_s]), end_s=float(times_s[-1]) * ONE, until=None,
    )  # fmt: skip
    dense = DoughPhysics(density * ONE, heat * ONE, conductivity * ONE, 0.0 * ONE)
    return advance_hold(HoldState(np.full((1, cells), start_c), ferment), stage, dense, P, LIKELY)


def _seconds(hours: Sequence[float]) -> list[float]:
    return [3600.0 * each for each in hours]


def slab_series(half: float, h: float, seconds: Array, mean: bool = False) -> Array:
    """Excess at the middle (or the mean): Σ 4 sin ζ/(2ζ + sin 2ζ) exp(-ζ²Fo), ζ tan ζ = Bi."""
    biot, fourier = h * half / K, DIFFUSIVITY * seconds / half**2
    total = np.zeros_like(seconds)
    for n in range(40):
        z = brentq(lambda x: x * np.sin(x) - biot * np.cos(x), n * np.pi, n * np.pi + np.pi / 2)
        weight = 4.0 * np.sin(z) / (2.0 * z + np.sin(2.0 * z)) * (np.sin(z) / z if mean else 1.0)
        total += weight * np.exp(-(z**2) * fourier)
    return total


def cylinder_series(radius: float, h: float, seconds: Array) -> Array:
    """Excess on the axis: Σ 2 J1(ζ)/(ζ(J0² + J1²)) exp(-ζ²Fo), ζ J1 = Bi J0."""
    biot, fourier = h * radius / K, DIFFUSIVITY * seconds / radius**2
    grid = np.linspace(1e-6, 120.0, 60000)
    value = grid * j1(grid) - biot * j0(grid)
    total = np.zeros_like(seconds)
    for i in np.flatnonzero(value[:-1] * value[1:] < 0.0):
        z = brentq(lambda x: x * j1(x) - biot * j0(x), grid[i], grid[i + 1])
        total += 2.0 * j1(z) / (z * (j0(z) ** 2 + j1(z) ** 2)) * np.exp(-(z**2) * fourier)
    return total


def _slab(thickness: float, h: float, hours: Sequence[float]) -> list[float]:
    run = hold(thickness, 25.0, 5.0, _seconds(hours), h, h)
    return [float(c) for c in run.samples[0, 1:, OBS_CORE_C]]


def _slab_published(thickness: float, h: float, hours: Sequence[float]) -> tuple[float, ...]:
    return tuple((5.0 + 20.0 * slab_series(thickness / 2, h, np.array(_seconds(hours)))).round(3).tolist())


BOX_H = 6.0
BOX_HOURS = (1.0, 2.0, 4.0, 6.0, 8.0, 12.0)


def _box_sides(depth: float, volume_m3: float) -> float:
    return math.sqrt(volume_m3 / depth)


def _box_published(depth: float, volume_m3: float, mean: bool) -> tuple[float, ...]:
    """A brick is the product of three slabs (Newman's rule)."""
    seconds = np.array(_seconds(BOX_HOURS))
    side = _box_sides(depth, volume_m3)
    excess = slab_series(depth / 2, BOX_H, seconds, mean) * np.square(slab_series(side / 2, BOX_H, seconds, mean))
    return tuple((5.0 + 20.0 * excess).round(3).tolist())


def _box(depth: float, volume_m3: float, mean: bool) -> list[float]:
    """The slab that stands for the brick. The sides are reckoned for risen dough; this one does not rise."""
    body = laid_in(Container(depth_mm=1000.0 * depth), volume_m3, 1)
    beside = float(sides(body, BOX_H * ONE, K * ONE)[0])
    run = hold(depth, 25.0, 5.0, _seconds(BOX_HOURS), BOX_H, BOX_H, beside=beside)
    if mean:
        return [float(c) for c in run.samples[0, 1:, OBS_MEAN_C]]
    return _middle(body, BOX_H, K, DENSITY * (1.0 - AIR_SHARE) * HEAT, run, 5.0, BOX_HOURS)


def _middle(
    body: Body, film: float, k: float, per_volume: float, run: HoldRun, air_c: float, hours: Sequence[float]
) -> list[float]:
    layer = run.samples[:, 1:, OBS_CORE_C]
    air = np.full_like(layer, air_c)
    seen = middle_c(body, film * ONE, k * ONE, per_volume, layer, air, np.array(_seconds(hours)))
    return [float(c) for c in seen[0]]


def _contact() -> list[float]:
    """Underside of deep dough on deep granite."""
    bench = Bench(2.8 * ONE, 2.2e6 * ONE, 0.20 * ONE, 1e-9 * ONE, 15.0 * ONE)
    steps = 1.08 ** np.arange(60)
    faces = np.concatenate([[0.0], np.cumsum(steps) / steps.sum()])
    times = (60.0, 120.0, 240.0, 420.0, 600.0)
    run = hold(0.20, 25.0, 25.0, times, 1e-9, 0.0, bench=bench, cells=60, faces=faces)
    return [float(c) for c in run.samples[0, 1:, OBS_BOTTOM_C]]


def _contact_published() -> float:
    mine, stone = math.sqrt(K * DENSITY * (1 - AIR_SHARE) * HEAT), math.sqrt(2.8 * 2.2e6)
    return (mine * 25.0 + stone * 15.0) / (mine + stone)


DEPTHS_MM = (2.0, 5.0, 10.0, 20.0, 40.0)


def _into_dough() -> list[float]:
    bench = Bench(2.8 * ONE, 2.2e6 * ONE, 0.20 * ONE, 1e-9 * ONE, 15.0 * ONE)
    steps = 1.08 ** np.arange(60)
    faces = np.concatenate([[0.0], np.cumsum(steps) / steps.sum()])
    run = hold(0.20, 25.0, 25.0, (600.0,), 1e-9, 0.0, bench=bench, cells=60, faces=faces)
    centres = 200.0 * (faces[1:] + faces[:-1]) / 2.0
    return [float(c) for c in np.interp(DEPTHS_MM, centres, run.end.temperature_c[0])]


def _into_dough_published() -> tuple[float, ...]:
    wall = _contact_published()
    depths = np.array(DEPTHS_MM) / 1000.0
    return tuple((wall + (25.0 - wall) * erf(depths / (2.0 * math.sqrt(DIFFUSIVITY * 600.0)))).round(3).tolist())


def _minutes_on(conductivity: float, volumetric: float) -> float:
    bench = Bench(conductivity * ONE, volumetric * ONE, 0.03 * ONE, 2e-3 * ONE, 16.0 * ONE)
    times = np.linspace(30.0, 5400.0, 180)
    run = hold(0.006, 24.0, 16.0, list(times), 8.0, 0.0, bench=bench, cells=16)
    return float(np.interp(-18.0, -run.samples[0, 1:, OBS_MEAN_C], times)) / 60.0


HUMIDITIES = (0.3, 0.4, 0.5, 0.6, 0.75, 0.9)


def _wet_bulb(humidity: float, air_c: float = 22.0) -> float:
    """Where a wet surface settles: a film so strong that radiation does not count."""
    vapour = humidity * HAPropsSI("P_w", "T", air_c + 273.15, "R", 1.0, "P", 101325.0)
    near = air_c
    for _ in range(20):
        _, shift = wet_surface(1e5 * ONE, air_c * ONE, vapour * ONE, 1.0, near * ONE)
        near = air_c + float(shift[0])
    return near


CHILI = (1050.0, 3700.0, 0.55)
"""A thick stew [kg/m³, J/(kg·K), W/(m·K)]: assumed from its water."""
_COOLER_C = 4.44


def _cooled(container: Container, volume_m3: float, film: float, start_c: float, hours: Sequence[float]) -> Array:
    # the kernel's dough holds air: a food that holds none is given its own mass and conduction
    dense = CHILI[0] / (1.0 - AIR_SHARE)
    inside = CHILI[2] * CHILI[2] / float(porous_conductivity_w_mk(CHILI[2], gas_conductivity_w_mk(20.0), AIR_SHARE))
    body = laid_in(container, volume_m3, 1)
    beside = float(sides(body, film * ONE, CHILI[2] * ONE)[0])
    run = hold(
        float(body.thickness_m[0]), start_c, _COOLER_C, _seconds(hours), film, film, cells=30, beside=beside,
        physics=(dense, CHILI[1], inside),
    )  # fmt: skip
    return np.array(_middle(body, film, CHILI[2], CHILI[0] * CHILI[1], run, _COOLER_C, hours))


def _shallow_pan(depth_mm: float) -> float:
    """Time over what is allowed, the greater of 57 to 21 °C in 2 h and 57 to 5 °C in 6 h."""
    pan = Container(length_mm=500.0, width_mm=300.0, wall="steel", cover="open")
    hours = np.linspace(0.1, 30.0, 300)
    core = _cooled(pan, 0.15 * depth_mm / 1000.0, 12.0, 57.2, list(hours))
    warm = float(np.interp(-21.1, -core, hours))
    cold = float(np.interp(-5.0, -core, hours))
    return max(warm / 2.0, cold / 6.0)


CHECKS = (
    *(
        Check(
            id=f"cold.slab-{round(1000 * thickness)}-mm-film-{film:g}",
            room="timeline",
            what=f"core of a slab of {round(100 * thickness)} cm from 25 into 5 °C, film {film:g} W/(m²·K)",
            source="carslaw-jaeger",
            where="series of a slab with a film",
            published=_slab_published(thickness, film, HOURS),
            ours=lambda thickness=thickness, film=film: _slab(thickness, film, HOURS),
            unit="°C",
            tolerance=0.05,
            blind=True,
            kind="curve",
            x=HOURS,
            x_name="time [h]",
        )
        for thickness, film in ((0.02, 5.0), (0.04, 8.0), (0.12, 15.0))
    ),
    Check(
        id="cold.log-65-mm",
        room="timeline",
        what="axis of a log of 65 mm from 25 into 5 °C, film 5 W/(m²·K)",
        source="carslaw-jaeger",
        where="series of a cylinder with a film",
        published=tuple((5.0 + 20.0 * cylinder_series(0.0325, 5.0, np.array(_seconds(HOURS)))).round(3).tolist()),
        ours=lambda: [
            float(c)
            for c in hold(0.065, 25.0, 5.0, _seconds(HOURS), 5.0, 0.0, shape="cylinder").samples[0, 1:, OBS_CORE_C]
        ],
        unit="°C",
        tolerance=0.05,
        blind=True,
        kind="curve",
        x=HOURS,
        x_name="time [h]",
    ),
    *(
        Check(
            id=f"cold.box-{round(1000 * depth)}-mm-{'mean' if mean else 'core'}",
            room="timeline",
            what=f"{'mean' if mean else 'middle'} of a square block, 3.6 L, {round(100 * depth)} cm deep, 25 into 5 °C",
            source="carslaw-jaeger",
            where="product of three slabs",
            published=_box_published(depth, 0.0036, mean),
            ours=lambda depth=depth, mean=mean: _box(depth, 0.0036, mean),
            unit="°C",
            tolerance=1.0,
            blind=True,
            kind="curve",
            x=BOX_HOURS,
            x_name="time [h]",
            note="the slab that stands for it is reckoned for dough that has risen; this one has not",
        )
        for depth in (0.04, 0.12)
        for mean in (True, False)
    ),
    Check(
        id="cold.contact-with-granite",
        room="timeline",
        what="underside of deep dough of 25 °C on deep granite of 15 °C",
        source="carslaw-jaeger",
        where="two half spaces in contact",
        published=(round(_contact_published(), 3),) * 5,
        ours=_contact,
        unit="°C",
        tolerance=0.1,
        blind=True,
        kind="curve",
        x=(1.0, 2.0, 4.0, 7.0, 10.0),
        x_name="time [min]",
    ),
    Check(
        id="cold.depth-over-granite",
        room="timeline",
        what="dough over granite after 10 min, by height",
        source="carslaw-jaeger",
        where="two half spaces in contact, error function",
        published=_into_dough_published(),
        ours=_into_dough,
        unit="°C",
        tolerance=0.1,
        blind=True,
        kind="curve",
        x=DEPTHS_MM,
        x_name="height over the bench [mm]",
    ),
    Check(
        id="cold.sheet-on-granite",
        room="timeline",
        what="6 mm sheet of 24 °C on granite of 16 °C: time to 18 °C",
        source="common-practice",
        where="minutes",
        published=(2.0, 10.0),
        ours=lambda: _minutes_on(2.8, 2.2e6),
        unit="min",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="cold.sheet-on-wood",
        room="timeline",
        what="6 mm sheet of 24 °C on wood of 16 °C: time to 18 °C",
        source="common-practice",
        where="tens of minutes",
        published=(15.0, 60.0),
        ours=lambda: _minutes_on(0.16, 0.9e6),
        unit="min",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="cold.wet-bulb",
        room="timeline",
        what="where a wet surface settles in air of 22 °C",
        source="iapws-95",
        where="wet-bulb temperature of CoolProp's humid air",
        published=tuple(
            round(HAPropsSI("B", "T", 295.15, "R", share, "P", 101325.0) - 273.15, 3) for share in HUMIDITIES
        ),
        ours=lambda: [_wet_bulb(share) for share in HUMIDITIES],
        unit="°C",
        tolerance=0.3,
        blind=True,
        kind="curve",
        x=HUMIDITIES,
        x_name="relative humidity",
    ),
    Check(
        id="cold.stew-in-a-bucket",
        room="timeline",
        what="middle of a stew after 20 h in a cooler of 40 °F, in a five-gallon bucket",
        source="extension-chili",
        where="graph, in words: not at 41 °F even after 20 hours",
        published=(5.0, 60.0),
        ours=lambda: float(_cooled(Container(shape="round", length_mm=290.0), 0.019, 8.0, 60.0, [20.0])[0]),
        unit="°C",
        tolerance=0.0,
        blind=True,
        kind="range",
        note="bucket 29 cm wide, 19 L, film 8 W/(m²·K), the stew as water with solids: assumed",
    ),
    *(
        Check(
            id=f"cold.stew-in-a-pan-{round(depth)}-mm",
            room="timeline",
            what=f"stew {depth / 10:g} cm deep, open, in a walk-in fridge: time over what is allowed",
            source="roberts-2013",
            where="abstract: only the freezer met both limits",
            published=(1.0, 10.0),
            ours=lambda depth=depth: _shallow_pan(depth),
            unit="1",
            tolerance=0.0,
            blind=True,
            kind="range",
            note="film 12 W/(m²·K) with evaporation left out, pan 50 × 30 cm, cooler 4.4 °C: assumed",
        )
        for depth in (51.0, 76.0)
    ),
)
