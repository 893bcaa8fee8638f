"""Browning of the crust, with its causes kept apart: surface temperature, dryness, sugar, milk, egg, wash.

Colour is the total difference ΔE from the pale dough. dE/dt = β f(a_w) k(T) (ΔE∞ - ΔE), with k of Zanoni,
Peri & Bruno (1995) for lean bread; β carries the recipe. Lightness: dL*/dt = -β f k_L(T) L* (Purlis & Salvadori).
"""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.matter.water import GAS_CONSTANT

Array = NDArray[np.float64]

COLOUR_WORDS: tuple[tuple[float, str], ...] = (
    (6.0, "pale"),
    (14.0, "straw"),
    (20.0, "light golden"),
    (30.0, "golden"),
    (38.0, "golden brown"),
    (45.0, "dark brown"),
    (1e9, "burnt"),
)
"""Upper ΔE of each word (our choice; ΔE 52 is a burnt surface in the source)."""


@compiled
def browning_rate_1_s(temperature_c: float, k0_1_s: float, energy_j_mol: float) -> float:
    """Rate towards the burnt colour [1/s], lean bread's dried crumb, 140-250 °C; below that it is drawn on.

    >>> import math
    >>> round(math.log(2) / browning_rate_1_s(210.0, 42000.0, 64151.0))
    142
    """
    return k0_1_s * math.exp(-energy_j_mol / (GAS_CONSTANT * (temperature_c + 273.15)))


@compiled
def darkening_rate_1_s(temperature_c: float, activity: float) -> float:
    """Rate of loss of lightness [1/s] (Purlis & Salvadori 2009, from memory); activity is cut below at 0.15."""
    a = min(1.0, max(0.15, activity))
    return (7.9233e6 + 2.7397e6 / a) * math.exp(-(8701.5 + 49.4738 / a) / (temperature_c + 273.15)) / 60.0


@compiled
def wetness_brake(activity: float, wet_share: float) -> float:
    """What is left of browning on a wet surface [1]: all up to a_w 0.7, `wet_share` at 1, a straight line between."""
    wet = min(1.0, max(0.0, (activity - 0.7) / 0.3))
    return 1.0 - (1.0 - wet_share) * wet


def browning_factor(
    draws: dict[str, Array],
    sugars_per_100_flour: float = 0.0,
    lactose_per_100_flour: float = 0.0,
    egg_per_100_flour: float = 0.0,
    wash: str = "none",
) -> Array:
    """β (M,): how much faster than lean bread this recipe browns. Lean bread with about 2 g of sugars is 1.

    β = factor · (1 + s (sugars - 2)) · (1 + m lactose) · (1 + e egg) · wash. All of it carries wide priors
    (bake.toml, `browning.*`); sugars and lactose are what is left at the oven's door, in g per 100 g of flour.
    `wash`: "none", "milk" or "egg".
    """
    sugar = np.maximum(0.0, sugars_per_100_flour - 2.0)
    beta = (
        draws["browning.factor"]
        * (1.0 + draws["browning.by_sugar"] * sugar)
        * (1.0 + draws["browning.by_lactose"] * lactose_per_100_flour)
        * (1.0 + draws["browning.by_egg"] * egg_per_100_flour)
    )
    if wash != "none":
        beta = beta * draws[f"browning.wash_{wash}"]
    return np.asarray(beta, dtype=np.float64)


def colour_word(delta_e: float) -> str:
    """The word for a colour difference.

    >>> colour_word(3), colour_word(25)
    ('pale', 'golden')
    """
    return next(word for upper, word in COLOUR_WORDS if delta_e < upper)
