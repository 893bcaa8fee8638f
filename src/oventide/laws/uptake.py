"""Uptake that saturates, over a whole step, so that a sugar can run out but never go below nothing."""

import math

from oventide.compiled import compiled
from oventide.lanes.members import choose


@compiled
def left_after_uptake(start: float, demand: float, half_saturation: float) -> float:
    """What is left of a sugar after one step of saturating uptake (Monod), backward in time [unit of `start`].

    Solves s = start - demand·s/(s + half_saturation) for s ≥ 0; `demand` is what a saturated yeast would take
    in the step. Never negative, whatever the step.

    >>> round(left_after_uptake(10.0, 1.0, 0.0), 6), left_after_uptake(0.0, 1.0, 0.15)
    (9.0, 0.0)
    """
    b = half_saturation - start + demand
    root = math.sqrt(b * b + 4.0 * half_saturation * max(0.0, start))
    # the root that loses no digits where b is positive
    left = choose(b > 0.0, 2.0 * half_saturation * start / max(1e-300, b + root), 0.5 * (root - b))
    return choose(start <= 0.0, 0.0, min(start, max(0.0, left)))
