"""A bake under way: the timeline with what really happened laid over it. No kernel runs here but in `begin`, `go_on`.

The steps that are over have their own moments. The step now began when it began. What comes is shifted by the members'
own durations: each kitchen of the ensemble goes on from the real moment with the minutes that it needs itself, so that
windows stay what they are in the forecast, ninety kitchens of a hundred.

Where a step takes a target (a rise, a core), a kitchen's minutes are those until it meets it; handwork takes the
kitchen's pace; other waits are as long as they are written, within their least and greatest minutes by the same pace.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.forecast.foresee import check_procedure, ensemble_for
from oventide.forecast.quantiles import quantiles
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import draw_ensemble, joined
from oventide.timeline.passage import met_after_s
from oventide.timeline.procedure import Procedure, Step
from oventide.timeline.resume import resume
from oventide.timeline.run import Mark, run_timeline
from oventide.timeline.spread_out import Hands
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]
Progress = Callable[[float], None]

BESIDE = Hands(members_at_once=40)
"""A few members at a time: a kernel holds the interpreter while it runs, and an answer must not wait for it long."""
_AIMED = ("bulk", "temper", "chill", "proof", "bake", "cool")
"""Waits that a baker ends by what the dough shows, where a target is given."""
_ASIDE = 104_729
_BY_THE_CLOCK = ("retard", "keep")


@dataclass(frozen=True, eq=False)
class UnderWay:
    """A timeline that was run, with the dough as each step found it."""

    trace: Trace
    batch: Batch
    kitchen: Kitchen
    clock: Clock
    marks: dict[int, Mark] = field(repr=False)

    @property
    def steps(self) -> tuple[Step, ...]:
        return self.batch.procedure.steps


def begin(
    batch: Batch,
    kitchen: Kitchen,
    *,
    start_h: float | None,
    members: int,
    seed: int,
    progress: Progress | None = None,
) -> UnderWay:
    """Run the whole timeline. `start_h` is the hour of the day at which the first step began."""
    check_procedure(batch.procedure)
    marks: dict[int, Mark] = {}
    clock = Clock(start_h)
    # the butter beside the bench is drawn by itself: it moves no figure of dough and oven
    aside = draw_ensemble({"live": list(load("live").parameters.values())}, members, seed + _ASIDE)
    ensemble = joined(ensemble_for(kitchen, members, seed), aside)
    trace = run_timeline(batch, kitchen, ensemble, clock, progress, hands=BESIDE, marks=marks)
    return UnderWay(trace, batch, kitchen, clock, marks)


def go_on(before: UnderWay, procedure: Procedure, progress: Progress | None = None) -> UnderWay:
    """The timeline with other steps: what both have in common is not run again.

    The answer is the one that running it all again would give.
    """
    check_procedure(procedure)
    alike = common(before.steps, procedure.steps)
    batch = replace(before.batch, procedure=procedure)
    done = before.trace.steps[:alike]
    kept = {index: mark for index, mark in before.marks.items() if index <= alike}
    if alike == len(procedure.steps):
        return replace(before, trace=replace(before.trace, steps=done), batch=batch, marks=kept)
    marks: dict[int, Mark] = {}
    rest = resume(kept[alike], before.clock, batch=batch, hands=BESIDE, marks=marks, progress=progress)
    trace = Trace(rest.ensemble, (*done, *rest.steps), tuple(dict.fromkeys((*before.trace.assumed, *rest.assumed))))
    return replace(before, trace=trace, batch=batch, marks=kept | marks)


def common(some: Sequence[Step], others: Sequence[Step]) -> int:
    """How many steps two procedures have in common from the first one on."""
    for index, (one, other) in enumerate(zip(some, others, strict=False)):
        if one != other:
            return index
    return min(len(some), len(others))


def own_length_s(trace: StepTrace, whole: Trace) -> Array:
    """(M,) how long each kitchen takes for a step as a baker ends it [s]."""
    step = trace.step
    if step.minutes is None:
        return trace.duration_s
    if step.target is not None and step.kind in _AIMED and step.ends_by == "clock":
        met = met_after_s(trace)
        if met is not None:
            least = 60.0 * step.minutes.low * load("live").value("shortest.share")
            return np.asarray(np.clip(met, least, trace.sample_s[-1]))
    if step.ends_by == "target" or step.kind in _BY_THE_CLOCK or np.ptp(trace.duration_s) > 0.0:
        return trace.duration_s
    pace = whole.ensemble.of("timeline")["hands.pace"]
    span = step.minutes
    low = span.low + (span.likely - span.low) * np.minimum(1.0, 2.0 * pace)
    return np.asarray(60.0 * (low + (span.high - span.likely) * np.maximum(0.0, 2.0 * pace - 1.0)))


@dataclass(frozen=True)
class Leg:
    """One step on the clock: (M,) when each kitchen begins and ends it, since the bake began [s]."""

    trace: StepTrace
    begins_s: Array
    ends_s: Array
    is_past: bool = False


def legs(run: UnderWay, past_s: Sequence[float], now_s: float) -> tuple[Leg, ...]:
    """Every step on the clock. `past_s` are the real ends of the steps that are over, since the first one began [s].

    What follows the step now can't begin before `now_s`; its own end may lie before it: then it is late.
    """
    members = run.trace.ensemble.members
    begun = np.zeros(members)
    found: list[Leg] = []
    for trace in run.trace.steps:
        if trace.index < len(past_s):
            ends = np.full(members, past_s[trace.index])
            found.append(Leg(trace, begun, ends, is_past=True))
            begun = ends
            continue
        ends = begun + own_length_s(trace, run.trace)
        found.append(Leg(trace, begun, ends))
        begun = np.maximum(ends, now_s) if trace.index == len(past_s) else ends
    return tuple(found)


@dataclass(frozen=True)
class Moments:
    """Earliest, likely and latest [s since the bake began]."""

    earliest: float
    likely: float
    latest: float

    def to_latest(self, latest: float) -> "Moments":
        """The same with another latest moment, not before the likely one."""
        return replace(self, latest=max(self.likely, latest))


def moments(seconds: Array, weights: Array | None) -> Moments:
    """The window of moments (M,), each kitchen as much as it counts."""
    if np.ptp(seconds) == 0.0:
        return Moments(*(float(seconds[0]),) * 3)
    return Moments(*(float(value) for value in quantiles(seconds, weights=weights)))


def windows(found: Sequence[Leg], weights: Array | None) -> list[tuple[Moments, Moments]]:
    """(begins, ends) of every step. What comes later never begins or ends earlier, at any of the three moments."""
    rows: list[tuple[Moments, Moments]] = []
    for leg in found:
        begins, ends = moments(leg.begins_s, weights), moments(leg.ends_s, weights)
        if not leg.is_past:
            ends = _sensible(leg, ends, weights)
        rows.append((begins, ends))
    return rows


def _sensible(leg: Leg, ends: Moments, weights: Array | None) -> Moments:
    """The end's window as a baker takes it: not on to where half of the kitchens are past the target's upper limit."""
    step = leg.trace.step
    if step.target is None or step.target.high is None or step.kind not in _AIMED:
        return ends
    too_far = met_after_s(leg.trace, step.target.high)
    if too_far is None:
        return ends
    held = np.where(np.isfinite(too_far), leg.begins_s + too_far, np.finfo(float).max)
    return ends.to_latest(min(ends.latest, float(quantiles(held, (0.5,), weights)[0])))
