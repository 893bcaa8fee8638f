"""The same equations by others: SciPy's LSODA and BDF, and FiPy; and what twice the cells cost."""

import random
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
from benchmarks.bench_oven import SHARES
from scipy.integrate import solve_ivp

from oventide.evidence.parameters import draw, load
from oventide.timeline import oven_parameters as at
from oventide.timeline.grid import graded_faces
from oventide.timeline.hold import advance_hold
from oventide.timeline.oven import OvenStage, OvenState, advance_oven, oven_parameters, oven_stage, start_oven
from validation.second import HOLD_STATES, Hold, Oven, hold_states, oven_states
from validation.timelines import random_case, run_watched

MEMBERS = 256
LOOSE = (1e-2, 1e-3, 1e-4)


def _best(work: Callable[[], Any], times: int = 3) -> float:
    found = float("inf")
    for _ in range(times):
        begin = time.perf_counter()
        work()
        found = min(found, time.perf_counter() - begin)
    return found


def _piece(members: int, cells: int = 24) -> tuple[OvenState, OvenStage, np.ndarray]:
    """Pieces at the door and twenty open minutes at 170 °C."""
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], members, seed=1)
    gas, temperature = np.full(members, 0.60), np.full((members, cells), 28.0)
    par = oven_parameters(SHARES, draws, temperature[:, 0], gas, 0.02, 0.0, 5.0)
    state = start_oven(temperature, SHARES, gas, np.full(members, 19.1), graded_faces(cells))
    stage = oven_stage(
        "convection", "light_metal", False, np.array([0.0]), np.array([170.0]), np.array([0.0, 1200.0]),
        np.array([1200.0]), draws,
    )  # fmt: skip
    return state, stage, par


def _nearest(run: Callable[[float], tuple[np.ndarray, float]], truth: np.ndarray, near: float) -> tuple[float, float]:
    """Seconds and error at the loosest tolerance that is as near to the truth as asked (or at the tightest)."""
    seconds, off = float("nan"), float("nan")
    for tolerance in LOOSE:
        end, seconds = run(tolerance)
        off = float(np.abs(end - truth).max())
        if off <= near:
            break
    return seconds, off


def _compare(
    what: str, rates: Any, begin: np.ndarray, end_s: float, pick: Any, ours: np.ndarray, truth: np.ndarray,
    each_s: float, more: dict[str, dict[str, Any]],
) -> list[tuple[Any, ...]]:  # fmt: skip
    """SciPy at the loosest tolerance that comes as near to `truth` as `ours` does, against `each_s` a member."""
    near = max(float(np.abs(ours - truth).max()), 1e-3)
    found = []
    for method, wanted in (("LSODA", 30.0), ("BDF", 50.0)):

        def run(tolerance: float, method: str = method) -> tuple[np.ndarray, float]:
            start = time.perf_counter()
            try:
                done = solve_ivp(
                    rates, (0, end_s), begin, method=method, rtol=tolerance, atol=tolerance * 1e-2, **more[method]
                )  # fmt: skip
            except (RuntimeError, ValueError):  # its matrix became singular: this tolerance is none of its
                return np.full_like(ours, np.inf), time.perf_counter() - start
            return pick(done.y[:, -1]), time.perf_counter() - start

        seconds, off = _nearest(run, truth, near)
        note = f"{seconds:.2f} s against {1e3 * each_s:.2f} ms; off by {off:.2f} and {near:.2f} °C at most"
        found.append((f"{what}: times as fast as SciPy's {method}", seconds / each_s, "×", wanted, True, note))
    return found


def oven() -> list[tuple[Any, ...]]:
    """Twenty minutes in the oven, 24 cells."""
    many = _piece(MEMBERS)
    advance_oven(*many)
    each_s = _best(lambda: advance_oven(*many)) / MEMBERS
    state, stage, par = _piece(1)
    ours = advance_oven(state, stage, par).end.temperature_c[0]
    truth = advance_oven(state, replace(stage, longest_step_s=0.25), par).end.temperature_c[0]
    second = Oven(state, stage, par)
    n = second.cells
    begin = oven_states(state, state.temperature_c[0])
    begin[-1] = state.tin_c[0]
    more: dict[str, dict[str, Any]] = {
        "BDF": {"jac_sparsity": second._joined(), "max_step": 30.0}, "LSODA": {"max_step": 30.0},
    }  # fmt: skip
    return _compare("20 min in the oven", second.rates, begin, 1200.0, lambda u: u[:n], ours, truth, each_s, more)


def _stay(seen: Any) -> Any:
    stays = [given for given, _ in seen.hold if given[1].shape == "slab" and given[1].bench is None]
    return min((given for given in stays if given[1].end_s[0] >= 1200.0), key=lambda given: float(given[1].end_s[0]))


def hold() -> list[tuple[Any, ...]]:
    """The shortest stay of at least twenty minutes before the oven, a slab without a bench: heat, yeast and fat."""
    case = random_case(random.Random(1))
    _, seen = run_watched(case, members=MEMBERS)
    given = _stay(seen)
    advance_hold(*given)
    each_s = _best(lambda: advance_hold(*given)) / MEMBERS
    _, alone = run_watched(case, members=1)
    state, stage, physics, p, draws = _stay(alone)
    end_s = float(stage.end_s[0])
    stage = replace(stage, end_s=np.array([end_s]))
    ours = advance_hold(state, stage, physics, p, draws).end.temperature_c[0]
    second = Hold(stage, physics, p, draws, float(state.ferment[0, 0, 12]))
    solid = second.solid(state.temperature_c[0]) if state.solid_fat is None else state.solid_fat[0]
    begin = hold_states(state, solid).ravel()
    band = 2 * HOLD_STATES - 1
    n = len(begin) // HOLD_STATES
    near = np.abs(np.subtract.outer(np.arange(n), np.arange(n))) <= 1
    more: dict[str, dict[str, Any]] = {
        "LSODA": {"lband": band, "uband": band, "max_step": 600.0},
        "BDF": {"jac_sparsity": np.kron(near, np.ones((HOLD_STATES, HOLD_STATES))), "max_step": 600.0},
    }
    hours = f"{end_s / 3600:.1f} h before the oven"
    exact = solve_ivp(second.rates, (0, end_s), begin, method="LSODA", rtol=1e-6, atol=1e-8, **more["LSODA"])
    truth = exact.y[:, -1].reshape(-1, HOLD_STATES)[:, 0]
    pick = lambda z: z.reshape(-1, HOLD_STATES)[:, 0]  # noqa: E731
    return _compare(hours, second.rates, begin, end_s, pick, ours, truth, each_s, more)


def fipy() -> list[tuple[Any, ...]]:
    """A night of a slab in the fridge: heat only for FiPy, heat and yeast and fat for the kernel."""
    from fipy import CellVariable, DiffusionTerm, Grid1D, ImplicitSourceTerm, TransientTerm

    case = random_case(random.Random(1))
    _, seen = run_watched(case, members=MEMBERS)
    given = max((each for each, _ in seen.hold), key=lambda each: float(each[1].end_s[0]))
    each_s = _best(lambda: advance_hold(*given)) / MEMBERS
    stage, physics = given[1], given[2]
    cells, steps = len(stage.faces) - 1, 60
    depth, end_s = float(stage.thickness_m[0]), float(stage.end_s[0])
    mesh = Grid1D(nx=cells, dx=depth / cells)
    warmth = CellVariable(mesh=mesh, value=25.0)
    heat, k = float(physics.density[0] * physics.heat_capacity[0]), float(physics.conductivity[0])
    film = float(stage.h_top[0]) / (depth / cells)
    at_top = mesh.cellCenters[0] > depth * (1.0 - 1.0 / cells)
    lost = at_top * film
    equation = TransientTerm(coeff=heat) == DiffusionTerm(coeff=k) - ImplicitSourceTerm(coeff=lost) + lost * 4.0

    def night() -> None:
        warmth.setValue(25.0)
        for _ in range(steps):
            equation.solve(var=warmth, dt=end_s / steps)

    night()
    seconds = _best(night)
    note = f"{cells} cells, {steps} steps, heat alone: {seconds:.2f} s against {1e3 * each_s:.3f} ms with yeast and fat"
    return [("a stay before the oven: times as fast as FiPy", seconds / each_s, "×", 1000.0, True, note)]


def nodes() -> list[tuple[Any, ...]]:
    """Seconds of a Newton iteration over cells: a straight line if cost grows with the cells alone."""
    sizes = (12, 24, 48, 96)
    each = []
    for cells in sizes:
        given = _piece(64, cells)
        run = advance_oven(*given)
        iterations = float(run.balance[:, 2].sum())
        each.append(_best(lambda given=given: advance_oven(*given), 4) / iterations)
    fit = float(np.corrcoef(sizes, each)[0, 1] ** 2)
    return [
        (
            "cost over cells, straight line",
            fit,
            "R²",
            0.98,
            True,
            f"an iteration in the oven, {sizes[0]} to {sizes[-1]} cells",
        )
    ]


__all__ = ["at", "fipy", "hold", "nodes", "oven"]
