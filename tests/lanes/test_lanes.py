"""Members side by side answer as each of them alone."""

import math

import numpy as np
import pytest

from oventide.compiled import compiled
from oventide.lanes.members import all_of, any_of, choose, greatest, opposite, side_by_side
from oventide.lanes.number import LANES


@compiled
def functions(x: float, y: float) -> float:
    """A law with every operation that laws are written with."""
    a = choose(x > 1.0, math.exp(x), math.log(x + 2.5))
    b = choose((x < 0.0) | opposite(y > 0.5) & (y >= 0.1), abs(x) ** 1.81, math.pow(10.0, -y))
    return max(0.0, a) + min(b, 3.0) / (1.0 + y * y) - math.log1p(y) + math.sqrt(y) + (-x) ** 2 + float(y)


@compiled
def one_by_one(x: np.ndarray, y: np.ndarray, out: np.ndarray) -> None:
    for i in range(x.shape[0]):
        for lane in range(x.shape[1]):
            out[i, lane] = functions(x[i, lane], y[i, lane])


@compiled
def beside(x: np.ndarray, y: np.ndarray, out: np.ndarray) -> None:
    left, right, found = side_by_side(x), side_by_side(y), side_by_side(out)
    for i in range(left.shape[0]):
        total = 0.0
        total += functions(left[i], right[i])
        found[i] = total


@compiled
def elementary(x: np.ndarray, exp: np.ndarray, log: np.ndarray) -> None:
    values, exps, logs = side_by_side(x), side_by_side(exp), side_by_side(log)
    for i in range(values.shape[0]):
        exps[i] = math.exp(values[i])
        logs[i] = math.log(exps[i])


@compiled
def counts(x: np.ndarray) -> tuple[bool, bool, float]:
    values = side_by_side(x)
    return any_of(values[0] > 2.0), all_of(values[0] > 2.0), greatest(values[0])


def test_a_law_gives_the_same_side_by_side() -> None:
    rng = np.random.default_rng(7)
    x, y = rng.uniform(-2, 3, (50, LANES)), rng.uniform(0, 1, (50, LANES))
    alone, together = np.zeros_like(x), np.zeros_like(x)
    one_by_one(x, y, alone)
    beside(x, y, together)
    assert together == pytest.approx(alone, rel=1e-10, abs=1e-10)


def test_exp_and_log_against_the_library() -> None:
    x = np.linspace(-650.0, 650.0, 4000 * LANES).reshape(-1, LANES)
    exp, log = np.zeros_like(x), np.zeros_like(x)
    elementary(x, exp, log)
    assert np.abs(exp / np.exp(x) - 1.0).max() < 1e-11
    assert np.abs(log - np.log(exp)).max() < 1e-12


def test_questions_over_the_lanes() -> None:
    assert counts(np.array([[1.0, 3.0, *[0.0] * (LANES - 2)]])) == (True, False, 3.0)
    assert counts(np.full((1, LANES), 5.0)) == (True, True, 5.0)
    assert counts(np.full((1, LANES), np.nan))[:2] == (False, False)


def test_side_by_side_is_for_compiled_code() -> None:
    with pytest.raises(TypeError, match="compiled code"):
        side_by_side(np.zeros((1, LANES)))
