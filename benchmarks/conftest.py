"""Benchmarks: what a case may take, beside what it takes."""

from collections.abc import Callable
from typing import Any

import pytest


@pytest.fixture
def measured(benchmark: Any) -> Callable[..., Any]:
    """Run a case once outside the clock, so that compiling is not measured, then measure it.

    `budget_s` is what the case may take on two cores of an ordinary laptop; tools/bench.py prints it beside the median.
    """

    def run(case: Callable[[], Any], budget_s: float, rounds: int = 3) -> Any:
        benchmark.extra_info["budget_s"] = budget_s
        return benchmark.pedantic(case, rounds=rounds, warmup_rounds=1)

    return run
