"""A journal as full as after many years: formulas by the thousand, bakes by the ten thousand. All of it is invented.

Formulas are written as a recipe is pasted and read by the program's own intake, so that what is stored is what a
baker would have stored; bakes are put in by rows, since ten thousand evenings cannot be baked.
"""

import random
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from sqlalchemy import insert

from oventide.journal.engine import digest_of
from oventide.journal.tables import ITEM, REVISION
from oventide.services.reading import read_recipe_text
from oventide.services.shelf import Shelf, key_from_name
from oventide.timeline.procedure import Product

PLACES = (
    "Lantern Quay", "Skerry", "Mill Lane", "Tern Point", "Harbour Steps", "Old Slip", "Netloft", "Ropewalk",
    "Saltpan", "Beacon", "Ferry Bank", "Curlew", "Driftwood", "Cooper's Yard", "North Mole", "Samphire",
)  # fmt: skip
TASTES = (
    ("poppy", ["140 g poppy seeds, ground", "80 ml whole milk", "60 g caster sugar"]),
    ("cardamom and orange", ["8 g ground cardamom", "90 g caster sugar", "zest of 1 orange"]),
    ("hazelnut", ["150 g ground hazelnuts", "70 g soft brown sugar", "60 ml double cream"]),
    ("apple", ["220 g apple, grated", "50 g caster sugar", "15 g cornflour"]),
    ("walnut", ["160 g walnuts, chopped", "80 g honey"]),
    ("plum", ["250 g plum jam", "20 g dry white breadcrumbs"]),
    ("cheese and herb", ["180 g cheddar, grated", "12 g parsley, chopped"]),
    ("sesame", ["90 g sesame seeds", "70 g honey"]),
    ("crème fraîche and leek", ["200 g leek, softened", "120 g crème fraîche", "4 g salt"]),
    ("chocolate", ["140 g dark chocolate", "60 g unsalted butter", "40 g icing sugar"]),
    ("ginger", ["60 g stem ginger", "90 g soft brown sugar"]),
    ("almond", ["170 g ground almonds", "120 g icing sugar", "1 egg white"]),
)  # fmt: skip
FORMS = ("coils", "knots", "rolls", "twists", "buns", "swirls", "plaits", "crowns")
NOTES = (
    "", "softer than the last", "less sugar", "for the market", "with the new flour", "for the Saturday class",
    "colder milk in summer", "for the café", "one more fold",
)  # fmt: skip
SAID = (
    "Corner pieces darker than the middle.", "Wet at the seam, drain the filling longer.", "Best so far.",
    "Butter came through the dough while rolling.", "Opened five minutes late.", "Good shred, a little dry on day two.",
    "Filling weeps after the night.", "Rose faster than foreseen, warm room.", "Too pale, keep it in longer.",
    "Sold out by eleven.",
)  # fmt: skip
FIRST = datetime(2019, 2, 2, 5, 0, tzinfo=UTC)


def recipe_text(chance: random.Random, name: str, filling: list[str]) -> str:
    """A recipe as somebody would paste it."""
    flour = chance.randrange(350, 900, 10)
    lines = [
        f"{flour} g {chance.choice(('strong white flour', 'plain flour', 'bread flour', 'spelt flour'))}",
        f"{round(flour * chance.uniform(0.42, 0.6), -1):.0f} ml whole milk, lukewarm",
        f"{chance.choice((5, 6, 7, 8, 10))} g instant yeast",
        f"{chance.randrange(1, 3)} eggs" if chance.random() < 0.8 else "30 g water",
        f"{round(flour * chance.uniform(0.06, 0.22) / 5) * 5} g unsalted butter, soft",
        f"{round(flour * chance.uniform(0.06, 0.16) / 5) * 5} g caster sugar",
        f"{round(flour * 0.018)} g fine salt",
    ]
    pieces = chance.choice((6, 8, 9, 12, 16))
    night = chance.random() < 0.5
    method = [
        f"Mix for {chance.randrange(7, 14)} minutes.",
        f"Cover and leave to rise for {chance.choice((45, 60, 75, 90))} minutes at room temperature.",
        f"Cover and leave in the fridge for {chance.randrange(8, 13)} hours." if night else "",
        f"Roll out to 30 x 40 cm, spread with the filling, roll up and cut into {pieces}.",
        f"Set in a 20 x 30 cm tin, cover and prove for {chance.randrange(50, 120, 5)} minutes.",
        f"Bake at {chance.choice((160, 170, 180, 190))}C fan for {chance.randrange(20, 34)} minutes.",
    ]
    return "\n".join([name, "", "Dough", *lines, "", "Filling", *filling, "", "Method", *[m for m in method if m]])


def names(chance: random.Random) -> Iterator[tuple[str, list[str]]]:
    """Names without end, each with its filling; a place comes round again with a number."""
    count = 0
    while True:
        count += 1
        taste, filling = chance.choice(TASTES)
        tail = f" {count}" if count > 300 else ""
        yield f"{chance.choice(PLACES)} {taste} {chance.choice(FORMS)}{tail}", filling


def products(count: int, seed: int = 1, read: int = 60) -> Iterator[Product]:
    """That many products. `read` of them are read from text; the others are those under other names and weights."""
    chance = random.Random(seed)
    stock: list[Product] = []
    for number, (name, filling) in zip(range(count), names(chance), strict=False):
        if number < read:
            stock.append(read_recipe_text(recipe_text(chance, name, filling)))
            yield stock[-1]
            continue
        like = chance.choice(stock)
        grown = chance.choice((0.5, 0.8, 1.25, 1.5, 2.0))
        components = tuple(
            component.model_copy(
                update={
                    "lines": tuple(
                        line.model_copy(update={"grams": line.grams.scaled(grown) if line.grams else None})
                        for line in component.lines
                    )
                }
            )
            for component in like.formula.components
        )
        formula = like.formula.model_copy(update={"name": name, "components": components})
        notes = chance.choice(SAID) if chance.random() < 0.6 else ""
        yield like.model_copy(update={"name": name, "formula": formula, "notes": notes})


def fill_shelf(shelf: Shelf, formulas: int, seed: int = 1) -> None:
    """Formulas with one to five revisions each, saved over the years."""
    chance = random.Random(seed + 1)
    moments = sorted(FIRST + timedelta(minutes=chance.randrange(0, 7 * 365 * 24 * 60)) for _ in range(formulas))
    taken: Counter[str] = Counter()
    items, revisions = [], []
    for number, (product, moment) in enumerate(zip(products(formulas, seed), moments, strict=True), start=1_000_001):
        base = key_from_name(product.name)
        taken[base] += 1
        key = base if taken[base] == 1 else f"{base}-{taken[base]}"
        items.append({"id": number, "kind": "product", "key": key, "created_at": moment.isoformat()})
        content = product.model_dump_json()
        for turn in range(chance.choice((1, 1, 2, 3, 5))):
            revisions.append(
                {
                    "item_id": number, "number": turn + 1, "name": product.name, "note": chance.choice(NOTES),
                    "saved_at": (moment + timedelta(days=9 * turn)).isoformat(timespec="seconds"),
                    "content": content, "digest": digest_of(content),
                }
            )  # fmt: skip
    with shelf.journal.writing() as connection:
        connection.execute(insert(ITEM), items)
        connection.execute(insert(REVISION), revisions)
