"""Speed as ratios, all measured in one process: build/bench.json and docs/speed.md.

    python -m benchmarks.ratios            # what `make bench` runs
    python -m benchmarks.ratios --look     # print, write nothing

Seconds are the best of several runs, so that what else the machine does counts as little as it can. Each line of the
table has what was asked for; a miss stays in the table.
"""

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import numpy as np
from benchmarks import against, live, roof
from benchmarks.demo import CLOCK, demo

from oventide.forecast.foresee import ensemble_for, foresee
from oventide.timeline.resume import resume
from oventide.timeline.run import Mark, run_timeline

ROOT = Path(__file__).parent.parent
MEMBERS = (128, 256, 512, 1024)
CELLS = (12, 24, 48, 96)


@dataclass(frozen=True)
class Line:
    """One thing measured. `wanted` is what it is to keep: at most, or where `least` at least."""

    what: str
    value: float
    unit: str
    wanted: float | None = None
    least: bool = False
    note: str = ""

    @property
    def kept(self) -> bool | None:
        if self.wanted is None:
            return None
        return self.value >= self.wanted if self.least else self.value <= self.wanted


def best(work: Callable[[], Any], times: int) -> float:
    """Least seconds of `times` runs, after one that is not counted."""
    work()
    found = float("inf")
    for _ in range(times):
        begin = time.perf_counter()
        work()
        found = min(found, time.perf_counter() - begin)
    return found


def timelines() -> list[Line]:
    """Whole timelines: one kitchen, a thousand, from the proof on; the forecast read off them."""
    batch, kitchen = demo()
    seconds = {}
    for members in (1, *MEMBERS, 1000):
        ensemble = ensemble_for(kitchen, members, 1)
        work = lambda ensemble=ensemble: run_timeline(batch, kitchen, ensemble, CLOCK)  # noqa: E731
        seconds[members] = best(work, 15 if members == 1 else 4)
    marks: dict[int, Mark] = {}
    run_timeline(batch, kitchen, ensemble_for(kitchen, 500, 1), CLOCK, marks=marks)
    proof = next(i for i, step in enumerate(batch.procedure.steps) if step.kind == "proof")
    rest = best(lambda: resume(marks[proof], CLOCK), 5)
    whole = best(lambda: foresee(batch, kitchen, product="demo", members=1000), 2)
    fit = straight([float(count) for count in MEMBERS], [seconds[count] for count in MEMBERS])
    return [
        Line("one whole timeline, bowl to the next day", 1e3 * seconds[1], "ms", 15.0),
        Line("1,000 members, whole timeline", seconds[1000], "s", 2.0),
        Line("1,000 members, with every reading", whole, "s", None, note="windows, reasons and tides included"),
        Line("500 members from the proof on", 1e3 * rest, "ms", 200.0, note="what a live forecast from now runs"),
        Line("cost over members, straight line", fit, "R²", 0.98, True, f"{MEMBERS[0]} to {MEMBERS[-1]} members"),
    ]


def straight(x: list[float], y: list[float]) -> float:
    """R² of the straight line through the points."""
    return float(np.corrcoef(x, y)[0, 1] ** 2)


def memory(members: int = 10_000) -> list[Line]:
    """Most memory of a process of its own that runs the whole timeline, before and after the readings."""
    found = []
    for what, more in (("the whole timeline", ""), ("and every reading", "--read")):
        command = [sys.executable, "-m", "benchmarks.memory", str(members), *([more] if more else [])]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True, env={**os.environ})
        most, before = (float(word) for word in done.stdout.split()[-2:])
        note = f"{before:.0f} MB before the members are drawn: Python, compiler, libraries"
        found.append(
            Line(f"most memory, {members:,} members, {what}", most, "MB", 300.0 if not more else None, note=note)
        )
    return found


def table(lines: list[Line]) -> str:
    """The page of the documents."""
    rows = ["| what | measured | asked | |", "|---|---|---|---|"]
    for line in lines:
        sign = "≥" if line.least else "≤"
        asked = "" if line.wanted is None else f"{sign} {line.wanted:,g} {line.unit}".strip()
        mark = {None: "", True: "kept", False: "**missed**"}[line.kept]
        note = f" ({line.note})" if line.note else ""
        rows.append(f"| {line.what}{note} | {line.value:,.4g} {line.unit} | {asked} | {mark} |")
    return "\n".join(rows)


PAGE = """# Speed

Written by `make bench`; all figures of one process run on a machine with {cores} cores ({lanes} members side by side in
a register of 256 bits). Seconds hold for that machine, ratios travel. The same figures: `build/bench.json`.

{table}

## How it is done

- The laws are written once. With a plain number they are compiled for one cell of one member; with a number that holds
  {lanes} members (`oventide.lanes`) the same lines fill the processor's wide registers. exp and log are polynomials
  there, with a relative error below 1e-10.
- A member does not feel those beside it: in the oven each has its own clock and its own step, and stays as it is once
  Newton has settled. Before the oven all share the moments of the step.
- What a large ensemble leaves behind lies in a temporary file in single precision; members are carried 2,048 at a time.
- `timeline/spread_out.py` sends the same parts to the workers of a Dask cluster (extra `cluster`); the results are the
  same to the last bit.
- `timeline/resume.py` runs what is left from any step on.

## How it is compared

- SciPy integrates the same equations, written a second time for it (`validation/second.py`), for one member, at the
  loosest tolerance that comes as near to the truth as the kernel's own steps do. The ratio is SciPy's time over the
  kernel's for a member of an ensemble.
- FiPy carries heat through the same slab for the same night, with as many cells and steps.
- The roof is measured by small loops of products with sums, and of a sum of three arrays; a kernel's operations are
  counted by running its Python lines with a number that counts. An exp or a log counts as the operations of its
  polynomial, a quotient as one.
"""


def main(arguments: list[str]) -> int:
    """Measure, print, and write both files."""
    from oventide.lanes.number import LANES

    lines = timelines()
    for part in (against.oven, against.hold, against.fipy, against.nodes, roof.lines, live.lines, memory):
        try:
            lines += [Line(*each) if isinstance(each, tuple) else each for each in part()]
        except ModuleNotFoundError as missing:
            print(f"left out, {missing.name} is not installed", file=sys.stderr)
    page = PAGE.format(cores=os.cpu_count(), lanes=LANES, table=table(lines))
    print(page)
    if "--look" not in arguments:
        (ROOT / "build").mkdir(exist_ok=True)
        found = [{**asdict(line), "kept": line.kept} for line in lines]
        (ROOT / "build" / "bench.json").write_text(json.dumps(found, indent=1, ensure_ascii=False) + "\n", "utf-8")
        (ROOT / "docs" / "speed.md").write_text(page, "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
