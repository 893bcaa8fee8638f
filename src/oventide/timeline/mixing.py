"""The bowl: where each ingredient comes from, what the liquid must be, and what temperature the dough leaves with."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oventide.dough.mixing import (
    LiquidPlan,
    MixHeat,
    MixPart,
    dough_temperatures_c,
    friction_rise_k,
    liquid_for,
    work_from_rise_wh_kg,
)
from oventide.evidence.parameters import load
from oventide.formula.composition import ingredient_of, is_butter
from oventide.formula.model import Line
from oventide.kitchen.model import Kitchen
from oventide.matter.properties import heat_capacity_j_kgk, shares_of
from oventide.pantry.ingredients import Ingredient
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.procedure import Step

Array = NDArray[np.float64]

_KNOWN = load("timeline")
_FRIDGE_WORDS = re.compile(r"\b(cold|chilled|fridge|iced?)\b", re.IGNORECASE)
_ROOM_WORDS = re.compile(r"\b(soft|softened|room|pliable)\b", re.IGNORECASE)
_WARM_WORDS = re.compile(r"\b(lukewarm|warm|warmed|tepid|blood)\b", re.IGNORECASE)
_MELTED_WORDS = re.compile(r"\b(melted|hot|scalded)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Mixed:
    """Temperatures (M,) [°C] before and after mixing, figures for the readings, and what was assumed."""

    start_c: Array
    dough_c: Array
    facts: Mapping[str, Array]
    assumed: tuple[str, ...]


def mix(batch: Batch, step: Step, kitchen: Kitchen, ensemble: Ensemble) -> Mixed:
    """Mix in the likely kitchen's way, in every kitchen.

    The liquid's temperature is chosen once, for the likely kitchen, so that the dough comes to its target; the
    members then differ by their flour, fridge, room and friction, as real days do.
    """
    desired = (
        step.target.value
        if step.target is not None and step.target.measure == "dough_c"
        else _KNOWN.value("mix.desired_dough")
    )
    assumed: list[str] = []
    weighed = [line for line in batch.lines if line.grams is not None and line.grams.likely > 0.0]
    items = [ingredient_of(line, batch.pantry) for line in weighed]
    own = ensemble.of("kitchen")
    starts = np.stack([_start_c(line, item, own) for line, item in zip(weighed, items, strict=True)], axis=1)
    parts = [
        _part(line, item, float(np.median(starts[:, column])))
        for column, (line, item) in enumerate(zip(weighed, items, strict=True))
    ]
    minutes = step.minutes.likely if step.minutes is not None else 0.0
    capacity = sum(part.mass_kg * part.heat_capacity for part in parts) / sum(part.mass_kg for part in parts)
    most = load("mixing").value("mixing.intensive_work") / capacity
    friction = friction_rise_k(own["friction"], minutes, most)
    draws = {**ensemble.of("matter"), **ensemble.of("dough")}
    liquid = [column for column, item in enumerate(items) if item is not None and _is_liquid(item)]
    facts: dict[str, Array] = {
        "work_wh_kg": work_from_rise_wh_kg(friction, capacity),
        "developed": work_from_rise_wh_kg(friction, capacity) / _needed_work(batch, weighed, items, draws),
    }
    flour_kg = batch.dough.flour_g / 1000.0
    ice_kg = np.zeros(ensemble.members)
    plan = None
    if liquid:
        likely = float(friction_rise_k(kitchen.friction.likely, minutes, most))
        plan = _plan(parts, liquid, items, kitchen, desired, flour_kg, likely)
        starts[:, liquid] = plan.liquid_c
        ice_kg[:] = plan.ice_kg
        if plan.note:
            assumed.append(plan.note)
    if step.target is None or step.target.measure != "dough_c":
        assumed.append(f"Mixing aims at a dough of {desired:.0f} °C: the formula gives no dough temperature.")
    poured = _less_ice(parts, liquid, float(ice_kg[0]))
    dough_c = dough_temperatures_c(poured, starts, flour_kg, friction, draws, ice_kg, room_c=np.asarray(own["room"]))
    if step.dough_c is not None:
        # measured: what was reckoned gives way
        dough_c = np.full_like(dough_c, step.dough_c)
    heat = np.array([part.mass_kg * part.heat_capacity for part in parts])
    start_c = np.asarray(starts @ heat / heat.sum())
    if plan is not None:
        share = float(heat[liquid].sum() / heat.sum())
        facts["liquid_c"] = plan.liquid_c + (desired - dough_c) / share if plan.reached else plan.liquid_c + 0 * dough_c
        facts["ice_g"] = 1000.0 * ice_kg
        names = " and ".join(dict.fromkeys(parts[column].name for column in liquid))
        assumed.append(f"The liquid whose temperature is chosen: {names}.")
    assumed.append(
        "Dairy, eggs and fats come from the fridge, dry goods at the flour's temperature, "
        "where a line does not say cold, soft, warm or melted."
    )
    return Mixed(start_c, dough_c, facts, tuple(assumed))


def _needed_work(
    batch: Batch, weighed: list[Line], items: list[Ingredient | None], draws: Mapping[str, Array]
) -> Array:
    """Work that develops this dough (M,) [Wh/kg]: more for strong flour, and by the flour that is in it."""
    flours = [
        (line.grams.likely, item.protein or 0.0)
        for line, item in zip(weighed, items, strict=True)
        if item is not None and item.is_flour and line.grams is not None
    ]
    grams = sum(weight for weight, _ in flours)
    protein = sum(weight * share for weight, share in flours) / grams if grams > 0.0 else 12.0
    known = load("mixing")
    strength = 1.0 + known.value("mixing.work_by_protein") * (protein - 12.0)
    # published work is per kg of lean dough: the rest of a rich dough is carried along
    lean = min(1.0, known.value("mixing.lean_dough") * batch.dough.flour_g / batch.dough.mass_g)
    return np.asarray(draws["mixing.work_to_develop"] * max(0.4, strength) * lean)


def _is_liquid(item: Ingredient) -> bool:
    """Whether its temperature can be chosen: water, milk and drinks; not eggs, cream cheese or fats."""
    wet = (item.water or 0.0) > 80.0
    return wet and item.category in ("liquid", "dairy")


def _plan(
    parts: list[MixPart],
    liquid: list[int],
    items: list[Ingredient | None],
    kitchen: Kitchen,
    desired_c: float,
    flour_kg: float,
    friction_k: float,
) -> LiquidPlan:
    """The liquid's temperature for the likely kitchen; only water may be replaced by ice."""
    rest = [part for column, part in enumerate(parts) if column not in liquid]
    liquid_kg = sum(parts[column].mass_kg for column in liquid)
    capacity = sum(parts[column].mass_kg * parts[column].heat_capacity for column in liquid) / liquid_kg
    water_kg = sum(parts[column].mass_kg for column in liquid if _is_water(items[column]))
    heat = MixHeat(
        flour_kg=flour_kg,
        friction_k=friction_k,
        room_c=kitchen.room.likely,
        bowl_exchange=load("mixing").value("mixing.bowl_exchange"),
    )
    return liquid_for(desired_c, rest, heat, liquid_kg, capacity, kitchen.tap_water.likely, water_kg)


def _is_water(item: Ingredient | None) -> bool:
    return item is not None and item.category == "liquid" and (item.water or 0.0) > 99.0


def _less_ice(parts: list[MixPart], liquid: list[int], ice_kg: float) -> list[MixPart]:
    """The parts with the liquid's mass lessened by the ice that stands for it."""
    if ice_kg <= 0.0 or not liquid:
        return parts
    left = 1.0 - ice_kg / sum(parts[column].mass_kg for column in liquid)
    return [
        replace(part, mass_kg=part.mass_kg * left) if column in liquid else part for column, part in enumerate(parts)
    ]


def _start_c(line: Line, item: Ingredient | None, own: Mapping[str, Array]) -> Array:
    """Temperature of an ingredient as it goes in (M,) [°C]: what its line says, else where such things are kept."""
    words = f"{line.preparation} {line.text}"
    if _MELTED_WORDS.search(words):
        return np.full_like(own["room"], _KNOWN.value("mix.melted"))
    if _WARM_WORDS.search(words):
        return np.full_like(own["room"], _KNOWN.value("mix.warm_liquid"))
    if _ROOM_WORDS.search(words):
        return np.asarray(own["room"])
    if _FRIDGE_WORDS.search(words):
        return np.asarray(own["fridge"])
    if item is not None and item.category in ("dairy", "egg", "fat", "cheese", "meat"):
        return np.asarray(own["fridge"])
    if _is_water(item):
        return np.asarray(own["tap_water"])
    # flour that stands in the room has no draw of its own
    return np.asarray(own["flour"] if "flour" in own else own["room"])


def _part(line: Line, item: Ingredient | None, start_c: float) -> MixPart:
    grams = line.grams.likely if line.grams is not None else 0.0
    if item is None:
        return MixPart(line.name, grams / 1000.0, _KNOWN.value("mix.dry_food_heat"), start_c)
    fat = item.fat or 0.0
    carbohydrate = max(0.0, (item.carbohydrate or 0.0) - (item.fibre or 0.0))
    known = (item.water or 0.0) + (item.protein or 0.0) + fat + carbohydrate
    capacity = _KNOWN.value("mix.dry_food_heat")
    if known > 50.0:
        ash = item.ash or 0.0
        shares = shares_of(item.water or 0.0, item.protein or 0.0, fat, carbohydrate, item.fibre or 0.0, ash)
        capacity = float(heat_capacity_j_kgk(shares, 20.0))
    milk_fat = fat / 100.0 * grams / 1000.0 if is_butter(item) else 0.0
    return MixPart(line.name or item.name, grams / 1000.0, capacity, start_c, milk_fat)
