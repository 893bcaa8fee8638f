"""Reading a recipe: pasted text, our TOML or schema.org JSON-LD becomes a product; and what was read is told back."""

import re

from oventide.errors import Refusal, refuse
from oventide.formula.model import EggClass, Measures
from oventide.intake import defaults, jsonld, product_toml
from oventide.intake.clean import check_size
from oventide.intake.country import guess
from oventide.intake.text import read_recipe
from oventide.services.answers import GramsRange, ReadAnswer, ReadComponent, ReadLine
from oventide.timeline.procedure import Product
from oventide.units.estimate import Estimate
from oventide.units.measure import Country


def grams_range(grams: Estimate | None) -> GramsRange | None:
    """The range of a weight for an answer [g], rounded to 0.01 g; None stays None."""
    if grams is None:
        return None
    return GramsRange(low=round(grams.low, 2), likely=round(grams.likely, 2), high=round(grams.high, 2))


def _filled(product: Product) -> Product:
    """The product with what it leaves open filled by stated defaults; as read where there is no flour to lean on."""
    try:
        return defaults.complete(product)
    except Refusal:
        # what was read is shown all the same; whoever weighs it is told what lacks
        return product


def read_recipe_text(text: str, spoons: Country | None = None, eggs: EggClass | None = None) -> Product:
    """Read a pasted recipe. Spoons and eggs are guessed from the text where they are not given, and said so."""
    measures = None
    if spoons is not None or eggs is not None:
        check_size(text)
        guessed, _ = guess(text)
        measures = Measures(spoons=spoons or guessed.spoons, eggs=eggs or guessed.eggs)
    return _filled(read_recipe(text, measures))


def read_file(text: str, name: str, spoons: Country | None = None, eggs: EggClass | None = None) -> Product:
    """Read a file's text by what it is: our TOML, JSON-LD, or a pasted recipe. `name` tells by its ending.

    Our TOML says itself whose spoons and eggs it means; `spoons` and `eggs` are for the others.
    """
    ending = name.lower().rpartition(".")[2]
    try:
        if ending == "toml" or re.search(r"^\s*\[\[\s*component\s*\]\]", text, re.MULTILINE):
            return _filled(product_toml.read(text))
        if ending in ("json", "jsonld") or text.lstrip()[:1] in ("{", "["):
            return _filled(jsonld.read(text))
    except RecursionError as trouble:
        raise refuse("formula", name, "This file is nested too deep.", "Give one recipe.") from trouble
    return read_recipe_text(text, spoons, eggs)


def read_answer(product: Product) -> ReadAnswer:
    """What was read, line by line, with what was assumed."""
    return ReadAnswer(
        name=product.name,
        measures=product.formula.measures,
        components=tuple(
            ReadComponent(
                name=component.name,
                kind=component.kind,
                lines=tuple(
                    ReadLine(
                        text=line.text,
                        name=line.name,
                        amount=line.amount,
                        amount_high=line.amount_high,
                        unit=line.unit,
                        ingredient=line.ingredient,
                        preparation=line.preparation,
                        grams=grams_range(line.grams),
                        assumed=line.assumed,
                        offered=line.offered,
                    )
                    for line in component.lines
                ),
            )
            for component in product.formula.components
        ),
        makeup=product.makeup,
        steps=product.procedure.steps,
        notes=product.notes,
        unread=product.unread,
    )
