"""A journal as full as after many years: formulas by the thousand, bakes by the ten thousand. All of it is invented.

Formulas are written as a recipe is pasted and read by the program's own intake, so that what is stored is what a
baker would have stored; bakes are put in by rows, since ten thousand evenings cannot be baked.
"""

import random
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

from sqlalchemy import insert

from oventide.bench.model import Bake, Entry
from oventide.journal.engine import digest_of, folded
from oventide.journal.listing import listed
from oventide.journal.tables import BAKE, BAKE_AS_BEGUN, ENTRY, ITEM, REVISION
from oventide.kitchen.model import Kitchen
from oventide.services.reading import read_recipe_text
from oventide.services.shelf import Saved, Shelf, key_from_name
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


def _entry(chance: random.Random, bake: int, number: int, at: datetime, **told: object) -> dict[str, object]:
    entry = Entry.model_validate({"uid": f"b{bake:06d}e{number:04d}", "at": at, "device": "bench tablet", **told})
    return {
        "bake_id": bake, "number": number, "uid": entry.uid, "deed": entry.deed, "at": at.isoformat(),
        "taken_at": at.isoformat(), "device": entry.device, "content": entry.model_dump_json(),
    }  # fmt: skip


def entries_of(chance: random.Random, bake: int, begun: datetime, steps: int) -> list[dict[str, object]]:
    """An evening and a morning: each step done, a few readings and marks, a remark and a score, the end."""
    told: list[dict[str, object]] = []
    for step in range(steps):
        told.append({"deed": "done", "step": step})
    told.insert(1, {"deed": "reading", "step": 0, "quantity": "dough temperature",
                    "value": round(chance.gauss(24, 1.2), 1)})  # fmt: skip
    told.append({"deed": "reading", "step": steps - 1, "quantity": "core", "value": round(chance.gauss(92, 2), 1)})
    if chance.random() < 0.5:
        told.insert(3, {"deed": "mark", "step": 2, "mark": chance.choice(("at the mark", "too soft", "not yet"))})
    told.append({"deed": "note", "text": chance.choice(SAID), "score": chance.randrange(2, 6)})
    told.append({"deed": "finish"})
    return [
        _entry(chance, bake, number, begun + timedelta(minutes=45 * number), **each)
        for number, each in enumerate(told, start=1)
    ]


def fill_bakes(shelf: Shelf, bakes: int, kitchen: Saved[Kitchen], seed: int = 1, under_way: int = 3) -> None:
    """Bakes of the formulas on the shelf over the years, with their entries; the last few are still under way."""
    chance = random.Random(seed + 2)
    rows = listed(shelf.journal, "product")[:60]
    opened = [shelf.product(row.key) for row in rows]
    now = shelf.clock()
    begun = sorted(FIRST + timedelta(minutes=chance.randrange(0, 7 * 365 * 24 * 60)) for _ in range(bakes - under_way))
    begun += [now - timedelta(hours=2 + turn) for turn in range(under_way)]
    made: Counter[str] = Counter()
    many: dict[str, list[dict[str, object]]] = {"bake": [], "as_begun": [], "entry": []}
    for number, moment in enumerate(begun, start=1):
        saved = chance.choice(opened)
        made[saved.key] += 1
        name = f"{saved.content.name} {made[saved.key]}"
        key = key_from_name(f"{moment:%Y-%m-%d}-{number}-{saved.key}")
        row = Bake(
            key=key, name=name[:60], sign=number % 8, product_key=saved.key, product_revision=saved.number,
            product=saved.content, kitchen_key=kitchen.key, kitchen=kitchen.content, started_at=moment,
            ready_at=moment + timedelta(hours=14),
        )  # fmt: skip
        is_over = number <= bakes - under_way
        many["bake"].append(
            {
                "id": number, "key": key, "name": row.name, "found_by": folded(f"{row.name} {kitchen.content.name}"),
                "sign": row.sign, "product_key": saved.key, "product_revision": saved.number,
                "kitchen_key": kitchen.key, "started_at": _utc(moment), "ready_at": _utc(moment + timedelta(hours=14)),
                "finished_at": _utc(moment + timedelta(hours=15)) if is_over else None, "day": f"{moment:%Y-%m-%d}",
            }
        )  # fmt: skip
        content = row.model_dump_json()
        many["as_begun"].append({"bake_id": number, "content": content, "digest": digest_of(content)})
        entries = entries_of(chance, number, moment, len(saved.content.procedure.steps))
        many["entry"] += entries if is_over else entries[:3]
    with shelf.journal.writing() as connection:
        connection.execute(insert(BAKE), many["bake"])
        connection.execute(insert(BAKE_AS_BEGUN), many["as_begun"])
        connection.execute(insert(ENTRY), many["entry"])


def _utc(moment: datetime) -> str:
    return moment.astimezone(UTC).isoformat(timespec="milliseconds")
