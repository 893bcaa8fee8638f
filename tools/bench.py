"""Print what `make bench` measured, beside the time that each case may take.

A benchmark says its budget with `benchmark.extra_info["budget_s"]`. A median above its budget is reported; with
--strict it is an error. Budgets hold for two cores of an ordinary laptop, so CI does not use --strict.
"""

import json
import sys
from pathlib import Path


def rows(report: dict[str, object]) -> list[tuple[str, float, float | None]]:
    """Name, median [s] and budget [s] of every case."""
    found: list[tuple[str, float, float | None]] = []
    benchmarks = report["benchmarks"]
    assert isinstance(benchmarks, list)
    for case in benchmarks:
        budget = case.get("extra_info", {}).get("budget_s")
        found.append((case["name"], float(case["stats"]["median"]), None if budget is None else float(budget)))
    return sorted(found)


def main(arguments: list[str]) -> int:
    """Print the table; return 1 where --strict was asked for and a budget was not kept."""
    strict = "--strict" in arguments
    paths = [argument for argument in arguments if not argument.startswith("--")]
    report = json.loads(Path(paths[0] if paths else "build/bench-cases.json").read_text("utf-8"))
    over = 0
    print(f"{'case':<60} {'median':>10} {'budget':>10}")
    for name, median_s, budget_s in rows(report):
        late = budget_s is not None and median_s > budget_s
        over += late
        budget = "–" if budget_s is None else f"{budget_s * 1000:.1f} ms"
        print(f"{name:<60} {median_s * 1000:>7.1f} ms {budget:>10}{'  over' if late else ''}")
    return 1 if strict and over else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
