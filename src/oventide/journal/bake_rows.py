"""What the journal holds of bakes, as it hands it out and takes it in."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from oventide.errors import Refusal, refuse


@dataclass(frozen=True)
class BakeRow:
    """A bake as a list shows it. Moments are in UTC."""

    key: str
    name: str
    sign: int
    product_key: str
    product_revision: int
    kitchen_key: str
    started_at: datetime
    ready_at: datetime | None
    finished_at: datetime | None
    day: str


@dataclass(frozen=True)
class EntryRow:
    """An entry as stored: `content` is its JSON as it came."""

    number: int
    taken_at: datetime
    content: str


@dataclass(frozen=True)
class NewEntry:
    """An entry to be stored."""

    uid: str
    deed: str
    at: datetime
    device: str
    content: str


@dataclass(frozen=True)
class NewBake:
    """A bake to be stored: its line in the list, what it was begun with, what a search finds it by."""

    row: BakeRow
    content: str
    found_by: str


@dataclass(frozen=True)
class Settled:
    """What follows from a bake's entries and outlook, stored beside them."""

    ready_at: datetime | None
    finished_at: datetime | None


Settle = Callable[[tuple[EntryRow, ...], tuple[int, str] | None], Settled]
"""From every entry and the stored outlook (its entry number, its JSON) to what follows."""


class NoSuchBake(Refusal):
    """No bake of that key; the pages answer with 404."""

    def __init__(self, key: str) -> None:
        super().__init__(
            refuse("bake", key, "There is no bake of that name.", "Look at the bakes that are under way.").complaints
        )
