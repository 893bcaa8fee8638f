"""Another size on the formula page: lines shown add up to the totals shown, and tide and sheet follow."""

import re
from html import unescape

import pytest
from starlette.testclient import TestClient

OWN = {"origin": "http://127.0.0.1:8711", "sec-fetch-site": "same-origin"}


def form_of(page: str) -> dict[str, str]:
    """Hidden fields and text boxes as they would be sent."""
    boxes = re.findall(r'<input[^>]*? name="([^"]+)"[^>]*? value="([^"]*)"', page)
    return {name: unescape(value) for name, value in boxes if not name.endswith((".take", ".drop", ".covered"))}


def grams(words: str) -> float:
    return float(words.removesuffix("\u202fg"))


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"to_pieces": "24"}, "24 pieces"),
        ({"to_piece": "95"}, "95 g"),
        ({"to_pieces": "18", "to_piece": "70"}, "18 pieces"),
        ({"to_dough": "1234"}, "1234 g"),
        ({"to_flour": "777"}, "777 g"),
        ({"to_factor": "1.37"}, "1.37"),
    ],
)
def test_lines_shown_add_up_to_the_totals_shown(
    client: TestClient, key: str, typed: dict[str, str], sentence: str
) -> None:
    form = form_of(client.get(f"/formulas/{key}").text)
    page = client.post(f"/formulas/{key}", data={**form, **typed, "deed": "weigh"}, headers=OWN)
    assert page.status_code == 200, page.text[-800:]
    shown = page.text.split('class="othersize"')[1].split("<h2>Balance</h2>")[0]
    assert sentence in page.text
    everything = 0.0
    for table in re.findall(r"<table.*?</table>", shown, re.DOTALL):
        body, foot = table.split("<tfoot>")
        weights = [grams(w) for w in re.findall(r'<td class="n big">([\d.]+\u202fg)</td>', body)]
        assert weights
        total = re.search(r'<td class="n big">([\d.]+\u202fg)</td>', foot)
        assert total
        # a sum of tenths is shown in whole grams above 20 g
        assert sum(weights) == pytest.approx(grams(total[1]), abs=0.051 if grams(total[1]) < 20 else 0.51)
        everything += sum(weights)
    said = re.search(r"everything ([\d.]+\u202fg)", shown)
    assert said
    assert everything == pytest.approx(grams(said[1]), abs=0.51)
    assert len(client.app.state.shelf.product_history(key)) == 1, "another size changes nothing"


def test_the_weights_in_the_boxes_add_up_and_an_untouched_box_is_no_change(client: TestClient, recipe: str) -> None:
    read = client.post("/reading", data={"text": recipe, "spoons": "us", "eggs": ""}, headers=OWN)
    saved = client.post("/reading", data={**form_of(read.text), "deed": "save"}, headers=OWN)
    page = client.get(saved.headers["location"]).text
    for table in re.findall(r'<table class="ledger stack weights".*?</table>', page, re.DOTALL):
        boxes = [float(v) for v in re.findall(r'name="c\d+\.l\d+\.grams"[^>]*? value="([\d.]+)"', table)]
        total = re.search(r'data-name="Weigh"><span id="g-[\w.]+">([\d.]+\u202fg)', table)
        assert total
        assert sum(boxes) == pytest.approx(grams(total[1]), abs=0.51)
    key = saved.headers["location"].rsplit("/", 1)[1]
    before = client.app.state.shelf.product(key).content
    client.post(f"/formulas/{key}", data={**form_of(page), "deed": "save", "note": "same"}, headers=OWN)
    after = client.app.state.shelf.product(key).content
    assert after.formula == before.formula, "no weight became the baker's own unasked"


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"to_pieces": "0"}, "to_pieces"), ({"to_dough": "-4"}, "to_dough"), ({"to_factor": "much"}, "to_factor"),
     ({"to_dough": "500", "to_flour": "300"}, "to_flour"), ({"to_factor": "99999999"}, "to_factor")],
)  # fmt: skip
def test_a_size_that_cannot_be_is_marked(client: TestClient, key: str, typed: dict[str, str], field: str) -> None:
    form = form_of(client.get(f"/formulas/{key}").text)
    page = client.post(f"/formulas/{key}", data={**form, **typed, "deed": "weigh"}, headers=OWN)
    assert page.status_code == 422
    mark = page.text.split(f'id="mark-{field}">')[1].split("</span>")[0]
    assert "<b>" in mark
    assert f'value="{typed[field]}"' in page.text, "what was typed stays"
    assert client.get(f"/formulas/{key}/tide", params=typed).status_code == 422


def test_tide_and_sheet_follow_the_size(client: TestClient, key: str) -> None:
    sheet = client.get(f"/formulas/{key}/sheet", params={"ready_by": "07:30", "to_factor": "2"})
    assert sheet.status_code == 200
    assert "24 pieces" in sheet.text
    assert '<input type="hidden" name="to_factor" value="2">' in sheet.text
    assert re.search(r'sheet\.pdf\?[^"]*to_factor=2', sheet.text)
    tide = client.get(f"/formulas/{key}/tide", params={"ready_by": "07:30", "to_factor": "2"})
    assert "× 2" in tide.text
    assert 'class="tstep"' in tide.text


def test_ounces_typed_are_grams_weighed(client: TestClient, key: str) -> None:
    client.cookies.set("oventide_mass", "oz")
    form = form_of(client.get(f"/formulas/{key}").text)
    page = client.post(f"/formulas/{key}", data={**form, "to_dough": "35.27", "deed": "weigh"}, headers=OWN)
    assert page.status_code == 200
    assert "to_dough=999.88" in page.text or "to_dough=999.8" in page.text
