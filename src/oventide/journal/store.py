"""The one door to storage: items by kind and key, each a row of revisions that only grows.

Every write is one transaction that takes the write lock at its start, so a save is whole or absent, and two
windows that save at once come one after the other.
"""

from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Literal

from sqlalchemy import Connection, func, insert, make_url, select
from sqlalchemy import text as sql
from sqlalchemy.exc import DatabaseError, IntegrityError, OperationalError

from oventide.errors import refuse
from oventide.journal.bakes import BakeBook
from oventide.journal.engine import digest_of, likes, sqlite_engine
from oventide.journal.tables import ITEM, REVISION
from oventide.journal.upgrade import upgrade
from oventide.journal.watching import Added, Mark, added_since, mark_of

Kind = Literal["product", "kitchen", "packet"]


@dataclass(frozen=True)
class Revision:
    """One saved state. `saved_at` is ISO 8601 with the zone, `content` JSON text as it was saved."""

    kind: Kind
    key: str
    number: int
    name: str
    saved_at: datetime
    note: str
    content: str
    digest: str

    @property
    def is_intact(self) -> bool:
        """Whether the content still has the digest that it was saved with."""
        return digest_of(self.content) == self.digest


def _newest(kind: Kind, text: str) -> tuple[str, dict[str, str | int]]:
    """SQL for the ids of newest revisions whose names have every word, and its values.

    Written out, since the index must be named: by itself SQLite takes the unique one, and then reads every row's page.
    """
    patterns = likes(text)
    named = "".join(f" AND folded(revision.name) LIKE :word{n} ESCAPE '\\'" for n in range(len(patterns)))
    values: dict[str, str | int] = {f"word{n}": pattern for n, pattern in enumerate(patterns)}
    return (
        "SELECT revision.id FROM item JOIN revision INDEXED BY revision_shelf ON revision.item_id = item.id"
        " AND revision.number = (SELECT max(number) FROM revision AS other WHERE other.item_id = item.id)"
        f" WHERE item.kind = :kind{named}"
    ), {**values, "kind": kind}


class Journal:
    """A journal by its SQLAlchemy address. Opening it makes the file and brings its schema up to date."""

    def __init__(self, url: str) -> None:
        parsed = make_url(url)
        if parsed.get_backend_name() != "sqlite":
            raise refuse("journal", parsed.render_as_string(), "The journal is kept in an SQLite file.",
                         "Give an address of the form sqlite:///path/to/journal.sqlite3.")  # fmt: skip
        self.path = Path(parsed.database) if parsed.database not in (None, "", ":memory:") else None
        self.shown_name = self.path.name if self.path else "in memory"
        try:
            self._engine = sqlite_engine(url)
            self._writer = self._engine.execution_options(write=True)
            with self._writer.begin() as connection:
                upgrade(connection, self.shown_name)
        except OSError as trouble:
            raise refuse("journal", self.shown_name, f"Its folder cannot be made ({trouble.strerror}).",
                         "Name a folder that you may write to in OVENTIDE_HOME.") from trouble  # fmt: skip
        except DatabaseError as trouble:
            raise refuse("journal", self.shown_name, f"The file cannot be opened as a journal ({trouble.orig}).",
                         "Nothing was changed. Check the file and its rights, or name another folder in "
                         "OVENTIDE_HOME.") from trouble  # fmt: skip

    @property
    def bakes(self) -> BakeBook:
        """The bakes of this journal."""
        return BakeBook(self._engine, self.shown_name)

    def close(self) -> None:
        """Let the file go."""
        self._engine.dispose()

    def mark(self) -> Mark:
        """Where the journal stands now."""
        with self._engine.connect() as connection:
            return mark_of(connection)

    def added_since(self, mark: Mark, limit: int) -> tuple[Added, ...]:
        """What was added after the mark, by whatever program, oldest first."""
        with self._engine.connect() as connection:
            return added_since(connection, mark, limit)

    def reading(self) -> AbstractContextManager[Connection]:
        """A connection to read by, for the other modules of this room."""
        return self._engine.connect()

    def writing(self) -> AbstractContextManager[Connection]:
        """A transaction that holds the write lock from its start, for the other modules of this room."""
        return self._writer.begin()

    def revision(self, kind: Kind, key: str, number: int | None = None) -> Revision | None:
        """One revision of an item: the newest, or the one asked for; None where there is none."""
        query = (
            select(ITEM.c.kind, ITEM.c.key, REVISION)
            .join(REVISION, REVISION.c.item_id == ITEM.c.id)
            .where(ITEM.c.kind == kind, ITEM.c.key == key)
            .order_by(REVISION.c.number.desc())
            .limit(1)
        )
        if number is not None:
            query = query.where(REVISION.c.number == number)
        with self._engine.connect() as connection:
            row = connection.execute(query).first()
        return None if row is None else self._revision(row)

    def newest_number(self, kind: Kind, key: str) -> int:
        """The number of an item's newest revision; 0 where there is no such item."""
        query = (
            select(func.max(REVISION.c.number))
            .join(ITEM, ITEM.c.id == REVISION.c.item_id)
            .where(ITEM.c.kind == kind, ITEM.c.key == key)
        )
        with self._engine.connect() as connection:
            return connection.execute(query).scalar_one() or 0

    def newest(self, kind: Kind) -> tuple[Revision, ...]:
        """The newest revision of every item of a kind, last saved first."""
        return self.page(kind)

    def page(self, kind: Kind, text: str = "", limit: int = -1, offset: int = 0) -> tuple[Revision, ...]:
        """Newest revisions, last saved first, whose names have every word of `text`; `limit` -1 is all of them."""
        wanted, values = _newest(kind, text)
        ordered = sql(f"{wanted} ORDER BY revision.saved_at DESC, revision.id DESC LIMIT :limit OFFSET :offset")
        with self._engine.connect() as connection:
            ids = connection.execute(ordered, {**values, "limit": limit, "offset": offset}).scalars().all()
            query = (
                select(ITEM.c.kind, ITEM.c.key, REVISION)
                .join(REVISION, REVISION.c.item_id == ITEM.c.id)
                .where(REVISION.c.id.in_(ids))
                .order_by(REVISION.c.saved_at.desc(), REVISION.c.id.desc())
            )
            return tuple(self._revision(row) for row in connection.execute(query))

    def count(self, kind: Kind, text: str = "") -> int:
        """How many items of a kind there are, by the words of their newest names."""
        with self._engine.connect() as connection:
            wanted, values = _newest(kind, text)
            return int(connection.execute(sql(f"SELECT count(*) FROM ({wanted})"), values).scalar_one())

    def keys(self, kind: Kind) -> frozenset[str]:
        """The addresses that are taken."""
        with self._engine.connect() as connection:
            return frozenset(connection.execute(select(ITEM.c.key).where(ITEM.c.kind == kind)).scalars())

    def history(self, kind: Kind, key: str) -> tuple[Revision, ...]:
        """Every revision of one item, newest first; empty where there is no such item."""
        query = (
            select(ITEM.c.kind, ITEM.c.key, REVISION)
            .join(REVISION, REVISION.c.item_id == ITEM.c.id)
            .where(ITEM.c.kind == kind, ITEM.c.key == key)
            .order_by(REVISION.c.number.desc())
        )
        with self._engine.connect() as connection:
            return tuple(self._revision(row) for row in connection.execute(query))

    def append(
        self, kind: Kind, key: str, name: str, content: str, note: str, saved_at: datetime, after: int | None = None
    ) -> Revision:
        """Save a new revision; the item is made with its first one.

        `after` is the revision that the writer had before its eyes (0 for a new item): where another one was
        saved meanwhile, this refuses.
        """
        try:
            with self._writer.begin() as connection:
                item_id = connection.execute(
                    select(ITEM.c.id).where(ITEM.c.kind == kind, ITEM.c.key == key)
                ).scalar_one_or_none()
                last = 0
                if item_id is None:
                    made = connection.execute(
                        insert(ITEM).values(kind=kind, key=key, created_at=saved_at.isoformat(timespec="seconds"))
                    )
                    assert made.inserted_primary_key is not None
                    item_id = made.inserted_primary_key[0]
                else:
                    last = connection.execute(
                        select(func.max(REVISION.c.number)).where(REVISION.c.item_id == item_id)
                    ).scalar_one()
                if after is not None and after != last:
                    raise refuse("revision", after, f"Revision {last} was saved meanwhile, in another window.",
                                 "Nothing was overwritten. Open the newest revision and enter the change there, "
                                 "or save under another name.")  # fmt: skip
                connection.execute(
                    insert(REVISION).values(
                        item_id=item_id,
                        number=last + 1,
                        name=name,
                        saved_at=saved_at.isoformat(timespec="seconds"),
                        note=note,
                        content=content,
                        digest=digest_of(content),
                    )
                )
        except (OperationalError, IntegrityError) as trouble:
            raise refuse("journal", self.shown_name, f"The journal could not be written ({trouble.orig}).",
                         "Nothing was stored. Wait a moment, see that the disk is not full, and save again."
                         ) from trouble  # fmt: skip
        saved = self.revision(kind, key, last + 1)
        assert saved is not None
        return saved

    @staticmethod
    def _revision(row: Any) -> Revision:
        return Revision(
            kind=row.kind,
            key=row.key,
            number=row.number,
            name=row.name,
            saved_at=datetime.fromisoformat(row.saved_at),
            note=row.note,
            content=row.content,
            digest=row.digest,
        )
