"""The steps of a bake laid on the clock: what is over as it was, what is ahead as foreseen, or by the written minutes.

An outlook may be older than the last entry (a restart, a forecast that is still being reckoned). It is then moved to
where the bake really is, and never says that a step begins before the one before it can be over.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from oventide.bench.fold import Progress
from oventide.bench.model import Bake, Instants
from oventide.bench.outlook import Outlook, StepOutlook
from oventide.forecast.words import step_words
from oventide.timeline.procedure import Step

NOTHING = timedelta(0)


@dataclass(frozen=True)
class Laid:
    """Every step on the clock, and when the buns are ready."""

    steps: tuple[StepOutlook, ...]
    ready: Instants | None


def moment(at: datetime) -> Instants:
    """A window that is one moment."""
    return Instants(earliest=at, likely=at, latest=at)


def lay(bake: Bake, progress: Progress, outlook: Outlook | None, now: datetime) -> Laid:
    """Steps on the clock at `now`. Without an outlook the written minutes count."""
    written = bake.product.procedure.steps
    usable = outlook if outlook is not None and len(outlook.steps) == len(written) else None
    steps: list[StepOutlook] = []
    first = len(written) if progress.now_step is None else progress.now_step
    shift: timedelta | None = None
    for index, step in enumerate(written):
        before = steps[-1].ends if steps else moment(bake.started_at)
        foreseen = usable.steps[index] if usable is not None else _planned(index, step, before)
        passed = progress.steps[index]
        if passed.ended is not None:
            begun = moment(passed.began) if passed.began is not None else before
            laid = foreseen.model_copy(update={"begins": begun, "ends": moment(passed.ended)})
        elif index < first and progress.now_step is not None:
            laid = foreseen.model_copy(update={"begins": before, "ends": _some_time(before, progress, index)})
        elif index == first:
            begun = moment(passed.began) if passed.began is not None else before
            shift = begun.likely - foreseen.begins.likely
            laid = foreseen.model_copy(update={"begins": begun, "ends": _moved(foreseen.ends, shift)})
        else:
            shift = (
                shift if shift is not None and usable is not None else NOTHING
            )  # written minutes follow by themselves
            earliest = (
                max(before.likely, now) if index == first + 1 and progress.now_step is not None else before.likely
            )
            shift += max(NOTHING, earliest - (foreseen.begins.likely + shift))
            laid = foreseen.model_copy(
                update={"begins": _moved(foreseen.begins, shift), "ends": _moved(foreseen.ends, shift)}
            )
        steps.append(laid)
    return Laid(tuple(steps), _ready(written, steps))


def _moved(window: Instants, by: timedelta) -> Instants:
    return Instants(earliest=window.earliest + by, likely=window.likely + by, latest=window.latest + by)


def _planned(index: int, step: Step, begins: Instants) -> StepOutlook:
    """A step by its written minutes; one without a length takes none."""
    words = step_words(step)
    low, likely, high = (
        (step.minutes.low, step.minutes.likely, step.minutes.high) if step.minutes is not None else (0.0, 0.0, 0.0)
    )
    ends = Instants(
        earliest=begins.earliest + timedelta(minutes=low),
        likely=begins.likely + timedelta(minutes=likely),
        latest=begins.latest + timedelta(minutes=high),
    )
    return StepOutlook(
        index=index,
        begins=begins,
        ends=ends,
        action=words.action,
        target=words.target,
        outside=words.outside,
        cautions=words.cautions,
    )


def _some_time(before: Instants, progress: Progress, index: int) -> Instants:
    """A step that nobody noted was over some time between the moments that were."""
    until = next((step.ended for step in progress.steps[index:] if step.ended is not None), before.latest)
    until = max(until, before.latest)
    return Instants(earliest=before.earliest, likely=before.latest + (until - before.latest) / 2, latest=until)


def _ready(written: Sequence[Step], steps: Sequence[StepOutlook]) -> Instants | None:
    made = [laid.ends for step, laid in zip(written, steps, strict=True) if step.kind != "keep"]
    return made[-1] if made else None
