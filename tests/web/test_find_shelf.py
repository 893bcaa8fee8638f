"""The first page with more on the shelf than a page holds, and the way round."""

import re
from typing import TYPE_CHECKING

import pytest

from oventide.formula.model import Formula
from oventide.services.leafing import ROWS
from oventide.timeline.procedure import Product
from oventide.web import masthead

if TYPE_CHECKING:
    from fastapi.testclient import TestClient


@pytest.fixture
def full(client: "TestClient") -> "TestClient":
    for number in range(ROWS + 3):
        client.app.state.shelf.save_product(Product(name=f"Skerry knots {number:02d}", formula=Formula(name="k")))
    return client


def test_formulas_stand_a_page_at_a_time_with_links_to_the_others(full: "TestClient") -> None:
    first = full.get("/").text
    assert first.count('<th scope="row">') == ROWS
    assert f"{ROWS + 4} formulas, page 1 of 2" in first
    assert 'rel="next" href="/?page=2"' in first
    second = full.get("/?page=2").text
    assert second.count('<th scope="row">') == 4
    assert "Lantern Quay poppy coils" in second
    assert re.search(r'aria-current="page"[^>]*>2<', second)


def test_the_filter_keeps_to_the_order_and_answers_htmx_with_the_list_alone(full: "TestClient") -> None:
    part = full.get("/?q=knots+0&by=name", headers={"hx-request": "true"}).text
    assert "<html" not in part
    assert part.count('<th scope="row">') == 14, "00 to 09, 10, 20, 30, 40"
    assert 'href="/?q=knots+0"' in part, "the other order keeps the words"


def test_a_name_that_nobody_gave_leads_to_the_search(full: "TestClient") -> None:
    page = full.get("/?q=%3Cb%3Eanvil").text
    assert "No formula is called that." in page
    assert 'href="/find?q=%3Cb%3Eanvil"' in page
    assert "<b>anvil" not in page


@pytest.mark.parametrize("page", ["0", "999", "-1", "two"])
def test_a_page_number_out_of_reach_still_answers(full: "TestClient", page: str) -> None:
    assert full.get(f"/?page={page}").status_code == 200


def test_each_way_says_where_one_is(client: "TestClient", key: str) -> None:
    for way in (*masthead.WORK, *masthead.ASIDE):
        assert f'href="{way.address}"' in client.get("/about").text
    assert 'href="/" aria-current="page"' in client.get("/").text
    assert 'href="/" aria-current="true"' in client.get(f"/formulas/{key}").text
    assert 'href="/kitchens" aria-current="true"' in client.get("/kitchens/new").text
