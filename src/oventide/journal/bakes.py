"""The bakes in the journal: entries only ever added, each once; what is made of them is made anew.

One save is one transaction with the write lock from its start and the disk before the answer, so that a power cut
loses nothing that was answered.
"""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Connection, Engine, delete, func, insert, select, update
from sqlalchemy.exc import IntegrityError, OperationalError

from oventide.errors import refuse
from oventide.journal.bake_rows import (
    BakeRow,
    EntryRow,
    NewBake,
    NewEntry,
    NoSuchBake,
    Settle,
    Settled,
)
from oventide.journal.engine import digest_of, folded, likes
from oventide.journal.tables import BAKE, BAKE_AS_BEGUN, ENTRY, OUTLOOK


def _text(moment: datetime | None) -> str | None:
    return None if moment is None else moment.astimezone(UTC).isoformat(timespec="milliseconds")


def _moment(text: str | None) -> datetime | None:
    return None if text is None else datetime.fromisoformat(text)


def _row(row: Any) -> BakeRow:
    return BakeRow(
        key=row.key,
        name=row.name,
        sign=row.sign,
        product_key=row.product_key,
        product_revision=row.product_revision,
        kitchen_key=row.kitchen_key,
        started_at=datetime.fromisoformat(row.started_at),
        ready_at=_moment(row.ready_at),
        finished_at=_moment(row.finished_at),
        day=row.day,
    )


T = TypeVar("T")
_LISTED = [column for column in BAKE.c if column.name not in ("id", "found_by")]


class BakeBook:
    """The door to the bakes of one journal."""

    def __init__(self, engine: Engine, shown_name: str) -> None:
        self._engine = engine
        self._writer = engine.execution_options(write=True)
        self._shown_name = shown_name

    def begin(self, wanted_key: str, signs: int, make: Callable[[str, int], NewBake]) -> BakeRow:
        """Store a new bake, made by `make` from its key and its sign.

        The key is the one wanted, with a number where that is taken; the sign the one of `signs` that the fewest
        bakes under way have.
        """

        def write(connection: Connection) -> BakeRow:
            key, count = wanted_key, 1
            while connection.execute(select(BAKE.c.id).where(BAKE.c.key == key)).first():
                count += 1
                key = f"{wanted_key}-{count}"
            used = list(connection.execute(select(BAKE.c.sign).where(BAKE.c.finished_at.is_(None))).scalars())
            new = make(key, min(range(signs), key=lambda sign: (used.count(sign), sign)))
            row = new.row
            values = {column.name: getattr(row, column.name) for column in _LISTED}
            moments = {name: _text(values[name]) for name in ("started_at", "ready_at", "finished_at")}
            made = connection.execute(insert(BAKE).values({**values, **moments, "found_by": folded(new.found_by)}))
            assert made.inserted_primary_key is not None
            bake_id = made.inserted_primary_key[0]
            kept = insert(BAKE_AS_BEGUN).values(bake_id=bake_id, content=new.content, digest=digest_of(new.content))
            connection.execute(kept)
            return row

        return self._written(write)

    def find(self, key: str) -> BakeRow:
        """One bake."""
        with self._engine.connect() as connection:
            row = connection.execute(select(*_LISTED).where(BAKE.c.key == key)).first()
        if row is None:
            raise NoSuchBake(key)
        return _row(row)

    def as_begun(self, key: str) -> str:
        """What a bake was begun with, as JSON."""
        query = select(BAKE_AS_BEGUN).join(BAKE, BAKE.c.id == BAKE_AS_BEGUN.c.bake_id).where(BAKE.c.key == key)
        with self._engine.connect() as connection:
            row = connection.execute(query).first()
        if row is None:
            raise NoSuchBake(key)
        if digest_of(row.content) != row.digest:
            raise refuse("journal", key, "What is stored does not match the digest that it was saved with.",
                         "The file was damaged. Take the last backup.")  # fmt: skip
        return str(row.content)

    def under_way(self) -> tuple[BakeRow, ...]:
        """Bakes that are not finished, the last begun first."""
        query = select(*_LISTED).where(BAKE.c.finished_at.is_(None)).order_by(BAKE.c.started_at.desc())
        with self._engine.connect() as connection:
            return tuple(_row(row) for row in connection.execute(query))

    def page(
        self, text: str = "", product_key: str = "", kitchen_key: str = "", limit: int = 50, offset: int = 0
    ) -> tuple[BakeRow, ...]:
        """Bakes, the last begun first, with every word of `text`; of one formula or kitchen if named."""
        where = _wanted(text, product_key, kitchen_key)
        ids = select(BAKE.c.id).where(*where).order_by(BAKE.c.started_at.desc(), BAKE.c.id.desc())
        found = ids.limit(limit).offset(offset).subquery()
        query = (
            select(*_LISTED).join(found, found.c.id == BAKE.c.id).order_by(BAKE.c.started_at.desc(), BAKE.c.id.desc())
        )
        with self._engine.connect() as connection:
            return tuple(_row(row) for row in connection.execute(query))

    def count(self, text: str = "", product_key: str = "", kitchen_key: str = "") -> int:
        """How many bakes there are, chosen as for a page."""
        query = select(func.count()).select_from(BAKE).where(*_wanted(text, product_key, kitchen_key))
        with self._engine.connect() as connection:
            return int(connection.execute(query).scalar_one())

    def entries(self, key: str, after: int = 0) -> tuple[EntryRow, ...]:
        """The entries of a bake after a number, in the order in which they were taken."""
        with self._engine.connect() as connection:
            return _entries(connection, _id_of(connection, key), after)

    def outlook(self, key: str) -> tuple[int, str] | None:
        """The stored outlook: the number of the entry that it rests on, and its JSON."""
        with self._engine.connect() as connection:
            return _outlook(connection, _id_of(connection, key))

    def note(self, key: str, new: Sequence[NewEntry], taken_at: datetime, settle: Settle) -> tuple[EntryRow, ...]:
        """Store entries, each uid once, with what follows from them. Answers with every entry of the bake."""

        def write(connection: Connection) -> tuple[EntryRow, ...]:
            bake_id = _id_of(connection, key)
            there = set(connection.execute(select(ENTRY.c.uid).where(ENTRY.c.bake_id == bake_id)).scalars())
            newest = select(func.max(ENTRY.c.number)).where(ENTRY.c.bake_id == bake_id)
            number = connection.execute(newest).scalar_one() or 0
            for entry in new:
                if entry.uid in there:
                    continue
                there.add(entry.uid)
                number += 1
                values = {"bake_id": bake_id, "number": number, "taken_at": taken_at.isoformat(), **vars(entry)}
                connection.execute(insert(ENTRY).values({**values, "at": entry.at.isoformat()}))
            entries = _entries(connection, bake_id)
            self._settle(connection, bake_id, settle(entries, _outlook(connection, bake_id)))
            return entries

        return self._written(write)

    def keep_outlook(self, key: str, number: int, content: str, settle: Settle) -> bool:
        """Keep an outlook in place of the last one; False where that one rests on more entries."""

        def write(connection: Connection) -> bool:
            bake_id = _id_of(connection, key)
            last = _outlook(connection, bake_id)
            if last is not None and last[0] > number:
                return False
            turn = (connection.execute(select(func.max(OUTLOOK.c.turn))).scalar_one() or 0) + 1
            connection.execute(delete(OUTLOOK).where(OUTLOOK.c.bake_id == bake_id))
            connection.execute(insert(OUTLOOK).values(bake_id=bake_id, number=number, turn=turn, content=content))
            self._settle(connection, bake_id, settle(_entries(connection, bake_id), (number, content)))
            return True

        return self._written(write)

    def _settle(self, connection: Connection, bake_id: int, settled: Settled) -> None:
        moments = {"ready_at": _text(settled.ready_at), "finished_at": _text(settled.finished_at)}
        connection.execute(update(BAKE).where(BAKE.c.id == bake_id).values(moments))

    def _written(self, write: Callable[[Connection], T]) -> T:
        try:
            with self._writer.begin() as connection:
                return write(connection)
        except (OperationalError, IntegrityError) as trouble:
            raise refuse("journal", self._shown_name, f"The journal could not be written ({trouble.orig}).",
                         "Nothing was stored. Wait a moment, see that the disk is not full, and note it again."
                         ) from trouble  # fmt: skip


def _wanted(text: str, product_key: str, kitchen_key: str) -> list[ColumnElement[bool]]:
    where: list[ColumnElement[bool]] = [BAKE.c.found_by.like(each, escape="\\") for each in likes(text)]
    if product_key:
        where.append(BAKE.c.product_key == product_key)
    if kitchen_key:
        where.append(BAKE.c.kitchen_key == kitchen_key)
    return where


def _id_of(connection: Connection, key: str) -> int:
    found = connection.execute(select(BAKE.c.id).where(BAKE.c.key == key)).scalar_one_or_none()
    if found is None:
        raise NoSuchBake(key)
    return int(found)


def _entries(connection: Connection, bake_id: int, after: int = 0) -> tuple[EntryRow, ...]:
    query = (
        select(ENTRY.c.number, ENTRY.c.taken_at, ENTRY.c.content)
        .where(ENTRY.c.bake_id == bake_id, ENTRY.c.number > after)
        .order_by(ENTRY.c.number)
    )
    return tuple(
        EntryRow(row.number, datetime.fromisoformat(row.taken_at), row.content) for row in connection.execute(query)
    )


def _outlook(connection: Connection, bake_id: int) -> tuple[int, str] | None:
    row = connection.execute(select(OUTLOOK.c.number, OUTLOOK.c.content).where(OUTLOOK.c.bake_id == bake_id)).first()
    return None if row is None else (int(row.number), str(row.content))
