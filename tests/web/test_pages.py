"""Each page: answers, says what is amiss, holds to its context, and takes nothing from strangers."""

import re
from html import unescape
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlencode

import pytest
from jinja2 import Environment, meta, nodes

from oventide.web import guard
from oventide.web.context import PageContext
from oventide.web.render import FRAME, TEMPLATES, make_environment
from oventide.web.routes import ROUTES

if TYPE_CHECKING:
    from fastapi.testclient import TestClient

OWN = {"origin": "http://127.0.0.1:8711", "sec-fetch-site": "same-origin"}
PAGES = [
    "/find?q=poppy", "/find", "/glossary", "/kitchens", "/bakes", "/pantry", "/pantry?q=buter",
    "/pantry/butter_unsalted", "/pantry/egg_whole",
    "/", "/paste", "/about", "/kitchens/new", "/kitchens/lantern-quay-bakehouse", "/formulas/{key}",
    "/formulas/{key}/make-up", "/formulas/{key}/tide", "/formulas/{key}/tide?ready_by=07%3A30",
    "/formulas/{key}/tide?ready_by=07%3A30&kitchen=usual", "/formulas/{key}/sheet?ready_by=7.30",
    "/formulas/{key}/sheet", "/formulas/{key}/sheet?kind=formula&language=de&units=f", "/formulas/{key}/ruler",
    "/formulas/{key}/sheet?kind=wall&paper=letter", "/formulas/{key}/sheet?kind=handout&kitchen=usual",
    "/formulas/{key}/sheet?kind=ruler", "/formulas/{key}/sheet/look?kind=formula&language=fr&units=oz",
    "/formulas/{key}/revisions", "/formulas/{key}?revision=1",
    "/formulas/{key}/section?minute=20",
    "/join", "/devices",
]  # fmt: skip
PAGES += ["/compare", "/compare?one={key}&other={key}%401", "/compare?one=lantern&other=poppy&ready_by=07:30"]


def hidden(page: str, name: str) -> str:
    """The value of a hidden field."""
    found = re.search(rf'<input type="hidden" name="{name}" value="([^"]*)"', page)
    assert found, f"no hidden field {name}"
    return unescape(found[1])


def fields(page: str) -> dict[str, str]:
    """Every text box, select and ticked box of a page as a browser would send it."""
    boxes = re.findall(r'<input[^>]*? name="([^"]+)"[^>]*? value="([^"]*)"', page)
    sent = {name: unescape(value) for name, value in boxes}
    for whole in re.findall(r"<input[^>]*>", page):
        name = re.search(r' name="([^"]+)"', whole)
        if name and re.search(r'type="(checkbox|radio)"', whole) and " checked" not in whole:
            sent.pop(name[1], None)
    for name, body in re.findall(r'<select[^>]*? name="([^"]+)"[^>]*>(.*?)</select>', page, re.DOTALL):
        chosen = re.search(r'<option value="([^"]*)" selected', body) or re.search(r'<option value="([^"]*)"', body)
        sent[name] = unescape(chosen[1]) if chosen else ""
    for name, body in re.findall(r'<textarea[^>]*? name="([^"]+)"[^>]*>\n?(.*?)</textarea>', page, re.DOTALL):
        sent[name] = unescape(body)
    return sent


def post(client: "TestClient", address: str, **data: str):
    return client.post(address, data=data, headers=OWN)


@pytest.mark.parametrize("address", PAGES)
def test_each_page_answers(client: "TestClient", key: str, address: str) -> None:
    answer = client.get(address.format(key=key))
    assert answer.status_code == 200, answer.text[-2000:]
    assert '<html lang="en">' in answer.text
    assert 'href="#main"' in answer.text
    assert "style=" not in answer.text, "the content policy refuses styles in the page"
    assert not re.search(r"<script(?![^>]* src=)", answer.text)


@pytest.mark.parametrize("address", PAGES)
@pytest.mark.parametrize("switched", ["f", "oz"])
def test_each_page_answers_in_the_other_units(client: "TestClient", key: str, address: str, switched: str) -> None:
    client.cookies.set("oventide_degree" if switched == "f" else "oventide_mass", switched)
    assert client.get(address.format(key=key)).status_code == 200


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.name + route.path)
def test_every_address_is_asked_for_by_a_test(route) -> None:
    pattern = re.sub(r"\\\{\w+\\\}", "[^/]+", re.escape(route.path)) + "$"
    asked = [address.split("?")[0] for address in PAGES] + ["/reading", "/units"]
    asked += [f"/formulas/x/{name}.pdf" for name in ("sheet", "ruler")]
    asked += ["/language", "/words/{language}.json"]  # tests/web/test_language.py
    asked += [f"/formulas/x/formula.{ending}" for ending in ("toml", "jsonld")]  # tests/web/test_files.py
    asked += ["/formulas/x/together", "/kitchens/x/together"]  # tests/web/test_table.py
    asked += ["/bench", "/bench/alarms", "/bench/x", "/bench/x/view", "/bench/x/entries"]  # tests/web/bench
    asked += ["/bench/x/forgotten"]  # tests/web/test_bench_notes.py
    asked += ["/oventide-worker.js"]  # tests/web/bench
    asked += ["/join/certificate"]  # tests/web/test_joining.py
    asked += ["/bakes/x"]  # tests/web/test_tide_bake.py
    assert any(re.match(pattern, address) for address in asked)


def contexts() -> list[tuple[str, type[PageContext]]]:
    from oventide.web.pages import refused

    found = {(route.name, context) for route in ROUTES if (context := route.context())}
    return sorted(found | {("refused", refused.Shown)}, key=lambda pair: pair[0])


def names_in(environment: Environment, source: str) -> set[str]:
    """Names that a template takes from its context: what it uses less the macros that it imports."""
    tree = environment.parse(source)
    imported = {name for node in tree.find_all(nodes.FromImport) for name in node.names}
    return meta.find_undeclared_variables(tree) - imported


@pytest.mark.parametrize(("name", "context"), contexts(), ids=lambda value: str(value))
def test_a_template_uses_its_context_and_nothing_else(name: str, context: type[PageContext]) -> None:
    environment = make_environment()
    source = (TEMPLATES / f"{name}.html").read_text(encoding="utf-8")
    frame = next(node.template.value for node in environment.parse(source).find_all(nodes.Extends))
    base = (TEMPLATES / frame).read_text(encoding="utf-8")
    part = TEMPLATES / f"_{name}.html"
    used = set(names_in(environment, source))
    if part.is_file():
        used |= names_in(environment, part.read_text(encoding="utf-8"))
    if frame != "base.html":  # what the common frame takes is in FRAME; another frame takes from the context
        used |= names_in(environment, base)
    assert used | names_in(environment, base) <= set(FRAME) | set(context.documented())
    assert set(context.documented()) <= used, "the context carries something that the page does not show"


@pytest.mark.parametrize(("name", "context"), contexts(), ids=lambda value: str(value))
def test_every_field_of_a_context_says_what_it_holds(name: str, context: type[PageContext]) -> None:
    assert all(len(words) > 10 for words in context.documented().values())
    assert (TEMPLATES / f"{name}.html").is_file()


def test_a_paste_comes_back_line_by_line_and_is_saved(client: "TestClient", recipe: str) -> None:
    read = post(client, "/reading", text=recipe, spoons="", eggs="")
    assert read.status_code == 200
    assert "strong white bread flour" in read.text or "bread flour" in read.text
    assert "snowdrift" in read.text, "a line that was not understood is shown"
    saved = post(client, "/reading", **{**fields(read.text), "deed": "save"})
    assert saved.status_code == 303, saved.text[:3000]
    assert saved.headers["location"] == "/formulas/quayside-seed-knots"
    page = client.get(saved.headers["location"])
    assert "400 g bread flour" in page.text
    assert "snowdrift" in page.text


def test_a_reading_put_right_is_read_again(client: "TestClient", recipe: str) -> None:
    read = post(client, "/reading", text=recipe, spoons="us", eggs="us_large")
    form = fields(read.text)
    line = next(name for name, value in form.items() if value == "35 g sugar")
    again = post(client, "/reading", **{**form, line: "45 g honey", "deed": "again"})
    assert again.status_code == 200
    assert "45 g honey" in fields(again.text).values()
    assert "35 g sugar" not in fields(again.text).values()


def test_saving_a_change_makes_a_revision_and_an_old_window_cannot_overwrite_it(client: "TestClient", key: str) -> None:
    page = client.get(f"/formulas/{key}").text
    form = fields(page)
    line = next(name for name, value in form.items() if value.startswith("7 g fine salt"))
    grams = line.replace(".text", ".grams")
    saved = post(client, f"/formulas/{key}", **{**form, grams: "8", "note": "saltier", "deed": "save"})
    assert saved.status_code == 303, saved.text[:2000]
    newest = client.get(f"/formulas/{key}").text
    assert fields(newest)[grams] == "8"
    assert "weight given by the baker" in newest
    history = client.get(f"/formulas/{key}/revisions").text
    assert "saltier" in history
    assert "7\u202fg, 1.9\u202f% → 8\u202fg, 2.2\u202f%" in history


def test_a_change_is_worked_out_without_saving(client: "TestClient", key: str) -> None:
    form = fields(client.get(f"/formulas/{key}").text)
    line = next(name for name, value in form.items() if value.startswith("270 g strong"))
    part = client.post(f"/formulas/{key}", data={**form, line.replace(".text", ".grams"): "370"},
                       headers={**OWN, "hx-request": "true"})  # fmt: skip
    assert part.status_code == 200
    assert "<html" not in part.text, "htmx gets the part only"
    assert "460" in part.text, "flour in all: 90 in the sponge and 370"
    assert "not saved yet" in part.text
    assert fields(client.get(f"/formulas/{key}").text)[line.replace(".text", ".grams")] == "270"


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("c1.l0.grams", "-50", "must lie"),
        ("c1.l0.grams", "lots", "not a number"),
        ("c1.l0.grams", "99999999", "must lie"),
        ("s0.minutes", "soon", "not a number"),
        ("s0.minutes", "-3", "Minutes are"),
        ("name", "", "needs a name"),
    ],
)
def test_what_is_amiss_is_marked_and_nothing_typed_is_lost(
    client: "TestClient", key: str, field: str, typed: str, words: str
) -> None:
    form = fields(client.get(f"/formulas/{key}").text)
    answer = post(client, f"/formulas/{key}", **{**form, field: typed, "notes": "kept as typed", "deed": "save"})
    assert answer.status_code == 422
    again = fields(answer.text)
    assert again[field] == typed
    assert again["notes"] == "kept as typed"
    box = re.search(rf'<input id="f-{re.escape(field)}"[^>]*>', answer.text)
    assert box
    assert 'aria-invalid="true"' in box[0]
    described = re.search(r'aria-describedby="([^"]+)"', box[0])
    assert described
    message = re.search(rf'id="{re.escape(described[1])}">(.*?)</span>', answer.text, re.DOTALL)
    assert message
    assert words in message[1]
    assert len(client.app.state.shelf.product_history(key)) == 1, "nothing was stored"


@pytest.mark.parametrize(
    ("field", "typed"),
    [("sheet", "wide"), ("tin", "30 parsec"), ("pieces", "0"), ("pieces", "a dozen and a bit"), ("trim", "-1"),
     ("tin", "3 cm")],
)  # fmt: skip
def test_a_make_up_that_cannot_be_is_marked(client: "TestClient", key: str, field: str, typed: str) -> None:
    form = fields(client.get(f"/formulas/{key}/make-up").text)
    answer = post(client, f"/formulas/{key}/make-up", **{**form, field: typed, "deed": "save"})
    assert answer.status_code == 422
    assert fields(answer.text)[field] == typed
    assert len(client.app.state.shelf.product_history(key)) == 1


def test_a_make_up_is_drawn_anew_and_saved(client: "TestClient", key: str) -> None:
    form = fields(client.get(f"/formulas/{key}/make-up").text)
    part = client.post(f"/formulas/{key}/make-up", data={**form, "sheet": "36 x 32", "pieces": "9"},
                       headers={**OWN, "hx-request": "true"})  # fmt: skip
    assert part.status_code == 200
    assert "36 × 32 cm" in part.text
    assert "9 × " in part.text
    assert "<svg" in part.text
    assert post(client, f"/formulas/{key}/make-up", **{**form, "pieces": "9", "deed": "save"}).status_code == 303
    assert client.app.state.shelf.product(key).content.makeup.pieces == 9


@pytest.mark.parametrize(
    ("field", "typed"), [("fridge", "31"), ("room", "400"), ("fridge", "cold"), ("name", ""), ("altitude_m", "-9000")]
)
def test_a_kitchen_that_cannot_be_is_marked(client: "TestClient", field: str, typed: str) -> None:
    form = {"name": "Attic", "room": "19 to 23", "fridge": "4", "oven_kind": "static", field: typed}
    answer = post(client, "/kitchens/new", **form)
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.text
    assert fields(answer.text)["room"] == form["room"]
    assert len(client.app.state.shelf.kitchens()) == 1


def test_a_kitchen_is_saved_and_what_is_assumed_stands_apart(client: "TestClient") -> None:
    answer = post(client, "/kitchens/new", name="Attic", room="19 to 23", fridge="4", oven_kind="static")
    assert answer.status_code == 303
    page = client.get(answer.headers["location"]).text
    again = fields(page)
    assert (again["room"], again["fridge"], again["tap_water"], again["oven_kind"]) == ("19 to 23", "4", "", "static")
    assert '<div class="assumed">' in page
    assert again["mixer"] == "", "a mixer that nobody named stays assumed"


def test_fahrenheit_typed_is_celsius_stored(client: "TestClient") -> None:
    client.cookies.set("oventide_degree", "f")
    assert post(client, "/kitchens/new", name="Attic", room="68", fridge="41").status_code == 303
    kitchen = client.app.state.shelf.kitchen("attic").content
    assert kitchen.room.likely == pytest.approx(20)
    assert kitchen.fridge.likely == pytest.approx(5)


@pytest.mark.parametrize("typed", ["25:00", "noonish", "7:30 rm"])
def test_a_time_that_is_none_is_marked(client: "TestClient", key: str, typed: str) -> None:
    for page in ("tide", "sheet"):
        answer = client.get(f"/formulas/{key}/{page}?{urlencode({'ready_by': typed})}")
        assert answer.status_code == 422
        assert "00:00 to 23:59" in answer.text
        assert fields(answer.text)["ready_by"] == typed


@pytest.mark.parametrize("text", ["", "   \n ", "\x00\x01\x02", '[[component]]\nname = "half'])
def test_a_paste_that_is_no_recipe_is_answered_in_words(client: "TestClient", text: str) -> None:
    answer = post(client, "/reading", text=text, spoons="", eggs="")
    assert answer.status_code == 422
    assert 'id="mark-text"' in answer.text
    assert 'role="alert"' in answer.text
    assert len(client.app.state.shelf.products()) == 1


def test_a_paste_over_the_limit_is_refused_in_words(client: "TestClient") -> None:
    answer = post(client, "/reading", text="1 g flour\n" * 110_000, spoons="", eggs="")
    assert answer.status_code == 413
    assert "1 MB" in answer.text


def test_forty_megabytes_are_refused_before_they_are_read(client: "TestClient") -> None:
    taken = 0

    def body():
        nonlocal taken
        for _ in range(640):
            taken += 65_536
            yield b"text=" + b"a" * 65_531 if taken == 65_536 else b"a" * 65_536

    answer = client.post("/reading", content=body(),
                         headers={**OWN, "content-type": "application/x-www-form-urlencoded"})  # fmt: skip
    assert answer.status_code == 413
    assert "more than a recipe" in answer.text
    announced = client.post("/reading", content=b"text=a", headers={
        **OWN, "content-type": "application/x-www-form-urlencoded", "content-length": "41943040"})  # fmt: skip
    assert announced.status_code == 413


def test_what_a_baker_types_is_never_markup(client: "TestClient") -> None:
    evil = '<script>alert("x")</script>'
    read = post(client, "/reading", text=f"{evil}\n\n500 g flour\n10 g salt {evil}\n300 g water\n", spoons="", eggs="")
    assert read.status_code == 200
    assert evil not in read.text
    form = fields(read.text)
    saved = post(client, "/reading", **{**form, "name": evil, "deed": "save"})
    assert saved.status_code == 303
    for page in ("", "/revisions", "/make-up", "/sheet"):
        assert evil not in client.get(saved.headers["location"] + page).text
    assert evil not in client.get("/").text


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"origin": "http://elsewhere.example", "sec-fetch-site": "cross-site"}, 403),
        ({"origin": "null"}, 403),
        ({"sec-fetch-site": "same-site"}, 403),
        ({"origin": "http://127.0.0.1:9999"}, 403),
        (OWN, 303),
    ],
)
def test_a_change_is_taken_from_our_own_pages_only(client: "TestClient", headers: dict[str, str], status: int) -> None:
    answer = client.post("/kitchens/new", data={"name": "Attic"}, headers=headers)
    assert answer.status_code == status
    assert len(client.app.state.shelf.kitchens()) == (2 if status == 303 else 1)


@pytest.mark.parametrize(
    ("host", "status"),
    [("127.0.0.1:8711", 200), ("localhost:8711", 200), ("[::1]:8711", 200), ("bakery.example", 421),
     ("127.0.0.1.example", 421), ("", 421)],
)  # fmt: skip
def test_a_foreign_name_gets_nothing(client: "TestClient", host: str, status: int) -> None:
    assert client.get("/", headers={"host": host}).status_code == status


@pytest.mark.parametrize("address", ["/", "/nothing", "/static/oventide.css", "/formulas/none"])
def test_every_answer_carries_the_guard_s_headers(client: "TestClient", address: str) -> None:
    answer = client.get(address)
    for name, value in guard.HEADERS.items():
        assert answer.headers[name] == value
    assert "unsafe" not in answer.headers["content-security-policy"]


@pytest.mark.parametrize(
    "address", ["/nothing", "/formulas/none", "/formulas/{key}?revision=99", "/kitchens/none", "/static/none.css",
                "/static/../app.py", "/static/%2e%2e/app.py"],
)  # fmt: skip
def test_what_is_not_there_is_a_page_too(client: "TestClient", key: str, address: str) -> None:
    answer = client.get(address.format(key=key))
    assert answer.status_code == 404
    assert "Back to the shelf" in answer.text


def test_something_unforeseen_shows_no_traceback(
    client: "TestClient", monkeypatch: pytest.MonkeyPatch, key: str
) -> None:
    from oventide.services import weighing

    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr(weighing, "weigh", broken)
    quiet = type(client)(client.app, base_url="http://127.0.0.1:8711", raise_server_exceptions=False)
    answer = quiet.get(f"/formulas/{key}")
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text
    assert "could not be worked out" in answer.text


@pytest.mark.parametrize(
    ("back", "where"),
    [("/formulas/x?ready_by=07%3A30", "/formulas/x?ready_by=07%3A30"), ("//elsewhere.example", "/"),
     ("https://elsewhere.example/", "/"), ("/\\elsewhere.example", "/")],
)  # fmt: skip
def test_the_switch_leads_back_here_only(client: "TestClient", back: str, where: str) -> None:
    answer = post(client, "/units", degree="f", back=back)
    assert answer.status_code == 303
    assert answer.headers["location"] == where
    assert "oventide_degree=f" in answer.headers["set-cookie"]


def test_an_earlier_revision_is_taken_up_as_a_new_one(client: "TestClient", key: str) -> None:
    shelf = client.app.state.shelf
    first = shelf.product(key).content
    shelf.save_product(first.model_copy(update={"notes": "second"}), key=key)
    assert post(client, f"/formulas/{key}/revisions", revision="1").status_code == 303
    assert [saved.content.notes for saved in shelf.product_history(key)] == [first.notes, "second", first.notes]


def test_paper_is_a_pdf(client: "TestClient", key: str) -> None:
    for name in ("sheet.pdf?ready_by=07%3A30&paper=letter", "sheet.pdf", "ruler.pdf?paper=a4"):
        answer = client.get(f"/formulas/{key}/{name}")
        assert answer.status_code == 200, answer.text[:500]
        assert answer.content.startswith(b"%PDF")


def test_scripts_are_small_and_ours(root: Path) -> None:
    import gzip

    folder = root / "src" / "oventide" / "web" / "static"
    total = sum(len(gzip.compress(path.read_bytes())) for path in folder.rglob("*.js"))
    assert total <= 150_000, f"{total} bytes of script, gzipped"
    assert (folder / "vendor" / "htmx-LICENSE.txt").is_file()
    assert {path.suffix for path in folder.rglob("*") if path.is_file()} <= {".css", ".js", ".woff2", ".txt", ".svg"}
