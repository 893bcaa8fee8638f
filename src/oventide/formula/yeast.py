"""From one kind of yeast to another, with the water that goes with it."""

from typing import Literal, get_args

from oventide.evidence.parameters import load, sources
from oventide.formula.model import Frozen
from oventide.pantry.ingredients import ingredient
from oventide.units.estimate import Estimate

Rule = Literal["reference", "gisslen", "three_eighths", "third", "uk_page"]
"""Whose factor: the bread textbook's reference table (used by default), or another published one."""
RULES: tuple[Rule, ...] = get_args(Rule)


class Converted(Frozen):
    """Grams of the other kind, the water to add to the dough (negative: to take out), and the sentence."""

    grams: Estimate
    water_g: float
    sentence: str
    source: str


def _dry(kind: str) -> str:
    """The kind without its strain: osmotolerant instant yeast is weighed as instant."""
    return "instant" if kind.startswith("instant") or kind == "mixed" else kind


def per_fresh(kind: str, rule: Rule = "reference") -> Estimate | None:
    """Grams of a kind in place of 1 g of fresh yeast, or None where this rule says nothing about it."""
    if _dry(kind) == "fresh":
        return Estimate.certain(1.0, grade="exact")
    short = {"active_dry": "active", "instant": "instant"}[_dry(kind)]
    name = f"yeast.{short}_per_fresh" if rule == "reference" else f"yeast.{rule}.{short}_per_fresh"
    found = load("formula").parameters.get(name)
    if found is None:
        return None
    return Estimate(low=found.low, likely=found.value, high=found.high, grade=found.grade, source=found.source)


def _water_share(kind: str) -> float:
    names = {"fresh": "yeast_fresh", "active_dry": "yeast_active_dry", "instant": "yeast_instant_dry"}
    return (ingredient(names[_dry(kind)]).water or 0.0) / 100.0


def convert(grams: float, from_kind: str, to_kind: str, rule: Rule = "reference") -> Converted:
    """The same raising power in another kind of yeast ("fresh", "active_dry", "instant").

    Water make-up keeps dough mass and moisture: water = mass difference, so that 10 g of fresh replaced by 3.3 g
    of instant asks for 6.7 g of water.

    >>> made = convert(30, "fresh", "instant")
    >>> round(made.grams.likely, 1), round(made.water_g, 1)
    (9.9, 20.1)
    """
    here, there = per_fresh(from_kind, rule), per_fresh(to_kind, rule)
    if here is None or there is None:
        return convert(grams, from_kind, to_kind, "reference")
    if _dry(from_kind) == _dry(to_kind):
        same = Estimate.certain(grams)
        return Converted(grams=same, water_g=0.0, sentence="the same kind of yeast", source="")
    made = Estimate(
        low=grams * there.low / here.high,
        likely=grams * there.likely / here.likely,
        high=grams * there.high / here.low,
        grade="read",
        source=there.source or here.source,
    )
    water = grams - made.likely
    words = {"fresh": "fresh", "active_dry": "active dry", "instant": "instant dry"}
    source = sources()[made.source].title
    what = "add" if water >= 0 else "take out"
    sentence = (
        f"{grams:.3g} g {words[_dry(from_kind)]} yeast works like {made.low:.2g}–{made.high:.2g} g "
        f"{words[_dry(to_kind)]}, likely {made.likely:.3g} g ({source}); {what} {abs(water):.2g} g water"
    )
    return Converted(grams=made, water_g=water, sentence=sentence, source=made.source)


def water_by_moisture(grams: float, from_kind: str, to_kind: str, rule: Rule = "reference") -> float:
    """Water to add so that the dough's moisture alone is kept [g]: the difference of the water in the two yeasts."""
    made = convert(grams, from_kind, to_kind, rule)
    return grams * _water_share(from_kind) - made.grams.likely * _water_share(to_kind)
