"""What was noted at the bench as readings that weigh the kitchens: instruments, a jar's height, the one-tap marks."""

import math
from collections.abc import Sequence
from typing import Literal

from oventide.bench.fold import Marked, Progress, Read
from oventide.bench.model import Bake
from oventide.dough.fat import thresholds
from oventide.dough.proof import shaped_target
from oventide.errors import Refusal
from oventide.evidence.parameters import load
from oventide.forecast.narrowing import Measured, expected
from oventide.services.live_plan import Plan, seconds_since
from oventide.timeline.procedure import Step, Target
from oventide.timeline.trace import Trace

_WORKS_THE_DOUGH = ("mix", "sheet", "roll")
_FIRM = ("temper", "sheet", "spread", "roll", "chill", "cut", "tin")
"""Where "too soft" speaks of the butter in the dough; of a batter, or of a slack piece at proof, it says no figure."""
_MEASURE = {"core_c": "core", "dough_c": "dough temperature", "surface_c": "surface", "solid_fat": "solid butter"}
_SCALE = {"solid_fat": 100.0}


def measured_of(
    bake: Bake, progress: Progress, plan: Plan, trace: Trace
) -> tuple[tuple[Measured, ...], tuple[str, ...]]:
    """The readings and marks that can be compared with the trace of a plan, and a word on those that can't."""
    found: list[Measured] = []
    said: list[str] = []
    jars: list[tuple[int, float, float]] = []
    for read in progress.readings:
        place = _place(bake, plan, trace, read)
        if read.quantity == "bowl weight":
            continue
        if place is None:
            said.append(f"{read.quantity} {read.value:g} was noted for a step that has not begun: it is not used yet.")
            continue
        if read.quantity == "jar height":
            one = _jar(jars, plan, place, read.value)
            if one is None:
                continue
        else:
            one = Measured(*place, read.quantity, read.value, _error(read.quantity, trace, place[0]))
        if _fits(trace, one):
            found.append(one)
        else:
            said.append(f"{read.quantity} {read.value:g} can't be compared with anything in this step.")
    for mark in progress.marks:
        place = _place(bake, plan, trace, mark)
        if place is None:
            continue
        one = _marked(mark, place, plan.steps[place[0]])
        if one is not None and _fits(trace, one):
            found.append(one)
    return tuple(found), tuple(said)


def _place(bake: Bake, plan: Plan, trace: Trace, noted: Read | Marked) -> tuple[int, float] | None:
    """The step that was run and the minutes into it; a little before or after a step counts as its begin or end."""
    at_s = seconds_since(bake, noted.at)
    places = plan.pieces_of(noted.step)
    if not places:
        return None
    place = next((each for each in places if each >= len(plan.past_s) or plan.past_s[each] >= at_s), places[-1])
    begun = plan.begun_s(place)
    if begun is None:
        return None
    longest = float(trace.steps[place].sample_s[-1])
    if place < len(plan.past_s):
        longest = min(longest, plan.past_s[place] - begun)
    return place, min(max(0.0, at_s - begun), longest) / 60.0


def _error(quantity: str, trace: Trace, place: int) -> float:
    known = load("live")
    if quantity == "core":
        if trace.steps[place].kernel != "oven":
            return known.value("error.core")
        probe = load("tin")
        return math.hypot(probe.value("probe.error"), probe.value("probe.place"))
    name = {"dough temperature": "dough_temperature", "surface": "surface"}.get(quantity, "rise")
    return known.value(f"error.{name}")


def _jar(jars: list[tuple[int, float, float]], plan: Plan, place: tuple[int, float], height: float) -> Measured | None:
    """A jar's height over its first height since the dough was last worked; None for the first one itself."""
    worked = max((each for each in range(place[0] + 1) if plan.steps[each].kind in _WORKS_THE_DOUGH), default=0)
    first = next((jar for jar in jars if jar[0] >= worked), None)
    if first is None or first[2] <= 0.0:
        jars.append((*place, height))
        return None
    return Measured(
        *place, "jar height", height / first[2], load("live").value("error.jar"), since=(first[0], first[1])
    )  # fmt: skip


def aim_of(step: Step) -> Target | None:
    """What the mark on the bench stands for: the step's own target, or the usual rise of a proof."""
    if step.target is None and step.kind == "proof":
        usual = shaped_target()
        return Target(measure="rise", value=usual.likely, low=usual.low, high=usual.high)
    return step.target


def _marked(mark: Marked, place: tuple[int, float], step: Step) -> Measured | None:
    known = load("live")
    if mark.mark == "too soft":
        if step.kind not in _FIRM:
            return None
        limit = 100.0 * thresholds().too_soft
        return Measured(*place, "solid butter", limit, 100.0 * known.value("error.firmness_mark"), bound="below")
    aim = aim_of(step)
    if aim is None:
        return None
    bound: Literal["at", "below"] = "at" if mark.mark == "at the mark" else "below"
    if aim.measure == "rise":
        quantity = "rise since shaping" if step.kind == "proof" else "rise since mixing"
        return Measured(*place, quantity, aim.value, known.value("error.mark"), bound=bound)
    if aim.measure not in _MEASURE or (bound == "below" and step.kind != "bake"):
        return None  # whether dough cools or warms to its target hangs on the day
    error = known.value("error.firmness_mark" if aim.measure == "solid_fat" else "error.temperature_mark")
    scale = _SCALE.get(aim.measure, 1.0)
    if aim.measure == "core_c":
        error = math.hypot(error, load("tin").value("probe.place"))
    return Measured(*place, _MEASURE[aim.measure], scale * aim.value, scale * error, bound=bound)


def _fits(trace: Trace, one: Measured) -> bool:
    try:
        expected(trace, one)
    except Refusal:
        return False
    return True


def left_words(left: float, members: int, measured: Sequence[Measured]) -> tuple[str, ...]:
    """How many kitchens agree, in words; nothing where nothing was read."""
    if not measured:
        return ()
    return (f"About {max(1, round(left))} of {members} kitchens agree with what was read.",)
