"""How fast yeast works at a temperature: three laws, one to a member, and how fast heat kills it.

The cold end is the largest doubt of the fermentation model, so no single law is trusted. Every member of an ensemble
has one of three (`yeast.temperature_law` against the weights of the laws), and its own constants within it. The
weights follow from how well each law meets the published anchors (validation/temperature_laws.py).
"""

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.lanes.members import any_of, choose, opposite
from oventide.laws.arrhenius import arrhenius_between
from oventide.laws.cardinal import cardinal_temperature, square_root_temperature
from oventide.laws.death import death_per_h

Array = NDArray[np.float64]

ROOT, CARDINAL, STEEP = 0, 1, 2
"""The laws, the one that is slowest in the cold first."""
LAWS = ("root", "cardinal", "steep")

(
    L_LAW, L_AT_30, L_LEAST, L_BEST, L_MOST, L_EA, L_COLD, L_COLD_HALF, L_HEAT, L_HEAT_HALF, L_ROOT_LEAST,
    L_ROOT_CURVE, L_AT_26, L_GROWTH_LEAST, L_GROWTH_BEST, L_GROWTH_MOST, L_GROWTH_AT_27, L_DEATH_D50, L_DEATH_Z,
    L_DEATH_FROM,
) = range(20)  # fmt: skip
LAW_LENGTH = 20
"""Entries at the head of a parameter vector that this module owns."""

_COLUMNS = {
    L_LEAST: "cardinal_least",
    L_BEST: "cardinal_best",
    L_MOST: "most",
    L_EA: "steep_activation",
    L_COLD: "steep_cold",
    L_COLD_HALF: "steep_cold_half",
    L_HEAT: "steep_heat",
    L_HEAT_HALF: "steep_heat_half",
    L_ROOT_LEAST: "root_least",
    L_ROOT_CURVE: "root_curve",
    L_GROWTH_LEAST: "growth_least",
    L_GROWTH_BEST: "growth_best",
    L_GROWTH_MOST: "growth_most",
    L_DEATH_D50: "death_d50",
    L_DEATH_Z: "death_z",
    L_DEATH_FROM: "death_from",
}


@compiled
def _law(temperature_c: float, p: Array) -> float:
    """The member's law, not normalised."""
    rooted, cardinal = p[L_LAW] == ROOT, p[L_LAW] == CARDINAL
    speed = 0.0 * temperature_c
    if any_of(rooted):
        root = square_root_temperature(temperature_c, p[L_ROOT_LEAST], p[L_ROOT_CURVE], p[L_MOST])
        speed = choose(rooted, root, speed)
    if any_of(cardinal):
        between = cardinal_temperature(temperature_c, p[L_LEAST], p[L_BEST], p[L_MOST])
        speed = choose(cardinal, between, speed)
    if any_of(opposite(rooted | cardinal)):
        steep = arrhenius_between(temperature_c, p[L_EA], p[L_COLD], p[L_COLD_HALF], p[L_HEAT], p[L_HEAT_HALF])
        speed = choose(rooted | cardinal, speed, steep)
    return choose(temperature_c >= p[L_MOST], 0.0, speed)


@compiled
def gas_law(temperature_c: float, p: Array) -> float:
    """Gas making relative to 30 °C [1] by the member's law; nothing above `yeast.most`."""
    return float(_law(temperature_c, p) / p[L_AT_30])


@compiled
def growth_law(temperature_c: float, p: Array) -> float:
    """Growth relative to 27 °C [1]: cardinal law with the published growth temperatures."""
    growth = cardinal_temperature(temperature_c, p[L_GROWTH_LEAST], p[L_GROWTH_BEST], p[L_GROWTH_MOST])
    return float(growth / p[L_GROWTH_AT_27])


@compiled
def death_law(temperature_c: float, p: Array) -> float:
    """Share of the yeast that heat kills per hour [1/h], from the time to a tenth at 50 °C and its z."""
    return float(death_per_h(temperature_c, p[L_DEATH_D50], p[L_DEATH_Z], p[L_DEATH_FROM]))


def law_of(draws: dict[str, Array]) -> Array:
    """Which law a member has (M,): its place among the laws' weights, laid end to end in the order of `LAWS`.

    >>> import numpy as np
    >>> weights = {f"yeast.weight_{law}": np.full(3, w) for law, w in zip(LAWS, (0.2, 0.3, 0.5))}
    >>> law_of(weights | {"yeast.temperature_law": np.array([0.1, 0.4, 0.9])}).astype(int).tolist()
    [0, 1, 2]
    """
    place = draws["yeast.temperature_law"]
    weights = np.stack([draws[f"yeast.weight_{law}"] for law in LAWS])
    ends = np.cumsum(weights, axis=0) / weights.sum(axis=0)
    return np.asarray(np.minimum((place >= ends).sum(axis=0), len(LAWS) - 1), dtype=np.float64)


def temperature_law(draws: dict[str, Array]) -> Array:
    """Constants of every member's law (M, LAW_LENGTH) from draws."""
    law = np.zeros((draws["yeast.temperature_law"].shape[0], LAW_LENGTH))
    law[:, L_LAW] = law_of(draws)
    for column, name in _COLUMNS.items():
        law[:, column] = draws[f"yeast.{name}"]
    for row in law:
        row[L_AT_30] = 1.0
        row[L_AT_30] = gas_law(30.0, row)
        row[L_GROWTH_AT_27] = cardinal_temperature(27.0, row[L_GROWTH_LEAST], row[L_GROWTH_BEST], row[L_GROWTH_MOST])
        row[L_AT_26] = gas_law(26.0, row)
    return law
