"""Every page at three sizes, for docs/pictures: made here, so that no picture is older than its page.

The clock is held, the forecast is the real one with its fixed seed: the same pages give the same pictures.
"""

import json
import socket
import threading
import time
import urllib.request
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import uvicorn

from oventide.bench.model import Entry
from oventide.timeline.procedure import Product
from oventide.units.estimate import Estimate
from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]

EVENING = datetime(2026, 3, 5, 21, 10, tzinfo=UTC)
TABLE = {390: 1300, 820: 1500, 1440: 1500}
"""Pages of the evening table are scrolled through, so their pictures are taller than a screen."""
BENCH = {390: 844, 820: 1180, 1440: 900}
"""A bench page is one screen."""
KEY = "lantern-quay-poppy-coils"
KITCHEN = "lantern-quay-bakehouse"
BAKE = "poppy-coils-2026-03-05"
PAGES = {
    "shelf": "/",
    "formula": "/formulas/{key}",
    "make-up": "/formulas/{key}/make-up",
    "tide": "/formulas/{key}/tide?ready_by=07%3A30",
    "section": "/formulas/{key}/section?minute=26",
    "revisions": "/formulas/{key}/revisions",
    "compare": "/compare?one={key}%401&other={key}%402",
    "sheet": "/formulas/{key}/sheet?ready_by=07%3A30",
    "ruler": "/formulas/{key}/ruler",
    "kitchen": "/kitchens/lantern-quay-bakehouse",
    "kitchens": "/kitchens",
    "pantry": "/pantry",
    "ingredient": "/pantry/butter_unsalted",
    "find": "/find?q=poppy",
    "bakes": "/bakes",
    "bake": "/bakes/{bake}",
    "bench": "/bench",
    "bench-weigh": "/bench/{bake}",
    "bench-step": "/bench/{bake}",
    "bench-night": "/bench/{bake}",
    "join": "/join",
}


def richer(product: Product) -> Product:
    """The demo with 75 g of butter in the dough and a longer proof."""
    text = product.model_dump_json().replace("55 g unsalted butter, soft", "75 g unsalted butter, soft")
    changed = Product.model_validate_json(text)
    lines = {line.text: line for line in changed.formula.components[1].lines}
    butter = lines["75 g unsalted butter, soft"]
    assert butter.grams is not None
    heavier = butter.model_copy(update={"grams": Estimate.certain(75.0)})
    parts = list(changed.formula.components)
    parts[1] = parts[1].model_copy(
        update={"lines": tuple(heavier if line is butter else line for line in parts[1].lines)}
    )
    return changed.model_copy(update={"formula": changed.formula.model_copy(update={"components": tuple(parts)})})


def noted(begun: datetime) -> Iterator[dict[str, object]]:
    """Mixed, risen, chilled; the sheet is being rolled out."""
    at = lambda minutes: (begun + timedelta(minutes=minutes)).isoformat()  # noqa: E731
    yield {"uid": "picture-1", "deed": "reading", "at": at(12), "step": 0, "quantity": "dough temperature", "value": 25}
    yield {"uid": "picture-2", "deed": "done", "at": at(13), "step": 0}
    yield {"uid": "picture-3", "deed": "done", "at": at(75), "step": 1}
    yield {"uid": "picture-4", "deed": "done", "at": at(754), "step": 2}
    yield {"uid": "picture-5", "deed": "reading", "at": at(756), "step": 3, "quantity": "dough temperature", "value": 8}


@pytest.fixture(scope="module")
def evening() -> Iterator[str]:
    """A workbench with the demo on its shelf, on an evening in March that does not pass."""
    from oventide.services import foreseeing, reading

    app = create_app("sqlite://", clock=lambda: EVENING)
    app.state.shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen)
    shelf = app.state.shelf
    product, kitchen = shelf.product(KEY).content, shelf.kitchen(KITCHEN).content
    shelf.save_product(richer(product), note="more butter, a longer proof", key=KEY)
    shelf.save_kitchen(kitchen.model_copy(update={"name": "Market stall"}), note="")
    begun = EVENING - timedelta(hours=12, minutes=40)
    bake = app.state.bakes.begin(
        product, kitchen, product_key=KEY, product_revision=1, kitchen_key=KITCHEN, name="Poppy coils", started_at=begun
    )
    app.state.bakes.note_entries(bake.key, [Entry.model_validate(each) for each in noted(begun)])
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    # without a date of its own: the evening that is held is not the wall's
    server = uvicorn.Server(uvicorn.Config(app, host="127.0.0.1", port=port, log_level="error", date_header=False))
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


OVER = """w => {
  const over = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_ALL);
  while (walk.nextNode()) {
    const range = document.createRange();
    range.selectNodeContents(walk.currentNode);
    const { right } = range.getBoundingClientRect();
    if (right > w + 1) over.push(`${right}: ${walk.currentNode.textContent.slice(0, 60)}`);
  }
  return over.slice(0, 6);
}"""
"""What hangs over the right side."""


def until_foreseen(address: str) -> None:
    """Wait for the forecast of the bake, which is made beside the pages."""
    until = time.monotonic() + 120
    while time.monotonic() < until:
        with urllib.request.urlopen(f"{address}/bench/{BAKE}/view", timeout=60) as answer:
            if json.load(answer)["foreseen"] == "fresh":
                return
        time.sleep(0.2)
    pytest.fail("no forecast of the bake under way")


@pytest.mark.parametrize("name", PAGES)
def test_the_pages_pictures(name: str, evening: str, browser_page, root: Path) -> None:
    page = browser_page
    folder = root / "docs" / "pictures"
    page.clock.set_fixed_time(EVENING)
    if name in ("bench-step", "bench-night"):
        until_foreseen(evening)
    if name == "bench-night":
        page.emulate_media(color_scheme="dark")
        page.context.add_cookies([{"name": "oventide_language", "value": "de", "url": evening}])
    for width, height in (BENCH if name.startswith("bench") else TABLE).items():
        page.set_viewport_size({"width": width, "height": height})
        page.goto(evening + PAGES[name].format(key=KEY, bake=BAKE))
        page.locator("#going").wait_for(state="detached", timeout=120_000)
        if name.startswith("bench-"):
            page.locator("#tab-weigh" if name == "bench-weigh" else "#tab-step").dispatch_event("click")
        page.evaluate("document.fonts.ready")
        over = page.evaluate(OVER, width)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{width} px: {over}"
        picture = page.screenshot(path=folder / f"{name}-{width}.png")
        assert len(picture) > 10_000, "there is something to be seen"


def test_every_picture_is_shown_and_none_is_left_over(root: Path) -> None:
    shown = (root / "docs" / "pictures.md").read_text(encoding="utf-8")
    made = {f"{name}-{width}.png" for name in PAGES for width in TABLE}
    there = {path.name for path in (root / "docs" / "pictures").glob("*.png")}
    assert made == there
    assert [name for name in sorted(made) if f"pictures/{name}" not in shown] == []
