"""How much script the pages carry, and that a full shelf is answered by few questions to the journal."""

import gzip
from typing import TYPE_CHECKING

import pytest
from sqlalchemy import event

from oventide.formula.model import Formula
from oventide.services.finding import finding_of
from oventide.timeline.procedure import Product
from oventide.web.assets import FOLDER

if TYPE_CHECKING:
    from fastapi.testclient import TestClient

MOST_SCRIPT_BYTES = 150_000
MOST_QUESTIONS = 14


def packed(paths) -> int:
    return sum(len(gzip.compress(path.read_bytes(), 9)) for path in paths)


def test_all_script_of_the_product_packs_below_150_kb() -> None:
    scripts = sorted(FOLDER.rglob("*.js"))
    assert len(scripts) >= 3
    assert packed(scripts) <= MOST_SCRIPT_BYTES


@pytest.mark.parametrize("address", ["/", "/?q=knots", "/bakes", "/find?q=knots", "/pantry", "/pantry/butter_unsalted"])
def test_a_list_asks_the_journal_as_often_for_many_rows_as_for_few(client: "TestClient", address: str) -> None:
    shelf = client.app.state.shelf
    client.get(address)
    asked: list[str] = []
    engine = shelf.journal._engine

    def count(_connection, _cursor, statement, *_rest) -> None:
        asked.append(statement)

    event.listen(engine, "before_cursor_execute", count)
    client.get(address)
    few = len(asked)
    for number in range(30):
        shelf.save_product(Product(name=f"Knots {number}", formula=Formula(name="k")))
    finding_of(shelf).catch_up()
    client.get(address)
    asked.clear()
    client.get(address)
    event.remove(engine, "before_cursor_execute", count)
    assert len(asked) <= few, "\n".join(asked)
    assert few <= MOST_QUESTIONS, "\n".join(asked)
