"""Moments that are called out: when to look, when a step is likely over, when it must be, when the cover comes off.

An alarm's id is the bake's key, the step and the kind, so that it stays itself when its moment is foreseen anew. It was
heard if that was known at its moment or later: one that was heard and then moves to later calls again.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from oventide.bench.fold import Progress
from oventide.bench.laid import Laid
from oventide.bench.model import Alarm, AlarmKind, Bake, Instants
from oventide.evidence.parameters import load
from oventide.timeline.procedure import Step, StepKind
from oventide.words.speaker import Speaker

WAITED_FOR: tuple[StepKind, ...] = ("bulk", "retard", "temper", "chill", "proof", "bake", "cool")
"""Steps that go on by themselves: they call when to look, when they are likely over, and when they must be."""
CALLED_ONCE: tuple[StepKind, ...] = ("mix",)
"""Handwork with a clock. Other handwork is over when the hands are done, and calls nobody."""
SAME = timedelta(minutes=2)
"""Moments nearer than this are one."""
EARLY = timedelta(minutes=1)


@dataclass(frozen=True)
class _Moment:
    kind: AlarmKind
    at: datetime


def alarm_id(bake: str, step: int, kind: AlarmKind) -> str:
    """An alarm's id.

    >>> alarm_id("poppy-coils-2026-03-05", 6, "look")
    'poppy-coils-2026-03-05.6.look'
    """
    return f"{bake}.{step}.{kind}"


def alarms_of(bake: Bake, progress: Progress, laid: Laid, names: Sequence[str], speaker: Speaker) -> tuple[Alarm, ...]:
    """Alarms of a bake from the step now on, the next first. `names` are the steps' names as they are said."""
    if progress.now_step is None:
        return ()
    steps = bake.product.procedure.steps
    found: list[Alarm] = []
    for index in range(progress.now_step, len(steps)):
        for called in _moments(steps, index, laid, progress.now_step):
            known = alarm_id(bake.key, index, called.kind)
            heard = progress.heard.get(known)
            found.append(
                Alarm(
                    id=known,
                    bake=bake.key,
                    name=bake.name,
                    sign=bake.sign,
                    kind=called.kind,
                    at=called.at,
                    words=_words(steps, index, called.kind, names, speaker),
                    step=index,
                    heard=heard is not None and heard >= called.at - EARLY,
                )
            )
    return tuple(sorted(found, key=lambda alarm: (alarm.at, alarm.id)))


def _moments(steps: Sequence[Step], index: int, laid: Laid, now_step: int) -> list[_Moment]:
    step, ends = steps[index], laid.steps[index].ends
    found: list[_Moment] = []
    if step.kind == "bake" and index > now_step and not any(each.kind == "bake" for each in steps[:index]):
        heat = timedelta(minutes=load("bench")["oven.heat_up_min"].value)
        found.append(_Moment("begin", laid.steps[index].begins.earliest - heat))
    if step.kind in CALLED_ONCE:
        return [*found, _Moment("likely", ends.likely)]
    if step.kind not in WAITED_FOR:
        return found
    window = ends if index == now_step else _once_begun(laid.steps[index].begins, ends)
    return found + _window(window, "uncover" if _uncovers(steps, index) else "likely")


def _once_begun(begins: Instants, ends: Instants) -> Instants:
    """The window of a step ahead if it begins when it likely does.

    The whole window holds all that may happen until then; nobody is called to look at a step that has not begun.
    """
    return Instants(
        earliest=min(ends.likely, max(begins.likely, begins.likely + (ends.earliest - begins.earliest))),
        likely=ends.likely,
        latest=max(ends.likely, begins.likely + (ends.latest - begins.latest)),
    )


def _window(ends: Instants, likely: AlarmKind) -> list[_Moment]:
    found = [_Moment(likely, ends.likely)]
    if ends.likely - ends.earliest >= SAME:
        found.append(_Moment("look", ends.earliest))
    if ends.latest - ends.likely >= SAME:
        found.append(_Moment("latest", ends.latest))
    return found


def _uncovers(steps: Sequence[Step], index: int) -> bool:
    """Whether the cover comes off at the end of a step and the bake goes on open."""
    following = steps[index + 1] if index + 1 < len(steps) else None
    return (
        steps[index].kind == "bake"
        and steps[index].covered
        and following is not None
        and following.kind == "bake"
        and not following.covered
    )


def _words(steps: Sequence[Step], index: int, kind: AlarmKind, names: Sequence[str], speaker: Speaker) -> str:
    name = names[index]
    if kind == "begin":
        setting = steps[index].air_c
        if setting is None:
            return speaker.say("Oven on, so that it is hot in time")
        return speaker.say("Oven on at {setting} °C, so that it is hot in time", setting=speaker.number(setting, 0))
    if kind == "uncover":
        return speaker.say("{step}: take the cover off", step=name)
    if kind == "look":
        return speaker.say("{step}: look, it may be ready from now on", step=name)
    if kind == "latest":
        return speaker.say("{step}: this is the latest that was foreseen", step=name)
    following = names[index + 1] if index + 1 < len(names) else ""
    if not following:
        return speaker.say("{step}: likely over now", step=name)
    return speaker.say("{step}: likely over now. Next: {next}", step=name, next=following)
