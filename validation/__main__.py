"""`make validate`: run every check, write build/validation.json and the book. Ends with 1 where a check surprises."""

import argparse
import json
import math
import sys
import time
from pathlib import Path
from typing import Any

from validation import book, numerics, printed
from validation.collect import Subject, subjects
from validation.model import Check, Outcome, run

ROOT = Path(__file__).resolve().parent.parent


def chosen(words: list[str]) -> list[Subject]:
    """Subjects with the checks whose id, room or subject has one of the words; all without words."""
    found = []
    for subject in subjects():
        checks = tuple(
            check
            for check in subject.checks
            if not words or any(word in text for word in words for text in (check.id, check.room, subject.name))
        )
        if checks:
            found.append(Subject(subject.name, subject.title, subject.lead, checks))
    return found


def reckon(check: Check) -> Outcome:
    """Run a check; one that breaks is a miss without figures, and the others go on."""
    try:
        return run(check)
    except Exception as broken:  # whatever a model does, the other checks are still to be seen
        print(f"    {check.id} broke: {type(broken).__name__}: {broken}", file=sys.stderr, flush=True)
        return Outcome(check, (math.nan,) * len(check.published), math.inf, False)


def main(argv: list[str] | None = None) -> int:
    """The command."""
    asked = argparse.ArgumentParser(prog="make validate", description=__doc__)
    asked.add_argument(
        "--only", action="append", default=[], metavar="WORD",
        help="checks whose id, room or subject has WORD; prints them and writes no book",
    )  # fmt: skip
    options = asked.parse_args(argv)
    parts = chosen(options.only)
    count = sum(len(subject.checks) for subject in parts)
    outcomes: book.Outcomes = {}
    started = time.perf_counter()
    for subject in parts:
        for check in subject.checks:
            begun = time.perf_counter()
            outcome = reckon(check)
            outcomes[check.id] = outcome
            surprise = " (not as written down)" if outcome.ok == bool(check.miss) else ""
            told = f"off by {printed.error(outcome)}, may be {printed.allowed(check)}"
            print(
                f"[{len(outcomes)}/{count}] {check.id}: {'met' if outcome.ok else 'MISSED'}{surprise}, {told}, "
                f"{time.perf_counter() - begun:.1f} s",
                flush=True,
            )
            if options.only:
                print(
                    f"    published {printed.published(check)}; ours {printed.ours(outcome)} {check.unit}", flush=True
                )
    surprises = [one.check.id for one in outcomes.values() if one.ok == bool(one.check.miss)]
    missed = sum(not one.ok for one in outcomes.values())
    if not options.only:
        _write(parts, outcomes)
    print(
        f"{count} checks, {sum(one.check.kind == 'curve' for one in outcomes.values())} curves, "
        f"{count - missed} met, {missed} missed, {time.perf_counter() - started:.0f} s"
    )
    for name in surprises:
        reason = outcomes[name].check.miss
        print(f"not as written down: {name}: " + ("no longer misses; take its reason out" if reason else "misses"))
    return 1 if surprises else 0


def _plain(row: dict[str, Any]) -> dict[str, Any]:
    """A row without what JSON has no word for."""
    plain = json.loads(json.dumps(row), parse_constant=lambda _: None)
    assert isinstance(plain, dict)
    return plain


def _write(parts: list[Subject], outcomes: book.Outcomes) -> None:
    rows = [
        _plain(one.row()) | {"subject": part.name} for part in parts for one in (outcomes[c.id] for c in part.checks)
    ]
    target = ROOT / "build" / "validation.json"
    target.parent.mkdir(exist_ok=True)
    target.write_text(json.dumps(rows, indent=1, ensure_ascii=False) + "\n", "utf-8")
    print("order of accuracy and balances", flush=True)
    pages = book.write(ROOT / "docs", parts, outcomes, {numerics.PAGE: numerics.page()}, numerics.pointer())
    print(f"written: build/validation.json, docs/validation.md and {len(pages) - 1} pages and drawings beside it")


if __name__ == "__main__":
    sys.exit(main())
