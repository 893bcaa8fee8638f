"""What there is to keep: the baked pieces between two stays."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Kept:
    """The baked pieces between two stays: staling (1), weight lost since the oven (1), temperature, mass and size."""

    stale: Array
    lost: Array
    mean_c: Array
    slow: Array
    """What the time constant is multiplied by from here on: shorter once it was reheated."""
    limit: Array
    water: Array
    """kg/kg when cool."""
    density: Array
    height_m: Array
    surface_m2_kg: Array
    """Open surface over mass."""
