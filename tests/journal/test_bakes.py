"""The bakes in the journal: begun, noted once each, listed, seen from another program."""

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from oventide.errors import Refusal
from oventide.journal.bake_rows import BakeRow, EntryRow, NewBake, NewEntry, NoSuchBake, Settled
from oventide.journal.bakes import BakeBook
from oventide.journal.store import Journal

NOON = datetime(2026, 3, 5, 12, 0, tzinfo=UTC)


def new(key: str, sign: int, name: str = "Coils", started_at: datetime = NOON, **more: str) -> NewBake:
    row = BakeRow(
        key=key, name=name, sign=sign, product_key=more.get("product_key", "coils"), product_revision=1,
        kitchen_key=more.get("kitchen_key", "quay"), started_at=started_at, ready_at=None, finished_at=None,
        day=f"{started_at:%Y-%m-%d}",
    )  # fmt: skip
    return NewBake(row, f'{{"key":"{key}"}}', more.get("found_by", name))


def entry(uid: str, minutes: float = 1) -> NewEntry:
    return NewEntry(uid, "done", NOON + timedelta(minutes=minutes), "tablet", f'{{"uid":"{uid}"}}')


def nothing(_entries: tuple[EntryRow, ...], _outlook: tuple[int, str] | None) -> Settled:
    return Settled(None, None)


@pytest.fixture
def journal(tmp_path: Path):
    opened = Journal(f"sqlite:///{tmp_path / 'journal.sqlite3'}")
    yield opened
    opened.close()


@pytest.fixture
def book(journal: Journal) -> BakeBook:
    return journal.bakes


def test_bakes_of_one_name_get_keys_and_signs_of_their_own(book: BakeBook) -> None:
    rows = [book.begin("coils", 3, new) for _ in range(4)]
    assert [(row.key, row.sign) for row in rows] == [("coils", 0), ("coils-2", 1), ("coils-3", 2), ("coils-4", 0)]
    assert book.as_begun("coils-3") == '{"key":"coils-3"}'
    book.note("coils-2", [], NOON, lambda *_: Settled(None, NOON))
    assert book.begin("coils", 3, new).sign == 1
    assert {row.key for row in book.under_way()} == {"coils", "coils-3", "coils-4", "coils-5"}


def test_the_same_entry_sent_twice_counts_once(book: BakeBook) -> None:
    book.begin("coils", 8, new)
    assert [row.number for row in book.note("coils", [entry("a"), entry("b")], NOON, nothing)] == [1, 2]
    again = book.note("coils", [entry("b", 9), entry("c"), entry("c")], NOON, nothing)
    assert [(row.number, row.content) for row in again] == [
        (1, '{"uid":"a"}'), (2, '{"uid":"b"}'), (3, '{"uid":"c"}'),
    ]  # fmt: skip
    assert [row.number for row in book.entries("coils", after=2)] == [3]


def test_two_bakes_may_have_entries_of_one_uid(book: BakeBook) -> None:
    book.begin("coils", 8, new)
    book.begin("coils", 8, new)
    book.note("coils", [entry("a")], NOON, nothing)
    assert len(book.note("coils-2", [entry("a")], NOON, nothing)) == 1


def test_what_follows_is_stored_with_the_entries_or_nothing_is(book: BakeBook) -> None:
    book.begin("coils", 8, new)

    def broken(entries: tuple[EntryRow, ...], _outlook: tuple[int, str] | None) -> Settled:
        assert len(entries) == 1
        raise Refusal(())

    with pytest.raises(Refusal):
        book.note("coils", [entry("a")], NOON, broken)
    assert book.entries("coils") == ()


def test_an_older_outlook_does_not_take_the_place_of_a_newer(book: BakeBook) -> None:
    book.begin("coils", 8, new)
    assert book.outlook("coils") is None
    assert book.keep_outlook("coils", 3, "three", nothing)
    assert not book.keep_outlook("coils", 2, "two", nothing)
    assert book.keep_outlook("coils", 3, "three again", nothing)
    assert book.outlook("coils") == (3, "three again")


@pytest.mark.parametrize(
    "statement",
    ["update entry set content = 'x'", "delete from entry", "update bake_as_begun set content = 'x'",
     "delete from bake_as_begun", "delete from bake"],
)  # fmt: skip
def test_the_file_itself_keeps_what_was_noted(book: BakeBook, tmp_path: Path, statement: str) -> None:
    book.begin("coils", 8, new)
    book.note("coils", [entry("a")], NOON, nothing)
    raw = sqlite3.connect(tmp_path / "journal.sqlite3")
    with pytest.raises(sqlite3.IntegrityError, match="never"):
        raw.execute(statement)
    raw.close()


def test_a_damaged_beginning_is_seen(book: BakeBook, tmp_path: Path) -> None:
    book.begin("coils", 8, new)
    raw = sqlite3.connect(tmp_path / "journal.sqlite3")
    raw.execute("drop trigger bake_as_begun_no_update")
    raw.execute("update bake_as_begun set content = '{}'")
    raw.commit()
    raw.close()
    with pytest.raises(Refusal, match="digest"):
        book.as_begun("coils")


@pytest.mark.parametrize("ask", ["find", "as_begun", "entries", "outlook"])
def test_a_bake_that_is_not_there_is_said(book: BakeBook, ask: str) -> None:
    with pytest.raises(NoSuchBake):
        getattr(book, ask)("nothing")


def test_bakes_are_found_by_words_formula_and_kitchen(book: BakeBook) -> None:
    for turn, (name, product) in enumerate(
        [("Poppy coils", "coils"), ("Pâté knots", "knots"), ("Poppy knots", "knots")]
    ):
        book.begin(
            "bake", 8,
            lambda key, sign, name=name, product=product, turn=turn: new(
                key, sign, name, NOON + timedelta(days=turn), product_key=product, found_by=f"{name} 50% {turn}"
            ),
        )  # fmt: skip
    assert [row.name for row in book.page()] == ["Poppy knots", "Pâté knots", "Poppy coils"]
    assert [row.name for row in book.page("PATE")] == ["Pâté knots"]
    assert [row.name for row in book.page("knots poppy")] == ["Poppy knots"]
    assert [row.name for row in book.page("50%")] == ["Poppy knots", "Pâté knots", "Poppy coils"]
    assert book.count("5_%") == 0
    assert [row.name for row in book.page(product_key="knots", limit=1, offset=1)] == ["Pâté knots"]
    assert (book.count(), book.count("poppy"), book.count(product_key="knots"), book.count(kitchen_key="x")) == (
        3,
        2,
        2,
        0,
    )


def test_another_program_sees_what_changed(journal: Journal, tmp_path: Path) -> None:
    other = Journal(f"sqlite:///{tmp_path / 'journal.sqlite3'}")

    def seen(mark: tuple[int, ...]) -> list[tuple[str, str, int]]:
        return [(added.what, added.key, added.number) for added in other.added_since(mark, 100)]

    before = other.mark()
    assert seen(before) == []
    journal.bakes.begin("coils", 8, new)
    journal.bakes.begin("coils", 8, new)
    assert seen(before) == [("bake", "coils", 0), ("bake", "coils-2", 0)]
    begun = other.mark()
    journal.bakes.note("coils-2", [entry("a"), entry("b")], NOON, nothing)
    assert seen(begun) == [("bake", "coils-2", 2)]
    noted = other.mark()
    for number in (0, 1):
        journal.bakes.keep_outlook("coils", number, "{}", nothing)
        assert seen(noted) == [("bake", "coils", 0)]
        noted = other.mark()
    journal.append("product", "coils", "Coils", "{}", "", NOON)
    assert seen(noted) == [("shelf", "coils", 1)]
    assert other.added_since(before, 100)[-1].mark == other.mark()
    other.close()


def test_shelf_is_turned_page_by_page(journal: Journal) -> None:
    for turn in range(7):
        journal.append("product", f"bun-{turn}", f"Bun {turn}", "{}", "", NOON + timedelta(minutes=turn))
    journal.append("product", "bun-0", "Crème bun", "{}", "", NOON + timedelta(hours=1))
    assert [found.key for found in journal.page("product", limit=3)] == ["bun-0", "bun-6", "bun-5"]
    assert [found.key for found in journal.page("product", limit=3, offset=6)] == ["bun-1"]
    assert [found.number for found in journal.page("product", "creme")] == [2]
    assert (journal.count("product"), journal.count("product", "bun"), journal.count("kitchen")) == (7, 7, 0)
    assert journal.count("product", "Bun 0") == 0
    assert journal.keys("product") == {f"bun-{turn}" for turn in range(7)}
