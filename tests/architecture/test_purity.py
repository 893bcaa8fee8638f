"""Below the use cases there is no clock and no chance: time and seed are arguments. numba has one door."""

import ast

import pytest

ABOVE = {"services", "web", "cli"}
CLOCK_CALLS = {"now", "utcnow", "today", "time", "time_ns", "monotonic", "perf_counter", "fromtimestamp"}
CLOCK_OWNERS = {"datetime", "date", "time", "dt"}
FORBIDDEN_MODULES = {"time", "random", "secrets", "uuid"}
NUMPY_LEGACY = {"seed", "rand", "randn", "randint", "random", "normal", "uniform", "choice", "shuffle", "permutation"}
COMPILERS = {"njit", "jit", "vectorize", "guvectorize", "cfunc", "stencil"}


def dotted(node: ast.expr) -> str:
    """The dotted name of an attribute chain, or an empty text."""
    parts: list[str] = []
    while isinstance(node, ast.Attribute):
        parts.append(node.attr)
        node = node.value
    if not isinstance(node, ast.Name):
        return ""
    return ".".join([node.id, *reversed(parts)])


def impurities(tree: ast.Module) -> list[str]:
    """What in a module asks a clock or a die."""
    found: list[str] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [f"{node.lineno}: import {alias.name}" for alias in node.names if alias.name in FORBIDDEN_MODULES]
        elif isinstance(node, ast.ImportFrom) and node.module in FORBIDDEN_MODULES and node.level == 0:
            found.append(f"{node.lineno}: from {node.module} import")
        elif isinstance(node, ast.Call):
            name = dotted(node.func)
            owner, _, called = name.rpartition(".")
            if called in CLOCK_CALLS and owner.split(".")[-1] in CLOCK_OWNERS:
                found.append(f"{node.lineno}: {name}()")
            elif called in NUMPY_LEGACY and owner.endswith(("np.random", "numpy.random")):
                found.append(f"{node.lineno}: {name}() draws without a seed of its own")
            elif name.endswith("default_rng") and not node.args and not node.keywords:
                found.append(f"{node.lineno}: default_rng() without a seed")
            elif called == "Sobol" and not {"rng", "seed"} & {word.arg for word in node.keywords}:
                found.append(f"{node.lineno}: Sobol() without a seed")
    return found


def compilers(tree: ast.Module) -> list[str]:
    """Where a module compiles by itself instead of through oventide.compiled."""
    found: list[str] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module == "numba":
            found += [
                f"{node.lineno}: from numba import {alias.name}" for alias in node.names if alias.name in COMPILERS
            ]
        elif (
            isinstance(node, ast.Attribute) and dotted(node).split(".")[0] in {"numba", "nb"} and node.attr in COMPILERS
        ):
            found.append(f"{node.lineno}: {dotted(node)}")
    return found


@pytest.mark.parametrize(
    "source",
    [
        "import random",
        "from time import monotonic",
        "import datetime\ndatetime.datetime.now()",
        "from datetime import date\ndate.today()",
        "import numpy as np\nnp.random.default_rng()",
        "import numpy as np\nnp.random.normal(0, 1)",
        "from scipy.stats import qmc\nqmc.Sobol(d=3)",
    ],
)
def test_the_check_sees_a_clock_and_a_die(source: str) -> None:
    assert impurities(ast.parse(source))


def test_the_check_lets_a_seed_and_a_given_moment_pass() -> None:
    assert impurities(ast.parse("import numpy as np\nnp.random.default_rng(seed)\nmoment.time()")) == []


def test_the_check_sees_a_compiler() -> None:
    assert compilers(ast.parse("from numba import njit"))
    assert compilers(ast.parse("import numba\n@numba.njit\ndef f(): ..."))
    assert compilers(ast.parse("from numba import prange")) == []


def test_no_clock_and_no_chance_below_the_use_cases(modules) -> None:
    found = [f"{m.name}:{fault}" for m in modules if m.room not in ABOVE for fault in impurities(m.tree)]
    assert found == [], "\n".join(found)


def test_numba_has_one_door(modules) -> None:
    found = [f"{m.name}:{fault}" for m in modules if m.name != "oventide.compiled" for fault in compilers(m.tree)]
    assert found == [], "\n".join(found)
