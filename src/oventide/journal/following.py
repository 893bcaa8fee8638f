"""What the journal holds to be found, read on from a mark: newest revisions, and bakes with what was noted of them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select

from oventide.journal.store import Journal
from oventide.journal.tables import BAKE, ENTRY, ITEM, REVISION

AT_ONCE = 400


@dataclass(frozen=True)
class NewRevision:
    """The newest revision of an item that was saved after the mark, and the notes of all of its revisions."""

    kind: str
    key: str
    name: str
    saved_at: str
    content: str
    notes: str


@dataclass(frozen=True)
class NotedBake:
    """A bake that was begun or noted on after the mark: its row, and the JSON of its entries."""

    key: str
    name: str
    found_by: str
    day: str
    started_at: str
    product_key: str
    entries: tuple[str, ...]


def revisions_after(journal: Journal, mark: int) -> Iterator[tuple[int, tuple[NewRevision, ...]]]:
    """Parts of what was saved after revision row `mark`, each with the mark that it comes up to."""
    while True:
        with journal.reading() as connection:
            rows = connection.execute(
                select(REVISION.c.id, REVISION.c.item_id)
                .where(REVISION.c.id > mark)
                .order_by(REVISION.c.id)
                .limit(AT_ONCE)
            ).all()
            if not rows:
                return
            mark = rows[-1].id
            items = {row.item_id for row in rows}
            newest = (
                select(REVISION.c.item_id, func.max(REVISION.c.number).label("number"),
                       func.group_concat(REVISION.c.note, "\n").label("notes"))
                .where(REVISION.c.item_id.in_(items))
                .group_by(REVISION.c.item_id)
                .subquery()
            )  # fmt: skip
            query = (
                select(ITEM.c.kind, ITEM.c.key, REVISION.c.name, REVISION.c.saved_at, REVISION.c.content,
                       newest.c.notes)
                .join(ITEM, ITEM.c.id == REVISION.c.item_id)
                .join(newest, (newest.c.item_id == REVISION.c.item_id) & (newest.c.number == REVISION.c.number))
            )  # fmt: skip
            found = tuple(NewRevision(*row) for row in connection.execute(query))
        yield mark, found


def bakes_after(journal: Journal, bake_mark: int, entry_mark: int) -> Iterator[tuple[int, int, tuple[NotedBake, ...]]]:
    """Parts of the bakes that were begun after row `bake_mark` or noted on after row `entry_mark`, with new marks.

    Bakes that are new come first; then those that were there and were noted on.
    """
    with journal.reading() as connection:
        last_entry = connection.execute(select(func.max(ENTRY.c.id))).scalar_one() or 0
        begun = list(connection.execute(select(BAKE.c.id).where(BAKE.c.id > bake_mark).order_by(BAKE.c.id)).scalars())
        noted = connection.execute(
            select(ENTRY.c.bake_id)
            .where(ENTRY.c.id > entry_mark, ENTRY.c.id <= last_entry, ENTRY.c.bake_id <= bake_mark)
            .distinct()
        ).scalars()
        known = sorted(noted)
    parts = [(begun[at : at + AT_ONCE], True) for at in range(0, len(begun), AT_ONCE)]
    parts += [(known[at : at + AT_ONCE], False) for at in range(0, len(known), AT_ONCE)]
    for number, (ids, new) in enumerate(parts, start=1):
        bake_mark = ids[-1] if new else bake_mark
        # entries count as read once every part is in; a part that is done twice is put in once
        yield bake_mark, last_entry if number == len(parts) else entry_mark, _bakes(journal, ids)


def told_of(journal: Journal, keys: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """What was noted in words (and undone) of a few bakes, by key: the JSON of the entries, in one query."""
    query = (
        select(BAKE.c.key, ENTRY.c.content)
        .join(ENTRY, ENTRY.c.bake_id == BAKE.c.id)
        .where(BAKE.c.key.in_(keys), ENTRY.c.deed.in_(("note", "undo")))
        .order_by(ENTRY.c.bake_id, ENTRY.c.number)
    )
    found: dict[str, list[str]] = {}
    with journal.reading() as connection:
        for key, content in connection.execute(query):
            found.setdefault(key, []).append(content)
    return {key: tuple(contents) for key, contents in found.items()}


def _bakes(journal: Journal, ids: list[int]) -> tuple[NotedBake, ...]:
    with journal.reading() as connection:
        entries: dict[int, list[str]] = {}
        told = ENTRY.c.deed.in_(("reading", "mark", "note", "undo"))
        query = (
            select(ENTRY.c.bake_id, ENTRY.c.content)
            .where(ENTRY.c.bake_id.in_(ids), told)
            .order_by(ENTRY.c.bake_id, ENTRY.c.number)
        )
        for bake_id, content in connection.execute(query):
            entries.setdefault(bake_id, []).append(content)
        rows = connection.execute(
            select(BAKE.c.id, BAKE.c.key, BAKE.c.name, BAKE.c.found_by, BAKE.c.day, BAKE.c.started_at,
                   BAKE.c.product_key).where(BAKE.c.id.in_(ids))
        )  # fmt: skip
        return tuple(NotedBake(*row[1:], entries=tuple(entries.get(row.id, ()))) for row in rows)
