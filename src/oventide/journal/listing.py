"""What stands on a shelf, by rows alone: no content is read to show a name.

A page of names must not grow slower with what the formulas hold, so names, numbers and dates come from the columns,
and a detail that a row shows (how many pieces) is taken out of the stored text by SQLite itself, for the rows of one
page only.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select

from oventide.journal.store import Journal, Kind
from oventide.journal.tables import ITEM, REVISION


@dataclass(frozen=True)
class Listed:
    """The newest revision of an item, without its content."""

    key: str
    number: int
    name: str
    saved_at: datetime
    note: str


def listed(journal: Journal, kind: Kind) -> tuple[Listed, ...]:
    """The newest revision of every item of a kind, last saved first."""
    latest = (
        select(REVISION.c.item_id, func.max(REVISION.c.number).label("number"))
        .join(ITEM, ITEM.c.id == REVISION.c.item_id)
        .where(ITEM.c.kind == kind)
        .group_by(REVISION.c.item_id)
        .subquery()
    )
    query = (
        select(ITEM.c.key, REVISION.c.number, REVISION.c.name, REVISION.c.saved_at, REVISION.c.note)
        .join(ITEM, ITEM.c.id == REVISION.c.item_id)
        .join(latest, (latest.c.item_id == REVISION.c.item_id) & (latest.c.number == REVISION.c.number))
        .order_by(REVISION.c.saved_at.desc(), REVISION.c.id.desc())
    )
    with journal.reading() as connection:
        return tuple(
            Listed(row.key, row.number, row.name, datetime.fromisoformat(row.saved_at), row.note)
            for row in connection.execute(query)
        )


def last_saved(journal: Journal) -> int:
    """A number that grows with every save of anything, so that a list that was read can be kept until it does."""
    with journal.reading() as connection:
        return connection.execute(select(func.max(REVISION.c.id))).scalar_one() or 0


def part_of(journal: Journal, kind: Kind, keys: Iterable[str], path: str) -> dict[str, str]:
    """One part of the newest content of a few items, as JSON text by key ("$.makeup"). Absent parts are left out."""
    wanted = tuple(keys)
    newest = (
        select(func.max(REVISION.c.number)).where(REVISION.c.item_id == ITEM.c.id).correlate(ITEM).scalar_subquery()
    )
    query = (
        select(ITEM.c.key, func.json_extract(REVISION.c.content, path).label("part"))
        .join(REVISION, REVISION.c.item_id == ITEM.c.id)
        .where(ITEM.c.kind == kind, ITEM.c.key.in_(wanted), REVISION.c.number == newest)
    )
    with journal.reading() as connection:
        return {row.key: str(row.part) for row in connection.execute(query) if row.part is not None}
