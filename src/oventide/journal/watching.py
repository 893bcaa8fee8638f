"""What was added to the journal since a mark: by this program, or by another one on the same file.

The journal only grows, and its rows are numbered upward, so a mark is the highest number of each table. A mark
outlives the program: whoever comes back with an old one is told what was added since.
"""

from dataclasses import dataclass
from typing import Any, Literal

from sqlalchemy import ColumnElement, Connection, Table, func, select

from oventide.journal.tables import BAKE, ENTRY, ITEM, OUTLOOK, REVISION

Mark = tuple[int, ...]
"""The highest number of each watched table, in the order of WATCHED."""
WATCHED: tuple[ColumnElement[Any], ...] = (REVISION.c.id, ENTRY.c.id, BAKE.c.id, OUTLOOK.c.turn)
"""An outlook takes the last one's place, so it has a number of its own that counts up."""


_ENDS = select(*(select(func.max(column)).scalar_subquery() for column in WATCHED))


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
    row = connection.execute(_ENDS).one()
    return tuple(number or 0 for number in row)


def added_since(connection: Connection, mark: Mark, limit: int) -> tuple[Added, ...]:
    """What was added after the mark, table by table and oldest first; at most `limit` of each table.

    A bake is told once for its new entries, with the number of its last one; also where it was begun, or foreseen
    anew, without an entry.
    """
    if mark_of(connection) == mark:  # nothing, as a rule: it is looked at twice a second
        return ()
    added: list[Added] = []
    revisions = (
        select(REVISION.c.id, ITEM.c.kind, ITEM.c.key, REVISION.c.number)
        .join(ITEM, ITEM.c.id == REVISION.c.item_id)
        .where(REVISION.c.id > mark[0])
        .order_by(REVISION.c.id)
        .limit(limit)
    )
    for row in connection.execute(revisions):
        mark = (row.id, *mark[1:])
        added.append(Added(what="shelf", kind=row.kind, key=row.key, number=row.number, mark=mark))
    for place, (table, column) in enumerate(((ENTRY, ENTRY.c.id), (BAKE, BAKE.c.id), (OUTLOOK, OUTLOOK.c.turn)), 1):
        for row in connection.execute(_bakes(table, column, mark[place], limit)):
            mark = (*mark[:place], row.last, *mark[place + 1 :])
            added.append(Added(what="bake", kind="", key=row.key, number=row.number or 0, mark=mark))
    return tuple(added)


def _bakes(table: Table, column: ColumnElement[int], after: int, limit: int) -> Any:
    """Bakes with rows of a table after a number: key, the last such row, the number of the bake's last entry."""
    bake_id = BAKE.c.id if table is BAKE else table.c.bake_id
    rows = select(bake_id.label("bake_id"), column.label("row")).where(column > after).order_by(column).limit(limit)
    new = rows.subquery()
    number = select(func.max(ENTRY.c.number)).where(ENTRY.c.bake_id == BAKE.c.id).correlate(BAKE).scalar_subquery()
    return (
        select(BAKE.c.key, func.max(new.c.row).label("last"), number.label("number"))
        .join(new, new.c.bake_id == BAKE.c.id)
        .group_by(BAKE.c.id)
        .order_by(func.max(new.c.row))
    )
