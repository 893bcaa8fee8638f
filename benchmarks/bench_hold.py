"""Speed of the hold kernel as a ratio to SciPy: LSODA on the same equations, one member, in the same process.

    python benchmarks/bench_hold.py

The reference is the independent integration of tests/timeline/test_hold_dough.py (16 cells, 13 states each, written
in NumPy). A ratio holds on any machine; seconds do not.
"""

import importlib.util
import time
from pathlib import Path
from types import ModuleType

MEMBERS = 256
FRIDGE_H, PROOF_H = 14.0, 3.0


def checks() -> ModuleType:
    """The tests' module, which holds the reference and the dough."""
    path = Path(__file__).parent.parent / "tests" / "timeline" / "test_hold_dough.py"
    spec = importlib.util.spec_from_file_location("hold_checks", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def measure(repeats: int = 5) -> dict[str, float]:
    """Best seconds of a night and a proof for MEMBERS members, of the reference for one, and their ratio a member."""
    tests = checks()
    draws, y, p = tests.drawn(MEMBERS)

    def kernel() -> None:
        night = tests.hold(draws, y, p, hours=FRIDGE_H)
        tests.hold(draws, night.end.ferment, p, air=((0, 27.0),), hours=PROOF_H, start_c=6.0)

    kernel()
    best, cpu = float("inf"), float("inf")
    for _ in range(repeats):
        wall, busy = time.perf_counter(), time.process_time()
        kernel()
        best, cpu = min(best, time.perf_counter() - wall), min(cpu, time.process_time() - busy)
    one, y1, p1 = tests.drawn(1)
    begin = time.perf_counter()
    tests.reference(one, p1, y1, 5.0, FRIDGE_H, 0.04, 6.0)
    tests.reference(one, p1, y1, 27.0, PROOF_H, 0.04, 6.0)
    reference = time.perf_counter() - begin
    return {"kernel_s": best, "kernel_cpu_s": cpu, "reference_s": reference, "ratio": reference / (best / MEMBERS)}


if __name__ == "__main__":
    got = measure()
    print(f"{MEMBERS} members, {FRIDGE_H:g} h fridge and {PROOF_H:g} h proof, 16 cells")
    print(f"kernel    {got['kernel_s']:.3f} s ({got['kernel_cpu_s']:.3f} s of processor)")
    print(f"reference {got['reference_s']:.3f} s for one member (LSODA)")
    print(f"one member is {got['ratio']:.0f} times as fast as the reference")
