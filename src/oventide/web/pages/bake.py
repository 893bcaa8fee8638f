"""One bake looked back on: planned against what happened, step by step, its readings, notes and tide chart."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from markupsafe import Markup

from oventide.bench.reading import RANGES
from oventide.services.record import Record, StepRecord
from oventide.web.ask import Answer, Ask, Page
from oventide.web.bake_chart import MIDDLING, BakeChart, chart_of, expected_at
from oventide.web.context import PageContext
from oventide.web.figures import Units, minutes, quantity, spread

CLOSE_MIN = 0.5


@dataclass(frozen=True)
class ReadingTold:
    """A reading: what was read, when, and what was foreseen for that moment."""

    at: str
    words: str
    expected: str
    """Empty where nothing was foreseen of it."""
    lies: str
    """Within what was foreseen, above or below it; empty where nothing was."""


@dataclass(frozen=True)
class StepTold:
    """One step, planned and as it was."""

    number: int
    name: str
    planned: str
    planned_min: str
    ended: str
    ahead: str
    """When it is foreseen to end, while the bake is under way; empty once it is over, or not foreseen."""
    took: str
    difference: str
    readings: tuple[ReadingTold, ...]
    marks: tuple[str, ...]


@dataclass(frozen=True)
class NoteTold:
    """A line of the log."""

    at: str
    device: str
    words: str
    undone: bool


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    record: Annotated[Record, "The bake as it is stored"]
    title: Annotated[str, "The bake's name"]
    said: Annotated[str, "When it was begun and ready, in a sentence"]
    chart: Annotated[BakeChart, "What the chart draws"]
    wide: Annotated[Markup, "The chart for wide screens and paper"]
    middling: Annotated[Markup, "The same chart narrower"]
    tall: Annotated[Markup, "The chart for narrow screens"]
    steps: Annotated[tuple[StepTold, ...], "Step by step, planned and as it was"]
    tasted: Annotated[tuple[tuple[str, str, int | None], ...], "Notes: moment, words, score of 5 where one was given"]
    short: Annotated[tuple[str, ...], "Ingredients whose bowl did not agree, in words"]
    log: Annotated[tuple[NoteTold, ...], "Everything that was noted, newest first"]


def _clock(record: Record, at: datetime) -> str:
    return f"{at.astimezone(record.bake.started_at.tzinfo):%H:%M}"


def _length(value: float) -> str:
    return minutes(round(value))


def _difference(took: float, planned: float) -> str:
    by = took - planned
    if abs(by) < CLOSE_MIN:
        return "as planned"
    return f"{_length(abs(by))} {'longer' if by > 0 else 'shorter'}"


def _readings(record: Record, step: StepRecord, units: Units) -> tuple[ReadingTold, ...]:
    told = []
    for read in step.readings:
        unit = RANGES[read.quantity][2]
        expected = expected_at(record, read)
        lies = ""
        if expected is not None:
            lies = "below" if read.value < expected[0] else "above" if read.value > expected[2] else "within"
        told.append(
            ReadingTold(
                _clock(record, read.at),
                f"{read.quantity} {quantity(read.value, unit, units)}",
                spread(*expected, unit, units) if expected is not None else "",
                lies,
            )
        )
    return tuple(told)


def _step(record: Record, step: StepRecord, units: Units) -> StepTold:
    return StepTold(
        number=step.index + 1,
        name=step.name,
        planned=_clock(record, step.planned.likely),
        planned_min=_length(step.planned_min),
        ended="" if step.ended is None else _clock(record, step.ended),
        ahead=_ahead(record, step),
        took="" if step.minutes is None else _length(step.minutes),
        difference="" if step.minutes is None else _difference(step.minutes, step.planned_min),
        readings=_readings(record, step, units),
        marks=tuple(f"{_clock(record, at)} {mark}" for at, mark in step.marks),
    )


def _ahead(record: Record, step: StepRecord) -> str:
    over = max((s.index for s in record.steps if s.ended is not None), default=-1)
    if record.finished_at is not None or step.foreseen is None or step.index <= over:
        return ""
    first, last = _clock(record, step.foreseen.earliest), _clock(record, step.foreseen.latest)
    return first if first == last else f"{first}–{last}"


def _said(record: Record) -> str:
    begun = record.bake.started_at
    parts = [f"Begun {begun:%a} {begun.day} {begun:%b %Y}, {begun:%H:%M}."]
    if record.ready is not None and record.total_min is not None:
        parts.append(f"Ready {_clock(record, record.ready)}, after {_length(record.total_min)}.")
    elif record.finished_at is not None:
        parts.append(f"Ended {_clock(record, record.finished_at)}; when it was ready was not noted.")
    else:
        parts.append("Under way.")
    if record.bake.ready_at is not None:
        wanted = record.bake.ready_at
        late = "" if record.ready is None else _late((record.ready - wanted).total_seconds() / 60.0)
        verb = "was" if record.ready is not None or record.finished_at is not None else "is"
        parts.append(f"It {verb} to be ready by {_clock(record, wanted)}{late}.")
    return " ".join(parts)


def _late(by_min: float) -> str:
    if abs(by_min) < 1:
        return ", and was"
    return f": {_length(abs(by_min))} {'later' if by_min > 0 else 'earlier'}"


def handle(ask: Ask) -> Answer:
    """The record of a bake."""
    record = ask.bakes.record(ask.path["key"])
    chart = chart_of(record, ask.units, ask.now)
    return Page(
        Shown(
            record=record,
            title=record.bake.name,
            said=_said(record),
            chart=chart,
            wide=chart.wide(),
            middling=chart.wide(MIDDLING),
            tall=chart.tall(),
            steps=tuple(_step(record, step, ask.units) for step in record.steps),
            tasted=tuple((_clock(record, one.at), one.text, one.score) for one in record.tasted),
            short=tuple(f"{line.name}: {line.difference}" for line in record.weighed if line.difference),
            log=tuple(NoteTold(_clock(record, each.at), each.device, each.words, each.undone) for each in record.noted),
        )
    )
