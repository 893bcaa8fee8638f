"""One ingredient in place of another: what the dough gains and loses, and the weight that keeps fat or water."""

from typing import Literal

from oventide.errors import refuse
from oventide.formula.composition import Composition, compose
from oventide.formula.model import Component, Line
from oventide.formula.parts import dough_lines
from oventide.pantry.ingredients import Ingredient, ingredient
from oventide.pantry.names import find
from oventide.timeline.procedure import Product
from oventide.travel.lines import changed, known_lines, weighed, with_formula
from oventide.travel.model import Told, figure

Keeps = Literal["weight", "fat", "water"]

_PARTS: tuple[tuple[str, str], ...] = (
    ("added_water_g", "water"),
    ("fat_g", "fat"),
    ("milk_fat_g", "milk fat"),
    ("sugars_g", "sugars"),
    ("lactose_g", "lactose"),
    ("protein_g", "protein"),
    ("salt_g", "salt"),
)


def _known(name: str, field: str) -> Ingredient:
    found = find(name)
    if found.ingredient_id is None:
        offered = ", ".join(ingredient(each).name for each in found.offered[:4])
        raise refuse(
            field, name, "The pantry knows no ingredient of this name.",
            f"Near it are: {offered}." if offered else "Name it as a recipe would.",
        )  # fmt: skip
    return ingredient(found.ingredient_id)


def _like(item: Ingredient, wanted: Ingredient, name: str) -> bool:
    """Whether a line is the one that is meant: the same ingredient, or one of its kind that bears the word."""
    return item.id == wanted.id or (item.category == wanted.category and name.lower().strip() in item.name.lower())


def keeps_for(before: Ingredient, after: Ingredient) -> Keeps:
    """What the swap keeps: the fat between two fats, the water between two liquids, else the weight."""
    if before.category == "fat" and after.category == "fat" and before.fat and after.fat:
        return "fat"
    if (
        before.category in ("dairy", "liquid")
        and after.category in ("dairy", "liquid")
        and before.water
        and after.water
    ):
        return "water"
    return "weight"


def instead(product: Product, old: str, new: str) -> tuple[Product, Told]:
    """The product with every line of `old` as `new`, at the weight that keeps its fat or water, and what changes."""
    wanted, there = _known(old, "instead"), _known(new, "instead")
    lines = [(c, line, item) for c, line, item in known_lines(product.formula) if _like(item, wanted, old)]
    if not lines:
        raise refuse(
            "instead",
            old,
            "The formula has no such line.",
            "Name an ingredient as the formula's lines do: read shows them.",
        )
    figures, do, new_lines = [], [], {}
    keeps: Keeps = "weight"
    for component, line, item in lines:
        grams, keeps = weighed(line, "instead"), keeps_for(item, there)
        factor = 1.0
        if keeps == "fat":
            factor = (item.fat or 1.0) / (there.fat or 1.0)
        elif keeps == "water":
            factor = (item.water or 1.0) / (there.water or 1.0)
        made = grams.scaled(factor)
        figures.append(
            figure(f"{there.name} for {grams.likely:.0f} g {item.name} ({component.name.lower()})", "g", made)
        )
        new_lines[id(line)] = line.model_copy(
            update={
                "text": f"{made.likely:.0f} g {there.name}",
                "name": there.name,
                "amount": round(made.likely, 1),
                "amount_high": None,
                "unit": "g",
                "ingredient": there.id,
                "grams": made,
            }
        )

    def change(_: Component, line: Line) -> tuple[Line, ...]:
        return (new_lines.get(id(line), line),)

    swapped = with_formula(product, changed(product.formula, change))
    one, other = compose(dough_lines(product.formula)), compose(dough_lines(swapped.formula))
    if other.flour_g <= 0.0:
        raise refuse("instead", f"{old}={new}", "No flour would be left in the dough.", "Swap it for another flour.")
    figures += [
        figure(f"{word} in the dough, on flour: change", "%", _on_flour(other, part) - _on_flour(one, part))
        for part, word in _PARTS
        if abs(_on_flour(other, part) - _on_flour(one, part)) >= 0.05
    ]
    water = other.added_water_g - one.added_water_g
    if keeps == "fat" and abs(water) >= 1.0:
        do.append(
            f"{'Leave out' if water > 0 else 'Add'} {abs(water):.0f} g of the liquid: the other fat brings "
            f"{'more' if water > 0 else 'less'} water."
        )
    do += _advice(one, other, there)
    return swapped, Told(
        asked=f"{there.name} in place of {', '.join(dict.fromkeys(item.name for _, _, item in lines))}",
        figures=tuple(figures),
        because=_because(keeps, one, other, there),
        do=tuple(do),
        cautions=_allergens([item for _, _, item in lines], there, swapped),
        assumed=(
            f"{there.name}: figures {'of a food table' if there.source == 'usda-sr28' else 'from memory'}; "
            "your packet has the word.",
        ),
        sources=tuple(key for key in dict.fromkeys([there.source, *(item.source for _, _, item in lines)]) if key),
    )


def _on_flour(dough: Composition, part: str) -> float:
    return 100.0 * float(getattr(dough, part)) / dough.flour_g


def _because(keeps: Keeps, one: Composition, other: Composition, there: Ingredient) -> tuple[str, ...]:
    said = {
        "fat": "The weight keeps the fat, which is what makes the crumb short and soft.",
        "water": "The weight keeps the water, so that the dough is as soft as before.",
        "weight": "The two are not of one kind, so the weight stays and the dough changes.",
    }
    found = [said[keeps]]
    if one.milk_fat_g - other.milk_fat_g > 0.02 * one.flour_g:
        found.append(
            f"{there.name.capitalize()} melts over another range than butter: the firmness that the forecast reckons "
            "for "
            "the sheet holds for butter."
        )
    if one.lactose_g - other.lactose_g > 0.005 * one.flour_g:
        found.append("Less lactose: yeast leaves it, so it is what browns last; the crust comes out paler.")
    if other.sugars_g - other.lactose_g - (one.sugars_g - one.lactose_g) > 0.002 * one.flour_g:
        found.append("The drink brings sugars that yeast eats (maltose and glucose): a little more go at the start.")
    return tuple(found)


def _advice(one: Composition, other: Composition, there: Ingredient) -> list[str]:
    do = []
    if one.lactose_g - other.lactose_g > 0.005 * one.flour_g:
        do.append("For the old colour: open the cover a few minutes sooner, or brush before the bake.")
    if one.milk_fat_g - other.milk_fat_g > 0.02 * one.flour_g:
        do.append(
            "Try how it spreads at your bench before the day; soft ones want a colder dough and a shorter time out."
        )
    if other.salt_g - one.salt_g > 0.001 * one.flour_g:
        do.append(f"It brings salt: leave out {other.salt_g - one.salt_g:.1f} g of the dough's.")
    return do


def _allergens(old: list[Ingredient], new: Ingredient, swapped: Product) -> tuple[str, ...]:
    """What goes and what comes; what stays because another line brings it is named."""
    left = {word for _, _, item in known_lines(swapped.formula) for word in item.allergens}
    gone = sorted({word for item in old for word in item.allergens} - left)
    stays = sorted({word for item in old for word in item.allergens} & left - set(new.allergens))
    come = sorted(set(new.allergens))
    said = []
    if come:
        doubt = " (?: read the packet)" if any(word.endswith("?") for word in come) else ""
        said.append(f"Allergens that it brings: {', '.join(come)}{doubt}.")
    if gone:
        said.append(f"No line brings {', '.join(gone)} any more; what the packets say they may contain still counts.")
    if stays:
        said.append(f"Still in the formula from other lines: {', '.join(stays)}.")
    return tuple(said)
