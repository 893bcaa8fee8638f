"""Saving while another device may have saved too: put together where it can be, asked about where not."""

from dataclasses import dataclass
from typing import Any

from oventide.errors import Refusal
from oventide.kitchen.model import Kitchen
from oventide.services.joining import Choices, Joined, join
from oventide.services.shelf import Saved, Shelf
from oventide.timeline.procedure import Product

TURNS = 5
"""How often a save is tried anew where others keep saving at the same moment."""


@dataclass(frozen=True)
class Kept:
    """A save that was done; `joined_with` is the revision of another device that it was put together with."""

    saved: Saved[Any]
    joined_with: int | None = None


@dataclass(frozen=True)
class Meanwhile:
    """Another device saved meanwhile, and both changed the same thing. Nothing was saved; nothing is lost."""

    base: int
    theirs: Saved[Any]
    mine: Product | Kitchen
    joined: Joined


def _is_late(refusal: Refusal) -> bool:
    return any(each.field == "revision" for each in refusal.complaints)


class Desk:
    """The shelf of one kind of thing."""

    def __init__(self, shelf: Shelf, kind: type[Product] | type[Kitchen]) -> None:
        self._shelf, self._is_product = shelf, kind is Product

    def open(self, key: str, number: int | None = None) -> Saved[Any]:
        return self._shelf.product(key, number) if self._is_product else self._shelf.kitchen(key, number)

    def put(self, content: Any, note: str, key: str, after: int) -> Saved[Any]:
        if self._is_product:
            return self._shelf.save_product(content, note, key, after)
        return self._shelf.save_kitchen(content, note, key, after)


def save(shelf: Shelf, content: Product | Kitchen, note: str, key: str, seen: int) -> Kept | Meanwhile:
    """Save as the revision after `seen`, the newest when the page was opened; or put together with a newer one."""
    desk = Desk(shelf, type(content))
    mine, joined_with, said = content, None, note
    for _ in range(TURNS):
        try:
            return Kept(desk.put(mine, said, key, seen), joined_with)
        except Refusal as refusal:
            if not _is_late(refusal):
                raise
        base, theirs = desk.open(key, seen), desk.open(key)
        joined = join(base.content, theirs.content, mine)
        if joined.clashes:
            return Meanwhile(base.number, theirs, mine, joined)
        mine, seen, joined_with = joined.content({}), theirs.number, theirs.number
        said = f"{note}; put together with revision {theirs.number}" if note else f"put together with revision {seen}"
    return Kept(desk.put(mine, said, key, seen), joined_with)


def save_settled(
    shelf: Shelf,
    mine: Product | Kitchen,
    note: str,
    key: str,
    base: int,
    theirs: int,
    choices: Choices,
    aside: str = "",
) -> Kept | Meanwhile:
    """Save what the baker settled. With `aside`, what was typed is kept whole too, as a revision under that note."""
    desk = Desk(shelf, type(mine))
    before, other = desk.open(key, base), desk.open(key, theirs)
    settled = join(before.content, other.content, mine).content(choices)
    if desk.open(key).number != theirs:
        return save(shelf, settled, note, key, theirs)
    after = desk.put(mine, aside, key, theirs).number if aside else theirs
    said = f"{note}; put together with revision {theirs}" if note else f"put together with revision {theirs}"
    return Kept(desk.put(settled, said, key, after), theirs)
