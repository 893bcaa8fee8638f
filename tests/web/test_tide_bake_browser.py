"""The record of a bake in a real browser: nothing for axe to find, no page wider than the screen."""

from collections.abc import Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from tests.web.test_tide_bake import Foreseen

from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def record(invented: None, serve_app, demo) -> Iterator[str]:
    app = create_app("sqlite://", live=Foreseen())
    made = app.state.bakes.begin(demo[0], demo[1], name="Poppy coils", ready_by="07:30")
    now = app.state.bakes.clock().isoformat()
    app.state.bakes.note(
        made.key,
        {
            "entries": [
                {"uid": "entry-0001", "deed": "reading", "step": 0, "quantity": "core", "value": 24, "at": now},
                {"uid": "entry-0002", "deed": "done", "step": 0, "at": now},
                {"uid": "entry-0003", "deed": "note", "text": "soft", "score": 4, "at": now},
            ]
        },
    )
    with serve_app(app) as server:
        yield f"{server.address}/bakes/{made.key}"


@pytest.mark.parametrize(("wide", "high"), [(390, 844), (820, 1180), (1440, 900)])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(browser_page, record: str, wide: int, high: int, scheme: str) -> None:
    page = browser_page
    page.emulate_media(color_scheme=scheme)
    page.set_viewport_size({"width": wide, "height": high})
    page.goto(record)
    assert page.locator(".chart svg").locator("visible=true").count() == 1
    found = Axe().run(page).response["violations"]
    assert [f"{v['id']} {[node['target'] for node in v['nodes']][:3]}" for v in found] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
