"""The roof: what this machine can do, and what of it the kernels do."""

import os
import random
import subprocess
import sys
import time
from collections.abc import Callable
from typing import Any

import numba
import numpy as np
from benchmarks.against import MEMBERS, _piece

from oventide.compiled import compiled_over_members
from oventide.lanes.members import side_by_side
from oventide.lanes.number import LANES
from oventide.timeline.hold import _times, advance_hold
from oventide.timeline.oven import advance_oven
from validation.timelines import random_case, run_watched

ROUNDS, STREAMS, LONG = 2_000_000, 4, 8_000_000


@compiled_over_members
def products(figures: np.ndarray, rounds: int) -> None:
    """Twelve chains of a product with a sum, LANES wide: two operations each."""
    for m in numba.prange(figures.shape[0]):
        row = side_by_side(figures[m])
        x, y = row[0], row[1]
        a, b, c, d, e, f = row[2], row[3], row[4], row[5], row[6], row[7]
        g, h, i, j, k, q = row[8], row[9], row[10], row[11], row[12], row[13]
        for _ in range(rounds):
            a, b, c, d, e, f = a * x + y, b * x + y, c * x + y, d * x + y, e * x + y, f * x + y
            g, h, i, j, k, q = g * x + y, h * x + y, i * x + y, j * x + y, k * x + y, q * x + y
        row[0] = a + b + c + d + e + f + g + h + i + j + k + q


@compiled_over_members
def triad(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> None:
    """a = b + 3 c: three numbers moved for each."""
    for i in numba.prange(a.shape[0]):
        a[i] = b[i] + 3.0 * c[i]


def _best(work: Callable[[], Any], times: int = 4) -> float:
    work()
    found = float("inf")
    for _ in range(times):
        begin = time.perf_counter()
        work()
        found = min(found, time.perf_counter() - begin)
    return found


def _counted(*arguments: str) -> float:
    command = [sys.executable, "-m", "benchmarks.count", *arguments]
    plain = {**os.environ, "NUMBA_DISABLE_JIT": "1"}
    return float(subprocess.run(command, capture_output=True, text=True, check=True, env=plain).stdout.split()[-1])


def lines() -> list[tuple[Any, ...]]:
    """Peak of arithmetic and of memory, and both kernels under it."""
    figures = np.full((STREAMS, 14, LANES), 0.5)
    peak = STREAMS * ROUNDS * 12 * 2 * LANES / _best(lambda: products(figures, ROUNDS)) / 1e9
    a, b, c = (np.ones(LONG) for _ in range(3))
    wide = 3 * 8 * LONG / _best(lambda: triad(a, b, c)) / 1e9
    many = _piece(MEMBERS)
    run = advance_oven(*many)
    cells = many[0].temperature_c.shape[1]
    each = _counted()
    done = each * float(run.balance[:, 2].sum()) * cells / _best(lambda: advance_oven(*many)) / 1e9
    _, seen = run_watched(random_case(random.Random(1)), members=MEMBERS)
    given = max((each for each, _ in seen.hold), key=lambda each: float(each[1].end_s[0]))
    steps, n = len(_times(given[1])[0]) - 1, given[0].temperature_c.shape[1]
    of_hold = _counted("--hold")
    held = of_hold * steps * n * MEMBERS / _best(lambda: advance_hold(*given)) / 1e9
    bytes_of_cell = 8 * 7  # a cell's state, read and written once a Newton step at most
    of_oven = (
        f"{each:.0f} operations a cell and Newton step, {100 * done / peak:.0f} % of the peak; "
        f"{each / bytes_of_cell:.0f} operations a byte: arithmetic bounds it, not memory"
    )
    before = f"{of_hold:.0f} operations a cell and step, {100 * held / peak:.0f} % of the peak"
    return [
        ("what the machine can do: products with sums", peak, "Gop/s", None, False, "all cores"),
        ("what the machine can do: memory", wide, "GB/s", None, False, "a = b + 3 c"),
        ("oven's kernel", done, "Gop/s", None, False, of_oven),
        ("kernel before the oven", held, "Gop/s", None, False, before),
    ]
