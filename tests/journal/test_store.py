"""The journal: append-only, whole or absent, refuses what it cannot read."""

import sqlite3
import threading
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError

from oventide.errors import Refusal
from oventide.journal import store
from oventide.journal.place import home_folder
from oventide.journal.store import Journal, digest_of
from oventide.journal.upgrade import newest_schema

NOON = datetime(2026, 3, 5, 12, 0, tzinfo=UTC)


def url_of(path: Path) -> str:
    return f"sqlite:///{path.as_posix()}"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "deep" / "folder" / "journal.sqlite3"


@pytest.fixture
def journal(path: Path):
    opened = Journal(url_of(path))
    yield opened
    opened.close()


def test_opening_makes_the_folder_and_the_newest_schema(journal: Journal, path: Path) -> None:
    with sqlite3.connect(path) as raw:
        assert raw.execute("select version_num from alembic_version").fetchone() == (newest_schema(),)
        assert raw.execute("pragma journal_mode").fetchone() == ("wal",)
    raw.close()


def test_every_save_is_a_new_revision_and_the_earlier_ones_stay(journal: Journal) -> None:
    journal.append("product", "coils", "Coils", '{"a":1}', "first", NOON)
    journal.append("product", "coils", "Coils", '{"a":2}', "second", NOON, after=1)
    history = journal.history("product", "coils")
    assert [(r.number, r.content, r.note) for r in history] == [(2, '{"a":2}', "second"), (1, '{"a":1}', "first")]
    assert all(r.is_intact and r.digest == digest_of(r.content) for r in history)
    assert [r.number for r in journal.newest("product")] == [2]
    assert journal.newest("kitchen") == ()


def test_a_save_on_top_of_something_unseen_is_refused_and_stores_nothing(journal: Journal) -> None:
    journal.append("product", "coils", "Coils", "{}", "", NOON)
    journal.append("product", "coils", "Coils", "{}", "", NOON, after=1)
    with pytest.raises(Refusal, match="Revision 2 was saved meanwhile"):
        journal.append("product", "coils", "Coils", "{}", "", NOON, after=1)
    assert len(journal.history("product", "coils")) == 2


@pytest.mark.parametrize("statement", ["update revision set content = 'x'", "delete from revision"])
def test_the_file_itself_refuses_to_change_a_revision(journal: Journal, path: Path, statement: str) -> None:
    journal.append("product", "coils", "Coils", "{}", "", NOON)
    raw = sqlite3.connect(path)
    with pytest.raises(sqlite3.IntegrityError, match="never changed"):
        raw.execute(statement)
    raw.close()


def test_a_save_that_breaks_half_way_leaves_nothing(journal: Journal, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(content: str) -> str:
        raise IntegrityError("insert", {}, Exception("disk full"))

    monkeypatch.setattr(store, "digest_of", broken)
    with pytest.raises(Refusal, match="Nothing was stored"):
        journal.append("product", "coils", "Coils", "{}", "", NOON)
    monkeypatch.undo()
    assert journal.history("product", "coils") == ()
    journal.append("product", "coils", "Coils", "{}", "", NOON, after=0)


def test_a_damaged_revision_is_seen(journal: Journal, path: Path) -> None:
    journal.append("product", "coils", "Coils", '{"a":1}', "", NOON)
    raw = sqlite3.connect(path)
    raw.execute("drop trigger revision_no_update")
    raw.execute("update revision set content = '{}'")
    raw.commit()
    raw.close()
    assert not journal.history("product", "coils")[0].is_intact


def test_a_file_of_a_newer_version_is_refused_and_not_touched(journal: Journal, path: Path) -> None:
    journal.close()
    raw = sqlite3.connect(path)
    raw.execute("update alembic_version set version_num = '9999'")
    raw.commit()
    raw.close()
    with pytest.raises(Refusal, match="newer Oventide") as caught:
        Journal(url_of(path))
    assert "OVENTIDE_HOME" in caught.value.complaints[0].remedy
    raw = sqlite3.connect(path)
    assert raw.execute("select version_num from alembic_version").fetchone() == ("9999",)
    raw.close()


def test_a_foreign_database_is_refused_and_not_touched(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite3"
    raw = sqlite3.connect(path)
    raw.execute("create table cellar (bottle text)")
    raw.commit()
    with pytest.raises(Refusal, match="not a journal"):
        Journal(url_of(path))
    assert raw.execute("select name from sqlite_master").fetchall() == [("cellar",)]
    raw.close()


def test_a_text_file_is_refused_in_words(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("flour, water, salt\n" * 200)
    with pytest.raises(Refusal, match="cannot be opened"):
        Journal(url_of(path))
    assert path.read_text().startswith("flour")


def test_another_kind_of_address_is_refused() -> None:
    with pytest.raises(Refusal, match="SQLite"):
        Journal("postgresql://localhost/journal")


def test_writers_in_many_threads_come_one_after_the_other(journal: Journal) -> None:
    def write(number: int) -> None:
        journal.append("product", "coils", "Coils", f'{{"n":{number}}}', "", NOON)

    threads = [threading.Thread(target=write, args=(n,)) for n in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    history = journal.history("product", "coils")
    assert [r.number for r in history] == list(range(8, 0, -1))
    assert {r.content for r in history} == {f'{{"n":{n}}}' for n in range(8)}


def test_windows_and_mac_have_their_own_folders() -> None:
    assert home_folder({"APPDATA": "C:/data"}, "win32").as_posix() == "C:/data/oventide"
    assert home_folder({}, "darwin").parts[-2:] == ("Application Support", "oventide")
    assert home_folder({}, "linux").parts[-3:] == (".local", "share", "oventide")


@pytest.mark.parametrize("place", ["memory", "file"])
def test_many_threads_read_and_save_at_once(place: str, tmp_path: Path) -> None:
    journal = Journal("sqlite://" if place == "memory" else f"sqlite:///{tmp_path / 'journal.sqlite3'}")
    journal.append("product", "buns", "Buns", "{}", "", datetime(2026, 1, 1, tzinfo=UTC))

    def once(turn: int) -> int:
        if turn % 5 == 0:
            journal.append("product", f"other-{turn}", "Other", "{}", "", datetime(2026, 1, 1, tzinfo=UTC))
        return len(journal.history("product", "buns"))

    with ThreadPoolExecutor(8) as threads:
        assert set(threads.map(once, range(80))) == {1}
    assert len(journal.newest("product")) == 17
    journal.close()
