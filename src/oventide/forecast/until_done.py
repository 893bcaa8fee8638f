"""From the oven's door until done inside, over every stretch of the bake."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from oventide.bake.doneness import SET_SHARE
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]


def done_in_oven_s(bakes: Sequence[StepTrace], goal_c: float) -> Array:
    """(M,) seconds in the oven until the coldest point is at `goal_c` and set; infinite where it is not seen to be.

    Past its planned end a stretch counts only where it is the last one.
    """
    members = bakes[0].start_s.size
    found, before = np.full(members, np.inf), np.zeros(members)
    for place, step in enumerate(bakes):
        seconds = np.maximum(step.first_passage("core_c", goal_c), step.first_passage("set_coldest", SET_SHARE))
        is_last = place == len(bakes) - 1
        here = np.isfinite(seconds) & (is_last | (seconds <= step.duration_s)) & ~np.isfinite(found)
        found = np.where(here, before + seconds, found)
        before = before + step.duration_s
    return found
