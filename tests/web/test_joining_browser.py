"""A tablet joins in a real browser, over the machine's own address, on a screen of phone size."""

import re
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe

from oventide.services.devices import Devices
from oventide.services.outlooking import NoLive
from oventide.services.own_addresses import in_url, own_reach
from oventide.services.shelf import local_now
from oventide.web.app import create_app
from oventide.web.serve import Joining, listening, open_door

pytestmark = [pytest.mark.browser, pytest.mark.slow]
PHONE = {"width": 390, "height": 844}
PASSPHRASE = "poppy harbour lantern quay"


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("0.0.0.0", 0))
        return one.getsockname()[1]


@pytest.fixture
def harbour(serve_app, invented: None, demo, tmp_path: Path) -> Iterator[tuple]:
    """A door to the network with its two addresses: of the laptop for itself, and for a tablet."""
    reach = own_reach()
    if not reach.addresses:
        pytest.skip("this machine has no network")
    journal = f"sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}"
    Devices(tmp_path, local_now).set_passphrase(PASSPHRASE)
    port, secure_port = free_port(), free_port()
    door = open_door(journal, port, Joining(secure_port=secure_port), local_now())
    app = create_app(journal, door=door, live=NoLive())
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    with serve_app(app, plain=listening(port, True), secure=listening(secure_port, True), door=door):
        yield door, f"http://127.0.0.1:{port}", f"http://{in_url(reach.addresses[0])}:{port}"


def faults(page) -> list[str]:
    """What axe finds, and whether the page is wider than the screen."""
    found = [each["id"] for each in Axe().run(page).response["violations"]]
    wide = page.evaluate("document.documentElement.scrollWidth > innerWidth")
    return [*found, *(["wider than the screen"] if wide else [])]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_tablet_joins_works_and_is_taken_out(chromium, harbour: tuple, key: str, scheme: str) -> None:
    door, laptop_address, own_address = harbour
    at_laptop = chromium.new_context(color_scheme=scheme)
    at_tablet = chromium.new_context(viewport=PHONE, color_scheme=scheme)
    heard: list[str] = []
    try:
        laptop = at_laptop.new_page()
        laptop.goto(f"{laptop_address}/join")
        assert laptop.locator("svg.square").is_visible()
        assert faults(laptop) == []
        ground = laptop.locator(".square-ground").evaluate("each => getComputedStyle(each).backgroundColor")
        assert ground == "rgb(255, 255, 255)", "a camera reads dark on light"

        tablet = at_tablet.new_page()
        tablet.on("pageerror", lambda error: heard.append(str(error)))
        tablet.on("console", lambda message: heard.append(message.text) if message.type == "error" else None)
        tablet.goto(f"{own_address}/formulas/{key}")
        assert "/join" in tablet.url
        assert faults(tablet) == []
        tablet.get_by_label("What do you call it?").fill("Tablet by the oven")
        tablet.get_by_label("Passphrase").fill("not these words at all")
        with tablet.expect_response("**/join") as said:
            tablet.get_by_role("button", name="Join").click()
        assert said.value.status == 403
        assert tablet.get_by_label("What do you call it?").input_value() == "Tablet by the oven"
        assert faults(tablet) == []
        heard[:] = [text for text in heard if "403" not in text]

        tablet.goto(f"{own_address}/join?token={door.tokens.make()}")
        tablet.get_by_label("What do you call it?").fill("Tablet by the oven")
        tablet.get_by_role("button", name="Join").press("Enter")
        tablet.get_by_role("heading", name="Tablet by the oven has joined").wait_for()
        assert faults(tablet) == []
        shown = tablet.locator(".fingerprint").inner_text()
        assert re.sub(r"\s+", ":", shown.strip()) == door.certificates.fingerprint

        tablet.goto(f"{own_address}/formulas/{key}")
        laptop.goto(f"{laptop_address}/formulas/{key}")
        before = tablet.locator("output").all_inner_texts()
        tablet.get_by_label("Weight of line").first.fill("123")
        tablet.wait_for_function(
            "was => JSON.stringify([...document.querySelectorAll('output')].map(each => each.innerText)) !== was",
            arg=tablet.evaluate("was => JSON.stringify(was)", before),
        )
        tablet.get_by_label("Why you changed it").fill("from the tablet")
        tablet.get_by_role("button", name="Save as revision 2").click()
        laptop.get_by_text("Revision 2 was saved on Tablet by the oven").wait_for(timeout=5000)

        laptop.goto(f"{laptop_address}/devices")
        assert faults(laptop) == []
        laptop.get_by_role("button", name="Take out Tablet by the oven").click()
        laptop.get_by_role("button", name="Let in again Tablet by the oven").wait_for()
        assert faults(laptop) == []
        tablet.goto(f"{own_address}/")
        assert "/join" in tablet.url
        assert [text for text in heard if "401" not in text] == [], "its open line was ended, and not opened again"
    finally:
        at_laptop.close()
        at_tablet.close()
