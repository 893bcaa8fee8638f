"""The connection to the journal's file: write-ahead log, every answered write on the disk, words folded for search."""

import hashlib
import sqlite3
import unicodedata
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, make_url
from sqlalchemy.pool import QueuePool

BUSY_TIMEOUT_MS = 5000


def digest_of(content: str) -> str:
    """SHA-256 of the content as stored [hex]."""
    return hashlib.sha256(content.encode()).hexdigest()


def folded(text: str) -> str:
    """Words as a search compares them: without case and accents.

    >>> folded("Pâte à l'Orange  ÉTÉ")
    "pate a l'orange ete"
    """
    if text.isascii():
        return " ".join(text.lower().split())
    plain = "".join(sign for sign in unicodedata.normalize("NFKD", text) if not unicodedata.combining(sign))
    return " ".join(plain.casefold().split())


def likes(text: str) -> list[str]:
    """One LIKE pattern (escape \\) for each word that is looked for.

    >>> likes("Poppy 50%")
    ['%poppy%', '%50\\\\%%']
    """
    escaped = (word.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_") for word in folded(text).split())
    return [f"%{word}%" for word in escaped]


def sqlite_engine(url: str) -> Engine:
    """An engine whose connections open their own transactions; the option `write` takes the write lock at once."""
    parsed = make_url(url)
    options: dict[str, Any] = {}
    if parsed.database in (None, "", ":memory:"):
        # one connection, which is the whole journal; threads take turns with it
        options = {
            "poolclass": QueuePool, "pool_size": 1, "max_overflow": 0, "connect_args": {"check_same_thread": False}
        }  # fmt: skip
    else:
        Path(parsed.database).parent.mkdir(parents=True, exist_ok=True)
    engine = create_engine(parsed, **options)

    @event.listens_for(engine, "connect")
    def _settings(connection: sqlite3.Connection, _record: object) -> None:
        connection.isolation_level = None  # so that BEGIN is ours, and holds schema changes too
        for pragma in (f"busy_timeout = {BUSY_TIMEOUT_MS}", "journal_mode = WAL", "foreign_keys = ON",
                       "synchronous = FULL"):  # fmt: skip
            connection.execute(f"PRAGMA {pragma}").close()
        connection.create_function("folded", 1, folded, deterministic=True)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        write = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")

    return engine
