"""The bakes that were made, a page at a time: when, of which formula, how they were tasted."""

import json
from dataclasses import dataclass
from datetime import datetime

from oventide.journal.bake_rows import BakeRow
from oventide.journal.following import told_of
from oventide.services.bakes import Bakes
from oventide.services.finding import finding_of
from oventide.services.leafing import ROWS, Leaf
from oventide.services.shelf import Shelf


@dataclass(frozen=True)
class BakeLine:
    """One bake of the list. `ended_at` is None while it is under way."""

    key: str
    name: str
    product_key: str
    product_revision: int
    begun_at: datetime
    ended_at: datetime | None
    score: int | None
    note: str


def _line(row: BakeRow, told: tuple[str, ...]) -> BakeLine:
    entries = [json.loads(content) for content in told]
    undone = {entry.get("of") for entry in entries if entry["deed"] == "undo"}
    notes = [entry for entry in entries if entry["deed"] == "note" and entry["uid"] not in undone]
    scores = [entry["score"] for entry in notes if entry.get("score")]
    texts = [entry["text"] for entry in notes if entry.get("text")]
    return BakeLine(
        key=row.key,
        name=row.name,
        product_key=row.product_key,
        product_revision=row.product_revision,
        begun_at=row.started_at,
        ended_at=row.finished_at,
        score=scores[-1] if scores else None,
        note=texts[-1] if texts else "",
    )


def bakes_leaf(shelf: Shelf, bakes: Bakes, words: str = "", product_key: str = "", page: int = 1) -> Leaf[BakeLine]:
    """A page of bakes, the last begun first, with every word in their names, formulas, kitchens or days.

    Where nothing holds the words, slips are mended by the words of everything that is stored.
    """
    of = bakes.count(product_key=product_key)
    count, meant = bakes.count(words, product_key), ""
    if words and not count:
        meant = finding_of(shelf).meant(words)
        count = bakes.count(meant, product_key) if meant else 0
        meant = meant if count else ""
    pages = max(1, -(-count // ROWS))
    page = min(max(page, 1), pages)
    rows = bakes.page(meant or words, product_key, limit=ROWS, offset=(page - 1) * ROWS) if count else ()
    told = told_of(shelf.journal, [row.key for row in rows])
    return Leaf(tuple(_line(row, told.get(row.key, ())) for row in rows), page, pages, count, of, meant)
