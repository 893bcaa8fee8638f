"""Packets and what they say of the cost: decimal money, ranges, and what is not known stays so."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from oventide.errors import Refusal
from oventide.journal.store import Journal
from oventide.makeup.model import MakeUp
from oventide.services.packets import packet_from, packet_history, pantry_of, save_packet
from oventide.services.prices import cost_of, prices_of
from oventide.services.reading import read_recipe_text
from oventide.services.shelf import NotOnShelf, Shelf
from oventide.timeline.procedure import Product

RECIPE = """Tern Point rolls

Dough
500 g strong white flour
300 g water
100 g unsalted butter
2 eggs
10 g fine salt
5 g moonshine dust
"""


@pytest.fixture
def shelf():
    journal = Journal("sqlite://")
    yield Shelf(journal, lambda: datetime(2026, 3, 5, 4, 12, tzinfo=UTC))
    journal.close()


@pytest.fixture
def product() -> Product:
    return read_recipe_text(RECIPE).model_copy(update={"makeup": MakeUp(pieces=8)})


def buy(shelf: Shelf, ingredient: str, after: int = 0, **texts: str):
    return save_packet(shelf, packet_from(ingredient, {"currency": "EUR", **texts}), after)


def test_the_sums_are_those_of_a_till(shelf: Shelf, product: Product) -> None:
    buy(shelf, "flour_bread_unenriched", price="1.10", pack="1", unit="kg")
    buy(shelf, "butter_unsalted", price="2,49", pack="250")
    buy(shelf, "egg_whole", price="3.60", pack="10", unit="piece")
    buy(shelf, "salt_table", price="0.50", pack="500")
    cost = cost_of(product, prices_of(shelf))
    by_text = {line.text: line.cost for line in cost.lines}
    assert by_text["500 g strong white flour"].likely == Decimal("0.55")
    assert by_text["100 g unsalted butter"].likely == Decimal("0.996")
    assert by_text["10 g fine salt"].likely == Decimal("0.01")
    eggs = by_text["2 eggs"]
    assert round(eggs.likely, 6) == Decimal("0.72")
    assert eggs.low == eggs.high, "eggs bought and used by the piece cost what they cost, whatever each weighs"
    (total,) = cost.totals
    assert round(total.likely, 4) == Decimal("2.2760")
    assert total.currency == "EUR"
    assert cost.per_piece[0].likely == total.likely / 8


def test_what_is_not_known_is_named_and_not_counted(shelf: Shelf, product: Product) -> None:
    buy(shelf, "butter_unsalted", price="2.49", pack="250")
    cost = cost_of(product, prices_of(shelf))
    assert not cost.is_whole
    assert cost.totals[0].likely == Decimal("0.996")
    assert "strong white bread flour: its price" in cost.missing
    assert any(text.startswith("5 g moonshine dust") for text in cost.missing)
    assert not any("water" in text for text in cost.missing)
    assert "water from the tap is counted as nothing." in cost.assumed


def test_without_a_packet_there_is_no_sum_at_all(shelf: Shelf, product: Product) -> None:
    cost = cost_of(product, prices_of(shelf))
    assert cost.totals == ()
    assert cost.per_piece == ()


@pytest.mark.parametrize("lacks", [{"price": ""}, {"pack": ""}])
def test_a_packet_without_price_or_size_prices_nothing(shelf: Shelf, product: Product, lacks: dict[str, str]) -> None:
    buy(shelf, "butter_unsalted", **{"price": "2.49", "pack": "250", **lacks})
    assert prices_of(shelf) == {}


def test_two_currencies_are_not_added_together(shelf: Shelf, product: Product) -> None:
    buy(shelf, "butter_unsalted", price="2.49", pack="250")
    buy(shelf, "flour_bread_unenriched", price="1.30", pack="1.5", unit="kg", currency="£")
    cost = cost_of(product, prices_of(shelf))
    assert {money.currency for money in cost.totals} == {"EUR", "GBP"}
    assert any("more than one currency" in text for text in cost.assumed)


def test_a_pack_by_volume_has_a_range(shelf: Shelf) -> None:
    buy(shelf, "honey", price="6", pack="500", unit="ml")
    per_kg = prices_of(shelf)["honey"].per_kg
    assert per_kg.low < per_kg.likely < per_kg.high
    assert Decimal(7) < per_kg.likely < Decimal(10), "a litre of honey weighs about 1.4 kg"


def test_the_newest_packet_prices_and_the_older_ones_stay(shelf: Shelf) -> None:
    buy(shelf, "butter_unsalted", price="2.49", pack="250", lot="A17")
    buy(shelf, "butter_unsalted", after=1, price="2.89", pack="250", lot="B02")
    assert prices_of(shelf)["butter_unsalted"].per_kg.likely == Decimal("11.56")
    assert [saved.content.lot for saved in packet_history(shelf, "butter_unsalted")] == ["B02", "A17"]


def test_two_hands_that_write_down_a_packet_at_once_lose_nothing(shelf: Shelf) -> None:
    buy(shelf, "butter_unsalted", price="2.49", pack="250")
    with pytest.raises(Refusal, match="saved meanwhile"):
        buy(shelf, "butter_unsalted", price="9.99", pack="250")
    assert len(packet_history(shelf, "butter_unsalted")) == 1


def test_the_packets_own_figures_stand_before_the_tables(shelf: Shelf) -> None:
    buy(shelf, "butter_unsalted", fat="84", water="14,5")
    own = pantry_of(shelf).ingredient("butter_unsalted")
    assert (own.fat, own.water) == (84.0, 14.5)
    assert own.protein == 0.85, "what the packet does not print is taken from the table"


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        ({"price": "cheap"}, "price"), ({"price": "-1"}, "price"), ({"price": "1e9"}, "price"),
        ({"price": "2", "currency": ""}, "currency"), ({"price": "2", "currency": "euros"}, "currency"),
        ({"pack": "0"}, "pack"), ({"fat": "120"}, "fat"), ({"energy": "901"}, "energy"),
        ({"best_before": "soon"}, "best_before"), ({"lot": "x" * 200}, "lot"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_by_its_field(texts: dict[str, str], field: str) -> None:
    with pytest.raises(Refusal) as caught:
        packet_from("butter_unsalted", {"currency": "EUR", **texts})
    assert [complaint.field for complaint in caught.value.complaints] == [field]


def test_an_ingredient_that_is_not_there_gets_no_packet(shelf: Shelf) -> None:
    with pytest.raises(NotOnShelf):
        buy(shelf, "moon_dust", price="1", pack="1")
