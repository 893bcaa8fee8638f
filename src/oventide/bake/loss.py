"""What the oven and the rack take: bake loss as a share of the dough, and the weights that follow."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def loss_share(lost_kg_m2: Array, dough_kg_m2: Array) -> Array:
    """Water gone over dough weight at the oven's door [1]."""
    return np.asarray(lost_kg_m2 / dough_kg_m2)


def scaling_weight_g(baked_g: float, loss: float) -> float:
    """Dough to scale for a baked weight [g], the loss being a share of the dough.

    >>> round(scaling_weight_g(75.0, 0.107), 1)
    84.0
    """
    return baked_g / (1.0 - loss)


def water_share_after(first_water_share: float, loss: float) -> float:
    """Water in the baked piece [kg/kg] when all of the loss is water.

    >>> round(water_share_after(0.36, 0.06), 3)
    0.319
    """
    return (first_water_share - loss) / (1.0 - loss)
