"""The search: everything is found, where it matched is told, a slip is mended, and the index follows the journal."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from oventide.bench.model import Entry
from oventide.journal.bake_rows import BakeRow, NewBake, NewEntry, Settled
from oventide.journal.finding import CLOSE, OPEN, Doc, Index
from oventide.journal.store import Journal
from oventide.kitchen.complete import complete
from oventide.services.finding import Answer, Finding, pieces_of
from oventide.services.glossary import words
from oventide.services.reading import read_recipe_text
from oventide.services.shelf import Shelf

BEGUN = datetime(2026, 3, 5, 18, 0, tzinfo=UTC)
RECIPE = """Skerry plum knots

Dough
400 g strong white flour
210 ml whole milk
7 g instant yeast
90 g crème fraîche

Method
Mix for 9 minutes. Brush with saffron syrup.
Bake at 180C fan for 25 minutes.
"""


@pytest.fixture
def journal(tmp_path: Path):
    opened = Journal(f"sqlite:///{(tmp_path / 'journal.sqlite3').as_posix()}")
    yield opened
    opened.close()


@pytest.fixture
def shelf(journal: Journal) -> Shelf:
    shelf = Shelf(journal, lambda: BEGUN)
    shelf.save_product(read_recipe_text(RECIPE), "for the regatta")
    shelf.save_kitchen(complete({"name": "Netloft kitchen", "oven_kind": "deck"}))
    begin(shelf, "knots-1", "Plum knots 1")
    note(shelf, "knots-1", uid="entry-0001", deed="reading", quantity="core", value=91.5, step=3)
    note(shelf, "knots-1", uid="entry-0002", deed="note", text="Syrup ran out at the seam", score=4)
    return shelf


@pytest.fixture
def finding(shelf: Shelf):
    opened = Finding(shelf.journal)
    yield opened
    opened.close()


def begin(shelf: Shelf, key: str, name: str) -> None:
    row = BakeRow(key, name, 0, "skerry-plum-knots", 1, "netloft-kitchen", BEGUN, None, None, "2026-03-05")
    shelf.journal.bakes.begin(key, 8, lambda *_: NewBake(row, "{}", found_by=name))


def note(shelf: Shelf, key: str, **told: object) -> None:
    entry = Entry.model_validate({"at": BEGUN, **told})
    new = NewEntry(entry.uid, entry.deed, entry.at, "", entry.model_dump_json())
    shelf.journal.bakes.note(key, [new], BEGUN, lambda *_: Settled(None, None))


def addresses(answer: Answer) -> list[str]:
    return [found.address for section in answer.sections for found in section.found]


@pytest.mark.parametrize(
    ("typed", "address", "what", "words"),
    [
        ("plum", "/formulas/skerry-plum-knots", None, ""),
        ("strong flour", "/formulas/skerry-plum-knots", "line", "400 g strong white flour"),
        ("creme fraiche", "/formulas/skerry-plum-knots", "line", "90 g crème fraîche"),
        ("saffron", "/formulas/skerry-plum-knots", "step", "saffron"),
        ("regatta", "/formulas/skerry-plum-knots", "note", "for the regatta"),
        ("netloft", "/kitchens/netloft-kitchen", None, ""),
        ("deck oven", "/kitchens/netloft-kitchen", "has", "deck oven"),
        ("seam", "/bakes/knots-1", "note", "Syrup ran out at the seam"),
        ("core 91.5", "/bakes/knots-1", "reading", "core 91.5 °C"),
        ("5 march 2026", "/bakes/knots-1", None, ""),
        ("2026-03-05", "/bakes/knots-1", None, ""),
        ("confectioners", "/pantry/sugar_icing", "also called", "confectioner"),
        ("kerf", "/glossary#kerf", "meaning", ""),
        ("allergens", "/about#cautions", "says", "allergens"),
    ],
)
def test_each_kind_of_thing_is_found_and_says_where(
    finding: Finding, typed: str, address: str, what: str | None, words: str
) -> None:
    found = [f for section in finding.find(typed).sections for f in section.found if f.address == address]
    assert found, addresses(finding.find(typed))
    if what and words:
        places = ["".join(text for text, _ in place.pieces) for place in found[0].where if place.what == what]
        assert any(words in place for place in places), found[0].where
        assert any(hit for place in found[0].where for _, hit in place.pieces)


@pytest.mark.parametrize(("typed", "meant"), [("safron", "saffron"), ("regata", "regatta"), ("plum noughts", "")])
def test_a_slip_is_mended_and_said(finding: Finding, typed: str, meant: str) -> None:
    answer = finding.find(typed)
    if meant:
        assert answer.meant == meant
        assert answer.count
    else:
        assert answer.count == 0 or answer.meant


@pytest.mark.parametrize(
    "typed", ["", "   ", '"', "***", "AND", "NOT knots", "a" * 5000, "knots)", "^", "name:plum", "\0"]
)
def test_whatever_is_typed_is_words_and_nothing_else(finding: Finding, typed: str) -> None:
    assert isinstance(finding.find(typed), Answer)


def test_the_beginning_of_a_word_is_enough_and_every_word_counts(finding: Finding) -> None:
    assert "/formulas/skerry-plum-knots" in addresses(finding.find("saff"))
    assert "/formulas/skerry-plum-knots" in addresses(finding.find("saffron regatta milk"))
    assert "/formulas/skerry-plum-knots" not in addresses(finding.find("saffron seam"))


def test_what_is_saved_is_found_at_once_in_place_of_what_it_was(shelf: Shelf, finding: Finding) -> None:
    assert addresses(finding.find("juniper")) == []
    saved = shelf.product("skerry-plum-knots")
    shelf.save_product(saved.content.model_copy(update={"notes": "juniper instead"}), "", saved.key, after=1)
    answer = finding.find("juniper")
    assert addresses(answer) == ["/formulas/skerry-plum-knots"]
    assert answer.count == 1
    begin(shelf, "knots-2", "Juniper knots")
    assert set(addresses(finding.find("juniper"))) == {"/formulas/skerry-plum-knots", "/bakes/knots-2"}


def test_a_note_taken_later_is_found_and_one_undone_is_not(shelf: Shelf, finding: Finding) -> None:
    finding.catch_up()
    note(shelf, "knots-1", uid="entry-0003", deed="note", text="tarpaulin next time")
    assert addresses(finding.find("tarpaulin")) == ["/bakes/knots-1"]
    note(shelf, "knots-1", uid="entry-0004", deed="undo", of="entry-0003")
    assert addresses(finding.find("tarpaulin")) == []
    assert addresses(finding.find("syrup seam")) == ["/bakes/knots-1"]


def test_the_index_is_made_anew_where_it_is_lost_or_broken(shelf: Shelf, tmp_path: Path) -> None:
    first = Finding(shelf.journal)
    assert first.find("regatta").count == 1
    first.close()
    index = tmp_path / "journal.finding.sqlite3"
    assert index.is_file()
    index.write_bytes(b"flour " * 4000)
    for name in ("journal.finding.sqlite3-wal", "journal.finding.sqlite3-shm"):
        (tmp_path / name).unlink(missing_ok=True)
    again = Finding(shelf.journal)
    assert again.find("regatta").count == 1
    again.close()


def test_a_second_program_on_the_same_journal_finds_what_the_first_saved(shelf: Shelf, finding: Finding) -> None:
    finding.catch_up()
    other = Journal(f"sqlite:///{shelf.journal.path.as_posix()}")
    Shelf(other, lambda: BEGUN + timedelta(days=1)).save_kitchen(complete({"name": "Curlew shed"}))
    other.close()
    assert addresses(finding.find("curlew")) == ["/kitchens/curlew-shed"]


def test_where_the_words_tell_nothing_apart_the_latest_come_first() -> None:
    index = Index(None)
    with index.writing():
        index.put(Doc("bake", f"b{n}", "Quay coils", at=f"2026-{n // 28 + 1:02d}-{n % 28 + 1:02d}") for n in range(200))
    counts, hits = index.find(["quay"], 3)
    assert counts == {"bake": 200}
    assert [hit.key for hit in hits] == ["b199", "b198", "b197"]
    index.close()


def test_many_alike_are_told_by_the_latest(monkeypatch: pytest.MonkeyPatch) -> None:
    from oventide.journal import finding as module

    monkeypatch.setattr(module, "BROAD", 10)
    test_where_the_words_tell_nothing_apart_the_latest_come_first()


def test_a_long_line_is_cut_around_what_matched() -> None:
    pieces = pieces_of("flour " * 60 + f"{OPEN}saffron{CLOSE}" + " milk" * 60, around=40)
    assert len("".join(text for text, _ in pieces)) < 130
    assert ("saffron", True) in pieces


def test_the_words_on_the_page_are_those_of_the_glossary(request: pytest.FixtureRequest) -> None:
    text = (request.config.rootpath / "docs" / "glossary.md").read_text(encoding="utf-8")
    rows = {tuple(cell.strip() for cell in line.strip("| \n").split("|")) for line in text.splitlines() if "|" in line}
    assert len(words()) > 30
    assert [word.word for word in words() if (word.word, word.meaning) not in rows] == []
