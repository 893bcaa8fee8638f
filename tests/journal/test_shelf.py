"""Use cases over the journal: save, open, look back, demo."""

from datetime import UTC, datetime, timedelta

import pytest

from oventide.errors import Refusal
from oventide.formula.model import Formula
from oventide.journal.store import Journal
from oventide.kitchen.complete import complete
from oventide.services import foreseeing, reading
from oventide.services.shelf import NotOnShelf, Shelf
from oventide.timeline.procedure import Product


class Ticking:
    """A clock that goes on by a minute at each look."""

    def __init__(self) -> None:
        self.now = datetime(2026, 3, 5, 4, 12, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(minutes=1)
        return self.now


@pytest.fixture
def shelf():
    journal = Journal("sqlite://")
    yield Shelf(journal, Ticking())
    journal.close()


def product(name: str, notes: str = "") -> Product:
    return Product(name=name, formula=Formula(name=name), notes=notes)


def test_what_is_saved_comes_back_equal(shelf: Shelf) -> None:
    saved = shelf.save_product(product("Seed knots"), note="first try")
    assert (saved.key, saved.number, saved.note) == ("seed-knots", 1, "first try")
    assert shelf.product("seed-knots").content == product("Seed knots")
    kitchen = complete({"name": "Attic", "room": 24, "fridge": 6})
    assert shelf.save_kitchen(kitchen).content == shelf.kitchen("attic").content == kitchen


def test_two_formulas_of_one_name_stand_side_by_side(shelf: Shelf) -> None:
    keys = [shelf.save_product(product("Seed knots")).key for _ in range(3)]
    assert keys == ["seed-knots", "seed-knots-2", "seed-knots-3"]


def test_an_earlier_revision_opens_as_it_was(shelf: Shelf) -> None:
    shelf.save_product(product("Seed knots", "plain"))
    shelf.save_product(product("Seed knots", "with honey"), key="seed-knots", after=1)
    assert shelf.product("seed-knots", 1).content.notes == "plain"
    assert not shelf.product("seed-knots", 1).is_newest
    assert [saved.content.notes for saved in shelf.product_history("seed-knots")] == ["with honey", "plain"]
    assert [saved.number for saved in shelf.products()] == [2]


def test_the_last_saved_stands_first(shelf: Shelf) -> None:
    shelf.save_product(product("One"))
    shelf.save_product(product("Two"))
    shelf.save_product(product("One", "again"), key="one", after=1)
    assert [saved.content.name for saved in shelf.products()] == ["One", "Two"]


@pytest.mark.parametrize(("key", "number"), [("nothing", None), ("seed-knots", 7)])
def test_what_is_not_there_is_said(shelf: Shelf, key: str, number: int | None) -> None:
    shelf.save_product(product("Seed knots"))
    with pytest.raises(NotOnShelf):
        shelf.product(key, number)


def test_a_nameless_thing_is_refused(shelf: Shelf) -> None:
    with pytest.raises(Refusal, match="name"):
        shelf.save_product(product("  "))
    assert shelf.products() == ()


def test_the_demo_fills_an_empty_shelf_once(shelf: Shelf) -> None:
    assert shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen)
    assert [saved.content.name for saved in shelf.products()] == ["Lantern Quay poppy coils"]
    assert [saved.content.name for saved in shelf.kitchens()] == ["Lantern Quay bakehouse"]
    assert not shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen)
    assert len(shelf.product_history("lantern-quay-poppy-coils")) == 1
