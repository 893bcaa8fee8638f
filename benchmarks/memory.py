"""Most memory [MB] of a process that runs a timeline, and what it held before: python -m benchmarks.memory 10000."""

import sys
from pathlib import Path

from benchmarks.demo import CLOCK, demo

from oventide.forecast.foresee import Ahead, ensemble_for, read_off
from oventide.timeline.run import run_timeline


def most_mb() -> float:
    """From the kernel's own books: what getrusage says begins with the parent's memory."""
    lines = Path("/proc/self/status").read_text("utf-8").splitlines()
    return next(float(line.split()[1]) for line in lines if line.startswith("VmHWM")) / 1024.0


if __name__ == "__main__":
    batch, kitchen = demo()
    run_timeline(batch, kitchen, ensemble_for(kitchen, 4, 1), CLOCK)
    before = most_mb()
    trace = run_timeline(batch, kitchen, ensemble_for(kitchen, int(sys.argv[1]), 1), CLOCK)
    if "--read" in sys.argv:
        read_off(Ahead(trace, batch, kitchen, "demo", None))
    print(most_mb(), before)
