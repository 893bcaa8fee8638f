"""The choice of sheets in a real browser: by keyboard, with its look; and the page's own print, read back."""

from collections.abc import Iterator
from io import BytesIO

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe

from oventide.press.model import SHEET_KINDS
from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def address(invented: None, serve_app, demo) -> Iterator[str]:
    app = create_app("sqlite://")
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    with serve_app(app) as server:
        yield server.address


def test_a_sheet_is_chosen_by_keyboard_and_seen_as_it_will_be_printed(browser_page, address: str, key: str) -> None:
    page = browser_page
    page.goto(f"{address}/formulas/{key}/sheet?ready_by=07%3A30")
    page.get_by_label("Sheet", exact=True).focus()
    page.keyboard.press("w")  # Wall sheet
    page.keyboard.press("Tab")
    page.keyboard.press("d")  # Deutsch
    page.keyboard.press("Tab")
    page.keyboard.press("l")  # Letter
    page.get_by_role("button", name="Make the sheet").focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**kind=wall**")
    assert "language=de" in page.url
    assert "paper=letter" in page.url
    page.locator(".look-page img").first.wait_for(timeout=30_000)
    sizes = page.locator(".look-page img").evaluate_all(
        "all => all.map(i => [i.complete, i.naturalWidth, i.naturalHeight])"
    )
    assert len(sizes) >= 2
    for complete, width, height in sizes:
        assert complete
        assert height / width == pytest.approx(279.4 / 215.9, rel=0.01)
    assert page.get_by_role("article", name="Wall sheet").get_attribute("lang") == "de"
    found = Axe().run(page).response["violations"]
    assert [(each["id"], len(each["nodes"])) for each in found] == []


@pytest.mark.parametrize("kind", [kind for kind in SHEET_KINDS if kind != "ruler"])
def test_the_pages_own_print_is_the_sheet_and_nothing_else(browser_page, address: str, key: str, kind: str) -> None:
    page = browser_page
    page.goto(f"{address}/formulas/{key}/sheet?ready_by=07%3A30&kind={kind}&language=fr")
    printed = pypdfium2.PdfDocument(BytesIO(page.pdf(format="A4")))
    text = " ".join(" ".join(printed[number].get_textpage().get_text_range() for number in range(len(printed))).split())
    assert "Lantern Quay poppy coils" in text
    assert "graines de pavot" in text
    assert "140 g" in text
    for words in ("Make the sheet", "As it will be printed", "Formulas", "runs on this machine"):
        assert words not in text
