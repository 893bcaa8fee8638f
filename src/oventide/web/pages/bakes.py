"""The bakes that were made, a page at a time, by name, formula or day."""

from dataclasses import dataclass, replace
from typing import Annotated

from oventide.services.leafing import Leaf
from oventide.services.looking_back import BakeLine, bakes_leaf
from oventide.services.shelf import NotOnShelf
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext
from oventide.web.leaf_links import Links, links_of


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    leaf: Annotated[Leaf[BakeLine], "Bakes of this page of the list, the last begun first"]
    links: Annotated[Links, "Addresses of the other pages"]
    words: Annotated[str, "The words that the list was filtered by"]
    formula: Annotated[str, "The key of the formula whose bakes alone are shown, or nothing"]
    formula_name: Annotated[str, "That formula's name"]


def handle(ask: Ask) -> Page:
    """The page; for htmx the list alone."""
    words = ask.query.get("q", "").strip()[:200]
    formula = ask.query.get("formula", "")[:80]
    name = formula
    if formula:
        try:
            name = ask.shelf.product(formula).content.name
        except NotOnShelf:
            formula = name = ""
    leaf = bakes_leaf(ask.shelf, ask.bakes, words, formula, ask.number("page") or 1)
    here = ask.now.tzinfo
    local = tuple(
        replace(row, begun_at=row.begun_at.astimezone(here), ended_at=row.ended_at and row.ended_at.astimezone(here))
        for row in leaf.rows
    )
    links = links_of("/bakes", {"q": words, "formula": formula}, leaf.page, leaf.pages)
    return Page(Shown(replace(leaf, rows=local), links, words, formula, name), part=ask.part)
