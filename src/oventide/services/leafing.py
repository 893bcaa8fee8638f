"""Long lists, a page at a time: filtered by words, in one of two orders."""

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, Literal, TypeVar
from weakref import WeakKeyDictionary

from rapidfuzz import fuzz, process

from oventide.journal.listing import Listed as Listed
from oventide.journal.listing import last_saved, listed, part_of
from oventide.journal.store import Journal, Kind
from oventide.services.shelf import Shelf

R = TypeVar("R")
Order = Literal["saved", "name"]
ROWS = 40
NEAR_ENOUGH = 70.0
"""How alike (of 100) a known word must be to one that nothing holds, to be taken for what was meant."""
SHORTEST_MENDED = 3

_KEPT: WeakKeyDictionary[Journal, dict[Kind, tuple[int, tuple[Listed, ...], tuple[str, ...]]]] = WeakKeyDictionary()


@dataclass(frozen=True)
class Leaf(Generic[R]):
    """One page of a list. `of` counts the whole list, `count` what the words left of it."""

    rows: tuple[R, ...]
    page: int
    pages: int
    count: int
    of: int
    meant: str = ""
    """What was looked for instead, where a word that nothing holds was taken for a slip of the pen."""


def folded(text: str) -> str:
    """Lower case without accents, as words are compared.

    >>> folded("Crème Fraîche œuf")
    'creme fraiche oeuf'
    """
    flat = unicodedata.normalize("NFKD", text.casefold().replace("æ", "ae").replace("œ", "oe").replace("ø", "o"))
    return "".join(letter for letter in flat if not unicodedata.combining(letter))


def mended(word: str, known: Iterable[str]) -> str:
    """The known word that a slip of the pen most likely meant; the word itself where none is near.

    >>> mended("popy", ("poppy", "seed")), mended("anvil", ("poppy", "seed"))
    ('poppy', 'anvil')
    """
    if len(word) < SHORTEST_MENDED:
        return word
    near = process.extractOne(word, known, scorer=fuzz.ratio, score_cutoff=NEAR_ENOUGH)
    return near[0] if near else word


def holding(rows: Sequence[R], words: str, texts: Sequence[str]) -> tuple[list[R], str]:
    """Rows whose folded text holds every word; and the words that were looked for, where a slip was mended.

    >>> holding(["Poppy coils", "Seed knots"], "popy COIL", ["poppy coils", "seed knots"])
    (['Poppy coils'], 'poppy coil')
    """
    wanted = folded(words).split()

    def found() -> list[R]:
        return [row for row, text in zip(rows, texts, strict=True) if all(word in text for word in wanted)]

    if not wanted:
        return list(rows), ""
    whole = " ".join(texts)
    known = frozenset(whole.split())
    meant = [word if word in whole else mended(word, known) for word in wanted]
    changed = meant != wanted
    wanted = meant
    return found(), " ".join(meant) if changed else ""


def leaf_of(rows: Sequence[R], page: int, of: int, meant: str = "", size: int = ROWS) -> Leaf[R]:
    """The page asked for, or the last one there is.

    >>> leaf_of(range(90), 9, 200).rows, leaf_of((), 1, 0).pages
    ((80, 81, 82, 83, 84, 85, 86, 87, 88, 89), 1)
    """
    pages = max(1, -(-len(rows) // size))
    page = min(max(page, 1), pages)
    return Leaf(tuple(rows[(page - 1) * size : page * size]), page, pages, len(rows), of, meant)


def _rows(shelf: Shelf, kind: Kind) -> tuple[tuple[Listed, ...], tuple[str, ...]]:
    """Every row of a kind with the text that it is searched by, read again only once something was saved."""
    mark = last_saved(shelf.journal)
    kept = _KEPT.setdefault(shelf.journal, {})
    if kind not in kept or kept[kind][0] != mark:
        rows = listed(shelf.journal, kind)
        kept[kind] = (mark, rows, tuple(folded(f"{row.name} {row.note}") for row in rows))
    return kept[kind][1:]


def shelf_leaf(
    shelf: Shelf, kind: Kind, words: str = "", order: Order = "saved", page: int = 1, size: int = ROWS
) -> Leaf[Listed]:
    """A page of formulas or kitchens by their rows alone; names and notes are searched."""
    rows, texts = _rows(shelf, kind)
    found, meant = holding(rows, words, texts)
    if order == "name":
        found.sort(key=lambda row: (folded(row.name), row.key))
    return leaf_of(found, page, len(rows), meant, size)


def parts(shelf: Shelf, kind: Kind, leaf: Leaf[Listed], path: str) -> dict[str, str]:
    """One part of each row's content, as JSON text by key."""
    return part_of(shelf.journal, kind, (row.key for row in leaf.rows), path)
