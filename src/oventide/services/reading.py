"""Reading a recipe: pasted text, our TOML or schema.org JSON-LD becomes a product; and what was read is told back."""

from oventide.formula.model import EggClass
from oventide.services.answers import GramsRange, ReadAnswer, ReadComponent, ReadLine
from oventide.timeline.procedure import Product
from oventide.units.estimate import Estimate
from oventide.units.measure import Country

TEXT_LIMIT_BYTES = 1_000_000
"""A recipe of a million characters is not a recipe; a book's chapter has about fifty thousand."""


def grams_range(grams: Estimate | None) -> GramsRange | None:
    """The range of a weight for an answer [g], rounded to 0.01 g; None stays None."""
    if grams is None:
        return None
    return GramsRange(low=round(grams.low, 2), likely=round(grams.likely, 2), high=round(grams.high, 2))


def read_recipe_text(text: str, spoons: Country | None = None, eggs: EggClass | None = None) -> Product:
    """Read a pasted recipe. Spoons and eggs are guessed from the text where they are not given, and said so."""
    raise NotImplementedError


def read_file(text: str, name: str) -> Product:
    """Read a file's text by what it is: our TOML, JSON-LD, or a pasted recipe. `name` is only for messages."""
    raise NotImplementedError


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
