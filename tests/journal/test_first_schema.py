"""A journal of the first schema, with what was in it, opens and goes on."""

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from oventide.journal.engine import digest_of
from oventide.journal.store import Journal
from oventide.journal.upgrade import newest_schema

FIRST = """
CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL PRIMARY KEY);
INSERT INTO alembic_version VALUES ('0001');
CREATE TABLE item (
  id INTEGER NOT NULL, kind VARCHAR(16) NOT NULL, "key" VARCHAR(80) NOT NULL, created_at VARCHAR(32) NOT NULL,
  PRIMARY KEY (id), CONSTRAINT item_kind_key UNIQUE (kind, "key"));
CREATE TABLE revision (
  id INTEGER NOT NULL, item_id INTEGER NOT NULL, number INTEGER NOT NULL, name TEXT NOT NULL,
  saved_at VARCHAR(32) NOT NULL, note TEXT NOT NULL, content TEXT NOT NULL, digest VARCHAR(64) NOT NULL,
  PRIMARY KEY (id), CONSTRAINT revision_item_number UNIQUE (item_id, number),
  CONSTRAINT revision_number_from_one CHECK (number >= 1), FOREIGN KEY(item_id) REFERENCES item (id));
CREATE TRIGGER revision_no_update BEFORE UPDATE ON revision
  BEGIN SELECT RAISE(ABORT, 'a saved revision is never changed'); END;
CREATE TRIGGER revision_no_delete BEFORE DELETE ON revision
  BEGIN SELECT RAISE(ABORT, 'a saved revision is never changed'); END;
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A file as the first version wrote it."""
    found = tmp_path / "journal.sqlite3"
    raw = sqlite3.connect(found)
    raw.executescript(FIRST)
    raw.execute("INSERT INTO item VALUES (1, 'product', 'coils', '2026-01-04T09:00:00+00:00')")
    for number, content in enumerate(('{"a":1}', '{"a":2}'), start=1):
        raw.execute(
            "INSERT INTO revision VALUES (?, 1, ?, 'Coils', '2026-01-04T09:00:00+00:00', 'by hand', ?, ?)",
            (number, number, content, digest_of(content)),
        )
    raw.commit()
    raw.close()
    return found


def test_its_revisions_stand_as_they_were(path: Path) -> None:
    journal = Journal(f"sqlite:///{path}")
    history = journal.history("product", "coils")
    assert [(revision.number, revision.content, revision.note) for revision in history] == [
        (2, '{"a":2}', "by hand"), (1, '{"a":1}', "by hand"),
    ]  # fmt: skip
    assert all(revision.is_intact for revision in history)
    assert journal.append("product", "coils", "Coils", "{}", "", datetime(2026, 3, 5, tzinfo=UTC), 2).number == 3
    assert journal.bakes.page() == ()
    journal.close()


def test_it_is_brought_to_the_newest_schema_once(path: Path) -> None:
    for _ in range(2):
        Journal(f"sqlite:///{path}").close()
        raw = sqlite3.connect(path)
        assert raw.execute("select version_num from alembic_version").fetchone() == (newest_schema(),)
        tables = {name for (name,) in raw.execute("select name from sqlite_master where type = 'table'")}
        assert {"bake", "bake_as_begun", "entry", "outlook"} <= tables
        with pytest.raises(sqlite3.IntegrityError, match="never changed"):
            raw.execute("update revision set name = 'x'")
        raw.close()
