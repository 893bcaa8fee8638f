"""Flour of another protein: how much water it takes, and what the dough will stand."""

from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.formula.parts import dough_lines
from oventide.formula.percent import flour_g
from oventide.timeline.procedure import Product
from oventide.travel.model import Told, figure
from oventide.units.estimate import Estimate


def at_moisture(protein: float, moisture_from: float, moisture_to: float) -> float:
    """Protein share of the same flour at another moisture basis [%].

    >>> round(at_moisture(12.0, 14.0, 0.0), 2)
    13.95
    """
    return protein * (100.0 - moisture_to) / (100.0 - moisture_from)


def other_flour(product: Product, before: float, after: float) -> Told:
    """From a flour of `before` to one of `after` % protein (packet, g per 100 g): water to hold back, and how to work.

    Water follows protein by `flour.water_per_protein` (evidence/data/travel.toml), a slope between flours of one
    table; damaged starch and ash move it as much, so that the range is wide and the bowl decides.
    """
    known = load("travel")
    limits = known["flour.protein"]
    for value in (before, after):
        if not limits.low <= value <= limits.high:
            raise refuse(
                "protein", f"{value:g} %", f"Wheat flour for dough has {limits.low:g} to {limits.high:g} % protein.",
                "Read it off the packet: g of protein in 100 g.",
            )  # fmt: skip
    slope = known["flour.water_per_protein"]
    step = after - before
    ends = sorted((step * slope.low, step * slope.high))
    percent = Estimate(low=ends[0], likely=step * slope.value, high=ends[1], grade="read", source=slope.source)
    flour = flour_g(dough_lines(product.formula))
    grams = Estimate(
        low=flour * percent.low / 100, likely=flour * percent.likely / 100, high=flour * percent.high / 100
    )
    figures = (
        figure("water, on flour", "%", percent),
        figure(f"water for {flour:.0f} g flour", "g", grams),
    )
    do: tuple[str, ...]
    if step < 0:
        do = (
            f"Hold back {-grams.likely:.0f} g of the liquid ({-grams.high:.0f} to {-grams.low:.0f} g); give it later "
            "only "
            "if the dough is stiff before the butter goes in.",
            "Mix shorter and stop at the first good windowpane: weaker flour breaks down sooner.",
            "Aim at the low end of the rise at proof, and keep the dough colder: it holds its gas for less long.",
            f"Or mend the flour with about {-1.6 * step * flour / 100:.0f} g dry gluten, if you have it, and no less "
            "water.",
        )
    else:
        do = (
            f"Keep {grams.likely:.0f} g more liquid at hand ({grams.low:.0f} to {grams.high:.0f} g) and give it "
            "while mixing.",
            "Mix longer, until the windowpane holds; rest the sheet when it springs back.",
        )
    return Told(
        asked=f"Flour of {after:g} % protein in place of {before:g} %",
        figures=figures,
        because=(
            "Stronger flour takes up more water; between flours of one published table the water rises with protein.",
            "Damaged starch and the mill's grind move it by as much again, so the range is wide: the feel in the bowl "
            "decides.",
            "The forecast's times do not change with protein: how long a weak dough holds its gas is not known well "
            "enough to be reckoned.",
        ),
        do=do,
        assumed=("Both figures are taken as the packet's, at the same moisture (about 14 %).",),
        sources=(slope.source,),
    )
