"""Members through the oven, LANES of them side by side, each by its own clock: steps, samples, and its own end."""

import math

import numba
import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled, compiled_over_members
from oventide.lanes.members import any_of, choose, opposite, side_by_side
from oventide.lanes.number import LANES
from oventide.timeline.oven_follow import dried_at_base, follow, observe
from oventide.timeline.oven_parameters import FIRST_WATER, NOBS, S_SIDES
from oventide.timeline.oven_step import ROWS, V_DX, V_K, coefficients, implicit_step

Array = NDArray[np.float64]

# rows of a block's state: what every cell has, and what the piece has once
T, W, SET, GAS, REACHED, YEAST, DOOR = range(7)
NCELL = 7
LOST, WALL, ASIDE = 3, 4, 5  # the three of the colour come first
NPIECE = 6
# what a block keeps of its run
ENDED, HEAT_IN, HEAT_OUT, ITERATIONS, SHORTER = range(5)
NRECORD = 5
# each member's clock: now, step, step to come, where it stops, its planned end, the air, 1 where the step was taken
NOW, STEP, NEXT, STOP, END, AIR, TAKEN = range(7)
NCLOCK = 7
_FIRST_STEP_S = 0.2
_SHORTEST_STEP_S = 1e-4


@compiled
def air_at(t: float, times: Array, air: Array) -> float:
    """Air temperature at t by straight lines, the last value held."""
    last = times.shape[0] - 1
    if t <= times[0] or last == 0:
        return float(air[0])
    i = 0
    while i < last - 1 and t > times[i + 1]:
        i += 1
    share = min(1.0, (t - times[i]) / max(1e-9, times[i + 1] - times[i]))
    return float(air[i] + (air[i + 1] - air[i]) * share)


@compiled
def _copy(source: Array, target: Array) -> None:
    for j in range(source.shape[0]):
        for i in range(source.shape[1]):
            target[j, i] = source[j, i]


@compiled
def _take_over(now: bool, share: float, before: Array, after: Array, target: Array) -> None:
    """Where `now`: target = before + share (after - before), straight between the two states."""
    for j in range(after.shape[0]):
        for i in range(after.shape[1]):
            between = before[j, i] + share * (after[j, i] - before[j, i])
            target[j, i] = choose(now, between, target[j, i])


@compiled
def _advance(
    cells: Array, piece: Array, mass: Array, dough_mass: Array, par: Array, stage: Array, until_index: int,
    until_value: float, until_sign: int, longest_s: float, clock: Array, end_cells: Array, end_piece: Array,
    record: Array, store: Array, piece0: Array, trends: Array, work: Array, seen: Array, seen0: Array, flows: Array,
) -> bool:  # fmt: skip
    """One step of members side by side, each by its own clock; False when all have come to their stop.

    `cells` (NCELL, n) and `piece` (1, NPIECE) are the state; `end_cells` and `end_piece` receive it at each member's
    own end. `seen0` and `seen` are the observables before and after the step.
    """
    n = cells.shape[1]
    now, dt = clock[NOW], clock[STEP]
    idle = now >= clock[STOP] - 1e-6
    done = record[ENDED] >= 0.0
    _copy(cells, store)
    _copy(piece, piece0)
    for j in range(NOBS):
        seen0[j] = seen[j]
    for i in range(n):
        w = cells[W, i]
        trends[2, i] = cells[T, i] + min(2.0, max(-2.0, trends[0, i] * dt))
        trends[3, i] = w + min(0.1 * w, max(-0.1 * w, trends[1, i] * dt))
    iterations = implicit_step(
        cells[T], cells[W], trends[2], trends[3], cells[GAS], mass, clock[AIR], piece[0, WALL], dt, idle, par, stage,
        work, flows,
    )  # fmt: skip
    taken = (iterations > 0.0) & opposite(idle)
    passed = choose(taken, dt, 0.0)
    clock[TAKEN] = choose(taken, 1.0, 0.0)
    record[SHORTER] += choose(iterations < 0.0, 1.0, 0.0)
    record[ITERATIONS] += choose(taken, iterations, 0.0)
    record[HEAT_IN] += choose(taken, dt * (flows[2] + flows[3]), 0.0)
    record[HEAT_OUT] += choose(taken, dt * flows[4], 0.0)
    piece[0, LOST] += choose(taken, dt * (flows[0] + flows[1]), 0.0)
    piece[0, WALL] = choose(taken, flows[5], piece[0, WALL])
    dried = stage[S_SIDES] * dried_at_base(cells[W], mass, par[FIRST_WATER])
    piece[0, ASIDE] = choose(taken, max(piece[0, ASIDE], dried), piece[0, ASIDE])
    surface = choose(taken, cells[T, n - 1] + flows[2] * 0.5 * work[V_DX, n - 1] / work[V_K, n - 1], 0.0)
    base = choose(taken, cells[T, 0] + flows[3] * 0.5 * work[V_DX, 0] / work[V_K, 0], 0.0)
    follow(
        cells[T], cells[W], cells[SET], piece[0], cells[GAS], cells[REACHED], cells[YEAST], cells[DOOR], passed,
        surface, base, par,
    )  # fmt: skip
    _look(cells, piece, mass, dough_mass, surface, base, par, work, seen)
    for j in range(NOBS):
        seen[j] = choose(taken, seen[j], seen0[j])
    after = now + dt
    part = choose(clock[END] <= after + 1e-9, 1.0, -1.0)
    if until_index >= 0:
        behind = until_sign * (seen0[until_index] - until_value)
        ahead = until_sign * (seen[until_index] - until_value)
        crossing = choose(behind >= 0.0, 0.0, behind / min(-1e-300, behind - ahead))
        part = choose(ahead >= 0.0, crossing, part)
    ends = (part >= 0.0) & taken & opposite(done)
    if any_of(ends):
        record[ENDED] = choose(ends, now + part * dt, record[ENDED])
        _take_over(ends, part, store, cells, end_cells)
        _take_over(ends, part, piece0, piece, end_piece)
        done = done | ends
    # few iterations and a calm state: longer steps
    change = 0.0 * dt
    for i in range(n):
        step_t, step_w = cells[T, i] - store[T, i], cells[W, i] - store[W, i]
        change = max(change, abs(step_t))
        trends[0, i], trends[1, i] = choose(taken, step_t / dt, 0.0), choose(taken, step_w / dt, 0.0)
    grow = choose(iterations <= 3.0, 1.6, choose(iterations <= 4.0, 1.15, 0.7))
    grow = choose(change > 4.0, min(grow, 4.0 / max(4.0, change)), grow)
    wanted = choose(taken, min(longest_s, dt * grow), 0.4 * dt)
    clock[NOW] = choose(taken, after, now)
    # a member that does not settle with the shortest of steps is lost
    hopeless = opposite(taken | idle) & (wanted < _SHORTEST_STEP_S)
    record[ENDED] = choose(hopeless, math.nan, record[ENDED])
    clock[STOP] = choose(hopeless, -1.0, clock[STOP])
    left = clock[STOP] - clock[NOW]
    to_end = clock[END] - clock[NOW]
    wanted = min(wanted, choose(left > 1e-6, left, 1.0))
    clock[STEP] = min(wanted, choose(opposite(done) & (to_end > 1e-9), to_end, wanted))
    return any_of(left > 1e-6)


@compiled
def _look(
    cells: Array, piece: Array, mass: Array, dough_mass: Array, surface: float, base: float, par: Array, work: Array,
    seen: Array,
) -> None:  # fmt: skip
    observe(
        cells[T], cells[W], cells[SET], piece[0], mass, work, piece[0, LOST], piece[0, ASIDE], dough_mass[0], surface,
        base, par, seen,
    )  # fmt: skip


@compiled
def _carry(
    who: NDArray[np.int64], cells: Array, piece: Array, mass: Array, dough_mass: Array, air_s: Array, air_c: Array,
    par: Array, stage: Array, sample_s: Array, end_s: Array, until_index: int, until_value: float, until_sign: int,
    longest_s: float, keep: int, samples: Array, ended_s: Array, profiles: Array, balance: Array,
) -> None:  # fmt: skip
    """Set the members `who` (LANES,) side by side, carry them, and put them back."""
    n, count = cells.shape[2], sample_s.shape[0]
    state, before = np.empty((NCELL, n, LANES)), np.zeros((NCELL, n, LANES))
    once, fixed = np.empty((1, NPIECE, LANES)), np.empty((n + 1, LANES))
    figures, box = np.empty((par.shape[1], LANES)), np.empty((stage.shape[1], LANES))
    clock, sight = np.zeros((NCLOCK, LANES)), np.zeros((2, NOBS, LANES))
    for lane in range(LANES):
        m = who[lane]
        state[:, :, lane], once[0, :, lane] = cells[m], piece[m]
        fixed[:n, lane], fixed[n, lane] = mass[m], dough_mass[m]
        figures[:, lane], box[:, lane] = par[m], stage[m]
        clock[STOP, lane], clock[END, lane] = max(sample_s[-1], end_s[m]), end_s[m]
        first = min(_FIRST_STEP_S, max(sample_s[-1], end_s[m]))
        clock[STEP, lane] = min(first, end_s[m]) if end_s[m] > 1e-9 else first
    end_state, end_once, record = state.copy(), once.copy(), np.zeros((NRECORD, LANES))
    record[ENDED] = -1.0
    x, o, f, p, b = (
        side_by_side(state), side_by_side(once), side_by_side(fixed), side_by_side(figures), side_by_side(box),
    )  # fmt: skip
    work, trends = side_by_side(np.zeros((ROWS, n, LANES))), side_by_side(np.zeros((4, n, LANES)))
    eyes, flows = side_by_side(sight), side_by_side(np.zeros((6, LANES)))
    coefficients(x[T], x[W], x[GAS], f[:n], p, work)
    _look(x, o, f[:n], f[n:], x[T, n - 1], x[T, 0], p, work, eyes[1])
    sampled = np.zeros(LANES, np.int64)
    going = True
    begun = False
    while going or not begun:
        if begun:
            for lane in range(LANES):
                clock[AIR, lane] = air_at(clock[NOW, lane] + clock[STEP, lane], air_s, air_c[who[lane]])
            then = clock[NOW].copy()
            going = _advance(
                x, o, f[:n], f[n:], p, b, until_index, until_value, until_sign, longest_s, side_by_side(clock),
                side_by_side(end_state), side_by_side(end_once), side_by_side(record), side_by_side(before),
                side_by_side(np.zeros_like(once)), trends, work, eyes[1], eyes[0], flows,
            )  # fmt: skip
        else:
            then = np.zeros(LANES)
        for lane in range(LANES):
            m, k = who[lane], sampled[lane]
            passed = clock[NOW, lane] - then[lane]
            if begun and clock[TAKEN, lane] == 0.0:
                continue
            while k < count and sample_s[k] <= clock[NOW, lane] + 1e-9:
                share = (sample_s[k] - then[lane]) / passed if passed > 0.0 else 1.0
                for j in range(NOBS):
                    samples[m, k, j] = sight[0, j, lane] + share * (sight[1, j, lane] - sight[0, j, lane])
                if m < keep:
                    for i in range(n):
                        for row in range(2):
                            was = before[row, i, lane] if begun else state[row, i, lane]
                            profiles[m, k, i, row] = was + share * (state[row, i, lane] - was)
                k += 1
            sampled[lane] = k
        begun = True
    for lane in range(LANES):
        m = who[lane]
        cells[m], piece[m] = end_state[:, :, lane], end_once[0, :, lane]
        ended_s[m], balance[m] = record[ENDED, lane], record[HEAT_IN:, lane]
        samples[m, sampled[lane] :] = np.nan


@compiled_over_members
def march(
    cells: Array, piece: Array, mass: Array, dough_mass: Array, air_s: Array, air_c: Array, par: Array, stage: Array,
    sample_s: Array, end_s: Array, until_index: int, until_value: float, until_sign: int, longest_s: float, keep: int,
    samples: Array, ended_s: Array, profiles: Array, balance: Array,
) -> None:  # fmt: skip
    """Advance every member to its end; samples go on to the horizon. `cells` and `piece` become the state at the end.

    `cells` (M, NCELL, n), `piece` (M, NPIECE). `balance` (M, 4): heat in, heat out with vapour [J/m2], Newton
    iterations, steps that were taken again shorter. A member that does not settle is nan from there on.
    """
    members = cells.shape[0]
    for block in numba.prange((members + LANES - 1) // LANES):
        who = np.minimum(block * LANES + np.arange(LANES), members - 1)
        _carry(
            who, cells, piece, mass, dough_mass, air_s, air_c, par, stage, sample_s, end_s, until_index, until_value,
            until_sign, longest_s, keep, samples, ended_s, profiles, balance,
        )  # fmt: skip
