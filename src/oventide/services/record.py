"""A bake looked back on: step by step what was planned, what was done and read, how it was tasted."""

from collections.abc import Sequence
from datetime import datetime

from pydantic import AwareDatetime

from oventide.bench.fold import Progress, fold
from oventide.bench.laid import lay
from oventide.bench.model import Bake, Instants, Level, NotedView, Quantity, Taken, WeighView
from oventide.bench.outlook import Outlook
from oventide.bench.reading import LEVELS
from oventide.bench.weighing import bowls_of, items_of
from oventide.formula.model import Frozen
from oventide.services.bench_view import noted_views, step_names, told_items, weigh_views
from oventide.words.speaker import Speaker


class ReadAt(Frozen):
    """A reading in its step."""

    at: AwareDatetime
    since_begin_min: float | None
    """None where nobody noted when the step began."""
    quantity: Quantity
    level: str
    """The level of the tide chart that it belongs to; empty where it has none."""
    value: float


class StepRecord(Frozen):
    """One step: by the written minutes, and as it was."""

    index: int
    kind: str
    name: str
    planned: Instants
    """When it would have been over by the written minutes."""
    foreseen: Instants | None
    """When the last outlook has it over; a step that is over has its own moment there."""
    began: AwareDatetime | None
    ended: AwareDatetime | None
    minutes: float | None
    """How long it took; None where one of its ends was not noted."""
    planned_min: float
    readings: tuple[ReadAt, ...] = ()
    marks: tuple[tuple[AwareDatetime, str], ...] = ()


class Tasted(Frozen):
    """A note, with its score where one was given."""

    at: AwareDatetime
    text: str
    score: int | None


class Record(Frozen):
    """The whole bake, ready to be shown or to be held beside another one of the same steps."""

    bake: Bake
    finished_at: AwareDatetime | None
    ready: AwareDatetime | None
    """When the last step but keeping was over; None where that was not noted."""
    total_min: float | None
    """From the beginning to being ready."""
    steps: tuple[StepRecord, ...]
    weighed: tuple[WeighView, ...] = ()
    tasted: tuple[Tasted, ...] = ()
    noted: tuple[NotedView, ...] = ()
    levels: tuple[Level, ...] = ()
    said: tuple[str, ...] = ()


def record_of(
    bake: Bake, taken: Sequence[Taken], progress: Progress, outlook: Outlook | None, speaker: Speaker
) -> Record:
    """What a bake was."""
    names = step_names(bake, speaker)
    items = told_items(items_of(bake), speaker)
    planned = lay(bake, fold(bake, ()), None, bake.started_at)
    usable = outlook if outlook is not None and len(outlook.steps) == len(names) else None
    steps = tuple(
        StepRecord(
            index=index,
            kind=step.kind,
            name=names[index],
            planned=planned.steps[index].ends,
            foreseen=usable.steps[index].ends if usable is not None else None,
            began=progress.steps[index].began,
            ended=progress.steps[index].ended,
            minutes=_between(progress.steps[index].began, progress.steps[index].ended),
            planned_min=step.minutes.likely if step.minutes is not None else 0.0,
            readings=tuple(
                ReadAt(
                    at=read.at,
                    since_begin_min=_between(progress.began(index), read.at),
                    quantity=read.quantity,
                    level=LEVELS.get(read.quantity, ""),
                    value=read.value,
                )
                for read in progress.readings
                if read.step == index
            ),
            marks=tuple((mark.at, mark.mark) for mark in progress.marks if mark.step == index),
        )
        for index, step in enumerate(bake.product.procedure.steps)
    )
    made = [step for step in steps if step.kind != "keep"]
    ready = made[-1].ended if made else None
    return Record(
        bake=bake,
        finished_at=progress.finished_at,
        ready=ready,
        total_min=_between(bake.started_at, ready),
        steps=steps,
        weighed=weigh_views(bowls_of(bake, items, progress.weighed), progress, speaker),
        tasted=tuple(
            Tasted(at=one.at, text=one.entry.text, score=one.entry.score)
            for one in progress.counted
            if one.entry.deed == "note"
        ),
        noted=noted_views(
            bake, taken, progress, names, {item.line: item.name for item in items}, (), speaker
        ),
        levels=outlook.levels if outlook is not None else (),
        said=outlook.said if outlook is not None else (),
    )  # fmt: skip


def _between(began: datetime | None, ended: datetime | None) -> float | None:
    return None if began is None or ended is None else (ended - began).total_seconds() / 60.0
