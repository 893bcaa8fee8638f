"""One bake as every face shows it: entries and outlook put together, in the language of the device that asks."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from oventide.bench.alarms import alarms_of
from oventide.bench.fold import Progress, moment_of
from oventide.bench.laid import Laid, lay
from oventide.bench.model import (
    Alarm,
    Bake,
    BenchView,
    Choice,
    NotedView,
    State,
    StepView,
    Taken,
    WeighView,
)
from oventide.bench.outlook import Outlook
from oventide.bench.reading import ASKS, LEVELS, MARKS
from oventide.bench.weighing import Bowl, Item, bowls_of, items_of
from oventide.bench.weighing_words import finding_words
from oventide.bench.words import entry_words
from oventide.forecast.words import step_words
from oventide.words.speaker import Speaker

_NOT_UNDONE_BY_BUTTON = ("undo", "heard")


def told_items(items: Sequence[Item], speaker: Speaker) -> tuple[Item, ...]:
    """What is weighed, by its name in the language."""
    if speaker.is_english:
        return tuple(items)
    return tuple(
        replace(
            item,
            component=speaker.thing(item.component),
            name=speaker.ingredient(item.ingredient, item.name),
            note=speaker.retell(item.note),
        )
        for item in items
    )


def _told_choice(choice: Choice, speaker: Speaker) -> Choice:
    name, costs, because = (speaker.retell(words) for words in (choice.name, choice.costs, choice.because))
    return choice.model_copy(update={"name": name, "costs": costs, "because": because})


def step_names(bake: Bake, speaker: Speaker) -> tuple[str, ...]:
    """The steps as they are said."""
    return tuple(speaker.retell(step_words(step).name) for step in bake.product.procedure.steps)


def alarms_now(
    bake: Bake, progress: Progress, outlook: Outlook | None, now: datetime, speaker: Speaker
) -> tuple[Alarm, ...]:
    """A bake's alarms alone."""
    return alarms_of(bake, progress, lay(bake, progress, outlook, now), step_names(bake, speaker), speaker)


def bench_view(
    bake: Bake,
    taken: Sequence[Taken],
    progress: Progress,
    outlook: Outlook | None,
    now: datetime,
    speaker: Speaker,
) -> BenchView:
    """The view at `now`. An outlook that rests on fewer entries is shown, moved to where the bake is."""
    laid = lay(bake, progress, outlook, now)
    names = step_names(bake, speaker)
    items = told_items(items_of(bake), speaker)
    bowls = bowls_of(bake, items, progress.weighed)
    weighing = weigh_views(bowls, progress, speaker)
    alarms = alarms_of(bake, progress, laid, names, speaker)
    is_stale = outlook is not None and outlook.number < progress.number and outlook.foreseen == "fresh"
    over = progress.now_step is None
    return BenchView(
        key=bake.key,
        name=bake.name,
        sign=bake.sign,
        product_key=bake.product_key,
        product_revision=bake.product_revision,
        number=progress.number,
        made_at=now,
        ready=laid.ready,
        now_step=progress.now_step,
        finished=progress.finished_at is not None,
        steps=step_views(bake, progress, laid, names, speaker),
        weighing=tuple(each for each in weighing if each.step == progress.now_step),
        weigh_later=() if over else tuple(each for each in weighing if each.step > (progress.now_step or 0)),
        alarms=alarms,
        countdowns=outlook.countdowns if outlook is not None and not over else (),
        rescue=(
            tuple(_told_choice(each, speaker) for each in outlook.choices) if outlook is not None and not over else ()
        ),
        levels=outlook.levels if outlook is not None else (),
        readings=tuple(
            (read.at, LEVELS.get(read.quantity, read.quantity), read.value) for read in progress.readings
        ),
        noted=noted_views(bake, taken, progress, names, {item.line: item.name for item in items}, alarms, speaker),
        foreseen="planned" if outlook is None else "under way" if is_stale else outlook.foreseen,
        said=(*(speaker.retell(each) for each in (outlook.said if outlook is not None else ())),
              *_left_over(bowls, progress, speaker)),
    )  # fmt: skip


def step_views(
    bake: Bake, progress: Progress, laid: Laid, names: Sequence[str], speaker: Speaker
) -> tuple[StepView, ...]:
    """Step by step."""
    found = []
    count = len(bake.product.procedure.steps)
    first = progress.now_step if progress.now_step is not None else count
    for index, (step, on_clock) in enumerate(zip(bake.product.procedure.steps, laid.steps, strict=True)):
        ended_early = progress.finished_at is not None and progress.steps[index].ended is None
        state: State = "now" if index == first else "ahead" if index > first or ended_early else "done"
        found.append(
            StepView(
                index=index,
                kind=step.kind,
                name=names[index],
                action=speaker.retell(on_clock.action),
                target=speaker.retell(on_clock.target),
                outside=speaker.retell(on_clock.outside),
                text=step.text,
                cautions=tuple(speaker.retell(each) for each in on_clock.cautions),
                state=state,
                begins=on_clock.begins,
                ends=on_clock.ends,
                figures=() if state == "done" else tuple(speaker.retell(each) for each in on_clock.figures),
                asks=ASKS[step.kind],
                marks=MARKS[step.kind],
            )
        )
    return tuple(found)


def weigh_views(bowls: Sequence[Bowl], progress: Progress, speaker: Speaker) -> tuple[WeighView, ...]:
    """Ingredient by ingredient, in the order of the steps that they are weighed at."""
    found = [
        WeighView(
            line=item.line,
            component=item.component,
            name=item.name,
            note=item.note,
            grams=item.grams,
            step_g=item.step_g,
            bowl_after_g=bowl.expected_g[item.line],
            weighed=item.line in progress.weighed,
            bowl_read_g=progress.weighed[item.line].bowl_g if item.line in progress.weighed else None,
            difference=finding_words(speaker, bowl.findings[item.line]) if item.line in bowl.findings else "",
            step=item.step,
        )
        for bowl in bowls
        for item in bowl.items
    ]
    return tuple(sorted(found, key=lambda each: each.step))


def _left_over(bowls: Sequence[Bowl], progress: Progress, speaker: Speaker) -> list[str]:
    """Ingredients that may be missing from what is mixed already: said until they are in."""
    now = progress.now_step
    if now is None:
        return []
    said = []
    for bowl in bowls:
        if not bowl.items or bowl.items[0].step >= now:
            continue
        last = _last_reading(bowl, progress)
        if last is not None and bowl.findings[last].kind == "missing":
            names = speaker.listed([item.name for item in bowl.findings[last].items])
            said.append(
                speaker.say("{component}: {names} may have been left out. What to do depends on the step now.",
                            component=bowl.items[0].component, names=names)
            )  # fmt: skip
        open_items: list[Item] = [item for item in bowl.items if item.line not in progress.weighed and item.grams]
        if open_items and len(open_items) < len(bowl.items):
            names = speaker.listed([item.name for item in open_items])
            said.append(
                speaker.say("{component}: {names} not ticked as weighed.", component=bowl.items[0].component,
                            names=names)
            )  # fmt: skip
    return said


def _last_reading(bowl: Bowl, progress: Progress) -> str | None:
    """The line after which the bowl was last read."""
    read = [line for line in bowl.findings if line in progress.weighed]
    return max(read, key=lambda line: progress.weighed[line].at, default=None)


def noted_views(
    bake: Bake,
    taken: Sequence[Taken],
    progress: Progress,
    names: Sequence[str],
    lines: Mapping[str, str],
    alarms: Sequence[Alarm],
    speaker: Speaker,
) -> tuple[NotedView, ...]:
    """The log, newest first. What an undo took back is said in the words of the entry itself."""
    steps = dict(enumerate(names))
    called = {alarm.id: alarm.words for alarm in alarms}
    own: dict[str, str] = {}
    once: dict[str, Taken] = {}
    for each in sorted(taken, key=lambda one: one.number):
        if each.entry.uid not in once:
            once[each.entry.uid] = each
    for each in once.values():
        if each.entry.deed != "undo":
            of = called.get(each.entry.of) or _step_of_alarm(each.entry.of, steps)
            own[each.entry.uid] = entry_words(speaker, each.entry, steps, lines, of)
    for each in once.values():
        if each.entry.deed == "undo":
            of = own.get(each.entry.of) or speaker.say("an undoing")
            own[each.entry.uid] = entry_words(speaker, each.entry, steps, lines, of)
    moments = {uid: moment_of(each, bake.started_at) for uid, each in once.items()}
    shown = sorted(once.values(), key=lambda one: (moments[one.entry.uid], one.number))
    newest = next(
        (one.entry.uid for one in reversed(progress.counted) if one.entry.deed not in _NOT_UNDONE_BY_BUTTON), None
    )
    return tuple(
        NotedView(
            uid=each.entry.uid,
            at=moments[each.entry.uid],
            device=each.entry.device,
            words=own[each.entry.uid],
            undone=each.entry.uid in progress.undone,
            undoable=each.entry.uid == newest,
            entry=each.entry,
        )
        for each in reversed(shown)
    )


def _step_of_alarm(alarm: str, steps: Mapping[int, str]) -> str:
    """The step's name in an alarm's id, where the alarm is no longer called."""
    parts = alarm.rsplit(".", 2)
    return steps.get(int(parts[1]), "") if len(parts) == 3 and parts[1].isdigit() else ""
