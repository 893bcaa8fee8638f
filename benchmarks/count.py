"""How many operations a kernel's lines take, counted by running them as plain Python with a number that counts.

NUMBA_DISABLE_JIT=1 python -m benchmarks.count          # in the oven, per cell and Newton step
NUMBA_DISABLE_JIT=1 python -m benchmarks.count --hold   # before it, per cell and step
"""

import contextlib
import math
import random
import sys
from typing import Any

import numpy as np

EXP, LOG = 26, 24
"""Operations of the polynomials in oventide.lanes, a quotient counted as one."""


class Tally:
    made = 0


class Counted(float):
    """A number that counts what is done with it."""


def _method(name: str, cost: int) -> Any:
    plain = getattr(float, name)

    def counted(self: Any, *others: Any) -> Any:
        Tally.made += cost
        result = plain(self, *others)
        return Counted(result) if isinstance(result, float) else result

    return counted


for _name in ("add", "sub", "mul", "truediv"):
    for _side in ("__{}__", "__r{}__"):
        setattr(Counted, _side.format(_name), _method(_side.format(_name), 1))
for _name in ("__lt__", "__le__", "__gt__", "__ge__", "__eq__", "__abs__", "__neg__"):
    setattr(Counted, _name, _method(_name, 1))
for _name in ("__pow__", "__rpow__"):
    setattr(Counted, _name, _method(_name, EXP + LOG))
setattr(Counted, "__hash__", float.__hash__)  # noqa: B010  (equality is counted, and would take the hash away)


def _function(name: str, cost: int) -> None:
    plain = getattr(math, name)

    def counted(*values: float) -> Any:
        Tally.made += cost
        return Counted(plain(*values))

    setattr(math, name, counted)


def _counting() -> None:
    """Every law of the program counts from here on."""
    for name, cost in (("exp", EXP), ("log", LOG), ("log1p", LOG), ("sqrt", 1), ("pow", EXP + LOG)):
        _function(name, cost)
    for name, module in list(sys.modules.items()):
        if name.startswith("oventide."):
            setattr(module, "float", lambda value: value)  # noqa: B010


def _of(array: Any) -> Any:
    found = np.empty(array.shape, dtype=object)
    for place, value in np.ndenumerate(array):
        found[place] = Counted(value)
    return found


def oven(steps: int = 40) -> float:
    """Operations per cell and Newton step in the oven, everything counted."""
    from benchmarks.against import _piece

    from oventide.timeline import oven_march as march

    state, stage, par = _piece(1)
    n = state.temperature_c.shape[1]
    by_cell = (
        state.temperature_c, state.water, state.set_fraction, state.gas_volume, state.reached, state.yeast_moles,
        state.door_volume,
    )  # fmt: skip
    piece = np.zeros((1, march.NPIECE))
    piece[0, 1], piece[0, march.WALL] = 90.0, state.tin_c[0]
    clock = np.zeros(march.NCLOCK)
    clock[march.STEP], clock[march.STOP], clock[march.END], clock[march.AIR] = 0.2, 1e4, 1e4, 170.0
    record = np.zeros(march.NRECORD)
    record[march.ENDED] = -1.0
    cells = _of(np.stack([each[0] for each in by_cell]))
    mass = _of(state.dry_mass_kg_m2[0] * np.diff(state.faces))
    rows = [_of(each) for each in (piece, state.dough_mass_kg_m2, par[0], stage.conductances[0], clock, record)]
    piece, dough, par, box, clock, record = rows
    blank = lambda *shape: _of(np.zeros(shape))  # noqa: E731
    _counting()
    march.coefficients(cells[0], cells[1], cells[3], mass, par, work := blank(march.ROWS, n))
    Tally.made = 0
    room = [
        blank(*cells.shape), blank(*piece.shape), blank(4, n), work, blank(march.NOBS), blank(march.NOBS), blank(6)
    ]  # fmt: skip
    for _ in range(steps):
        march._advance(
            cells, piece, mass, dough, par, box, -1, 0.0, 1, 15.0, clock, blank(*cells.shape), blank(*piece.shape),
            record, *room,
        )  # fmt: skip
    return Tally.made / (float(record[march.ITERATIONS]) * n)


def hold() -> float:
    """Operations per cell and step before the oven."""
    from oventide.timeline import hold as program
    from oventide.timeline import hold_kernel as kernel
    from validation.timelines import random_case, run_watched

    found: list[float] = []

    def counted(
        temperature: Any, ferment: Any, fat: Any, curve: Any, shape: int, faces: Any, body: Any, p: Any, air_s: Any,
        air_c: Any, has_bench: bool, rise_free: bool, times: Any, sample_at: Any, planned: Any, *rest: Any,
    ) -> None:  # fmt: skip
        n, kinds = ferment.shape[1:]
        cells = n + (kernel.BENCH_CELLS if has_bench else 0)
        blank = lambda *size: _of(np.zeros(size))  # noqa: E731
        table, known = blank(kernel.SPEEDS, kernel._TABLE_ROWS), np.ones(kernel._TABLE_ROWS)
        for row in range(kernel._TABLE_ROWS):
            kernel.speeds_at(p[0], kernel._TABLE_FROM_C + row / kernel._TABLE_PER_K, table[:, row])
        arrays = [_of(each) for each in (temperature[0], ferment[0], fat[0], curve[0])]
        constants = _of(body[0]), _of(p[0])
        _counting()
        Tally.made = 0
        kernel.advance_block(
            *arrays, shape, faces, *constants, air_s, _of(air_c[0]), has_bench, rise_free, times, sample_at,
            _of(planned), -1, 0.0, 1.0, np.empty((len(sample_at), kernel.NOBS), dtype=object), blank(1), blank(n),
            blank(n, kinds), blank(n), blank(n, kinds), table, known, blank(kernel.NROOM, cells), blank(kernel.NOBS),
            blank(kernel.NOBS), blank(kernel.SPEEDS),
        )  # fmt: skip
        found.append(Tally.made / ((len(times) - 1) * cells))
        raise StopIteration  # the first stay is enough

    program.advance_members = counted
    with contextlib.suppress(StopIteration):
        run_watched(random_case(random.Random(1)), members=1)
    return found[0]


if __name__ == "__main__":
    print(hold() if "--hold" in sys.argv else oven())
