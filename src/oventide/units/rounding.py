"""Rounding to a scale's step so that the lines shown still add up to the total shown."""

import math
from collections.abc import Sequence


def to_step(value: float, step: float) -> float:
    """The multiple of `step` nearest to `value` (halves go up).

    >>> to_step(7.46, 0.1), to_step(352.64, 5)
    (7.5, 355.0)
    """
    return float(round(math.floor(value / step + 0.5) * step, 9))


def lines_to_scale(
    grams: Sequence[float], coarse_step_g: float, fine_step_g: float, fine_below_g: float
) -> list[float]:
    """Round every line to the scale it is weighed on, keeping the sum.

    Lines under `fine_below_g` go on the fine scale, the others on the coarse one. The coarse lines are
    adjusted by largest remainder, so that their rounded sum is the rounding of their exact sum; the total
    to show is the sum of the lines returned, and differs from the exact total by less than one coarse step.

    >>> lines_to_scale([333.4, 333.4, 333.4, 6.27], 1, 0.1, 20)
    [334.0, 333.0, 333.0, 6.3]
    """
    rounded = [to_step(value, fine_step_g) for value in grams]
    coarse = [index for index, value in enumerate(grams) if value >= fine_below_g]
    if not coarse:
        return rounded
    target = round(to_step(sum(grams[index] for index in coarse), coarse_step_g) / coarse_step_g)
    floors = {index: math.floor(grams[index] / coarse_step_g + 1e-9) for index in coarse}
    spare = target - sum(floors.values())
    by_remainder = sorted(coarse, key=lambda index: floors[index] - grams[index] / coarse_step_g)
    for index in coarse:
        rounded[index] = float(round(floors[index] * coarse_step_g, 9))
    for index in by_remainder[: max(spare, 0)]:
        rounded[index] = float(round((floors[index] + 1) * coarse_step_g, 9))
    return rounded
