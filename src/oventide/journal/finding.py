"""The index that a search looks in: an FTS5 table in a file of its own beside the journal.

Nothing in it is the baker's: it is made from the journal, can be thrown away, and is made anew. It stands apart so
that filling it never holds the journal's write lock while somebody notes a reading at the bench. It follows the
journal by marks (the journal's rows only grow), so it does not matter which program saved what.
"""

import sqlite3
import threading
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

SHAPE = "3"
"""Changes with the columns below; an index of another shape is made anew."""
COLUMNS = ("name", "lines", "method", "notes", "said", "dates")
WEIGHTS = (10.0, 3.0, 2.0, 2.0, 2.0, 1.0)
OPEN, CLOSE = "\x02", "\x03"
"""Around each matched word in a `Hit`."""
BROAD = 1500
"""Where more things of a kind than this hold the words, the latest are shown: the words do not tell them apart."""

_TABLES = f"""
CREATE TABLE doc (id INTEGER PRIMARY KEY, kind TEXT NOT NULL, key TEXT NOT NULL, at TEXT NOT NULL,
                  detail TEXT NOT NULL, UNIQUE (kind, key));
CREATE TABLE part (what TEXT NOT NULL, doc INTEGER NOT NULL, PRIMARY KEY (what, doc)) WITHOUT ROWID;
CREATE INDEX part_of ON part (doc);
CREATE TABLE mark (what TEXT PRIMARY KEY, value TEXT NOT NULL);
CREATE VIRTUAL TABLE found USING fts5({", ".join(COLUMNS)}, tokenize = "unicode61 remove_diacritics 2", prefix = '2 3');
CREATE VIRTUAL TABLE word USING fts5vocab(found, row);
INSERT INTO mark VALUES ('shape', '{SHAPE}');
"""


class Doc(NamedTuple):
    """One thing to be found. Lines of a column stand apart by line feeds; `detail` is shown beside the name."""

    kind: str
    key: str
    name: str
    lines: str = ""
    method: str = ""
    notes: str = ""
    said: str = ""
    dates: str = ""
    at: str = ""
    """ISO moment; of two that fit alike, the later comes first."""
    detail: str = ""
    parts: tuple[str, ...] = ()
    """Ingredients that it is made of."""


@dataclass(frozen=True)
class Hit:
    """One thing found. `columns` hold its texts by COLUMNS, with OPEN and CLOSE around what matched."""

    kind: str
    key: str
    at: str
    detail: str
    columns: tuple[str, ...]


def _match(words: Sequence[str]) -> str:
    quoted = ('"' + word.replace('"', "") + '"' for word in words)
    return " AND ".join(f"{word}*" if len(word) > 3 else word for word in quoted)


class Index:
    """The index of one journal; `path` None keeps it in memory."""

    def __init__(self, path: Path | None) -> None:
        self._path = path
        self._lock = threading.RLock()
        self._connection: sqlite3.Connection | None = None
        self._vocabulary: tuple[str, ...] | None = None

    def _open(self) -> sqlite3.Connection:
        if self._connection is None:
            self._connection = self._usable() or self._new()
        return self._connection

    def _connect(self) -> sqlite3.Connection:
        if self._path is not None:
            self._path.parent.mkdir(parents=True, exist_ok=True)
        connection = sqlite3.connect(
            self._path or ":memory:", timeout=5, isolation_level=None, check_same_thread=False, cached_statements=32
        )
        connection.execute("PRAGMA journal_mode = WAL").close()
        connection.execute("PRAGMA synchronous = OFF").close()
        return connection

    def _usable(self) -> sqlite3.Connection | None:
        """The index that is there, or None where it has another shape or cannot be read."""
        if self._path is None or not self._path.is_file():
            return None
        connection: sqlite3.Connection | None = None
        try:
            connection = self._connect()
            shape = connection.execute("SELECT value FROM mark WHERE what = 'shape'").fetchone()
            if shape == (SHAPE,):
                return connection
        except sqlite3.DatabaseError:
            pass
        if connection is not None:
            connection.close()
        return None

    def _new(self) -> sqlite3.Connection:
        if self._path is not None:
            for tail in ("", "-wal", "-shm"):
                with suppress(FileNotFoundError):
                    Path(f"{self._path}{tail}").unlink()
        connection = self._connect()
        connection.executescript(f"BEGIN;{_TABLES}COMMIT;")
        return connection

    def close(self) -> None:
        """Let the file go."""
        with self._lock:
            if self._connection is not None:
                self._connection.close()
            self._connection = None

    def mark(self, what: str) -> str:
        """How far the index has come with a part of the journal; empty at its beginning."""
        with self._lock:
            row = self._open().execute("SELECT value FROM mark WHERE what = ?", (what,)).fetchone()
            return str(row[0]) if row else ""

    @contextmanager
    def writing(self) -> Iterator["Index"]:
        """One transaction; put and marks inside it are whole or absent."""
        with self._lock:
            connection = self._open()
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield self
            except BaseException:
                connection.execute("ROLLBACK")
                raise
            connection.execute("COMMIT")
            self._vocabulary = None

    def set_mark(self, what: str, value: str) -> None:
        """Say how far the index has come."""
        self._open().execute("INSERT OR REPLACE INTO mark VALUES (?, ?)", (what, value))

    def put(self, docs: Iterable[Doc]) -> None:
        """Put things in, each in place of what it was before."""
        connection = self._open()
        for doc in docs:
            row = connection.execute("SELECT id FROM doc WHERE kind = ? AND key = ?", (doc.kind, doc.key)).fetchone()
            if row:
                connection.execute("DELETE FROM found WHERE rowid = ?", row)
                connection.execute("UPDATE doc SET at = ?, detail = ? WHERE id = ?", (doc.at, doc.detail, row[0]))
                connection.execute("DELETE FROM part WHERE doc = ?", row)
                number = row[0]
            else:
                number = connection.execute(
                    "INSERT INTO doc (kind, key, at, detail) VALUES (?, ?, ?, ?)",
                    (doc.kind, doc.key, doc.at, doc.detail),
                ).lastrowid
            connection.execute(
                f"INSERT INTO found (rowid, {', '.join(COLUMNS)}) VALUES (?, ?, ?, ?, ?, ?, ?)",
                (number, *(getattr(doc, column) for column in COLUMNS)),
            )

            connection.executemany("INSERT OR IGNORE INTO part VALUES (?, ?)", ((what, number) for what in doc.parts))

    def made_of(self, what: str, limit: int) -> tuple[int, tuple[tuple[str, str], ...]]:
        """How many things are made of an ingredient, and key and name of the latest of them."""
        with self._lock:
            connection = self._open()
            (count,) = connection.execute("SELECT count(*) FROM part WHERE what = ?", (what,)).fetchone()
            rows = connection.execute(
                "SELECT doc.key, found.name FROM part JOIN doc ON doc.id = part.doc JOIN found ON found.rowid = doc.id "
                "WHERE part.what = ? ORDER BY doc.at DESC, doc.id DESC LIMIT ?",
                (what, limit),
            ).fetchall()
        return count, tuple(rows)

    def counts_of_parts(self) -> dict[str, int]:
        """For each ingredient, how many things are made of it."""
        with self._lock:
            return dict(self._open().execute("SELECT what, count(*) FROM part GROUP BY what").fetchall())

    def drop_kinds(self, kinds: Iterable[str]) -> None:
        """Take out everything of these kinds."""
        connection = self._open()
        for kind in kinds:
            connection.execute("DELETE FROM found WHERE rowid IN (SELECT id FROM doc WHERE kind = ?)", (kind,))
            connection.execute("DELETE FROM doc WHERE kind = ?", (kind,))

    def holds(self, word: str) -> bool:
        """Whether anything holds a word that is this one, or begins with it."""
        with self._lock:
            query = "SELECT 1 FROM found WHERE found MATCH ? LIMIT 1"
            return self._open().execute(query, (_match([word]),)).fetchone() is not None

    def vocabulary(self) -> tuple[str, ...]:
        """Every word in the index."""
        with self._lock:
            if self._vocabulary is None:
                rows = self._open().execute("SELECT term FROM word").fetchall()
                self._vocabulary = tuple(row[0] for row in rows)
            return self._vocabulary

    def _fitting(self, match: str, kinds: Sequence[str], each: int) -> list[tuple[int]]:
        """Ids of what fits best of each kind."""
        rank = f"bm25(found, {', '.join(str(weight) for weight in WEIGHTS)})"
        marks = ", ".join("?" * len(kinds))
        ranked = (
            "SELECT id, kind, row_number() OVER (PARTITION BY kind ORDER BY fit, at DESC, id DESC) AS place FROM "
            f"(SELECT doc.id, doc.kind, doc.at, round({rank}, 4) AS fit FROM found JOIN doc ON doc.id = found.rowid "
            f"WHERE found MATCH ? AND doc.kind IN ({marks}))"
        )
        rows: list[tuple[int]] = (
            self._open()
            .execute(f"SELECT id FROM ({ranked}) WHERE place <= ? ORDER BY kind, place", (match, *kinds, each))
            .fetchall()
        )
        return rows

    def find(self, words: Sequence[str], each: int) -> tuple[dict[str, int], tuple[Hit, ...]]:
        """How many things of each kind hold every word, and the `each` best of each kind, best first."""
        if not words:
            return {}, ()
        match = _match(words)
        with self._lock:
            connection = self._open()
            counts = dict(
                connection.execute(
                    "SELECT kind, count(*) FROM found JOIN doc ON doc.id = found.rowid WHERE found MATCH ? "
                    "GROUP BY kind",
                    (match,),
                ).fetchall()
            )
            broad = [kind for kind, number in counts.items() if number > BROAD]
            rows = self._fitting(match, [kind for kind in counts if kind not in broad], each)
            for kind in broad:
                rows += connection.execute(
                    "SELECT doc.id FROM found JOIN doc ON doc.id = found.rowid WHERE found MATCH ? AND doc.kind = ? "
                    "ORDER BY doc.at DESC, doc.id DESC LIMIT ?",
                    (match, kind, each),
                ).fetchall()
            shown = ", ".join(f"highlight(found, {at}, '{OPEN}', '{CLOSE}')" for at in range(len(COLUMNS)))
            marks = ", ".join("?" * len(rows))
            texts = {
                row[0]: row
                for row in connection.execute(
                    f"SELECT doc.id, doc.kind, doc.key, doc.at, doc.detail, {shown} FROM found "
                    f"JOIN doc ON doc.id = found.rowid WHERE found MATCH ? AND found.rowid IN ({marks})",
                    (match, *(row[0] for row in rows)),
                )
            }
        hits = tuple(
            Hit(kind=texts[row[0]][1], key=texts[row[0]][2], at=texts[row[0]][3], detail=texts[row[0]][4],
                columns=tuple(texts[row[0]][5:]))
            for row in rows
        )  # fmt: skip
        return counts, hits
