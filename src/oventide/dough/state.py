"""What yeast and gas in a piece of dough are: the state of a cell, the constants of a member, and how both begin.

Everything is per 100 g flour: grams of sugar and yeast, millimoles of gas and ethanol.
"""

import numpy as np
from numpy.typing import NDArray

from oventide.dough.temperature import LAW_LENGTH, temperature_law
from oventide.errors import refuse
from oventide.evidence.parameters import Parameter, load
from oventide.formula.composition import Composition
from oventide.matter.properties import Physics, dough_physics
from oventide.matter.water import air_pressure_pa

Array = NDArray[np.float64]

FERMENT_NAMES = (
    "adapted", "ready_to_grow", "yeast_g", "growth_left_g", "hexose_g", "starch_sugar_g", "maltose_g",
    "maltose_ready", "co2_in_dough_mmol", "co2_lost_mmol", "co2_made_mmol", "ethanol_mmol", "air_mmol", "dead_yeast_g",
)  # fmt: skip
ADAPTED, READY_TO_GROW, YEAST, GROWTH_LEFT, HEXOSE, STARCH_SUGAR, MALTOSE = 0, 1, 2, 3, 4, 5, 6
MALTOSE_READY, CO2, CO2_LOST, CO2_MADE, ETHANOL, AIR, DEAD = 7, 8, 9, 10, 11, 12, 13
NY = 14
"""Length of a cell's ferment vector."""

# Constants of a member. The first LAW_LENGTH entries are the temperature law of dough/temperature.py.
(
    P_RATE, P_LAG, P_PER_HALF_OSM, P_OSM_STEEP, P_STATIC, P_PER_ETHANOL_STOP, P_HEXOSE_HALF, P_MALTOSE_HALF,
    P_MALTOSE_SPEED, P_INDUCTION, P_SUGAR_PER_CO2, P_HEAT, P_GROWTH, P_GROWTH_LAG, P_GROWTH_PER_HALF_OSM,
    P_GROWTH_ALLOWANCE, P_AMYLASE, P_AMYLASE_EA, P_OSMOLES, P_SOLVENT, P_WATER, P_DOUGH_KG, P_PRESSURE, P_SALTED_WATER,
    P_FAT_CO2, P_FAT_OFFSET, P_MILK_FAT_SHARE, P_DENSE_ML, P_FRESH_ML, P_FRESH_AIR, P_CRITICAL, P_WIDTH, P_LEAK_QUIET,
    P_LEAK_OVER, P_AIR_WORKED_IN, P_CROWDING,
) = range(LAW_LENGTH, LAW_LENGTH + 36)  # fmt: skip
NP = LAW_LENGTH + 36
"""Length of a member's parameter vector."""

HEXOSE_MOLAR_G = 180.156
SUCROSE_MOLAR_G = 342.297
LACTOSE_MOLAR_G = 342.297
SALT_MOLAR_G = 58.443
ETHANOL_MOLAR_G = 46.069
GAS_KPA_ML_PER_MMOL_K = 8.314462618
"""R [kPa·mL/(mmol·K)]."""
_INVERTED = 2.0 * HEXOSE_MOLAR_G / SUCROSE_MOLAR_G
_MIXED_AT_C = 26.0


def parameters() -> list[Parameter]:
    """Every figure of this room, with its spread: the list that an ensemble draws."""
    found: list[Parameter] = []
    for file in ("yeast", "dough", "mixing"):
        found.extend(load(file).parameters.values())
    return found


def body_of(composition: Composition, temperature_c: float = 20.0) -> Physics:
    """Dense dough [density, heat capacity, conductivity, milk fat share] from a composition."""
    return dough_physics(
        water=composition.water_g + composition.alcohol_g,
        protein=composition.protein_g,
        fat=composition.fat_g,
        carbohydrate=composition.sugars_g + composition.starch_g,
        fibre=composition.fibre_g,
        ash=max(composition.ash_g, composition.salt_g),
        milk_fat=composition.milk_fat_g,
        temperature_c=temperature_c,
    )


def _per_100_flour(composition: Composition) -> float:
    if composition.flour_g <= 0.0:
        raise refuse(
            "component.dough",
            f"{composition.flour_g:g} g flour",
            "Fermentation is reckoned on flour, and there is none.",
            "Give the dough's flour with its weight.",
        )
    return 100.0 / composition.flour_g


def _by_kind(kind: str, draws: dict[str, Array]) -> tuple[Array, Array]:
    """Active share of the dry matter, and lag over that of instant yeast, by kind of yeast."""
    one = np.ones_like(draws["yeast.lag"])
    if kind.startswith("fresh"):
        return one * draws["yeast.active_fresh"], one * draws["yeast.lag_fresh"]
    if kind.startswith("active_dry"):
        return one * draws["yeast.active_dry"], one * draws["yeast.lag_active_dry"]
    return one * draws["yeast.active_instant"], one


def initial_ferment(composition: Composition, draws: dict[str, Array]) -> Array:
    """Ferment vector (M, NY) of freshly mixed dough; the coupling gives it to every cell.

    Sucrose is taken as inverted (invertase does it in minutes). Lactose stays. Flour's own sugar is added to what
    the ingredients bring, less the part of it that the food table already gave.
    """
    f = _per_100_flour(composition)
    active, _ = _by_kind(composition.yeast_kind, draws)
    members = active.shape[0]
    y = np.zeros((members, NY))
    y[:, YEAST] = composition.yeast_dry_matter_g * f * active
    y[:, GROWTH_LEFT] = _growth(draws)[0]
    # the table's sugar of the flour is part of the flour's own, which `flour.sugar` gives whole
    table = draws["flour.sugar_in_table"] * composition.flour_g / 100.0
    other = np.maximum(0.0, composition.sugars_g - composition.sucrose_g - composition.lactose_g - table)
    y[:, HEXOSE] = (composition.sucrose_g * _INVERTED + other) * f + draws["flour.sugar"]
    y[:, STARCH_SUGAR] = draws["flour.starch_sugar"]
    y[:, ETHANOL] = composition.alcohol_g * f / ETHANOL_MOLAR_G * 1000.0
    y[:, AIR] = _fresh_air_mmol(composition, draws)
    return np.ascontiguousarray(y)


def _growth(draws: dict[str, Array]) -> tuple[Array, Array, Array]:
    """Growth allowance [g], rate [1/h] and rate of getting ready [1/h] (M,), by the source that the member trusts.

    Two published sets of counts disagree by a factor of two to three; each member follows one of them.
    """
    brisk = draws["yeast.growth_source"] >= 1.0 - draws["yeast.growth_weight_brisk"]
    return (
        np.where(brisk, draws["yeast.growth_allowance_brisk"], draws["yeast.growth_allowance"]),
        np.where(brisk, draws["yeast.growth_rate_brisk"], draws["yeast.growth_rate"]),
        np.where(brisk, draws["yeast.growth_lag_rate_brisk"], draws["yeast.growth_lag_rate"]),
    )


def spice_factor(spice: float, yeast: float, draws: dict[str, Array]) -> Array:
    """What cinnamon and its like mixed into the dough do to gas making [1]; both in g per 100 g flour.

    {1 + 2 h x/(1 + x²)}/{1 + (c/c50)²}, x = (g spice per g yeast)/0.1: a little helps, much slows.
    """
    dose = spice / max(yeast, 1e-9) / draws["yeast.spice_help_dose"] if spice > 0.0 else 0.0 * draws["yeast.lag"]
    helped = 1.0 + 2.0 * draws["yeast.spice_help"] * dose / (1.0 + dose * dose)
    return np.asarray(helped / (1.0 + (spice / draws["yeast.spice_half"]) ** 2))


def _dense_ml(composition: Composition) -> float:
    """Volume without gas [mL per 100 g flour]."""
    return composition.mass_g * _per_100_flour(composition) / body_of(composition, _MIXED_AT_C).density * 1000.0


def _fresh_air_mmol(composition: Composition, draws: dict[str, Array]) -> Array:
    """Air in freshly mixed dough [mmol per 100 g flour], as a dry gas at 26 °C and one atmosphere."""
    share = draws["gas.air_mixed_in"]
    volume = _dense_ml(composition) * share / (1.0 - share)
    return np.asarray(101.325 * volume / (GAS_KPA_ML_PER_MMOL_K * (_MIXED_AT_C + 273.15)))


def ferment_parameters(composition: Composition, draws: dict[str, Array], altitude_m: float = 0.0) -> Array:
    """Constants of every member (M, NP) for one dough.

    Osmotic: solvent water = all water - bound water of the flour; osmoles of salt (2, by its osmotic
    coefficient), lactose (1); sugars are counted as they stand in the cell. `altitude_m` [m] sets the air's pressure
    by the standard atmosphere.
    """
    f = _per_100_flour(composition)
    active, lag = _by_kind(composition.yeast_kind, draws)
    members = active.shape[0]
    p = np.zeros((members, NP))
    p[:, :LAW_LENGTH] = temperature_law(draws)
    age = "yeast.left_fresh" if composition.yeast_kind.startswith("fresh") else "yeast.left_dry"
    p[:, P_RATE] = draws["yeast.gas_rate"] * draws["yeast.bake_to_bake"] * draws[age]
    p[:, P_LAG] = draws["yeast.lag"] * lag
    sweet = composition.yeast_kind.endswith("osmotolerant")
    half_osmolality = draws["yeast.half_osmolality_sweet" if sweet else "yeast.half_osmolality"]
    p[:, P_PER_HALF_OSM] = 1.0 / half_osmolality
    p[:, P_OSM_STEEP] = draws["yeast.osmotic_steepness"]
    p[:, P_STATIC] = np.exp(-draws["yeast.fat_brake"] * composition.fat_g * f)
    p[:, P_STATIC] *= spice_factor(composition.spice_g * f, composition.yeast_dry_matter_g * f, draws)
    p[:, P_HEXOSE_HALF] = draws["yeast.hexose_half"]
    p[:, P_MALTOSE_HALF] = draws["yeast.maltose_half"]
    p[:, P_MALTOSE_SPEED] = draws["yeast.maltose_speed"]
    p[:, P_INDUCTION] = draws["yeast.maltose_induction"]
    p[:, P_SUGAR_PER_CO2] = HEXOSE_MOLAR_G / 1000.0 / (2.0 * draws["yeast.ethanol_yield"])
    p[:, P_HEAT] = draws["yeast.fermentation_heat"] / 2.0 / 1000.0
    p[:, P_GROWTH_ALLOWANCE], p[:, P_GROWTH], p[:, P_GROWTH_LAG] = _growth(draws)
    p[:, P_GROWTH_PER_HALF_OSM] = 1.0 / (draws["yeast.growth_half_osmolality"] * half_osmolality)
    p[:, P_AMYLASE] = draws["flour.amylase_rate"]
    p[:, P_AMYLASE_EA] = draws["flour.amylase_activation"]
    ions = 2.0 * draws["water.salt_osmotic"] * composition.salt_g / SALT_MOLAR_G
    p[:, P_OSMOLES] = 1000.0 * f * (ions + composition.lactose_g / LACTOSE_MOLAR_G)
    p[:, P_CROWDING] = draws["water.sugar_crowding"]
    water = composition.water_g * f
    bound = draws["flour.bound_water"] * 100.0 * (1.0 - draws["flour.moisture"])
    # Even a dry dough keeps a little water that dissolves sugar: a sixth of it at least.
    p[:, P_SOLVENT] = np.maximum(water - bound, water / 6.0)
    p[:, P_WATER] = water
    p[:, P_PER_ETHANOL_STOP] = ETHANOL_MOLAR_G / (water * draws["yeast.ethanol_stop"])
    mass = composition.mass_g * f
    p[:, P_DOUGH_KG] = mass / 1000.0
    p[:, P_PRESSURE] = air_pressure_pa(altitude_m) / 1000.0 + draws["gas.bubble_pressure"]
    p[:, P_SALTED_WATER] = draws["gas.co2_salting"] * water
    p[:, P_FAT_CO2] = draws["gas.co2_in_fat"] * composition.fat_g * f / 0.92
    p[:, P_FAT_OFFSET] = draws["milk_fat.solid_offset"]
    p[:, P_MILK_FAT_SHARE] = composition.milk_fat_g / composition.fat_g if composition.fat_g > 0.0 else 0.0
    dense = _dense_ml(composition)
    p[:, P_DENSE_ML] = dense
    p[:, P_FRESH_ML] = dense / (1.0 - draws["gas.air_mixed_in"])
    p[:, P_FRESH_AIR] = _fresh_air_mmol(composition, draws)
    p[:, P_CRITICAL] = draws["gas.critical_rise"]
    p[:, P_WIDTH] = draws["gas.critical_width"]
    p[:, P_LEAK_QUIET] = draws["gas.leak_quiet"]
    p[:, P_LEAK_OVER] = draws["gas.leak_over"]
    p[:, P_AIR_WORKED_IN] = draws["gas.air_worked_in"]
    return np.ascontiguousarray(p)


def mixed(parts: list[tuple[Array, float]]) -> Array:
    """A ferment vector (..., NY) made by mixing others, each with its grams of flour: every state by flour mass.

    A sponge worked into a dough: its sugar, yeast, gas and ethanol are spread over all the flour.
    """
    flour = sum(grams for _, grams in parts)
    if flour <= 0.0:
        raise refuse("component.preferment", "0 g flour", "No part mixed has flour.", "Give one part its flour.")
    total: Array = sum((vector * (grams / flour) for vector, grams in parts), np.zeros(NY))
    # readiness goes with the yeast, not with the flour
    yeast = np.maximum(total[..., YEAST], 1e-12)
    for index in (ADAPTED, READY_TO_GROW, MALTOSE_READY):
        total[..., index] = sum(v[..., index] * v[..., YEAST] * (g / flour) for v, g in parts) / yeast
    return total
