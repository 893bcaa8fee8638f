"""The committed book says what the command would write: every check, its source, and ours to the digits printed."""

import re
from functools import cache
from pathlib import Path

import pytest

from oventide.evidence import parameters
from validation import book, plot, printed
from validation.collect import checks, subjects
from validation.model import Check, Outcome, run, run_once

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
AGAIN = "run `make validate` and commit what it writes"
CHECKS = checks()


@cache
def page(room: str) -> list[str]:
    path = DOCS / "validation" / f"{room}.md"
    return path.read_text("utf-8").splitlines() if path.exists() else []


def printed_lines(check: Check) -> list[str]:
    """The lines of the committed book about a check."""
    lines = page(check.room)
    first = next((at for at, line in enumerate(lines) if f'<a id="{check.id}"></a>' in line), None)
    assert first is not None, f"{check.id} is not in the book: {AGAIN}"
    if check.kind != "curve":
        return [lines[first]]
    rest = lines[first + 1 :]
    last = next((at for at, line in enumerate(rest) if line.startswith("#")), len(rest))
    return lines[first : first + 1 + last]


def as_written(outcome: Outcome) -> list[str]:
    """The lines that the command would write."""
    check = outcome.check
    here = [one for _, some in book.in_room(subjects(), check.room) for one in some]
    number = book.source_numbers(here)[check.source]
    return book.curve_block(outcome, number) if check.kind == "curve" else [book.value_line(outcome, number)]


@pytest.mark.parametrize(
    "check", [pytest.param(one, id=one.id, marks=[pytest.mark.slow] if one.slow else []) for one in CHECKS]
)
def test_the_book_says_what_a_run_says(check: Check) -> None:
    ours, committed = as_written(run_once(check)), printed_lines(check)
    assert len(ours) == len(committed), f"{check.id}: {AGAIN}"
    for one, other in zip(ours, committed, strict=True):
        assert printed.alike(one, other), f"{check.id}: {AGAIN}\nnow:  {one}\nbook: {other}"


def test_every_curve_is_drawn_and_nothing_else() -> None:
    drawn = {path.name for path in (DOCS / "pictures" / "validation").glob("*.svg")}
    assert drawn == {book.picture(check) for check in CHECKS if book.is_drawn(check)}, AGAIN


def test_the_totals_are_those_of_the_checks() -> None:
    head = (DOCS / "validation.md").read_text("utf-8")
    line = next(line for line in head.splitlines() if line.startswith("| **all**"))
    counts = [int(part) for part in re.findall(r"\d+", line)]
    missed = sum(bool(check.miss) for check in CHECKS)
    curves = [check for check in CHECKS if check.kind == "curve"]
    points = sum(len(check.published) for check in curves) + len(CHECKS) - len(curves)
    blind = sum(check.blind for check in CHECKS)
    wanted = [len(CHECKS), len(curves), points, blind, len(CHECKS) - blind, len(CHECKS) - missed, missed]
    assert counts == wanted, AGAIN


@pytest.mark.parametrize("check", CHECKS, ids=[check.id for check in CHECKS])
def test_a_check_names_a_source_that_is_spelled_out(check: Check) -> None:
    assert check.source == book.COMMON_PRACTICE or check.source in parameters.sources()


def test_an_outcome_that_misses_is_red_and_says_so() -> None:
    check = Check(
        "x.y", "matter", "x", "practice", "", (1.0,), lambda: 2.0, "K", 0.1, True, miss="the law is too plain"
    )
    line = book.value_line(run(check), 1)
    assert '<strong class="missed">missed</strong>: the law is too plain' in line
    assert ".missed" in (DOCS / "validation.css").read_text("utf-8")


def test_a_drawing_is_readable_without_eyes() -> None:
    check = Check(
        "x.z", "matter", "a <curve>", "practice", "", (1.0, 2.0), lambda: (1.0, 3.0), "K", 0.1, True,
        kind="curve", x=(0.0, 1.0), x_name="minutes",
    )  # fmt: skip
    drawing = plot.svg(run(check))
    assert "<title" in drawing
    assert "published 1, 2; ours 1.00, 3.00 K; missed" in drawing
    assert "a &lt;curve&gt;" in drawing
