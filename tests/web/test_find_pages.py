"""The search page and the words, as a browser asks for them."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fastapi.testclient import TestClient


def test_the_search_tells_by_groups_where_it_matched(client: "TestClient") -> None:
    page = client.get("/find?q=poppy").text
    assert '<a class="hit" href="/formulas/lantern-quay-poppy-coils">' in page
    assert "140 g <mark>poppy</mark> seeds, ground" in page
    assert ">Pantry</h2>" in page


def test_typing_gets_the_answer_alone(client: "TestClient") -> None:
    part = client.get("/find?q=popy", headers={"hx-request": "true"}).text
    assert "<html" not in part
    assert "“poppy” was looked for" in part


def test_one_group_can_be_seen_whole(client: "TestClient") -> None:
    page = client.get("/find?q=flour").text
    assert "/find?q=flour&amp;of=ingredient" in page
    whole = client.get("/find?q=flour&of=ingredient").text
    assert whole.count('class="hit"') > page.count('class="hit"')
    assert "Formulas</h2>" not in whole


def test_what_is_typed_is_never_markup(client: "TestClient") -> None:
    page = client.get("/find?q=%3Cscript%3Ealert").text
    assert "<script>alert" not in page
    assert client.get("/find?q=butter&of=%3Cb%3E").status_code == 200


def test_the_words_have_places_that_the_search_leads_to(client: "TestClient") -> None:
    assert 'id="kerf"' in client.get("/glossary").text
    assert 'href="/glossary#kerf"' in client.get("/find?q=kerf").text
