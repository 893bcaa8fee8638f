"""Another kind of yeast than the formula names: grams, the water that goes with it, and how to put it in."""

from oventide.errors import refuse
from oventide.formula.composition import yeast_kind
from oventide.formula.model import Component, Line
from oventide.formula.yeast import convert
from oventide.pantry.ingredients import ingredient
from oventide.timeline.procedure import Product
from oventide.travel.lines import changed, known_lines, water_line, weighed, with_formula
from oventide.travel.model import Told, figure

KINDS: dict[str, str] = {
    "fresh": "yeast_fresh",
    "active_dry": "yeast_active_dry",
    "instant": "yeast_instant_dry",
}
_HOW = {
    "fresh": "Crumble it into the liquid, blood-warm at most, and stir until smooth.",
    "active_dry": "Soak it ten minutes in some of the liquid at 38 to 43 °C before mixing, then cool the rest to suit.",
    "instant": "Mix it with the flour; keep it off the salt and off ice-cold liquid.",
}


def other_yeast(product: Product, kind: str) -> tuple[Product, Told]:
    """The product with all its yeast as `kind` ("fresh", "active_dry", "instant"), and the figures.

    The mass of the dough stays: what the other yeast weighs more or less comes out of the water or goes into it.
    """
    if kind not in KINDS:
        raise refuse("yeast", kind, "This is not a kind of yeast that is known.", f"Choose one of: {', '.join(KINDS)}.")
    lines = [(c, line, item) for c, line, item in known_lines(product.formula) if item.category == "yeast"]
    if not lines:
        raise refuse(
            "yeast", kind, "The formula has no yeast line that was understood.", "Name the yeast and its weight."
        )
    figures, because, sources = [], [], []
    new: dict[int, tuple[Line, ...]] = {}
    for _, line, item in lines:
        grams = weighed(line, "yeast")
        made = convert(grams.likely, yeast_kind(item), kind)
        figures += [
            figure(f"{ingredient(KINDS[kind]).name} in place of {grams.likely:.3g} g {item.name}", "g", made.grams),
            figure("water to add (below 0: take out)", "g", made.water_g),
        ]
        because.append(made.sentence[0].upper() + made.sentence[1:] + ".")
        sources += [made.source] if made.source else []
        swapped = line.model_copy(
            update={
                "text": f"{made.grams.likely:.1f} g {ingredient(KINDS[kind]).name}",
                "name": ingredient(KINDS[kind]).name,
                "amount": round(made.grams.likely, 2),
                "unit": "g",
                "ingredient": KINDS[kind],
                "grams": made.grams,
            }
        )
        water = water_line(made.water_g, "goes with the other yeast") if abs(made.water_g) >= 0.05 else None
        new[id(line)] = (swapped,) if water is None or made.water_g < 0 else (swapped, water)

    def change(component: Component, line: Line) -> tuple[Line, ...]:
        return new.get(id(line), (line,))

    told = Told(
        asked=f"The formula's yeast as {ingredient(KINDS[kind]).name}",
        figures=tuple(figures),
        because=(
            *because,
            "Factors differ between books and makers by a fifth: judge the rise by its mark, not the clock.",
        ),
        do=(_HOW[kind], "Smell and crumble fresh yeast first: sour or grey means weak, then expect it later."),
        sources=tuple(dict.fromkeys(sources)),
    )
    return with_formula(product, changed(product.formula, change)), told
