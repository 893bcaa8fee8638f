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


def send(client: "TestClient", address: str, **data: str):
    return client.post(address, data=data, headers={"origin": "http://127.0.0.1:8711", "sec-fetch-site": "same-origin"})


def test_the_pantry_lists_by_group_and_mends_a_slip(client: "TestClient") -> None:
    page = client.get("/pantry").text
    assert 'id="g-flour"' in page
    assert 'id="g-in-use"' in page, "what the formulas have comes first"
    part = client.get("/pantry?q=cardimom", headers={"hx-request": "true"}).text
    assert "“cardamom” was looked for" in part
    assert "/pantry/cardamom" in part
    assert "/pantry/butter_unsalted" not in part


def test_an_ingredient_tells_what_it_holds_and_what_is_not_known(client: "TestClient") -> None:
    butter = client.get("/pantry/butter_unsalted").text
    assert "81.11" in butter
    assert "read in the source" in butter
    assert "National Nutrient Database" in butter
    assert "/formulas/lantern-quay-poppy-coils" in butter
    assert client.get("/pantry/moon_dust").status_code == 404


def test_a_packet_is_written_down_and_prices_the_list(client: "TestClient") -> None:
    sent = {"after": "0", "price": "2,49", "currency": "€", "pack": "250", "unit": "g", "lot": "A17", "fat": "84"}
    assert send(client, "/pantry/butter_unsalted", **sent).status_code == 303
    page = client.get("/pantry/butter_unsalted").text
    assert "9.96\u202fEUR" in page
    assert "A17" in page
    assert ">84&#8239;g<" in page
    assert "9.96\u202fEUR" in client.get("/pantry").text
    assert 'href="/pantry/butter_unsalted"' in client.get("/find?q=A17").text


def test_a_packet_that_another_hand_wrote_down_meanwhile_is_not_overwritten(client: "TestClient") -> None:
    sent = {"after": "0", "price": "2.49", "currency": "EUR", "pack": "250", "unit": "g"}
    send(client, "/pantry/butter_unsalted", **sent)
    second = send(client, "/pantry/butter_unsalted", **{**sent, "price": "3.10", "lot": "kept as typed"})
    assert second.status_code == 422
    assert "saved meanwhile" in second.text
    assert 'value="kept as typed"' in second.text


def test_what_cannot_be_is_marked_at_its_box(client: "TestClient") -> None:
    answer = send(client, "/pantry/butter_unsalted", after="0", price="<b>cheap", currency="EUR", pack="250", unit="g")
    assert answer.status_code == 422
    assert 'id="f-price"' in answer.text
    assert "This is not an amount." in answer.text
    assert "<b>cheap" not in answer.text
