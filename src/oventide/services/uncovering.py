"""The cover comes off sooner or later: what that does to core, colour, loss and the minutes until done.

Only the bake is run again, from the dough at the oven's door, so that the answer keeps up with a handle that is moved.
The same kitchens stand on both sides: a change has a range of its own, narrower than the figure's.
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import colour_word
from oventide.errors import refuse
from oventide.formula.model import Frozen
from oventide.kitchen.model import Kitchen
from oventide.services.at_the_door import Door, Doors
from oventide.services.foreseeing import MEMBERS, SEED
from oventide.services.kernel import KERNEL
from oventide.services.travelling import Beside
from oventide.timeline.procedure import Procedure, Product, Span, Step
from oventide.travel.model import Figure, figure_of_members

if TYPE_CHECKING:
    from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]
Until = Literal["as long", "done"]

AT_ONCE = 100
"""Kitchens that are looked at while a handle is dragged; half of the forecast's."""
_LEAST_MIN = 1.0


class Uncovering(Frozen):
    """One moment to take the cover off, beside the written one."""

    covered_min: float
    """Minutes in the oven when the cover comes off."""
    written_min: float
    whole_min: float
    """Likely minutes in the oven: as written, or until done inside."""
    least_min: float
    most_min: float
    """Between these it can be moved."""
    until: Until
    rows: tuple[Beside, ...]
    """Core, colours, loss, minutes until done: as written, as asked, and the change kitchen by kitchen."""
    colour_word: str
    """Of the likely top, as asked."""
    written_colour_word: str
    kitchens: int
    seed: int


def range_of(product: Product) -> tuple[int, int]:
    """Places of the covered bake and of the open one that follows it. Refuses a bake that is not done in these two."""
    steps = product.procedure.steps
    for index, (one, other) in enumerate(pairwise(steps)):
        if one.kind == other.kind == "bake" and one.covered and not other.covered:
            return index, index + 1
    raise refuse(
        "procedure", "bake", "There is no covered bake with an open one after it.",
        "Give the bake as two steps, covered and open.",
    )  # fmt: skip


def uncovered(
    product: Product,
    kitchen: Kitchen,
    covered_min: float,
    ready_by: str | None = None,
    *,
    until: Until = "as long",
    doors: Doors,
    seed: int = SEED,
    members: int = MEMBERS,
    at_once: int = AT_ONCE,
) -> Uncovering:
    """The bake with the cover off after `covered_min` [min] in the oven.

    `until` says whether it then stays in as long in all as written, or until it is done inside. Quick where `doors`
    knows the run; else the whole timeline is run first.
    """
    covered, opened = range_of(product)
    steps = product.procedure.steps
    written, whole = _minutes(steps[covered]), _minutes(steps[covered]) + _minutes(steps[opened])
    before = sum(_minutes(step) for step in steps[:covered] if step.kind == "bake")
    least, most = before + _LEAST_MIN, before + whole - _LEAST_MIN
    if not least <= covered_min <= most:
        raise refuse(
            "uncover", f"{covered_min:g} min", f"The cover comes off {least:.0f} to {most:.0f} minutes after loading.",
            "Move it between them.",
        )  # fmt: skip
    door = doors.of(product, kitchen, ready_by, seed, members)
    who = np.arange(0, members, max(1, members // at_once))
    here = _as_written(door, who)
    there = _moved(door, who, covered, opened, covered_min - before, until)
    rows = _rows(here, there, kitchen, until)
    return Uncovering(
        covered_min=covered_min,
        written_min=before + written,
        whole_min=_whole(rows) if until == "done" else before + whole,
        least_min=least,
        most_min=most,
        until=until,
        rows=rows,
        colour_word=colour_word(_row(rows, "colour on top").after.likely),
        written_colour_word=colour_word(_row(rows, "colour on top").before.likely),
        kitchens=who.size,
        seed=seed,
    )


def _minutes(step: Step) -> float:
    return step.minutes.likely if step.minutes is not None else 0.0


def _as_written(door: Door, who: NDArray[np.int64]) -> "list[StepTrace]":
    """The bakes of the forecast, of the kitchens that are looked at."""
    return [
        replace(
            step, start_s=step.start_s[who], duration_s=step.duration_s[who], samples=step.samples[who],
            facts={name: values[who] for name, values in step.facts.items()},
        )
        for step in door.ahead.trace.steps
        if step.step.kind == "bake"
    ]  # fmt: skip


def _moved(
    door: Door, who: NDArray[np.int64], covered: int, opened: int, minutes: float, until: Until
) -> "list[StepTrace]":
    """The bakes with the cover off after `minutes` of the covered step."""
    from oventide.timeline.resume import resume

    steps = list(door.ahead.batch.procedure.steps)
    last = max(index for index, step in enumerate(steps) if step.kind == "bake")
    both = _minutes(steps[covered]) + _minutes(steps[opened])
    steps[covered] = _lasting(steps[covered], minutes)
    steps[opened] = _lasting(steps[opened], both - minutes)
    batch = replace(door.ahead.batch, procedure=Procedure(steps=tuple(steps[: last + 1])))
    with KERNEL:
        trace: Trace = resume(door.mark, door.ahead.clock, batch=batch, members=who)
    return list(trace.steps)


def _lasting(step: Step, minutes: float) -> Step:
    span = Span(low=minutes, likely=minutes, high=minutes)
    return step.model_copy(update={"minutes": span, "ends_by": "clock"})


def _rows(
    here: "Sequence[StepTrace]", there: "Sequence[StepTrace]", kitchen: Kitchen, until: Until
) -> tuple[Beside, ...]:
    from oventide.forecast.hot import core_target_c

    goal = core_target_c(kitchen.altitude_m)
    before, after = _figures(here, goal, until), _figures(there, goal, until)
    rows = []
    for name, (unit, one, horizon) in before.items():
        other, limit = after[name][1:]
        both = np.isfinite(one) & np.isfinite(other)
        change = other[both] - one[both] if both.any() else np.zeros(1)
        rows.append(
            Beside(
                name=name,
                before=figure_of_members(name, unit, one, horizon),
                after=figure_of_members(name, unit, other, limit),
                change=_changed(name, unit, change, float(both.mean())),
            )
        )
    return tuple(rows)


def _changed(name: str, unit: str, change: Array, known: float) -> Figure:
    found = figure_of_members(name, "K" if unit == "°C" else unit, change)
    return found.model_copy(update={"reached": known})


def _figures(bakes: "Sequence[StepTrace]", goal_c: float, until: Until) -> dict[str, tuple[str, Array, float | None]]:
    """Each figure by kitchen when the bake ends: as long as it is written, or when it is done inside."""
    from oventide.forecast.until_done import done_in_oven_s

    last = bakes[-1]
    before = sum((step.duration_s for step in bakes[:-1]), np.zeros(last.start_s.size))
    done = done_in_oven_s(bakes, goal_c)
    horizon = float(np.median(before) + last.sample_s[-1]) / 60.0
    end = last.duration_s if until == "as long" else np.clip(done - before, 0.0, last.sample_s[-1])
    return {
        "core at the end of the bake": ("°C", last.at("core_c", end), None),
        "colour on top": ("ΔE", last.at("colour_top", end), None),
        "colour of the base": ("ΔE", last.at("colour_base", end), None),
        "bake loss": ("%", 100.0 * last.at("loss", end), None),
        "minutes in the oven until done inside": ("min", done / 60.0, horizon),
    }


def _row(rows: Sequence[Beside], name: str) -> Beside:
    return next(row for row in rows if row.name == name)


def _whole(rows: Sequence[Beside]) -> float:
    return _row(rows, "minutes in the oven until done inside").after.likely
