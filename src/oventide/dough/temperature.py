"""How fast yeast works at a temperature: two laws, and a share of each in every member.

The cold end is the largest doubt of the fermentation model, so no single law is trusted: every member of an
ensemble has its own blend (`yeast.temperature_law_mix`), from the cardinal law to one that is steeper between
13 and 40 °C and loses its activity in the cold somewhere around the growth minima of the genus.
"""

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.laws.arrhenius import arrhenius_between
from oventide.laws.cardinal import cardinal_temperature

Array = NDArray[np.float64]

(
    L_MIX, L_LEAST, L_BEST, L_MOST, L_CARDINAL_AT_30, L_EA, L_COLD, L_COLD_HALF, L_HEAT, L_HEAT_HALF, L_STEEP_AT_30,
    L_AT_26, L_GROWTH_LEAST, L_GROWTH_BEST, L_GROWTH_MOST, L_GROWTH_AT_27,
) = range(16)  # fmt: skip
LAW_LENGTH = 16
"""Entries at the head of a parameter vector that this module owns."""


@compiled
def gas_law(temperature_c: float, p: Array) -> float:
    """Gas making relative to 30 °C [1]: (1 - mix)·cardinal + mix·steeper law, each 1 at 30 °C.

    Above the cardinal law's end both are nothing: yeast does not work there.
    """
    if temperature_c >= p[L_MOST]:
        return 0.0
    cardinal, steep = 0.0, 0.0
    if p[L_MIX] < 1.0:
        cardinal = cardinal_temperature(temperature_c, p[L_LEAST], p[L_BEST], p[L_MOST]) / p[L_CARDINAL_AT_30]
    if p[L_MIX] > 0.0:
        steep = arrhenius_between(temperature_c, p[L_EA], p[L_COLD], p[L_COLD_HALF], p[L_HEAT], p[L_HEAT_HALF])
        steep /= p[L_STEEP_AT_30]
    return float((1.0 - p[L_MIX]) * cardinal + p[L_MIX] * steep)


@compiled
def growth_law(temperature_c: float, p: Array) -> float:
    """Growth relative to 27 °C [1]: cardinal law with the published growth temperatures."""
    growth = cardinal_temperature(temperature_c, p[L_GROWTH_LEAST], p[L_GROWTH_BEST], p[L_GROWTH_MOST])
    return float(growth / p[L_GROWTH_AT_27])


def temperature_law(draws: dict[str, Array]) -> Array:
    """Constants of both laws (M, LAW_LENGTH) from draws."""
    members = draws["yeast.temperature_law_mix"].shape[0]
    law = np.zeros((members, LAW_LENGTH))
    columns = {
        L_MIX: "temperature_law_mix",
        L_LEAST: "cardinal_least",
        L_BEST: "cardinal_best",
        L_MOST: "cardinal_most",
        L_EA: "steep_activation",
        L_COLD: "steep_cold",
        L_COLD_HALF: "steep_cold_half",
        L_HEAT: "steep_heat",
        L_HEAT_HALF: "steep_heat_half",
        L_GROWTH_LEAST: "growth_least",
        L_GROWTH_BEST: "growth_best",
        L_GROWTH_MOST: "growth_most",
    }
    for column, name in columns.items():
        law[:, column] = draws[f"yeast.{name}"]
    for row in law:
        row[L_CARDINAL_AT_30] = cardinal_temperature(30.0, row[L_LEAST], row[L_BEST], row[L_MOST])
        ea, cold, cold_half, heat, heat_half = (row[i] for i in (L_EA, L_COLD, L_COLD_HALF, L_HEAT, L_HEAT_HALF))
        row[L_STEEP_AT_30] = arrhenius_between(30.0, ea, cold, cold_half, heat, heat_half)
        row[L_GROWTH_AT_27] = cardinal_temperature(27.0, row[L_GROWTH_LEAST], row[L_GROWTH_BEST], row[L_GROWTH_MOST])
        row[L_AT_26] = gas_law(26.0, row)
    return law
