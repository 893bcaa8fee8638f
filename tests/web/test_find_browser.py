"""In a real browser: the search by keyboard, filters while typing, axe, sizes, and how soon a page is painted."""

import socket
import threading
import time
from collections.abc import Iterator

import pytest
import uvicorn
from axe_playwright_python.sync_playwright import Axe

from oventide.formula.model import Formula
from oventide.kitchen.complete import complete
from oventide.services.outlooking import NoLive
from oventide.services.packets import packet_from, save_packet
from oventide.timeline.procedure import Product
from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]
PHONE = {"width": 390, "height": 844}
TABLET = {"width": 820, "height": 1180}
DESK = {"width": 1440, "height": 900}
PAGES = ["/", "/?page=2&by=name", "/find", "/find?q=popy", "/find?q=butter&of=ingredient", "/bakes", "/pantry",
         "/pantry/butter_unsalted", "/kitchens", "/kitchens/lantern-quay-bakehouse", "/glossary"]  # fmt: skip
FIRST_PAINT_MS = 1000


@pytest.fixture(scope="module")
def address(demo) -> Iterator[str]:
    app = create_app("sqlite://", live=NoLive())
    shelf = app.state.shelf
    for number in range(60):
        shelf.save_product(Product(name=f"Skerry knots {number:02d}", formula=Formula(name="k")), "for the market")
    saved, kitchen = shelf.save_product(demo[0]), shelf.save_kitchen(demo[1])
    shelf.save_kitchen(complete({"name": "Netloft winter kitchen", "room": 16.0, "oven_kind": "deck"}))
    save_packet(
        shelf, packet_from("butter_unsalted", {"price": "2.49", "currency": "EUR", "pack": "250", "fat": "84"}), 0
    )
    for name in ("Sunday coils", "Market coils"):
        app.state.bakes.begin(saved.content, kitchen.content, product_key=saved.key, kitchen_key=kitchen.key, name=name)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=port, log_level="error", lifespan="off"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    for _ in range(200):
        if server.started:
            break
        time.sleep(0.05)
    assert server.started
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)


@pytest.mark.parametrize(
    ("size", "dark"), [(PHONE, "light"), (TABLET, "dark"), (DESK, "light")], ids=["phone", "tablet by night", "desk"]
)
def test_axe_finds_nothing_and_nothing_is_too_wide_or_too_small(browser_page, address: str, size, dark: str) -> None:
    page = browser_page
    page.set_viewport_size(size)
    page.emulate_media(color_scheme=dark)
    faults = []
    for path in PAGES:
        page.goto(address + path)
        found = Axe().run(page).response["violations"]
        faults += [f"{path}: {v['id']} {[node['target'] for node in v['nodes']][:3]}" for v in found]
        wide = page.evaluate("document.documentElement.scrollWidth")
        faults += [f"{path}: {wide} px wide"] if wide > size["width"] else []
        small = page.evaluate(
            """[...document.querySelectorAll("a.hit, a.row-title, a.stocked, .leaves a, .sorted, .ways a, button")]
            .filter(e => e.offsetParent).map(e => [e.innerText, Math.round(e.getBoundingClientRect().height)])
            .filter(row => row[1] < 24)"""
        )
        faults += [f"{path}: {row}" for row in small]
    assert faults == [], "\n".join(faults)


def test_the_masthead_takes_two_rows_of_a_phone_at_most(browser_page, address: str) -> None:
    page = browser_page
    page.set_viewport_size(PHONE)
    page.goto(address)
    tops = page.evaluate(
        "[...document.querySelectorAll('.ways a')].map(e => Math.round(e.getBoundingClientRect().bottom))"
    )
    assert len(tops) == 8
    assert max(tops) <= 130
    lows = page.evaluate("[...document.querySelectorAll('.ways a')].map(e => e.getBoundingClientRect().height)")
    assert min(lows) >= 44


def test_the_search_by_keyboard_alone(browser_page, address: str) -> None:
    page = browser_page
    page.goto(address + "/about")
    page.keyboard.press("/")
    page.wait_for_url("**/find")
    page.locator("#seek:focus").wait_for()
    page.keyboard.type("popy coi")
    page.get_by_text("“poppy coi” was looked for").wait_for()
    assert page.url.endswith("/find?q=popy+coi"), "a copy of the address finds the same"
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.getAttribute('href')") == "/formulas/lantern-quay-poppy-coils"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    assert page.evaluate("document.activeElement.id") == "seek"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_url("**/formulas/lantern-quay-poppy-coils")
    page.go_back()
    page.get_by_text("“poppy coi” was looked for").wait_for()


def test_the_key_can_be_switched_off_and_is_a_letter_like_any_other_in_a_box(browser_page, address: str) -> None:
    page = browser_page
    page.goto(address + "/find")
    page.get_by_label("The key / comes here from any page").uncheck()
    page.goto(address + "/about")
    page.keyboard.press("/")
    page.wait_for_timeout(300)
    assert page.url.endswith("/about")
    page.goto(address + "/find")
    page.get_by_label("The key / comes here from any page").check()
    page.goto(address + "/")
    page.get_by_label("Name or note").fill("")
    page.get_by_label("Name or note").press("/")
    assert page.get_by_label("Name or note").input_value() == "/"


def test_a_list_is_filtered_while_typing(browser_page, address: str) -> None:
    page = browser_page
    page.goto(address + "/?by=name")
    page.get_by_label("Name or note").press_sequentially("knots 41")
    page.get_by_text("1 of 61 formulas").wait_for()
    assert "by=name" in page.url
    page.get_by_role("link", name="Skerry knots 41", exact=True).wait_for()
    page.goto(address + "/pantry")
    page.get_by_label("Name, group or allergen").press_sequentially("cardimom")
    page.get_by_text("“cardamom” was looked for").wait_for()


@pytest.mark.parametrize("path", ["/", "/find?q=poppy", "/pantry", "/bakes"])
def test_a_page_is_painted_within_a_second(browser_page, address: str, path: str) -> None:
    page = browser_page
    outside: list[str] = []
    page.on("request", lambda request: outside.append(request.url) if not request.url.startswith(address) else None)
    times = []
    for _ in range(4):
        page.goto(address + path)
        page.wait_for_function("() => performance.getEntriesByName('first-contentful-paint').length > 0")
        times.append(page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime"))
    assert min(times[1:]) <= FIRST_PAINT_MS, times
    assert outside == []
