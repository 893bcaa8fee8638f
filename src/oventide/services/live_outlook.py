"""The outlook of a bake under way, read off a timeline that was run: no kernel runs here."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from oventide.bench.fold import Progress
from oventide.bench.model import Bake, Instants, Level
from oventide.bench.outlook import Outlook, StepOutlook
from oventide.forecast.levels import levels
from oventide.forecast.light import light_readings
from oventide.forecast.narrowing import narrow
from oventide.forecast.under_way import Leg, Moments, UnderWay, legs, windows
from oventide.forecast.words import step_words
from oventide.services.live_plan import Plan, real_ends_s, seconds_since
from oventide.services.live_readings import left_words, measured_of
from oventide.services.telling import span_words

Array = NDArray[np.float64]


def outlook_of(
    bake: Bake, progress: Progress, plan: Plan, run: UnderWay, now: datetime, *, is_fresh: bool = True
) -> Outlook:
    """What is foreseen at `now`. `plan` is the plan of `run`, with the real moments as they are now."""
    measured, said = measured_of(bake, progress, plan, run.trace)
    narrowed = narrow(run.trace, measured) if measured else None
    weights = narrowed.weights if narrowed is not None else None
    found = legs(run, plan.past_s, seconds_since(bake, now))
    rows = windows(found, weights)
    if narrowed is not None:
        said = (*left_words(narrowed.left, run.trace.ensemble.members, measured), *narrowed.warnings, *said)
    return Outlook(
        number=progress.number,
        made_at=now,
        steps=_steps(bake, plan, found, rows, run, weights),
        ready=_ready(bake, found, rows),
        levels=_levels(bake, found, rows, weights),
        said=(*plan.said, *said),
        foreseen="fresh" if is_fresh else "under way",
    )


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
