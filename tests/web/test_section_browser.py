"""The section through the tin in a real browser: the slider by keyboard, playing and stopping, narrow paper, axe."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe

from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]
SIZES = {"phone": (390, 844), "tablet": (820, 1180), "desk": (1440, 900)}


@pytest.fixture
def section(invented: None, serve_app, demo, key: str) -> Iterator[str]:
    app = create_app("sqlite://")
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    with serve_app(app) as server:
        yield f"{server.address}/formulas/{key}/section"


def test_minute_by_minute_by_keyboard(browser_page, section: str) -> None:
    page = browser_page
    page.goto(f"{section}?minute=20")
    slider = page.get_by_role("slider", name="Minute since the oven’s door")
    slider.focus()
    drawn = page.locator("#section-picture .section .wide svg").first
    before = drawn.inner_html()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("() => document.getElementById('section-said').innerText.startsWith('21')")
    assert drawn.inner_html() != before
    assert slider.get_attribute("aria-valuetext").startswith("21\u202fmin")
    assert page.get_by_label("Minute since", exact=False).first.input_value() == "21"
    page.keyboard.press("End")
    page.wait_for_function("() => document.getElementById('section-said').innerText.startsWith('40')")


def test_it_plays_stops_and_goes_slowly_where_less_motion_is_asked_for(browser_page, section: str) -> None:
    page = browser_page
    page.goto(f"{section}?minute=5")
    button = page.get_by_role("button", name="Play")
    button.click()
    page.wait_for_function("() => Number(document.getElementById('section-minute').value) >= 9")
    page.get_by_role("button", name="Pause").click()
    stopped = page.locator("#section-minute").input_value()
    page.wait_for_timeout(600)
    assert page.locator("#section-minute").input_value() == stopped
    page.emulate_media(reduced_motion="reduce")
    page.get_by_role("button", name="Play").click()
    page.wait_for_timeout(1500)
    assert int(page.locator("#section-minute").input_value()) - int(stopped) <= 1


def test_a_minute_is_there_at_once(browser_page, section: str) -> None:
    page = browser_page
    page.goto(f"{section}?minute=10")
    took = page.evaluate(
        """async () => {
          const slider = document.getElementById("section-minute");
          const times = [];
          for (let minute = 30; minute > 20; minute -= 1) {
            const began = performance.now();
            slider.value = String(minute);
            slider.dispatchEvent(new Event("input", { bubbles: true }));
            while (!document.getElementById("section-said").textContent.startsWith(String(minute))) {
              await new Promise((done) => setTimeout(done, 4));
            }
            times.push(performance.now() - began);
          }
          return times.sort((a, b) => a - b)[5];
        }"""
    )
    assert took < 400, f"{took:.0f} ms"


def test_without_scripts_five_moments_stand_in_a_row(chromium, section: str) -> None:
    page = chromium.new_context(java_script_enabled=False).new_page()
    page.goto(section)
    assert page.locator(".moments .section svg").count() == 5
    assert not page.locator(".player").is_visible()
    page.get_by_role("textbox", name="Minute").fill("12")
    page.get_by_role("button", name="Look").click()
    assert page.locator("#section-said").inner_text().startswith("12")
    page.context.close()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(browser_page, section: str, size: str, scheme: str) -> None:
    page = browser_page
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": SIZES[size][0], "height": SIZES[size][1]})
    page.goto(f"{section}?minute=22&view=water")
    page.locator("#section-picture svg").first.wait_for(state="attached")
    found = Axe().run(page).response["violations"]
    assert [f"{v['id']} {[node['target'] for node in v['nodes']][:3]}" for v in found] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]
