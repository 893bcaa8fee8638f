"""What the oven and the rack take: bake loss as a share of the dough, and the weights that follow."""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.evidence.parameters import load

Array = NDArray[np.float64]
_VOLATILITY = load("bake").value("loss.ethanol_volatility")


@compiled
def ethanol_gone(water_gone: float) -> float:
    """Share of the ethanol that has left with the share `water_gone` of the water [1], by Rayleigh's distillation.

    1 - (1 - f)^α: α is the relative volatility of a little ethanol in water near the boiling point.

    >>> round(ethanol_gone(0.1), 2)
    0.69
    """
    return 1.0 - math.pow(max(0.0, 1.0 - max(0.0, water_gone)), _VOLATILITY)


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
