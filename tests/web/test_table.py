"""The evening table by two clients: a balance that follows, changes taken back, and no line lost by a second save."""

import re
from html import unescape

import pytest
from tests.web.test_pages import OWN, fields, post

from oventide.web.history import History


def line_of(form: dict[str, str], begins: str) -> str:
    return next(name for name, value in form.items() if name.endswith(".text") and value.startswith(begins))


def lines_of(form: dict[str, str]) -> list[str]:
    return [value for name, value in form.items() if re.fullmatch(r"c\d+\.l\d+\.text", name)]


def live(client, key: str, form: dict[str, str]):
    return client.post(f"/formulas/{key}", data={**form, "live": "yes"}, headers={**OWN, "hx-request": "true"})


def part(client, key: str, form: dict[str, str], **more: str):
    return client.post(f"/formulas/{key}", data={**form, **more}, headers={**OWN, "hx-request": "true"})


def test_the_balance_follows_what_is_typed_and_nothing_is_taken_up(client, key: str) -> None:
    form = fields(client.get(f"/formulas/{key}").text)
    salt = line_of(form, "7 g fine salt")
    answer = live(client, key, {**form, salt: "14 g fine salt"})
    assert answer.status_code == 200
    assert "Salt, as weighed 1.9\u202f% became 3.9\u202f%, above its range" in unescape(answer.text)
    assert re.search(rf'id="p-{re.escape(salt.removesuffix(".text"))}"[^>]*>3.9', answer.text)
    assert '<input type="hidden"' not in answer.text, "the form itself stays as it is"


def test_an_emptied_box_is_not_a_line_that_went_while_it_is_typed_in(client, key: str) -> None:
    form = fields(client.get(f"/formulas/{key}").text)
    flour = line_of(form, "270 g strong")
    answer = live(client, key, {**form, flour: ""})
    assert answer.status_code == 200
    assert re.search(r'id="p-c1.l0"[^>]*>75', answer.text), "270 of 360 g of flour"


@pytest.mark.parametrize(
    ("deed", "order"),
    [
        ("up:c1.l1", ["90 g floury potato", "270 g strong"]),
        ("down:c1.l0", ["90 g floury potato", "270 g strong"]),
        ("out:c1.l0", ["90 g floury potato", "20 g whole milk"]),
    ],
)
def test_a_line_is_moved_or_taken_out_by_its_button_and_that_is_taken_back(
    client, key: str, deed: str, order: list[str]
) -> None:
    first = fields(client.get(f"/formulas/{key}").text)
    moved = fields(part(client, key, first, deed=deed).text)
    rows = [moved[f"c1.l{at}.text"] for at in range(2)]
    assert [row[: len(begins)] for row, begins in zip(rows, order, strict=True)] == order
    back = fields(part(client, key, moved, deed="back").text)
    assert lines_of(back) == lines_of(first)
    again = fields(part(client, key, back, deed="again").text)
    assert lines_of(again) == lines_of(moved)


def test_a_line_goes_over_the_edge_of_its_part(client, key: str) -> None:
    first = fields(client.get(f"/formulas/{key}").text)
    moved = fields(part(client, key, first, deed="up:c1.l0").text)
    assert moved["c0.l3.text"].startswith("270 g strong")


def test_a_part_is_begun_with_its_first_line(client, key: str) -> None:
    form = fields(client.get(f"/formulas/{key}").text)
    made = fields(
        part(client, key, {**form, "cnew.kind": "topping", "cnew.name": "Pearl sugar", "cnew.new": "30 g sugar"}).text
    )
    assert "Pearl sugar" in made.values()
    assert lines_of(made)[-1] == "30 g sugar"


def test_twenty_changes_are_taken_back_one_by_one(client, key: str) -> None:
    form = fields(client.get(f"/formulas/{key}").text)
    salt = line_of(form, "7 g fine salt")
    seen = [form[salt]]
    for grams in range(20):
        form = fields(part(client, key, {**form, salt: f"{grams + 10} g fine salt"}).text)
        seen.append(form[salt])
    assert len(form["history"]) < 12_000, "forty states pack into a few kilobytes"
    for expected in reversed(seen[:-1]):
        form = fields(part(client, key, form, deed="back").text)
        assert form[salt] == expected


def test_a_history_that_was_meddled_with_is_an_empty_one() -> None:
    good = History().done("salt", "{}").packed()
    assert History.unpacked(good).past
    for bad in ("", "x", good[:-9], "A" * 5000, "eJwr"):
        assert History.unpacked(bad) == History()


def test_two_clients_that_change_other_lines_both_have_theirs(client, key: str) -> None:
    here = fields(client.get(f"/formulas/{key}").text)
    there = dict(here)
    salt, flour = line_of(here, "7 g fine salt"), line_of(here, "270 g strong")
    first = post(client, f"/formulas/{key}", **{**there, salt: "8 g fine salt", "deed": "save", "note": "saltier"})
    assert first.headers["location"] == f"/formulas/{key}"
    second = post(client, f"/formulas/{key}", **{**here, flour: "280 g strong white flour", "deed": "save"})
    assert second.status_code == 303
    page = client.get(second.headers["location"]).text
    assert "Revision 2 was saved meanwhile on another device" in page
    assert {"8 g fine salt", "280 g strong white flour"} <= set(lines_of(fields(page)))


def clash(client, key: str) -> tuple[dict[str, str], str]:
    here = fields(client.get(f"/formulas/{key}").text)
    salt = line_of(here, "7 g fine salt")
    post(client, f"/formulas/{key}", **{**here, salt: "8 g fine salt", "deed": "save"})
    page = post(client, f"/formulas/{key}", **{**here, salt: "6 g fine salt", "deed": "save", "note": "less salt"})
    assert page.status_code == 409
    assert "8 g fine salt" in page.text
    assert "6 g fine salt" in page.text
    radio = re.search(r'type="radio" name="(take\.[^"]+)"', page.text)
    assert radio
    assert re.search(r'value="mine" checked', page.text), "never both by itself: two weights would be weighed"
    return fields(page.text), radio[1]


@pytest.mark.parametrize(
    ("take", "stands"),
    [("theirs", ["8 g fine salt"]), ("mine", ["6 g fine salt"]), ("both", ["8 g fine salt", "6 g fine salt"])],
)
def test_the_same_line_changed_twice_is_asked_about(client, key: str, take: str, stands: list[str]) -> None:
    form, radio = clash(client, key)
    done = post(client, f"/formulas/{key}/together", **{**form, radio: take})
    assert done.status_code == 303
    salty = [text for text in lines_of(fields(client.get(f"/formulas/{key}").text)) if "fine salt" in text]
    assert salty == stands
    assert "less salt; put together with revision 2" in client.get(f"/formulas/{key}/revisions").text


def test_what_was_typed_is_kept_whole_on_request(client, key: str) -> None:
    form, radio = clash(client, key)
    post(client, f"/formulas/{key}/together", **{**form, radio: "theirs", "aside": "yes", "aside_note": "mine, whole"})
    history = client.get(f"/formulas/{key}/revisions").text
    assert "mine, whole" in history
    assert "6 g fine salt" in lines_of(fields(client.get(f"/formulas/{key}?revision=3").text))
    assert "8 g fine salt" in lines_of(fields(client.get(f"/formulas/{key}?revision=4").text))


def test_a_third_save_while_it_is_settled_is_asked_about_again_or_joined(client, key: str) -> None:
    form, radio = clash(client, key)
    third = fields(client.get(f"/formulas/{key}").text)
    post(
        client,
        f"/formulas/{key}",
        **{**third, line_of(third, "270 g strong"): "290 g strong white flour", "deed": "save"},
    )
    done = post(client, f"/formulas/{key}/together", **{**form, radio: "both"})
    assert done.status_code == 303
    assert {"8 g fine salt", "6 g fine salt", "290 g strong white flour"} <= set(
        lines_of(fields(client.get(f"/formulas/{key}").text))
    )


def test_kitchens_lose_nothing_either(client) -> None:
    address = "/kitchens/lantern-quay-bakehouse"
    here = fields(client.get(address).text)
    post(client, address, **{**here, "room": "24"})
    post(client, address, **{**here, "fridge": "2 to 2"})
    both = fields(client.get(address).text)
    assert (both["room"], both["fridge"]) == ("24", "2")
    page = post(client, address, **{**here, "room": "18"})
    assert page.status_code == 409
    settled = post(client, f"{address}/together", **fields(page.text))
    assert settled.status_code == 303
    assert fields(client.get(address).text)["room"] == "18"
