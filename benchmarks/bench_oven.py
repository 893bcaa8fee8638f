"""How long 256 members take: 30 min in the oven (20 covered, 10 open) and 60 min on the rack, 24 cells.

Run: pytest benchmarks/bench_oven.py. The first call compiles; it is not counted.
"""

import numpy as np
import pytest

from oventide.evidence.parameters import draw, load
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import Shares, advance_oven, oven_parameters, oven_stage, start_oven

SHARES = Shares(0.36, 0.085, 0.12, 0.405, 0.015, 0.015, milk_fat=0.10)
MEMBERS, CELLS = 256, 24


def bake_and_cool() -> float:
    """The timeline of a covered tin; returns the median core on the rack [°C], so that nothing can be left out."""
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], MEMBERS, seed=1)
    gas = np.full(MEMBERS, 0.60)
    temperature = np.full((MEMBERS, CELLS), 28.0)
    par = oven_parameters(SHARES, draws, temperature[:, 0], gas, 0.02, 0.0, 5.0)
    state = start_oven(temperature, SHARES, gas, np.full(MEMBERS, 19.1), graded_faces(CELLS))
    for kind, covered, air_c, minutes in (
        ("convection", True, 170.0, 20), ("convection", False, 170.0, 10), ("rack", False, 22.0, 60)
    ):  # fmt: skip
        seconds = 60.0 * minutes
        stage = oven_stage(
            kind, "light_metal", covered, np.array([0.0]), np.array([air_c]), np.arange(0.0, seconds + 1.0, 60.0),
            np.array([seconds]), draws,
        )  # fmt: skip
        run = advance_oven(state, stage, par)
        state = run.end
    return float(np.median(run.samples[:, -1, 0]))


@pytest.mark.benchmark(group="oven")
def test_bake_and_cool(benchmark) -> None:  # type: ignore[no-untyped-def]
    bake_and_cool()
    assert 25.0 < benchmark.pedantic(bake_and_cool, rounds=5) < 60.0
