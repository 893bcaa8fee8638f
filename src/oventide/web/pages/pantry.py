"""The pantry: every ingredient by group, with what it may contain, what it costs, and how many formulas have it."""

from dataclasses import dataclass
from functools import cache
from typing import Annotated

from oventide.pantry.ingredients import CATEGORIES, Ingredient, everything
from oventide.pantry.names import names_of
from oventide.services.finding import finding_of
from oventide.services.leafing import folded, holding
from oventide.services.prices import prices_of
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext
from oventide.web.money import told

GROUP_WORDS = {
    "flour": "Flour", "sugar": "Sugar and syrup", "fat": "Butter, fat and oil", "dairy": "Milk and cream", "egg": "Egg",
    "yeast": "Yeast", "leavening": "Powder and soda", "salt": "Salt", "spice": "Spice", "nut": "Nuts", "seed": "Seeds",
    "fruit": "Fruit", "vegetable": "Vegetables", "cheese": "Cheese", "meat": "Meat", "chocolate": "Chocolate",
    "liquid": "Water and other liquids", "starch": "Starch", "other": "Other",
}  # fmt: skip

IN_USE = "in-use"


@dataclass(frozen=True)
class Row:
    """One ingredient of the list."""

    id: str
    name: str
    allergens: tuple[str, ...]
    per_kg: str
    uses: int


@dataclass(frozen=True)
class Group:
    """One group."""

    key: str
    name: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    groups: Annotated[tuple[Group, ...], "Group by group, its ingredients by name"]
    words: Annotated[str, "The words that the list was filtered by"]
    meant: Annotated[str, "What was looked for where a slip was mended"]
    count: Annotated[int, "How many ingredients are shown"]
    of: Annotated[int, "How many ingredients there are"]


@cache
def _stock() -> tuple[tuple[Ingredient, ...], tuple[str, ...]]:
    """Every ingredient by group and name, and the folded text that it is found by."""
    order = {category: at for at, category in enumerate(CATEGORIES)}
    items = sorted(everything(), key=lambda item: (order[item.category], folded(item.name)))
    other = names_of()
    return tuple(items), tuple(
        folded(" ".join((item.name, GROUP_WORDS[item.category], *other.get(item.id, ()), *item.allergens)))
        for item in items
    )


def handle(ask: Ask) -> Page:
    """The page; for htmx the list alone."""
    words = ask.query.get("q", "").strip()[:200]
    items, texts = _stock()
    found, meant = holding(items, words, texts)
    prices = prices_of(ask.shelf)
    uses = finding_of(ask.shelf).uses()
    rows = [
        (
            item,
            Row(item.id, item.name, item.allergens, told(prices[item.id].per_kg) if item.id in prices else "",
                uses.get(item.id, 0)),
        )
        for item in found
    ]  # fmt: skip
    in_use = sorted((row for _, row in rows if row.uses or row.per_kg), key=lambda row: (-row.uses, folded(row.name)))
    groups = [Group(IN_USE, "In use", tuple(in_use))] if in_use and not words else []
    for category in CATEGORIES:
        of_it = tuple(row for item, row in rows if item.category == category)
        if of_it:
            groups.append(Group(category, GROUP_WORDS[category], of_it))
    return Page(Shown(tuple(groups), words, meant, len(found), len(items)), part=ask.part)
