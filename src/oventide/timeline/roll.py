"""The pieces as they stand in the oven: a roll on its cut face, heated along its layers."""

import numpy as np
from numpy.typing import NDArray

from oventide.bake.layers import along_over_mixture
from oventide.matter.properties import density_kg_m3, shares_of
from oventide.timeline.batch import Batch
from oventide.timeline.door import shares_of_composition

Array = NDArray[np.float64]


def along_the_roll(batch: Batch, gas_fraction: Array, draws: dict[str, Array]) -> dict[str, Array]:
    """The draws with `dough.conductivity_factor` (M,) as it holds along the layers of dough and spread.

    `gas_fraction` (M,) of the whole piece at the oven's door. Without a spread nothing changes.
    """
    if batch.spread_share <= 0.0:
        return draws
    whole, dough = (np.array(shares_of_composition(part)[:6]) for part in (batch.made_up, batch.dough))
    spread = np.maximum(0.0, whole - dough)
    if spread.sum() <= 0.0:
        return draws
    of_dough, of_spread, of_whole = shares_of(*dough), shares_of(*spread), shares_of(*whole)
    volumes = [dough.sum() / density_kg_m3(of_dough, 20.0), spread.sum() / density_kg_m3(of_spread, 20.0)]
    factor = along_over_mixture(of_dough, of_spread, of_whole, volumes[1] / sum(volumes), gas_fraction, draws)
    return draws | {"dough.conductivity_factor": draws["dough.conductivity_factor"] * factor}
