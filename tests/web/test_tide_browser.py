"""The tide page in a real browser: handles by mouse, touch and keyboard, steps chosen on the chart, print, axe."""

import threading
from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe

from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]
SIZES = {"phone": (390, 844, "tall"), "tablet": (820, 1180, "middling"), "desk": (1440, 900, "wide")}


@pytest.fixture
def address(invented: None, serve_app, demo) -> Iterator[str]:
    app = create_app("sqlite://")
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    with serve_app(app) as server:
        yield server.address


def opened(page, address: str, key: str, size: str = "desk", query: str = "ready_by=07%3A30") -> str:
    wide, high, chart = SIZES[size]
    page.set_viewport_size({"width": wide, "height": high})
    page.goto(f"{address}/formulas/{key}/tide?{query}")
    page.locator(f".chart.{chart} svg").wait_for()
    return chart


def drag(page, handle, right: float, down: float = 0) -> str:
    handle.scroll_into_view_if_needed()
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + right, y + down, steps=6)
    held = handle.get_attribute("aria-valuetext")
    page.mouse.up()
    return held


def test_the_ready_by_time_is_dragged(browser_page, address: str, key: str) -> None:
    page = browser_page
    opened(page, address, key)
    handle = page.get_by_role("slider", name="Ready by").locator("visible=true")
    assert handle.get_attribute("aria-valuetext") == "07:30"
    began = page.locator("#tide-said").inner_text()
    held = drag(page, handle, -160)
    assert held < "07:00"
    page.wait_for_url(f"**ready_by={held.replace(':', '%3A')}**")
    assert page.get_by_label("Ready by", exact=False).first.input_value() == held
    page.wait_for_function("began => document.getElementById('tide-said').innerText !== began", arg=began)
    assert handle.get_attribute("aria-valuetext") == held
    assert page.locator(".chart.wide .tc-moves").get_attribute("transform") is None, "drawn anew by the server"


def test_by_keyboard_in_steps_of_five_and_one(browser_page, address: str, key: str) -> None:
    page = browser_page
    opened(page, address, key)
    handle = page.get_by_role("slider", name="Ready by").locator("visible=true")
    handle.focus()
    for press, told in (
        ("ArrowRight", "07:35"),
        ("Shift+ArrowLeft", "07:34"),
        ("PageUp", "08:35"),
        ("ArrowDown", "08:30"),
    ):
        page.keyboard.press(press)
        assert handle.get_attribute("aria-valuetext") == told, press
    page.wait_for_url("**ready_by=08%3A30**")
    page.wait_for_function("() => document.activeElement.getAttribute('role') === 'slider'")
    page.keyboard.press("ArrowRight")
    assert handle.get_attribute("aria-valuetext") == "08:35", "the answer leaves the keyboard where it was"


def test_no_answer_draws_under_a_handle_that_is_held(
    browser_page, address: str, key: str, make_forecast, monkeypatch: pytest.MonkeyPatch
) -> None:
    from oventide.services import foreseeing

    page = browser_page
    opened(page, address, key)
    go = threading.Event()

    def slow(product, kitchen, *, progress, **rest):
        while not go.wait(0.05):
            progress(0.4)
        return make_forecast(product, kitchen, **rest)

    monkeypatch.setattr(foreseeing, "foresee", slow)
    try:
        handle = page.get_by_role("slider", name="Ready by").locator("visible=true")
        drag(page, handle, -100)
        page.get_by_text("The chart is moved to the new time").wait_for()  # and is asked after every 300 ms
        handle.scroll_into_view_if_needed()
        box = handle.bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x - 60, y, steps=3)
        held = handle.get_attribute("aria-valuetext")
        page.wait_for_timeout(900)
        assert handle.get_attribute("aria-valuetext") == held
        go.set()
        page.mouse.up()
        page.wait_for_url(f"**ready_by={held.replace(':', '%3A')}**")
        page.locator(".going").wait_for(state="detached")
        assert handle.get_attribute("aria-valuetext") == held
    finally:
        go.set()


def test_the_handle_is_moved_by_touch_on_a_phone(chromium, address: str, key: str) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    opened(page, address, key, "phone")
    handle = page.locator(".chart.tall [data-handle=ready]")
    assert handle.get_attribute("aria-orientation") == "vertical"
    handle.scroll_into_view_if_needed()
    box = handle.bounding_box()
    assert box["height"] >= 44
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    scrolled = page.evaluate("scrollY")
    finger = page.context.new_cdp_session(page)
    finger.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for k in range(1, 7):
        finger.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [{"x": x, "y": y - 8 * k}]})
    assert handle.get_attribute("aria-valuetext") < "07:30"
    assert page.evaluate("scrollY") == scrolled, "the page stays where it is while the handle is held"
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    page.wait_for_url("**ready_by=0**")
    context.close()


def test_the_moment_to_uncover_is_dragged_and_kept(browser_page, address: str, key: str) -> None:
    page = browser_page
    opened(page, address, key)
    handle = page.get_by_role("slider", name="Uncover after").locator("visible=true")
    assert handle.get_attribute("aria-valuetext") == "20\u202fmin"
    held = drag(page, handle, -170).split()[0]
    assert int(held) < 18
    table = page.get_by_role("region", name="What it changes")
    table.wait_for()
    assert f"tried: {held} min" in table.inner_text()
    assert page.get_by_label("Uncover after, min").input_value() == held
    page.get_by_role("button", name="Keep this as revision 2").click()
    page.get_by_text("revision 2").first.wait_for()
    assert f"written {held}" in page.locator("#uncover").inner_text()


def test_the_box_beside_does_the_same_as_the_handle(browser_page, address: str, key: str) -> None:
    page = browser_page
    opened(page, address, key, "tablet")
    box = page.get_by_label("Uncover after, min")
    box.fill("12")
    box.press("Tab")
    page.get_by_text("tried: 12 min").wait_for()
    handle = page.get_by_role("slider", name="Uncover after").locator("visible=true")
    assert handle.get_attribute("aria-valuetext") == "12\u202fmin"


def test_a_step_is_chosen_on_the_chart_and_stays_chosen(browser_page, address: str, key: str) -> None:
    page = browser_page
    opened(page, address, key)
    page.locator(".chart.wide a[href='#s3'] rect").first.click()
    shown = "() => [...document.querySelectorAll('.tstep')].filter(s => s.open).map(s => s.dataset.step).join()"
    page.wait_for_function(f"() => ({shown})() === '3'")
    page.get_by_label("Ready by", exact=False).first.fill("08:00")
    page.get_by_label("Ready by", exact=False).first.press("Enter")
    page.wait_for_url("**ready_by=08%3A00**")
    page.wait_for_function(f"() => ({shown})() === '3'")


def test_without_scripts_steps_open_by_link_and_one_at_a_time(chromium, address: str, key: str) -> None:
    page = chromium.new_context(java_script_enabled=False, viewport={"width": 820, "height": 1180}).new_page()
    page.goto(f"{address}/formulas/{key}/tide?ready_by=07%3A30&uncover=14")
    page.locator(".chart.middling svg").wait_for()
    page.locator(".tstep > summary").nth(4).click()
    assert page.locator(".tstep[open]").count() == 1
    assert page.locator("#s5").is_visible()
    page.locator(".chart.middling a[href='#s12'] rect").last.click()
    assert page.locator("#s12").is_visible()
    assert page.get_by_role("slider").count() == 0, "no slider where nothing would move it"
    assert page.get_by_role("region", name="What it changes").is_visible()
    page.context.close()


def test_on_paper_every_step_stands_open(browser_page, address: str, key: str) -> None:
    page = browser_page
    opened(page, address, key)
    page.emulate_media(media="print")
    tall = page.evaluate("[...document.querySelectorAll('.tstep > .body')].map(b => b.getBoundingClientRect().height)")
    assert len(tall) > 10
    assert min(tall) > 20


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_and_the_page_is_short(browser_page, address: str, key: str, size: str, scheme: str) -> None:
    page = browser_page
    page.emulate_media(color_scheme=scheme)
    opened(page, address, key, size, "ready_by=07%3A30&uncover=14")
    found = Axe().run(page).response["violations"]
    assert [f"{v['id']} {[node['target'] for node in v['nodes']][:3]}" for v in found] == []
    wide, high = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.scrollHeight]")
    assert wide <= SIZES[size][0]
    assert high < {"phone": 7500, "tablet": 5500, "desk": 5000}[size]
