"""The evening table in a real browser: typed, moved, taken back, played with; by keyboard; no fault by axe."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from tests.web.test_browser import DESK, PHONE, address, quiet_page

pytestmark = [pytest.mark.browser, pytest.mark.slow]
__all__ = ["address", "quiet_page"]
FORMULA = "/formulas/lantern-quay-poppy-coils"
SALT = "[name='c1.l5.text']"


def test_the_balance_moves_while_a_line_is_typed_and_the_line_is_taken_up_when_it_is_left(quiet_page, address) -> None:
    page = quiet_page
    page.set_viewport_size(DESK)
    page.goto(address + FORMULA)
    salt = page.locator(".st-of-salt .st-line")
    before = float(salt.get_attribute("y"))
    page.locator(SALT).fill("10.5 g fine salt")
    page.locator("[id='p-c1.l5']", has_text="2.9").wait_for()
    assert float(salt.get_attribute("y")) < before, "more salt stands higher"
    assert page.locator(".st-of-salt", has_text="above").is_visible()
    assert "10.5 g" not in page.locator("[name=draft]").input_value(), "nothing is taken up while it is typed"
    assert page.locator("[name='c1.l5.grams']").input_value() == "10.5"
    page.keyboard.press("Tab")
    page.locator("#back").wait_for()
    draft = page.locator("[name=draft]").input_value()
    assert "10.5 g fine salt" in draft
    assert "weight given by the baker" not in draft, "the weight box only followed its line"


def test_lines_are_moved_added_and_taken_back_by_keyboard_alone(quiet_page, address) -> None:
    page = quiet_page
    page.set_viewport_size(PHONE)
    page.goto(address + FORMULA)
    page.locator("[id='up-c1.l5']").focus()
    page.keyboard.press("Enter")
    page.locator("[name='c1.l4.text'][value^='7 g fine salt']").wait_for()
    page.locator("[id='up-c1.l4']:focus").wait_for()
    page.locator("[name='c1.new']").focus()
    page.keyboard.type("3 g malt")
    page.keyboard.press("Enter")
    page.locator("[name='c1.l8.text'][value='3 g malt']").wait_for()
    assert page.locator("[name='c1.new']").input_value() == "", "the box is free for the next line"
    page.locator("#back").focus()
    page.keyboard.press("Enter")
    page.locator("[name='c1.l8.text']").wait_for(state="detached")
    page.locator("#back:focus").wait_for()


@pytest.mark.parametrize("size", [DESK, PHONE])
def test_the_balance_stays_in_view_and_covers_no_box_that_is_typed_in(quiet_page, address, size) -> None:
    page = quiet_page
    page.set_viewport_size(size)
    page.goto(address + FORMULA)
    box = page.locator("[name='c3.l3.grams']")
    box.focus()
    page.wait_for_timeout(200)
    staffs, typed = page.locator("#staffs").bounding_box(), box.bounding_box()
    assert 0 <= staffs["y"] < size["height"] / 2
    beside = typed["x"] >= staffs["x"] + staffs["width"]
    assert beside or typed["y"] >= staffs["y"] + staffs["height"]


def test_the_make_up_follows_a_slider_and_a_handle(quiet_page, address) -> None:
    page = quiet_page
    page.set_viewport_size(DESK)
    page.goto(f"{address}{FORMULA}/make-up")
    page.locator("#slide-pieces").focus()
    page.keyboard.press("ArrowRight")
    page.locator("#mk-outcomes", has_text="31 mm high").wait_for()
    assert page.locator("[name=pieces]").input_value() == "13"
    handle = page.locator("#handle-along")
    assert handle.get_attribute("aria-valuetext") == "40 cm"
    handle.focus()
    page.keyboard.press("ArrowLeft")
    page.locator("#handle-along[aria-valuetext='39.5 cm']").wait_for()
    handle.scroll_into_view_if_needed()
    spot = handle.bounding_box()
    x, y = spot["x"] + spot["width"] / 2, spot["y"] + spot["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 30, y, steps=3)
    page.mouse.up()
    page.locator("[name=sheet]").wait_for()
    assert float(page.locator("[name=sheet]").input_value().split(" ")[0]) < 39
    page.locator(".aside", has_text="not saved yet").wait_for()


@pytest.mark.parametrize("size", [DESK, PHONE])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_fault_at_the_table(browser_page, address, size, scheme) -> None:
    page = browser_page
    page.set_viewport_size(size)
    page.emulate_media(color_scheme=scheme)
    for part in (FORMULA, f"{FORMULA}/make-up", f"{FORMULA}/revisions", "/compare"):
        page.goto(address + part)
        if part == FORMULA:
            page.locator(SALT).fill("10.5 g fine salt")
            page.keyboard.press("Tab")
            page.locator("#back").wait_for()
        found = Axe().run(page)
        assert found.violations_count == 0, f"{part}: {found.generate_report()}"
