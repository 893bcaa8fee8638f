"""Long lists: filtered, in order, a page at a time, and read by rows alone."""

from datetime import UTC, datetime, timedelta

import pytest

from oventide.formula.model import Formula
from oventide.journal.store import Journal
from oventide.services.leafing import ROWS, holding, leaf_of, parts, shelf_leaf
from oventide.services.shelf import Shelf
from oventide.timeline.procedure import Product

NAMES = ["Skerry poppy coils", "Mill Lane apple knots", "Tern Point crème fraîche buns", "apple rolls"]


@pytest.fixture
def shelf():
    now = [datetime(2026, 3, 5, 4, 12, tzinfo=UTC)]

    def clock() -> datetime:
        now[0] += timedelta(minutes=1)
        return now[0]

    journal = Journal("sqlite://")
    opened = Shelf(journal, clock)
    for name in NAMES:
        opened.save_product(Product(name=name, formula=Formula(name=name)), "for the market" if "Mill" in name else "")
    yield opened
    journal.close()


def names(leaf) -> list[str]:
    return [row.name for row in leaf.rows]


def test_last_saved_comes_first_or_the_alphabet_does(shelf: Shelf) -> None:
    assert names(shelf_leaf(shelf, "product")) == NAMES[::-1]
    assert names(shelf_leaf(shelf, "product", order="name")) == sorted(NAMES, key=str.lower)


def test_a_new_revision_comes_to_the_front_and_is_listed_once(shelf: Shelf) -> None:
    saved = shelf.product("skerry-poppy-coils")
    shelf_leaf(shelf, "product")  # what was read is kept, and must not outlive the save
    shelf.save_product(saved.content, "softer", saved.key, after=1)
    first = shelf_leaf(shelf, "product").rows[0]
    assert (first.name, first.number, first.note) == ("Skerry poppy coils", 2, "softer")
    assert shelf_leaf(shelf, "product").of == len(NAMES)


@pytest.mark.parametrize(
    ("words", "found", "meant"),
    [
        ("apple", ["apple rolls", "Mill Lane apple knots"], ""),
        ("KNOT mill", ["Mill Lane apple knots"], ""),
        ("creme", ["Tern Point crème fraîche buns"], ""),
        ("market", ["Mill Lane apple knots"], ""),
        ("popy", ["Skerry poppy coils"], "poppy"),
        ("anvil", [], ""),
        ("apple coils", [], ""),
    ],
)
def test_words_are_looked_for_without_accents_and_a_slip_is_mended_and_said(
    shelf: Shelf, words: str, found: list[str], meant: str
) -> None:
    leaf = shelf_leaf(shelf, "product", words)
    assert (names(leaf), leaf.meant, leaf.of) == (found, meant, len(NAMES))


def test_a_list_is_read_without_its_contents(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("a product was read to show its name")

    monkeypatch.setattr(Product, "model_validate_json", refuse)
    assert len(shelf_leaf(shelf, "product").rows) == len(NAMES)
    assert set(parts(shelf, "product", shelf_leaf(shelf, "product", "apple"), "$.makeup")) == {
        "apple-rolls", "mill-lane-apple-knots"
    }  # fmt: skip


@pytest.mark.parametrize(("page", "first", "count"), [(0, 0, ROWS), (1, 0, ROWS), (2, ROWS, 5), (99, ROWS, 5)])
def test_a_page_that_is_not_there_becomes_the_nearest(page: int, first: int, count: int) -> None:
    leaf = leaf_of(range(ROWS + 5), page, ROWS + 5)
    assert (leaf.rows[0], len(leaf.rows), leaf.pages) == (first, count, 2)


def test_without_words_nothing_is_left_out() -> None:
    assert holding([1, 2], "  ", ["a", "b"]) == ([1, 2], "")


def test_a_name_taken_by_many_gets_the_first_free_number(shelf: Shelf) -> None:
    keys = [shelf.save_product(Product(name="Coils", formula=Formula(name="Coils"))).key for _ in range(3)]
    assert keys == ["coils", "coils-2", "coils-3"]
    assert shelf.save_product(Product(name="Coils 2", formula=Formula(name="x"))).key == "coils-2-2"
