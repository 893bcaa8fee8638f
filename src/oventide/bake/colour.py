"""Browning of the crust, with its causes kept apart: surface temperature, dryness, sugar, milk, egg, wash.

Colour is the total difference ΔE from the pale dough. dE/dt = β f(a_w) (k_lean(T) + k_sugar(T)) (ΔE∞ - ΔE): two paths
side by side, lean bread's own (Zanoni, Peri & Bruno 1995) and that of reducing sugars with amino groups, each with its
own activation energy. β carries wash and oven. Lightness: dL*/dt = -β f (1 + k_sugar/k_lean) k_L(T) L*.
"""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.evidence.parameters import load
from oventide.matter.water import GAS_CONSTANT

Array = NDArray[np.float64]

_REFERENCE = 1.0 / (120.0 + 273.15)
_KNEE = 1.0 / (140.0 + 273.15)

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
def sugar_path_rate_1_s(temperature_c: float, energy_j_mol: float, dry_energy_j_mol: float) -> float:
    """Speed of browning by sugars and amino groups over its speed at 120 °C [1].

    Arrhenius with the milk-and-sugar energy up to 140 °C, the end of the range it was measured in; above, the rise is
    that of dry crumb (140-250 °C).

    >>> round(sugar_path_rate_1_s(120.0, 105000.0, 64151.0), 3), round(sugar_path_rate_1_s(100.0, 105000.0, 64151.0), 2)
    (1.0, 0.18)
    """
    inverse = 1.0 / (temperature_c + 273.15)
    below, above = max(inverse, _KNEE), min(inverse, _KNEE)
    power = energy_j_mol * (_REFERENCE - below) + dry_energy_j_mol * (_KNEE - above)
    return math.exp(power / GAS_CONSTANT)


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


def browning_factor(draws: dict[str, Array], wash: str = "none") -> Array:
    """β (M,): this dough and oven over the laws, all else equal, times the wash's share; "none", "milk" or "egg"."""
    beta = draws["browning.factor"]
    if wash != "none":
        beta = beta * draws[f"browning.wash_{wash}"]
    return np.asarray(beta, dtype=np.float64)


def lysine_of(flour_protein: float, milk_protein: float = 0.0, egg_protein: float = 0.0) -> float:
    """Lysine, the amino acid that browns first, in these proteins; any mass unit in, the same out."""
    value = load("bake").value
    return (
        flour_protein * value("lysine.flour_protein")
        + milk_protein * value("lysine.milk_protein")
        + egg_protein * value("lysine.egg_protein")
    )


def sugar_browning_1_s(
    draws: dict[str, Array], hexose: Array | float, disaccharide: Array | float, lysine: float, fat_free_dry: float
) -> Array:
    """Rate of the sugar-and-amino path at 120 °C on a dry surface (M,) [1/s]: in proportion to sugar times lysine.

    Reducing sugars at the oven's door, and lysine, in any one mass unit, over the dry matter that is not fat.
    `disaccharide` is lactose and maltose, which react slower than hexoses; sucrose that is not yet split counts for
    nothing. The scale is that of condensed milk in its tin, whose times at 100 and 120 °C are common knowledge
    (`browning.milk_rate`). What lean bread has of both is already in lean bread's own law, and is taken off.
    """
    value = load("bake").value
    half = draws["browning.disaccharide_share"]
    brake = 1.0 - (1.0 - draws["browning.wet_share"]) * (value("browning.milk_activity") - 0.7) / 0.3
    of_milk = half * value("browning.milk_lactose") * value("browning.milk_lysine")
    here = (hexose + half * disaccharide) / fat_free_dry * lysine / fat_free_dry
    more = np.maximum(0.0, here - value("browning.lean_product"))
    return np.asarray(draws["browning.milk_rate"] / brake * more / of_milk, dtype=np.float64)


def colour_word(delta_e: float) -> str:
    """The word for a colour difference.

    >>> colour_word(3), colour_word(25)
    ('pale', 'golden')
    """
    return next(word for upper, word in COLOUR_WORDS if delta_e < upper)
