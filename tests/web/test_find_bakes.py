"""The bakes that were made, page by page; and those under way on the first page."""

import warnings
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest

from oventide.bench.model import Entry
from oventide.services.leafing import ROWS
from oventide.services.outlooking import NoLive
from oventide.web.app import create_app

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # Starlette announces a successor of httpx
    from fastapi.testclient import TestClient

NOW = datetime(2026, 3, 5, 21, 10, tzinfo=UTC)


@pytest.fixture
def client(demo) -> Iterator[TestClient]:
    """The workbench over bakes that nobody foresees: these pages show what was done."""
    app = create_app("sqlite://", clock=lambda: NOW, live=NoLive())
    app.state.shelf.save_product(demo[0], note="demo")
    app.state.shelf.save_kitchen(demo[1], note="demo")
    with TestClient(app, base_url="http://127.0.0.1:8711", follow_redirects=False) as opened:
        yield opened


def begin(client: TestClient, demo, name: str, **told: object):
    product, kitchen = demo
    keys = {"product_key": "lantern-quay-poppy-coils", "kitchen_key": "lantern-quay-bakehouse", "product_revision": 1}
    return client.app.state.bakes.begin(product, kitchen, name=name, **{**keys, **told})


def note(client: TestClient, key: str, uid: str, **told: object) -> None:
    entry = Entry.model_validate({"uid": uid, "at": client.app.state.shelf.clock(), **told})
    noted = client.app.state.bakes.note_entries(key, [entry])
    assert noted.taken == (uid,)


def test_a_bake_that_is_over_is_listed_with_how_it_tasted(client: TestClient, demo) -> None:
    bake = begin(client, demo, "Coils for Sunday")
    assert "<b>under way</b>" in client.get("/bakes").text
    assert f'href="/bench/{bake.key}"' in client.get("/bakes").text
    note(client, bake.key, "note-0001", deed="note", text="Seam <b>held", score=4)
    note(client, bake.key, "note-0002", deed="note", text="meant for the other tin", score=1)
    note(client, bake.key, "note-0003", deed="undo", of="note-0002")
    note(client, bake.key, "over-0001", deed="finish")
    page = client.get("/bakes").text
    assert f'href="/bakes/{bake.key}"' in page
    assert "4 of 5" in page
    assert "Seam &lt;b&gt;held" in page
    assert "other tin" not in page


def test_bakes_stand_a_page_at_a_time_and_are_found_by_name_day_and_formula(client: TestClient, demo) -> None:
    now = client.app.state.shelf.clock()
    for number in range(ROWS + 2):
        begin(client, demo, f"Market {number}", started_at=now - timedelta(days=number))
    begin(client, demo, "Harbour fête", product_key="quayside-seed-knots")
    page = client.get("/bakes").text
    assert f"{ROWS + 3} bakes, page 1 of 2" in page
    assert page.count('<th scope="row">') == ROWS
    assert client.get("/bakes?page=2").text.count('<th scope="row">') == 3
    assert "1 of" in client.get("/bakes?q=fete").text
    assert "6 of" in client.get("/bakes?q=2026-03-0").text, "the first to the fifth of March, and the fête"
    only = client.get("/bakes?formula=lantern-quay-poppy-coils&q=market+1").text
    assert "Harbour" not in only
    assert "Of <a" in only


def test_a_slip_in_a_name_is_mended_and_said(client: TestClient, demo) -> None:
    begin(client, demo, "Regatta morning")
    begin(client, demo, "Another one")
    part = client.get("/bakes?q=regata", headers={"hx-request": "true"}).text
    assert "<html" not in part
    assert "“regatta” was looked for" in part
    assert "Regatta morning" in part


@pytest.mark.parametrize("query", ["page=99", "page=0", "formula=nothing", "formula=%3Cb%3E", "q=%00", "q=%25_%5C"])
def test_whatever_is_asked_is_answered(client: TestClient, query: str) -> None:
    assert client.get(f"/bakes?{query}").status_code == 200


def test_bakes_under_way_stand_first_on_the_first_page(client: TestClient, demo) -> None:
    assert "Under way" not in client.get("/").text
    bake = begin(client, demo, "Night coils", ready_by="08:00")
    page = client.get("/").text
    assert f'href="/bench/{bake.key}"' in page
    assert page.index("Night coils") < page.index(">Formulas</h2>")
    note(client, bake.key, "over-0001", deed="finish")
    assert "Under way" not in client.get("/").text
