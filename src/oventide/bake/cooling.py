"""Readings of the way down: when the surface is right for a glaze, when a bun can be packed.

The cooling itself is a stage of the oven's kernel with `oven_kind="rack"`.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.bake.doneness import first_crossing
from oventide.matter.water import saturation_slope

Array = NDArray[np.float64]


class SurfaceWindow(NamedTuple):
    """Seconds after the oven's door, (M,): from when the surface is cool enough, until when it is warm enough.

    `opens` is 0 where the surface starts inside the window; nan where it never enters, or never leaves, in time.
    """

    opens: Array
    closes: Array


def surface_window(sample_s: Array, surface_c: Array, low_c: float, high_c: float) -> SurfaceWindow:
    """When a cooling surface (M, K) [°C] is between `low_c` and `high_c`."""
    return SurfaceWindow(
        first_crossing(sample_s, surface_c, high_c, rising=False),
        first_crossing(sample_s, surface_c, low_c, rising=False),
    )


def cool_enough(sample_s: Array, core_c: Array, limit_c: float) -> Array:
    """When the warmest of the middle [s] (give the centre's samples) is below a limit, for packing or slicing."""
    return first_crossing(sample_s, core_c, limit_c, rising=False)


def sweats_after_s(sample_s: Array, base_c: Array, core_c: Array, activity: float = 0.95) -> Array:
    """When a tin's base (M, K) [°C] falls below the dew point of the crumb above it [s], nan if it does not.

    Crumb of that water activity: its dew point lies where saturated steam has `activity` of the core's pressure, some
    1.3 K under the core at 95 °C. From then on water condenses on the tin and wets the base.
    """
    lag = -math.log(activity) / saturation_slope(80.0)
    return first_crossing(sample_s, base_c - (core_c - lag), 0.0, rising=False)
