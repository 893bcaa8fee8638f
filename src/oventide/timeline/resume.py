"""The rest of the timeline from now: what has been done is not run again."""

from dataclasses import fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.passage import Passage
from oventide.timeline.run import Mark, Progress, carry_on
from oventide.timeline.spread_out import Hands, cut
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import Trace

Array = NDArray[np.float64]
_WHOLE = ("batch", "kitchen", "ensemble", "footprint_m2", "hands")
"""Fields of the passage that do not lead with the member."""


def resume(
    mark: Mark,
    clock: Clock,
    *,
    batch: Batch | None = None,
    begun_s: Array | float | None = None,
    members: NDArray[np.int64] | None = None,
    hands: Hands | None = None,
    marks: dict[int, Mark] | None = None,
    progress: Progress | None = None,
) -> Trace:
    """Forecast from a mark of `run_timeline` on: the step that begins now and all that follow it.

    `begun_s` is when that step really began, since the first one did [s], where it is known; `members` (m,) picks and
    repeats members, as a reading at the bench weighs them; `batch` is the same dough with other steps from here on.
    `marks` is filled as by `run_timeline`.
    """
    dough = mark.dough if members is None else picked(mark.dough, members)
    begun = mark.begun_s if members is None else mark.begun_s[members]
    if begun_s is not None:
        begun = np.full(dough.members, 0.0) + begun_s
    dough = replace(dough, batch=batch or dough.batch, hands=hands or dough.hands)
    return carry_on(Mark(mark.index, dough, begun), clock, progress, marks)


def picked(dough: Passage, members: NDArray[np.int64]) -> Passage:
    """The passage of some of the members."""
    own: Ensemble = dough.ensemble
    values = {room: {name: drawn[members] for name, drawn in draws.items()} for room, draws in own.values.items()}
    changed: dict[str, Any] = {"ensemble": replace(own, members=len(members), values=values)}
    for field in fields(dough):
        value = getattr(dough, field.name)
        if field.name not in _WHOLE and not (field.name == "oven_par" and dough.oven is None):
            changed[field.name] = cut(value, members, own.members)
    return replace(dough, **changed)
