"""The pages of the bench as they are sent: beginning a bake, its shell, and the worker that keeps it."""

import json
import re
from html import unescape

OWN = {"origin": "http://127.0.0.1:8711", "sec-fetch-site": "same-origin"}


def begin(client, key: str, **form: str):
    asked = {"formula": key, "kitchen": "lantern-quay-bakehouse", "ready_by": "07:30", **form}
    return client.post("/bench", data=asked, headers=OWN)


def carried(page: str, name: str):
    """What a page carries for its scripts."""
    found = re.search(rf'<script type="application/json" id="{name}">(.*?)</script>', page, re.DOTALL)
    assert found
    return json.loads(found[1])


def test_a_bake_is_begun_and_its_shell_carries_its_view(client, key: str) -> None:
    begun = begin(client, key, name="Coils for the fair")
    assert begun.status_code == 303
    page = client.get(begun.headers["location"])
    assert page.status_code == 200
    view = carried(page.text, "view")
    assert (view["name"], view["now_step"], view["product_key"]) == ("Coils for the fair", 0, key)
    assert view["key"] == begun.headers["location"].removeprefix("/bench/")
    assert f'href="/formulas/{key}/sheet?' in unescape(page.text), "without scripts there is the sheet"
    assert "style=" not in page.text
    assert not re.search(r"<script(?![^>]* src=)(?! type=\"application/json\")", page.text)


def test_bakes_under_way_stand_on_the_bench_each_with_a_sign_of_its_own(client, key: str) -> None:
    for name in ("Coils A", "Coils B"):
        begin(client, key, name=name)
    page = client.get("/bench").text
    views = carried(page, "views")
    assert {view["name"] for view in views} == {"Coils A", "Coils B"}
    assert len({view["sign"] for view in views}) == 2
    assert page.count('class="bake-row"') == 2


def test_a_name_cannot_end_the_data_that_a_page_carries(client, key: str) -> None:
    begun = begin(client, key, name="</script><b>Coils")
    page = client.get(begun.headers["location"]).text
    assert carried(page, "view")["name"] == "</script><b>Coils"
    assert "<b>Coils" not in page


def test_a_form_that_cannot_be_read_comes_back_with_what_is_amiss(client, key: str) -> None:
    answer = begin(client, key, ready_by="25:99", name="Coils A")
    assert answer.status_code == 422
    assert 'value="25:99"' in answer.text
    assert 'value="Coils A"' in answer.text
    assert 'class="amiss"' in answer.text
    assert client.get("/bench").text.count('class="bake-row"') == 0, "nothing was begun"


def test_the_form_carries_the_formula_and_the_size_it_was_opened_with(client, key: str) -> None:
    page = client.get(f"/bench?formula={key}&to_pieces=24").text
    assert f'<option value="{key}" selected>' in page
    assert '<input type="hidden" name="to_pieces" value="24">' in page
    assert client.get("/bench?formula=nothing").status_code == 200


def test_no_bake_of_that_name_is_a_page_of_its_own(client) -> None:
    assert client.get("/bench/nothing").status_code == 404


def test_the_worker_keeps_everything_that_a_bench_page_asks_for(client, key: str) -> None:
    worker = client.get("/oventide-worker.js")
    assert worker.status_code == 200
    assert worker.headers["content-type"].startswith("text/javascript")
    parts = json.loads(re.search(r"const PARTS = (\[.*?\]);", worker.text)[1])
    page = client.get(begin(client, key).headers["location"]).text
    asked = set(re.findall(r'(?:src|href)="(/static/[^"]+)"', page))
    assert asked <= set(parts)
    for part in parts:
        answer = client.get(part)
        assert answer.status_code == 200, part
        for name in re.findall(r'from "\./([\w.]+)"', answer.text if part.endswith(".js") else ""):
            assert part.rsplit("/", 1)[0] + "/" + name in parts, f"{part} takes {name}"


def test_an_address_under_the_folder_s_mark_stays_within_the_folder(client) -> None:
    assert client.get("/static/@0000000000/bench/bench.js").status_code == 200
    assert client.get("/static/@0000000000/..%2f..%2froutes.py").status_code == 404
    assert client.get("/static/@0000000000/bench").status_code == 404
