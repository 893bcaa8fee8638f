"""The outlook of a bake under way, read off a timeline that was run: no kernel runs here."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from oventide.bench.fold import Progress
from oventide.bench.model import Bake, Choice, Countdown, Instants, Level
from oventide.bench.outlook import Outlook, StepOutlook
from oventide.forecast.countdowns import Butter, bench_stretch, butter_of, butter_spreads, dough_rolls, out_by_s
from oventide.forecast.levels import levels
from oventide.forecast.light import light_readings
from oventide.forecast.narrowing import Measured, narrow
from oventide.forecast.under_way import Leg, Moments, UnderWay, legs, windows
from oventide.forecast.words import step_words
from oventide.services.live_plan import Plan, real_ends_s, seconds_since
from oventide.services.live_readings import left_words, measured_of
from oventide.services.telling import span_words

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Look:
    """A bake looked at: its run with the real moments laid over it, and the kitchens weighed by what was read."""

    bake: Bake
    progress: Progress
    plan: Plan
    run: UnderWay
    now: datetime
    measured: tuple[Measured, ...]
    weights: Array | None
    said: tuple[str, ...]
    legs: tuple[Leg, ...]
    rows: list[tuple[Moments, Moments]]

    @property
    def now_s(self) -> float:
        return seconds_since(self.bake, self.now)

    @property
    def now_place(self) -> int:
        """Place of the step that goes on now among those that are run."""
        return len(self.plan.past_s)


def look_at(bake: Bake, progress: Progress, plan: Plan, run: UnderWay, now: datetime) -> Look:
    """What is foreseen at `now`. `plan` is the plan of `run`, with the real moments as they are now."""
    measured, said = measured_of(bake, progress, plan, run.trace)
    narrowed = narrow(run.trace, measured) if measured else None
    weights = narrowed.weights if narrowed is not None else None
    found = legs(run, plan.past_s, seconds_since(bake, now))
    if narrowed is not None:
        said = (*left_words(narrowed.left, run.trace.ensemble.members, measured), *narrowed.warnings, *said)
    said = (*plan.said, *said)
    return Look(bake, progress, plan, run, now, measured, weights, said, found, windows(found, weights))


def outlook_of(look: Look, *, is_fresh: bool = True, choices: Sequence[Choice] = ()) -> Outlook:
    """The outlook of a bake that was looked at."""
    bake, found, rows = look.bake, look.legs, look.rows
    counted, butter_said = _countdowns(look)
    return Outlook(
        number=look.progress.number,
        made_at=look.now,
        steps=_steps(bake, look.plan, found, rows, look.run, look.weights),
        ready=_ready(bake, found, rows),
        levels=_levels(bake, found, rows, look.weights),
        countdowns=counted,
        choices=tuple(choices),
        said=(*look.said, *butter_said),
        foreseen="fresh" if is_fresh else "under way",
    )


def _countdowns(look: Look) -> tuple[tuple[Countdown, ...], tuple[str, ...]]:
    """The two countdowns of the bench, and what the butter's rests on."""
    stretch = bench_stretch(look.legs, look.now_place)
    if stretch is None:
        return (), ()
    found = [dough_rolls(look.legs, stretch, look.now_s, look.weights)]
    said: tuple[str, ...] = ()
    butter = butter_of(look.run, stretch[0])
    if butter is not None and look.now_place <= max(_spreads(look, stretch), default=-1):
        found.append(butter_spreads(butter, look.legs, stretch, look.now_s, look.weights))
        said = _butter_said(look, butter, stretch)
    counted = tuple(
        Countdown(
            name=each.name,
            opens=None if each.opens is None else _instants(look.bake, each.opens),
            closes=None if each.closes is None else _instants(look.bake, each.closes),
        )
        for each in found
    )
    return counted, said


def _butter_said(look: Look, butter: Butter, stretch: range) -> tuple[str, ...]:
    out_s = look.rows[stretch[0]][0].likely
    wanted_s = look.rows[_spreads(look, stretch)[0]][0].likely
    words = f"The butter for the spread is taken as put out of the fridge at {moment(look.bake, out_s):%H:%M}"
    by_s = out_by_s(butter, wanted_s, look.weights)
    if by_s is None or by_s >= out_s:
        return (f"{words}, in one piece.",)
    return (f"{words}; to spread by {moment(look.bake, wanted_s):%H:%M} it is out by {moment(look.bake, by_s):%H:%M}.",)


def _spreads(look: Look, stretch: range) -> list[int]:
    """Places of the spreading: once it is done, its butter is of no more interest."""
    return [place for place in stretch if look.plan.steps[place].kind == "spread"]


def plan_with(bake: Bake, progress: Progress, plan: Plan) -> Plan:
    """An earlier plan with the moments that are known now: right at once, till its run is there."""
    ends = real_ends_s(bake, progress)
    past: list[float] = []
    for index, end in enumerate(ends):
        pieces = plan.pieces_of(index)
        begun = past[-1] if past else 0.0
        for place in pieces:
            span = plan.steps[place].minutes
            length = 60.0 * span.likely if span is not None else 0.0
            begun = end if place == pieces[-1] else min(begun + length, end)
            past.append(begun)
    if len(plan.past_s) > len(past) and plan.origin[len(past)] == len(ends):
        past += plan.past_s[len(past) :]
    return replace(plan, past_s=tuple(past))


def _steps(
    bake: Bake,
    plan: Plan,
    found: Sequence[Leg],
    rows: Sequence[tuple[Moments, Moments]],
    run: UnderWay,
    weights: Array | None,
) -> tuple[StepOutlook, ...]:
    shown = []
    for index in range(len(bake.product.procedure.steps)):
        pieces = plan.pieces_of(index)
        leg = found[pieces[-1]]
        length = leg.ends_s - leg.begins_s
        trace = replace(leg.trace, duration_s=np.minimum(length, leg.trace.sample_s[-1]))
        setting = float(np.median(trace.facts["setting_c"])) if "setting_c" in trace.facts else None
        words = step_words(bake.product.procedure.steps[index], setting)
        shown.append(
            StepOutlook(
                index=index,
                begins=_instants(bake, rows[pieces[0]][0]),
                ends=_instants(bake, rows[pieces[-1]][1]),
                figures=tuple(span_words(each) for each in light_readings(trace, run.trace.ensemble, weights)),
                action=words.action,
                target=words.target,
                outside=words.outside,
                cautions=words.cautions,
            )
        )
    return tuple(shown)


def _ready(bake: Bake, found: Sequence[Leg], rows: Sequence[tuple[Moments, Moments]]) -> Instants | None:
    last = max((place for place, leg in enumerate(found) if leg.trace.step.kind != "keep"), default=None)
    return None if last is None else _instants(bake, rows[last][1])


def _instants(bake: Bake, window: Moments) -> Instants:
    earliest, likely, latest = (
        moment(bake, seconds) for seconds in (window.earliest, window.likely, window.latest)
    )  # fmt: skip
    return Instants(earliest=earliest, likely=likely, latest=latest)


def moment(bake: Bake, seconds: float) -> datetime:
    """A moment of the bake on the clock, to the second."""
    return bake.started_at + timedelta(seconds=round(seconds))


def _levels(
    bake: Bake, found: Sequence[Leg], rows: Sequence[tuple[Moments, Moments]], weights: Array | None
) -> tuple[Level, ...]:
    return tuple(
        Level(
            name=curve.name,
            unit=curve.unit,
            at=tuple(moment(bake, seconds) for seconds in curve.at_s),
            p5=curve.p5,
            p50=curve.p50,
            p95=curve.p95,
        )
        for curve in levels(found, rows, weights)
    )
