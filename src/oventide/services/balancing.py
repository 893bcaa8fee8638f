"""The balance of a dough as levels: each figure beside the known range of its class, and how it is made up."""

from typing import Literal

import numpy as np

from oventide.dough.fat import thresholds
from oventide.dough.fats import curve_of, setting_fats
from oventide.errors import Refusal
from oventide.evidence.parameters import load
from oventide.formula.balance import Finding, findings_of
from oventide.formula.model import Frozen
from oventide.formula.parts import dough_lines
from oventide.formula.percent import DoughPercent, whole_dough
from oventide.timeline.procedure import Product

Measure = Literal["water", "on_water", "fat", "liquid_fat", "sugar", "egg", "salt", "yeast"]
LEAST_PART = 0.05
"""A part below this share of flour [%] is not drawn."""


class Part(Frozen):
    """A layer of a level, from the bottom up, in the level's unit."""

    name: str
    value: float


class Level(Frozen):
    """One figure of the dough. Between `low` and `high` lies what is known of its class; None where nothing is."""

    measure: Measure
    name: str
    short: str
    value: float
    of: str
    """What the per cent are of."""
    low: float | None = None
    high: float | None = None
    standing: Literal["below", "within", "above", ""] = ""
    parts: tuple[Part, ...] = ()
    remark: str = ""
    source: str = ""


def is_moved(before: float, after: float) -> bool:
    """Whether two shares differ as they are shown: to a tenth, below one to a hundredth.

    >>> is_moved(89.81, 89.82), is_moved(0.83, 0.84)
    (False, True)
    """
    places = 2 if max(before, after) < 1.0 else 1
    return round(before, places) != round(after, places)


def dough_temperature_c(product: Product) -> float:
    """The dough's temperature after mixing that the formula aims at, or that was measured; else the usual one [°C]."""
    for step in product.procedure.steps:
        if step.kind == "mix" and step.dough_c is not None:
            return step.dough_c
    for step in product.procedure.steps:
        if step.target is not None and step.target.measure == "dough_c":
            return step.target.value
    return load("formula").value("balance.dough_temperature")


def _liquid_fat(product: Product, dough: DoughPercent) -> Level | None:
    """Share of the dough's fat that is liquid at its temperature; None where there is no fat worth the name."""
    if dough.fat < LEAST_PART:
        return None
    at_c = dough_temperature_c(product)
    fats = setting_fats(dough_lines(product.formula))
    solid_g = 0.0
    if fats:
        solid_g = sum(fats.values()) * float(curve_of(fats, np.array([at_c]), np.zeros(1))[0, 0])
    solid = min(100.0 * solid_g / dough.flour_g, dough.fat)
    rolls = thresholds()
    butter = 100.0 * sum(fats.values()) / dough.flour_g
    return Level(
        measure="liquid_fat",
        name=f"Liquid fat at {at_c:.0f} °C",
        short="Liquid",
        value=100.0 * (1.0 - solid / dough.fat),
        of="of the fat",
        parts=(),
        remark=(
            f"{dough.fat - solid:.1f} % of flour is liquid, {solid:.1f} % solid. Butter rolls out while "
            f"{100 * rolls.too_soft:.0f} to {100 * rolls.too_hard:.0f} % of it is solid."
            if butter >= LEAST_PART
            else "This fat stays liquid in the fridge too."
        ),
        source="ronholt-2013" if butter >= LEAST_PART else "",
    )


def _ranged(findings: tuple[Finding, ...]) -> dict[str, Finding]:
    """The range for each measure; where filled rolls have their own, theirs."""
    return {each.measure: each for each in findings if each.kind == "range"}


def levels_of(product: Product) -> tuple[Level, ...]:
    """Water, sugar, sugar on water, fat, liquid fat, egg, salt and yeast. Empty where the dough has no flour yet."""
    try:
        dough = whole_dough(product.formula)
    except Refusal:
        return ()
    filled = bool(product.formula.of_kind("spread", "filling"))
    known = _ranged(findings_of(dough, filled=filled))
    water = dough.water

    def level(measure: Measure, name: str, short: str, value: float, of: str = "on flour", key: str = "",
              parts: tuple[Part, ...] = ()) -> Level:  # fmt: skip
        range_ = known.get(key)
        return Level(
            measure=measure, name=name, short=short, value=value, of=of, parts=parts,
            low=range_.low if range_ else None, high=range_.high if range_ else None,
            standing=range_.standing if range_ else "", remark=range_.sentence if range_ else "",
            source=range_.source if range_ else "",
        )  # fmt: skip

    split = tuple(
        Part(name=name, value=value)
        for name, value in (("liquid", water.liquid), ("egg", water.egg), ("butter", water.butter),
                            ("dairy", water.dairy), ("other", water.other))
        if value > LEAST_PART
    )  # fmt: skip
    fresh = "yeast" in known
    found = [
        level("water", "True water", "Water", water.total, key="water", parts=split),
        level("sugar", "Sugar, as weighed", "Sugar", dough.sugar_weighed, key="sugar"),
        level("fat", "Fat, as weighed", "Fat", dough.fat_weighed, key="fat"),
        level("egg", "Egg", "Egg", dough.egg_weighed, key="egg"),
        level("salt", "Salt, as weighed", "Salt", dough.salt, key="salt"),
        level("yeast", "Yeast" if fresh else "Yeast, as instant", "Yeast",
              dough.yeast_weighed if fresh else dough.yeast_as_instant, key="yeast" if fresh else "yeast_as_instant"),
    ]  # fmt: skip
    if dough.sugar_on_water is not None:
        on_water = level("on_water", "Sugar on water", "On water", dough.sugar_on_water, of="on the water")
        found.append(on_water.model_copy(update={
            "remark": "All sugars, milk sugar too, on the water that dissolves them; the more, the slower the yeast."
        }))  # fmt: skip
    fat = _liquid_fat(product, dough)
    return (*found, fat) if fat else tuple(found)
