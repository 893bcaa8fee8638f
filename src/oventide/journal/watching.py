"""What was added to the journal since a mark: by this program, or by another one on the same file.

The journal only grows, and its rows are numbered upward, so a mark is the highest number of each table. A mark
outlives the program: whoever comes back with an old one is told what was added since.
"""

from dataclasses import dataclass
from typing import Literal

from sqlalchemy import Connection, func, select

from oventide.journal.tables import ITEM, REVISION

Mark = tuple[int, ...]
"""The highest row of each watched table, in the order of WATCHED."""
WATCHED = (REVISION,)


@dataclass(frozen=True)
class Added:
    """A revision on the shelf, or an entry of a bake. `mark` is where the journal stood with it."""

    what: Literal["shelf", "bake"]
    kind: str
    key: str
    number: int
    mark: Mark


def mark_of(connection: Connection) -> Mark:
    """Where the journal stands: one look at the end of each table."""
    row = connection.execute(select(*(select(func.max(t.c.id)).scalar_subquery() for t in WATCHED))).one()
    return tuple(number or 0 for number in row)


def added_since(connection: Connection, mark: Mark, limit: int) -> tuple[Added, ...]:
    """What was added after the mark, oldest first; at most `limit` of each table."""
    query = (
        select(REVISION.c.id, ITEM.c.kind, ITEM.c.key, REVISION.c.number)
        .join(ITEM, ITEM.c.id == REVISION.c.item_id)
        .where(REVISION.c.id > mark[0])
        .order_by(REVISION.c.id)
        .limit(limit)
    )
    return tuple(
        Added(what="shelf", kind=row.kind, key=row.key, number=row.number, mark=(row.id, *mark[1:]))
        for row in connection.execute(query)
    )
