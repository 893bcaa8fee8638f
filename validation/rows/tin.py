"""Places in the tin: edge and corner pieces, walls, and the slab series that they rest on.

The two-dimensional runs solve the oven's own equations by another solver (validation/tin_2d.py): they try the rule of
places, not the equations.
"""

import math

import numpy as np

from oventide.bake.position import Walls, core_at_place, slab_roots, slab_series, slab_theta
from validation.model import Check
from validation.tin_2d import TinRun, bar_c

RUNS: dict[str, tuple[float, float, float, tuple[float, ...], tuple[float, ...], tuple[float, ...]]] = {
    # wall W/m2K, air °C, half width m, minutes, core with no wall near, core 33 mm from the wall (two dimensions)
    "covered-20-min": (
        18.0, 170.0, 0.1, (9, 12, 15, 18, 21, 24), (38.3, 46.5, 55.1, 63.4, 71.1, 82.6),
        (39.5, 50.0, 62.9, 75.9, 88.6, 97.1),
    ),
    "open": (18.0, 170.0, 0.1, (6, 9, 12, 15, 18), (34.5, 46.3, 59.2, 72.1, 83.3), (34.7, 47.8, 63.8, 81.9, 95.2)),
    "gap-at-the-wall": (
        8.0, 170.0, 0.1, (6, 9, 12, 15, 18, 21), (34.5, 46.3, 59.2, 72.1, 83.3, 90.6),
        (34.5, 46.9, 61.0, 75.9, 88.8, 98.1),
    ),
    "narrow-tin": (
        18.0, 170.0, 0.05, (6, 9, 12, 15, 18), (34.5, 46.3, 59.2, 72.1, 83.3), (34.6, 47.7, 63.7, 82.0, 96.2),
    ),
    "dark-tin-covered": (
        30.0, 160.0, 0.1, (6, 9, 12, 15, 18, 21), (23.8, 31.4, 41.1, 51.5, 61.5, 70.9),
        (24.0, 32.8, 46.7, 63.1, 81.3, 94.6),
    ),
    "thick-pieces": (
        18.0, 170.0, 0.1, (12, 15, 18, 21, 24, 27), (33.6, 39.1, 45.8, 52.6, 60.1, 67.8),
        (36.4, 45.7, 57.7, 71.3, 84.2, 94.0),
    ),
}  # fmt: skip
FITTED = {"covered-20-min", "open"}
MISSES = {
    "thick-pieces": (
        "Pieces half as heavy again (30 kg/m2): the wall is so far ahead of the core that the diffusivity by the "
        "place's own temperature is too low. The edge comes 1.2 min late of 27."
    )
}


def _edge(name: str) -> tuple[float, ...]:
    wall, air, half, minutes, centre, _ = RUNS[name]
    found = core_at_place(
        np.array([centre]), 60.0 * np.array([minutes]), np.array([air]), 99.6,
        (Walls(0.0333, 2.0 * half, np.array([wall])),),
    )  # fmt: skip
    return tuple(float(c) for c in found[0])


def _again() -> tuple[float, ...]:
    run = TinRun().run(18)
    return tuple(float(run.core_c(0.0333)[m]) for m in (6, 9, 12, 15, 18))


def _pipe() -> tuple[float, float]:
    """Incropera's pipe wall: insulated inside, oil at 60 °C within, 8 min: outer side and oil side [°C]."""
    biot, fourier = 500.0 * 0.04 / 63.9, 18.8e-6 * 480.0 / 0.04**2
    return tuple(60.0 - 80.0 * slab_theta(place, fourier, biot) for place in (0.0, 1.0))  # type: ignore[return-value]


def _bar(from_wall_m: float) -> float:
    """Product of two series, for `bar_c`'s bar."""
    diffusivity, k, time = 3e-7, 0.35, 900.0
    theta = 1.0
    for half, u, place in ((0.1, 18.0, 1.0 - from_wall_m / 0.1), (0.02, 20.0, 0.0)):
        zeta = slab_roots(np.array(u * half / k), 12)
        theta *= float(slab_series(place, np.array(diffusivity * time / half**2), zeta))
    return 170.0 - 142.0 * theta


_BIOT = (0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 100.0)
_DISTANCES = (0.01, 0.02, 0.033, 0.05, 0.07, 0.1)

CHECKS = (
    *(
        Check(
            id=f"tin.edge-{name}",
            room="tin",
            what="core of an edge piece, 33 mm from the wall, through the bake",
            source="tin-two-dimensional",
            where="TinRun, core of the middle half of the height",
            published=RUNS[name][5],
            ours=lambda name=name: _edge(name),  # type: ignore[misc]
            unit="°C",
            tolerance=4.0,
            blind=name not in FITTED,
            kind="curve",
            x=RUNS[name][3],
            x_name="minutes in the oven",
            note="The reference solves our own equations, by SciPy and in two dimensions; it is no measured bake.",
            miss=MISSES.get(name, ""),
        )
        for name in RUNS
    ),
    Check(
        id="tin.two-dimensions-again",
        room="tin",
        what="the two-dimensional run itself, run anew",
        source="tin-two-dimensional",
        where="open tin, 33 mm from the wall",
        published=RUNS["open"][5],
        ours=_again,
        unit="°C",
        tolerance=0.2,
        blind=False,
        kind="curve",
        x=RUNS["open"][3],
        x_name="minutes in the oven",
        slow=True,
    ),
    Check(
        id="tin.constant-properties",
        room="tin",
        what="finite volumes in two dimensions against the product of two slab series, 15 min",
        source="heat-transfer-book",
        where="section 5.8, product solution",
        published=tuple(_bar(distance) for distance in _DISTANCES),
        ours=lambda: tuple(bar_c(15.0, 0.1, 0.04, 18.0, 20.0, 3e-7, 0.35, 28.0, 170.0, d) for d in _DISTANCES),
        unit="°C",
        tolerance=0.15,
        blind=True,
        kind="curve",
        x=tuple(1000.0 * distance for distance in _DISTANCES),
        x_name="from the wall [mm]",
        note="The published column is the book's law, reckoned with our series.",
    ),
    Check(
        id="tin.slab-roots",
        room="tin",
        what="first root of ζ tan ζ = Bi, Bi 0.01 to 100",
        source="heat-transfer-book",
        where="table 5.1, plane wall",
        published=(0.0998, 0.3111, 0.6533, 0.8603, 1.0769, 1.3138, 1.4289, 1.5552),
        ours=lambda: tuple(
            float(z) for z in slab_roots(np.array([0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 10.0, 100.0]), 1)[:, 0]
        ),
        unit="rad",
        tolerance=1e-4,
        blind=True,
        kind="curve",
        x=_BIOT,
        x_name="Bi",
    ),
    Check(
        id="tin.pipe-wall-8-min",
        room="tin",
        what="wall of a pipe after 8 min, outer and oil side",
        source="incropera-5-4",
        where="example 5.4: 42.9 °C outside; 7362 W/m2 at 500 W/m2K, so 45.3 °C at the oil",
        published=(42.9, 45.3),
        ours=_pipe,
        unit="°C",
        tolerance=0.15,
        blind=True,
        kind="curve",
        x=(0.0, 1.0),
        x_name="x/L",
    ),
    Check(
        id="tin.lumped-limit",
        room="tin",
        what="slab of small Biot number as one lump: exp(-Bi Fo)",
        source="heat-transfer-book",
        where="section 5.1",
        published=tuple(math.exp(-0.005 * fourier) for fourier in (20.0, 50.0, 100.0, 200.0, 400.0)),
        ours=lambda: tuple(slab_theta(0.0, fourier, 0.005) for fourier in (20.0, 50.0, 100.0, 200.0, 400.0)),
        unit="1",
        tolerance=0.005,
        blind=True,
        kind="curve",
        x=(20.0, 50.0, 100.0, 200.0, 400.0),
        x_name="Fo",
    ),
)
