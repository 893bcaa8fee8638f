"""The coupling: every step of the procedure in turn, every member at once. The one place where time is advanced.

Before the oven the dough is a slab or a cylinder of cells, each with its temperature and its ferment vector
(before_oven.py on hold.py); from the oven's door on it is a column of cells in the tin with water, gas, set and colour
(through_oven.py on oven.py). When the make-up changes the body, profiles are carried over or, where the dough is
worked through, averaged.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oventide.dough.state import ferment_parameters
from oventide.kitchen.model import Kitchen
from oventide.timeline import filling, passage, shape
from oventide.timeline.batch import Batch
from oventide.timeline.before_oven import make_up, out_of_oven
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.hold import HoldState
from oventide.timeline.keep import keep, out_of_the_oven
from oventide.timeline.mixing import mix
from oventide.timeline.passage import Passage, planned_s
from oventide.timeline.procedure import Step
from oventide.timeline.ripening import with_preferments
from oventide.timeline.spread_out import Hands
from oventide.timeline.surroundings import Clock
from oventide.timeline.through_oven import in_oven, to_the_door
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]
Progress = Callable[[float], None]


@dataclass(frozen=True)
class Mark:
    """The dough as a step found it: from here the rest of the timeline can be run again.

    It holds the states themselves, not copies of them: 1.2 kB a member and step before the oven, 1.4 kB in it.
    """

    index: int
    dough: Passage
    begun_s: Array
    """(M,) when the step began, since the first one did [s]."""


def run_timeline(
    batch: Batch,
    kitchen: Kitchen,
    ensemble: Ensemble,
    clock: Clock,
    progress: Progress | None = None,
    *,
    hands: Hands | None = None,
    marks: dict[int, Mark] | None = None,
) -> Trace:
    """Run every step. Members (M,) differ in every figure that is not certain; `clock` says where the day stands.

    Steps without a stated length are refused by the caller, not guessed here. `hands` carries the members; `marks`
    is filled with the dough as each step found it.
    """
    draws: dict[str, Array] = {}
    for room in ("matter", "dough", "bake", "timeline", "weep", "keeping", "tin"):
        draws |= ensemble.of(room)
    p = ferment_parameters(batch.dough, draws, kitchen.altitude_m)
    first, ripened = with_preferments(batch.dough, batch.preferments, draws, kitchen, ensemble)
    start = HoldState(
        np.repeat(np.asarray(ensemble.of("kitchen")["room"])[:, None], passage.HOLD_CELLS, axis=1),
        np.ascontiguousarray(np.repeat(first[:, None, :], passage.HOLD_CELLS, axis=1)),
    )
    dough = Passage(batch, kitchen, ensemble, draws, p, shape.bowl(1e-3, draws), start)
    dough.body = shape.bowl(dough.fresh_volume_m3(), draws)
    dough.shaped_rise = np.ones(ensemble.members)
    dough.hands = hands or Hands()
    dough.assumed = ripened
    dough.filling = filling.begin(batch, draws)
    return carry_on(Mark(0, dough, np.zeros(ensemble.members)), clock, progress, marks)


def carry_on(mark: Mark, clock: Clock, progress: Progress | None = None, marks: dict[int, Mark] | None = None) -> Trace:
    """Run the steps from a mark on. The mark stays what it is, and can be carried on from again."""
    dough, begun = replace(mark.dough), mark.begun_s
    traces: list[StepTrace] = []
    assumed = list(dough.assumed)
    steps = dough.batch.procedure.steps
    for index in range(mark.index, len(steps)):
        if progress is not None:
            progress((index - mark.index) / (len(steps) - mark.index))
        if marks is not None:
            marks[index] = Mark(index, replace(dough), begun)
        trace = _advance(dough, steps[index], index, begun, clock, assumed)
        dough.filling, trace = filling.after(dough.filling, trace, dough.draws)
        traces.append(trace)
        begun = begun + trace.duration_s
    if progress is not None:
        progress(1.0)
    return Trace(ensemble=dough.ensemble, steps=tuple(traces), assumed=tuple(dict.fromkeys(assumed)))


def _advance(dough: Passage, step: Step, index: int, begun: Array, clock: Clock, assumed: list[str]) -> StepTrace:
    if step.kind == "mix":
        return _mix(dough, step, index, begun, assumed)
    if step.kind == "keep":
        return _keep(dough, step, index, begun, clock, assumed)
    if step.kind == "bake" and dough.oven is None:
        to_the_door(dough)
    if dough.oven is not None:
        trace = in_oven(dough, step, index, begun, clock, assumed)
        dough.kept = out_of_the_oven(dough, trace)
        return trace
    make_up(dough, step)
    return out_of_oven(dough, step, index, begun, clock)


def _mix(dough: Passage, step: Step, index: int, begun: Array, assumed: list[str]) -> StepTrace:
    """Mixing is one heat balance: the dough leaves the bowl at one temperature throughout."""
    mixed = mix(dough.batch, step, dough.kitchen, dough.ensemble)
    assumed.extend(mixed.assumed)
    dough.hold = HoldState(
        np.repeat(mixed.dough_c[:, None], dough.hold.temperature_c.shape[1], axis=1), dough.hold.ferment
    )
    dough.rested = False
    length = planned_s(step, dough.ensemble)
    horizon = max(float(length.max()), 60.0)
    rise = np.ones(dough.members)
    samples = np.stack([np.stack([mixed.start_c, rise], axis=1), np.stack([mixed.dough_c, rise], axis=1)], axis=1)
    return StepTrace(
        index, step, "mix", ("mean_c", "rise"), begun, length, np.array([0.0, horizon]), samples, mixed.facts
    )


def _keep(dough: Passage, step: Step, index: int, begun: Array, clock: Clock, assumed: list[str]) -> StepTrace:
    """Keep what was baked. Dough that was never baked has no law of keeping: its time passes, without observables."""
    if dough.kept is None:
        nothing = np.zeros((dough.members, 1, 0))
        return StepTrace(index, step, "rest", (), begun, planned_s(step, dough.ensemble), np.zeros(1), nothing, {})
    trace, dough.kept = keep(dough, dough.kept, step, index, begun, clock, assumed)
    return trace
