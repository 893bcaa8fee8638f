"""In a real browser: the whole way by mouse, once by keyboard alone, and no page that axe finds fault with."""

import threading
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe

from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]
BAKE = "quay-2026-03-05"
PHONE = {"width": 390, "height": 844}
PLAIN = "Plain rolls\n\n500 g flour\n310 g water\n7 g instant yeast\n9 g salt\n\nBake at 200C for 20 minutes."
DESK = {"width": 1440, "height": 900}
PAGES = [
    "/", "/paste", "/about", "/kitchens/new", "/kitchens/lantern-quay-bakehouse", "/formulas/{key}",
    "/formulas/{key}/make-up", "/formulas/{key}/tide?ready_by=07%3A30", "/formulas/{key}/sheet?ready_by=07%3A30",
    "/formulas/{key}/section?minute=20",
    "/formulas/{key}/ruler", "/formulas/{key}/revisions", "/nothing", "/formulas/{key}/tide?ready_by=99",
    "/pantry", "/pantry/butter_unsalted", "/kitchens", "/find?q=poppy", "/glossary", "/compare", "/bakes",
    "/bakes/{bake}", "/bench", "/bench/{bake}", "/join", "/devices",
]  # fmt: skip


@pytest.fixture
def address(invented: None, serve_app, demo) -> Iterator[str]:
    """A served workbench with the demo on its shelf, and made-up forecasts."""
    app = create_app("sqlite://")
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    with serve_app(app) as server:
        yield server.address


@pytest.fixture
def quiet_page(browser_page) -> Iterator:
    """A page whose console must stay free of errors (a refused style or script would show there)."""
    heard: list[str] = []
    browser_page.on("console", lambda message: heard.append(message.text) if message.type == "error" else None)
    browser_page.on("pageerror", lambda error: heard.append(str(error)))
    yield browser_page
    assert [text for text in heard if "status of 4" not in text] == []


def test_from_a_paste_to_the_bench_sheet(quiet_page, address: str, recipe: str) -> None:
    page = quiet_page
    page.set_viewport_size(DESK)
    page.goto(address)
    page.get_by_role("link", name="Paste a recipe").last.click()
    page.get_by_label("The recipe, ingredients and method").fill(recipe)
    page.get_by_role("button", name="Read it").click()
    assert page.get_by_role("heading", name="As it was read").is_visible()
    assert "snowdrift" in page.content()
    page.get_by_role("button", name="Save on the shelf").click()
    assert page.get_by_role("heading", name="Quayside seed knots", level=1).is_visible()

    flour = page.locator('tr:has(input[value="400 g bread flour"])')
    before = page.locator("output").all_inner_texts()
    box = flour.get_by_label("Weight of line")
    box.fill("500")
    box.press("Tab")
    page.get_by_text("changed, not saved yet").first.wait_for()
    after = page.locator("output").all_inner_texts()
    assert box.input_value() == "500", "what is being typed is left alone"
    assert after != before, "the other lines' shares follow"
    page.get_by_label("Why you changed it").fill("a larger sheet")
    page.get_by_role("button", name="Save as revision 2").click()
    page.get_by_role("link", name="Revisions").click()
    assert page.get_by_role("heading", name="a larger sheet").is_visible()

    page.get_by_role("link", name="Make-up").click()
    drawn = page.locator("#d-tin svg").inner_html()
    page.get_by_role("textbox", name="Pieces").fill("16")
    page.get_by_role("textbox", name="Pieces").press("Tab")
    page.get_by_text("16 × ").first.wait_for()
    assert page.locator("#d-tin svg").inner_html() != drawn, "the tin is drawn anew"

    page.get_by_role("link", name="Tide", exact=True).click()
    page.get_by_label("Ready by").fill("07:30")
    page.get_by_role("button", name="Foresee").click()
    # a forecast that takes long shows a page of waiting first, which goes on by itself
    page.locator(".chart.wide svg").wait_for(timeout=60_000)
    page.locator("details.reading summary").first.click()
    assert page.get_by_text("Because:").first.is_visible()
    page.get_by_role("link", name="Bench sheet").first.click()
    assert page.get_by_role("article", name="Bench sheet").is_visible()
    link = page.get_by_role("link", name="PDF", exact=True).get_attribute("href")
    answer = page.request.get(address + link)
    assert answer.status == 200
    assert answer.body().startswith(b"%PDF")


def test_by_keyboard_alone(quiet_page, address: str) -> None:
    page = quiet_page
    page.goto(address)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"

    def go_to(words: str) -> None:
        for _ in range(60):
            page.keyboard.press("Tab")
            here = page.evaluate("(document.activeElement.innerText || document.activeElement.name || '').trim()")
            if here == words:
                outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
                assert outline != "none", f"the focus on {words} cannot be seen"
                return
        raise AssertionError(f"{words} cannot be reached by Tab")

    go_to("Paste a recipe")
    page.keyboard.press("Enter")
    page.wait_for_url("**/paste")
    go_to("text")
    page.keyboard.type(PLAIN)
    go_to("Read it")
    page.keyboard.press("Enter")
    page.wait_for_url("**/reading")
    go_to("Save on the shelf")
    page.keyboard.press("Enter")
    page.wait_for_url("**/formulas/plain-rolls")
    go_to("Tide")
    page.keyboard.press("Enter")
    page.wait_for_url("**/tide")
    page.get_by_role("heading", name="Step by step").wait_for(timeout=120_000)
    go_to("ready_by")
    page.keyboard.type("18:00")
    page.keyboard.press("Enter")
    page.wait_for_url("**ready_by=18*")
    # the waiting page gives way to the chart: Tab from there
    page.get_by_role("heading", name="Step by step").wait_for(timeout=120_000)
    go_to("Bench sheet")
    page.keyboard.press("Enter")
    page.wait_for_url("**/sheet")


def faults_of(page, path: str) -> list[str]:
    """What axe finds on the page that is open."""
    found = Axe().run(page).response["violations"]
    return [f"{path}: {v['id']} {[node['target'] for node in v['nodes']][:3]}" for v in found]


TOUCHED = "button, select, input:not([type=hidden]), summary, nav a, .berths a, a.go, a.plain, label.tick"


@pytest.mark.parametrize(("size", "dark"), [(PHONE, "light"), (DESK, "dark")], ids=["phone by day", "desk by night"])
def test_axe_finds_nothing(quiet_page, address: str, key: str, recipe: str, size: dict[str, int], dark: str) -> None:
    page = quiet_page
    page.set_viewport_size(size)
    page.emulate_media(color_scheme=dark)
    faults: list[str] = []
    for path in PAGES:
        page.goto(address + path.format(key=key, bake=BAKE))
        faults += faults_of(page, path)
        wide = page.evaluate("document.documentElement.scrollWidth")
        if wide > size["width"]:
            faults.append(f"{path}: {wide} px wide")
    page.goto(address + "/paste")
    page.get_by_label("The recipe, ingredients and method").fill(recipe)
    page.get_by_role("button", name="Read it").click()
    faults += faults_of(page, "reading")
    assert faults == [], "\n".join(faults)


def test_axe_would_find_something(quiet_page, address: str) -> None:
    page = quiet_page
    page.goto(address + "/paste")
    page.evaluate("document.documentElement.removeAttribute('lang'); document.querySelector('label').remove()")
    assert {v["id"] for v in Axe().run(page).response["violations"]} >= {"html-has-lang", "label"}


def test_what_is_touched_is_large_enough(quiet_page, address: str, key: str) -> None:
    page = quiet_page
    page.set_viewport_size(PHONE)
    small = []
    for path in PAGES:
        page.goto(address + path.format(key=key, bake=BAKE))
        small += page.evaluate(
            """([path, touched]) => [...document.querySelectorAll(touched)]
            .filter(e => e.offsetParent && !(/checkbox|radio/.test(e.type)) && !e.classList.contains('unseen'))
            .map(e => [path, e.innerText || e.name, Math.round(e.getBoundingClientRect().height)])
            .filter(row => row[2] < 44)""",
            [path, TOUCHED],
        )
    assert small == []


def test_the_sheet_prints_on_white_without_the_masthead(quiet_page, address: str, key: str) -> None:
    page = quiet_page
    page.emulate_media(media="print", color_scheme="dark")
    page.goto(f"{address}/formulas/{key}/sheet")
    assert not page.locator(".masthead").is_visible()
    colours = page.evaluate(
        "(s => [s.color, s.backgroundColor])(getComputedStyle(document.querySelector('.paper-sheet')))"
    )
    assert colours == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"]
    assert page.pdf(format="A4").startswith(b"%PDF")


@pytest.fixture
def go() -> Iterator[threading.Event]:
    """Lets a slow forecast end; at the latest with the test, so that none goes on behind the next one."""
    event = threading.Event()
    yield event
    event.set()


def test_a_forecast_under_way_is_followed_stopped_and_followed_to_its_end(
    quiet_page, address: str, key: str, go: threading.Event, make_forecast, monkeypatch: pytest.MonkeyPatch
) -> None:
    from oventide.services import foreseeing

    def slow(product, kitchen, *, progress, **rest):
        share = 0.0
        while not go.wait(0.05):
            share = min(share + 0.02, 0.9)
            progress(share)
        return make_forecast(product, kitchen, **rest)

    monkeypatch.setattr(foreseeing, "foresee", slow)
    page = quiet_page
    page.set_viewport_size(PHONE)
    tide = f"{address}/formulas/{key}/tide?ready_by=07%3A30"
    page.goto(tide)
    page.get_by_role("heading", name="Foreseeing").wait_for()
    assert faults_of(page, "waiting") == []
    first = page.locator("#going-share").inner_text()
    page.wait_for_function("first => document.getElementById('going-share').innerText !== first", arg=first)
    page.get_by_role("button", name="Stop").click()
    page.get_by_text("Nothing was foreseen.").wait_for()
    page.get_by_role("button", name="Foresee").click()
    page.get_by_role("heading", name="Foreseeing").wait_for()
    go.set()
    page.locator(".chart.tall svg").wait_for()
    assert page.locator("#going-share").count() == 0


def test_without_scripts_the_waiting_page_looks_again_by_itself(
    chromium, address: str, key: str, go: threading.Event, make_forecast, monkeypatch: pytest.MonkeyPatch
) -> None:
    from oventide.services import foreseeing

    def slow(product, kitchen, *, progress, **rest):
        while not go.wait(0.05):
            progress(0.4)
        return make_forecast(product, kitchen, **rest)

    monkeypatch.setattr(foreseeing, "foresee", slow)
    page = chromium.new_context(java_script_enabled=False, viewport=PHONE).new_page()
    page.goto(f"{address}/formulas/{key}/sheet?ready_by=07%3A30")
    assert page.get_by_role("link", name="Look again").is_visible()
    go.set()
    page.locator(".paper-sheet").wait_for(timeout=15_000)
    page.context.close()


def test_what_was_saved_elsewhere_is_told_and_what_is_being_typed_stays(quiet_page, address: str, key: str) -> None:
    page = quiet_page
    page.set_viewport_size(DESK)
    page.goto(f"{address}/formulas/{key}")
    box = page.get_by_label("Weight of line").first
    box.fill("123")
    other = page.context.new_page()
    other.goto(f"{address}/formulas/{key}")
    other.get_by_label("Why you changed it").fill("from another window")
    other.get_by_role("button", name="Save as revision 2").click()
    other.get_by_text("Revision 2").first.wait_for()
    assert other.locator(".news").inner_text() == "", "who saved it is not told of it"
    other.close()
    news = page.get_by_role("status").filter(has_text="Revision 2 was saved in another window")
    news.wait_for(timeout=5000)
    assert box.input_value() == "123"
    assert news.get_by_role("link", name="Look at it").get_attribute("href") == f"/formulas/{key}?revision=2"
    assert Axe().run(page).violations_count == 0
    news.get_by_role("button", name="Not now").click()
    assert page.get_by_text("was saved in another window").count() == 0
