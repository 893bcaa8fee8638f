"""At the oven's door: what the dough's state outside the oven means to the state inside it."""

import numba
import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled_over_members
from oventide.dough.gas import dissolved_co2_mmol, gas_ml
from oventide.formula.composition import Composition
from oventide.timeline.oven import Shares

Array = NDArray[np.float64]


@compiled_over_members
def _gas_of_members(
    temperature_c: Array, ferment: Array, p: Array, weights: Array, gas: Array, dissolved: Array
) -> None:
    """Mean gas [mL per 100 g flour] and dissolved CO2 [mmol per 100 g flour] of every member."""
    for m in numba.prange(temperature_c.shape[0]):
        for i in range(temperature_c.shape[1]):
            gas[m] += weights[i] * gas_ml(ferment[m, i], p[m], temperature_c[m, i])
            dissolved[m] += weights[i] * dissolved_co2_mmol(ferment[m, i], p[m], temperature_c[m, i])


def gas_at_door(temperature_c: Array, ferment: Array, p: Array, faces: Array) -> tuple[Array, Array]:
    """Gas in bubbles [mL] and CO2 in the liquids [mmol], per 100 g flour, (M,) each, from cells (M, n)."""
    members = temperature_c.shape[0]
    gas, dissolved = np.zeros(members), np.zeros(members)
    weights = np.ascontiguousarray(np.diff(faces))
    _gas_of_members(
        np.ascontiguousarray(temperature_c),
        np.ascontiguousarray(ferment),
        np.ascontiguousarray(p),
        weights,
        gas,
        dissolved,
    )
    return gas, dissolved


def shares_of_composition(composition: Composition) -> Shares:
    """The oven's mass shares from a composition; salt counts as ash, alcohol as water."""
    return Shares(
        water=composition.water_g + composition.alcohol_g,
        protein=composition.protein_g,
        fat=composition.fat_g,
        carbohydrate=composition.sugars_g + composition.starch_g,
        fibre=composition.fibre_g,
        ash=max(composition.ash_g, composition.salt_g),
        milk_fat=composition.milk_fat_g,
    )
