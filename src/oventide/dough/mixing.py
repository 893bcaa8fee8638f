"""The dough's temperature after mixing: by energy balance, and by the trade's rule of three or four factors.

Balance: Σ m c T + friction + heat of hydration = Σ m c T_dough + heat that ice takes + heat that melting butter takes.
Friction comes as the temperature rise of the dough that the mixer gives, as bakers measure it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.matter.milk_fat import solid_fat

Array = NDArray[np.float64]
_MIXING = load("mixing")
WATER_HEAT = _MIXING.value("mixing.water_heat_capacity")
FLOUR_HEAT = _MIXING.value("mixing.flour_heat_capacity")
ICE_HEAT = _MIXING.value("mixing.ice_heat_capacity")
ICE_FUSION = _MIXING.value("mixing.ice_fusion")
FAT_FUSION = load("matter").value("milk_fat.fusion_heat")


@dataclass(frozen=True)
class MixPart:
    """One ingredient as it goes into the bowl. `milk_fat_kg` is butter fat in it, which may melt or set."""

    name: str
    mass_kg: float
    heat_capacity: float
    """[J/(kg·K)], without the melting of butter."""
    temperature_c: float
    milk_fat_kg: float = 0.0


@dataclass(frozen=True)
class MixHeat:
    """What the balance needs beside the parts."""

    flour_kg: float
    friction_k: float
    """Temperature rise that mixing gives this dough [K]."""
    hydration_j_kg: float = _MIXING.value("mixing.hydration_heat")
    fat_offset: float = 0.0
    fat_fusion_j_kg: float = FAT_FUSION
    room_c: float | None = None
    """Where the bowl leaks heat: None leaves it out."""
    bowl_exchange: float = 0.0
    """Share of the way from dough to room temperature that the bowl takes the dough while mixing [1]."""


@compiled
def _released_j(
    mass_kg: Array, heat_capacity: Array, start_c: Array, milk_fat_kg: Array, own_j: float, exchange: float,
    room_c: float, fat_offset: float, fusion_j_kg: float, ice_kg: float, ice_c: float, dough_c: float,
) -> float:  # fmt: skip
    """Heat set free [J] if all end at `dough_c`; zero at the dough's true temperature, and falling with it."""
    free = own_j - ice_kg * (ICE_FUSION - ICE_HEAT * ice_c + WATER_HEAT * dough_c)
    for i in range(mass_kg.shape[0]):
        capacity = mass_kg[i] * heat_capacity[i]
        free += capacity * (start_c[i] - dough_c + exchange * (room_c - dough_c))
        if milk_fat_kg[i] > 0.0:
            melted = solid_fat(start_c[i], fat_offset) - solid_fat(dough_c, fat_offset)
            free -= milk_fat_kg[i] * fusion_j_kg * melted
    return free


@compiled
def balance_temperature_c(
    mass_kg: Array, heat_capacity: Array, start_c: Array, milk_fat_kg: Array, own_j: float, exchange: float,
    room_c: float, fat_offset: float, fusion_j_kg: float, ice_kg: float, ice_c: float,
) -> float:  # fmt: skip
    """Dough temperature of one member [°C], by bisection; parts as arrays, `own_j` [J] is friction and hydration."""
    low, high = -5.0, 90.0
    for _ in range(45):
        middle = 0.5 * (low + high)
        free = _released_j(
            mass_kg, heat_capacity, start_c, milk_fat_kg, own_j, exchange, room_c, fat_offset, fusion_j_kg, ice_kg,
            ice_c, middle,
        )  # fmt: skip
        if free > 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _arrays(parts: Sequence[MixPart]) -> tuple[Array, Array, Array, Array]:
    return (
        np.array([part.mass_kg for part in parts]),
        np.array([part.heat_capacity for part in parts]),
        np.array([part.temperature_c for part in parts], dtype=np.float64),
        np.array([part.milk_fat_kg for part in parts]),
    )


def _own_j(parts: Sequence[MixPart], heat: MixHeat, ice_kg: float = 0.0) -> float:
    """Heat of friction and hydration [J]; friction is a rise of the whole dough, molten ice included."""
    capacity = sum(part.mass_kg * part.heat_capacity for part in parts) + ice_kg * WATER_HEAT
    return capacity * heat.friction_k + heat.hydration_j_kg * heat.flour_kg


def dough_temperature_c(parts: Sequence[MixPart], heat: MixHeat, ice_kg: float = 0.0, ice_c: float = 0.0) -> float:
    """Dough temperature after mixing [°C] from the energy balance.

    `ice_kg` of ice at `ice_c` [°C] melts and warms with the rest. Valid where all ice melts, 0-60 °C.

    >>> flour = MixPart("flour", 1.0, 1800.0, 20.0)
    >>> water = MixPart("water", 0.6, 4186.0, 20.0)
    >>> round(dough_temperature_c([flour, water], MixHeat(flour_kg=1.0, friction_k=0.0, hydration_j_kg=0.0)), 6)
    20.0
    """
    if sum(part.mass_kg for part in parts) <= 0.0:
        raise refuse("component.dough", "0 g", "A dough without mass has no temperature.", "Give the weights.")
    exchange = 0.0 if heat.room_c is None else heat.bowl_exchange
    return float(
        balance_temperature_c(
            *_arrays(parts), _own_j(parts, heat, ice_kg), exchange, heat.room_c or 0.0, heat.fat_offset,
            heat.fat_fusion_j_kg, ice_kg, ice_c,
        )
    )  # fmt: skip


def dough_temperatures_c(
    parts: Sequence[MixPart],
    start_c: Array,
    flour_kg: float,
    friction_k: Array,
    draws: Mapping[str, Array],
    ice_kg: Array | None = None,
    ice_c: float = 0.0,
    room_c: Array | None = None,
) -> Array:
    """Dough temperature of every member (M,) [°C]. `start_c` (M, parts) [°C] stands for the parts' own temperatures.

    `friction_k` (M,) [K]; draws need mixing.hydration_heat, milk_fat.solid_offset, milk_fat.fusion_heat, and with
    `room_c` (M,) [°C], where the bowl has stood, mixing.bowl_exchange.
    """
    mass, capacity, _, fat = _arrays(parts)
    ice = np.zeros_like(friction_k) if ice_kg is None else ice_kg
    own = (float(mass @ capacity) + ice * WATER_HEAT) * friction_k + draws["mixing.hydration_heat"] * flour_kg
    starts = np.ascontiguousarray(start_c, dtype=np.float64)
    room = np.zeros_like(own) if room_c is None else room_c
    exchange = np.zeros_like(own) if room_c is None else draws["mixing.bowl_exchange"]
    return np.array([
        balance_temperature_c(
            mass, capacity, starts[m], fat, own[m], exchange[m], room[m], draws["milk_fat.solid_offset"][m],
            draws["milk_fat.fusion_heat"][m], ice[m], ice_c,
        )
        for m in range(own.shape[0])
    ])  # fmt: skip


@dataclass(frozen=True)
class LiquidPlan:
    """How to make the desired dough temperature with the liquid."""

    liquid_c: float
    """Temperature of the liquid that is poured [°C]."""
    ice_kg: float
    """Ice, as part of the liquid."""
    dough_c: float
    """Dough temperature that follows."""
    wanted_c: float
    """Liquid temperature that would be needed without limits: may be below freezing or too hot."""
    reached: bool
    note: str
    """What stands in the way, in a sentence; empty where nothing does."""


def liquid_for(
    desired_c: float,
    parts: Sequence[MixPart],
    heat: MixHeat,
    liquid_kg: float,
    liquid_heat_capacity: float = WATER_HEAT,
    tap_c: float = 15.0,
    can_take_ice_kg: float | None = None,
    ice_c: float = 0.0,
) -> LiquidPlan:
    """Liquid temperature [°C], or ice, that brings the dough to `desired_c` [°C].

    `parts` are all ingredients but the liquid. `can_take_ice_kg` is how much of the liquid may be ice: all water by
    default, 0 for a dough whose only liquid is milk. `tap_c` is the coldest liquid at hand where ice is used.
    Beyond the limits the plan says what is reached instead, and why.
    """
    if liquid_kg <= 0.0:
        raise refuse(
            "component.dough",
            f"{liquid_kg:g} kg liquid",
            "The dough's temperature is set by its liquid, and there is none that can be warmed or cooled.",
            "Warm or cool another ingredient, or give the liquid's weight.",
        )
    capacity = liquid_kg * liquid_heat_capacity
    # friction and the bowl act on the whole dough, the liquid included: its capacity counts there too
    whole = [*parts, MixPart("liquid", liquid_kg, liquid_heat_capacity, desired_c)]
    exchange = 0.0 if heat.room_c is None else heat.bowl_exchange
    spare = _released_j(
        *_arrays(whole), _own_j(whole, heat), exchange, heat.room_c or 0.0, heat.fat_offset, heat.fat_fusion_j_kg,
        0.0, 0.0, desired_c,
    )  # fmt: skip
    wanted = desired_c - spare / capacity
    coldest = _MIXING.value("mixing.liquid_coldest")
    hottest = _MIXING.value("mixing.liquid_hottest")

    def dough_at(liquid_c: float, ice_kg: float = 0.0) -> float:
        rest = MixPart("liquid", liquid_kg - ice_kg, liquid_heat_capacity, liquid_c)
        return dough_temperature_c([*parts, rest], heat, ice_kg, ice_c)

    if wanted > hottest:
        note = (
            f"The liquid would have to be {wanted:.0f} °C; above {hottest:.0f} °C it harms yeast. "
            "Warm the flour or the bowl, or let the dough warm up in its first rise."
        )
        return LiquidPlan(hottest, 0.0, dough_at(hottest), wanted, False, note)
    if wanted >= coldest:
        return LiquidPlan(wanted, 0.0, dough_at(wanted), wanted, True, "")
    room_for_ice = liquid_kg if can_take_ice_kg is None else min(liquid_kg, can_take_ice_kg)
    most = room_for_ice * _MIXING.value("mixing.ice_share_most")
    # the rest of the liquid is poured as cold as it comes
    poured = max(coldest, min(tap_c, desired_c))
    ice = _ice_part(liquid_kg, poured, wanted, ice_c, liquid_heat_capacity)
    if ice <= most:
        return LiquidPlan(poured, ice, dough_at(poured, ice), wanted, True, "")
    if poured > coldest:
        # chilling the rest of the liquid helps where ice alone does not
        poured = coldest
        ice = _ice_part(liquid_kg, poured, wanted, ice_c, liquid_heat_capacity)
        if ice <= most:
            note = f"Ice alone does not do: chill the rest of the liquid to {poured:.0f} °C as well."
            return LiquidPlan(poured, ice, dough_at(poured, ice), wanted, True, note)
    ice = most
    got = dough_at(poured, ice)
    kind = "no part of the liquid can be ice" if room_for_ice <= 0.0 else "more ice would not melt in time"
    note = (
        f"The liquid would have to be {wanted:.0f} °C, and {kind}: about {got:.0f} °C is what can be reached. "
        "Chill the flour, the eggs and the bowl, or mix less."
    )
    return LiquidPlan(poured, ice, got, wanted, False, note)


def _ice_part(liquid_kg: float, poured_c: float, wanted_c: float, ice_c: float, heat_capacity: float) -> float:
    """Ice as part of the liquid [kg] that stands for liquid of `wanted_c`: same heat at any dough temperature.

    m = W (T1 - T2) / (T1 + L/c) for ice at 0 °C, all of it melting.
    """
    taken = ICE_FUSION / heat_capacity - ICE_HEAT * ice_c / heat_capacity
    return liquid_kg * (poured_c - wanted_c) / (poured_c + taken)


def ice_for_water(water_kg: float, tap_c: float, wanted_c: float, added: bool = False, ice_c: float = 0.0) -> float:
    """Ice [kg] that makes water of `wanted_c` out of tap water; `wanted_c` may be below 0 °C, as the trade reckons.

    As part of the water (default) m = W (T1 - T2)/(T1 + L/c); `added` to it m = W c (T1 - T2)/(L + c T2 - c_i T_i),
    where T2 must be 0 °C or more.

    >>> round(ice_for_water(10, 20, 12), 2)
    0.8
    """
    if wanted_c > tap_c:
        raise refuse("water", f"{wanted_c:g} °C", f"The tap gives {tap_c:g} °C; ice does not warm it.", "Warm it.")
    if not added:
        return _ice_part(water_kg, tap_c, wanted_c, ice_c, WATER_HEAT)
    if wanted_c < 0.0:
        raise refuse(
            "water", f"{wanted_c:g} °C", "Ice added to water cannot bring it below 0 °C.", "Reckon ice as a part of it."
        )
    taken = ICE_FUSION - ICE_HEAT * ice_c + WATER_HEAT * wanted_c
    return water_kg * WATER_HEAT * (tap_c - wanted_c) / taken


def factor_rule_water_c(
    desired_c: float, flour_c: float, room_c: float, friction_k: float, preferment_c: float | None = None
) -> float:
    """Water temperature by the trade's rule [°C]: 3·desired - flour - room - friction, 4 factors with a preferment.

    >>> factor_rule_water_c(24, 20, 22, 8), factor_rule_water_c(24, 20, 22, 8, preferment_c=21)
    (22.0, 25.0)
    """
    if preferment_c is None:
        return 3.0 * desired_c - flour_c - room_c - friction_k
    return 4.0 * desired_c - flour_c - room_c - preferment_c - friction_k


def factor_rule_dough_c(water_c: float, flour_c: float, room_c: float, friction_k: float = 0.0) -> float:
    """Dough temperature by the rule of three [°C]: the mean of water, flour, room and a third of friction's factor.

    >>> factor_rule_dough_c(22, 20, 22, 8)
    24.0
    """
    return (water_c + flour_c + room_c + friction_k) / 3.0


def factor_from_rise(rise_k: float, factors: Literal[3, 4] = 3) -> float:
    """The rule's friction factor from the temperature rise that mixing gives the dough: n times the rise [K].

    The rule weighs dough, flour and room alike, so a rise of 3 K in the dough stands for 9 K in its sum.
    """
    return factors * rise_k


def rise_from_work(work_j_kg: float, share_as_heat: float = 1.0, heat_capacity: float = 2700.0) -> float:
    """Temperature rise of dough by mixing work [K]: W η/c.

    >>> round(rise_from_work(39.6e3), 1)
    14.7
    """
    return work_j_kg * share_as_heat / heat_capacity


def friction_rise_k(per_minute_k: Array | float, minutes: float, most_k: float) -> Array:
    """Temperature rise of the dough by the mixer [K]: at first so much a minute, never more than full work gives.

    R (1 - exp(-f t/R)): who mixes for long mixes gently, and stops when the dough is developed.

    >>> friction_rise_k(np.array([0.5, 0.5, 2.0]), 10.0, 14.7).round(1).tolist()
    [4.2, 4.2, 10.9]
    >>> float(friction_rise_k(1.2, 60.0, 14.7).round(1))
    14.6
    """
    return np.asarray(most_k * -np.expm1(-np.asarray(per_minute_k) * minutes / most_k))


def work_from_rise_wh_kg(rise_k: Array, heat_capacity: float = 2700.0) -> Array:
    """Mixing work that such a rise stands for [Wh/kg].

    >>> float(work_from_rise_wh_kg(np.array(14.7)).round(1))
    11.0
    """
    return rise_k * heat_capacity / 3600.0
