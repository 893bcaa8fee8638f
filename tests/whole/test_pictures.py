"""Every page at three sizes, for docs/pictures: made here, so that no picture is older than its page.

The clock is held, the forecast is the real one with its fixed seed: the same pages give the same pictures.
"""

import socket
import threading
import time
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest
import uvicorn

from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]

EVENING = datetime(2026, 3, 5, 21, 10, tzinfo=timezone(timedelta(hours=1)))
TABLE = {390: 1300, 820: 1500, 1440: 1500}
"""Pages of the evening table are scrolled through, so their pictures are taller than a screen."""
BENCH = {390: 844, 820: 1180, 1440: 900}
"""A bench page is one screen."""
KEY = "lantern-quay-poppy-coils"
BAKE = f"{KEY}-2026-03-05"
PAGES = {
    "shelf": "/",
    "formula": "/formulas/{key}",
    "make-up": "/formulas/{key}/make-up",
    "tide": "/formulas/{key}/tide?ready_by=07%3A30",
    "section": "/formulas/{key}/section",
    "revisions": "/formulas/{key}/revisions",
    "sheet": "/formulas/{key}/sheet?ready_by=07%3A30",
    "ruler": "/formulas/{key}/ruler",
    "kitchen": "/kitchens/lantern-quay-bakehouse",
    "pantry": "/pantry",
    "ingredient": "/pantry/butter_unsalted",
    "find": "/find?q=poppy",
    "bench": "/bench",
    "bench-weigh": "/bench/{bake}",
    "join": "/join",
}


@pytest.fixture(scope="module")
def evening() -> Iterator[str]:
    """A workbench with the demo on its shelf, on an evening in March that does not pass."""
    from oventide.services import foreseeing, reading

    app = create_app("sqlite://", clock=lambda: EVENING)
    app.state.shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen)
    product, kitchen = app.state.shelf.product(KEY).content, app.state.shelf.kitchen("lantern-quay-bakehouse").content
    app.state.bakes.begin(
        product, kitchen, product_key=KEY, product_revision=1, kitchen_key="lantern-quay-bakehouse", ready_by="09:30"
    )
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=port, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    for _ in range(400):
        if server.started:
            break
        time.sleep(0.05)
    assert server.started
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)


@pytest.mark.parametrize("name", PAGES)
def test_the_pages_pictures(name: str, evening: str, browser_page, root: Path) -> None:
    page = browser_page
    folder = root / "docs" / "pictures"
    page.clock.set_fixed_time(EVENING)
    for width, height in (BENCH if name.startswith("bench") else TABLE).items():
        page.set_viewport_size({"width": width, "height": height})
        page.goto(evening + PAGES[name].format(key=KEY, bake=BAKE))
        page.locator("#going").wait_for(state="detached", timeout=120_000)
        page.evaluate("document.fonts.ready")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, "nothing hangs over the side"
        picture = page.screenshot(path=folder / f"{name}-{width}.png")
        assert len(picture) > 10_000, "there is something to be seen"


def test_every_picture_is_shown_and_none_is_left_over(root: Path) -> None:
    shown = (root / "docs" / "pictures.md").read_text(encoding="utf-8")
    made = {f"{name}-{width}.png" for name in PAGES for width in TABLE}
    there = {path.name for path in (root / "docs" / "pictures").glob("*.png")}
    assert made == there
    assert [name for name in sorted(made) if f"pictures/{name}" not in shown] == []
