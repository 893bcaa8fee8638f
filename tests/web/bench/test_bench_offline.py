"""Out of reach of the laptop: the bench goes on, keeps what is noted, and sends it later, in order and once each."""

import threading
import time
from datetime import datetime

import pytest
from tests.web.bench.conftest import Stage, on_stage, view_at

from oventide.web.serve import Server

pytestmark = [pytest.mark.browser, pytest.mark.slow]
SENT = "() => !JSON.parse(localStorage.getItem('oventide.outbox') || '[]').length"
KEPT = "JSON.parse(localStorage.getItem('oventide.outbox') || '[]').map((each) => each.entry.deed)"


def now() -> datetime:
    return datetime.now().astimezone()


def deeds(stage: Stage) -> list[str]:
    return [entry.deed for _, entry in stage.entries]


def note_three(page) -> None:
    """A reading, a step done, one ingredient's worth of undo."""
    page.get_by_role("button", name="Dough temperature").click()
    page.keyboard.type("24.6")
    page.keyboard.press("Enter")
    page.locator("#primary").click()
    page.get_by_role("heading", name="Sheet out", level=1).wait_for()
    page.locator("#undo").click()
    page.get_by_role("heading", name="First rise", level=1).wait_for()


def test_what_is_noted_out_of_reach_counts_here_and_is_sent_once_each(bench, stage) -> None:
    page = bench(view_at(now()))
    page.wait_for_timeout(300)
    page.context.set_offline(True)
    note_three(page)
    page.locator(".notice", has_text="3 notes kept here").wait_for(timeout=5000)
    assert "Out of reach of the laptop since" in page.locator(".notices").inner_text()
    assert page.evaluate(KEPT) == ["reading", "done", "undo"]
    assert stage.entries == []
    page.locator("#tab-notes").click()
    assert page.locator(".log").inner_text().count("kept here") == 2
    page.context.set_offline(False)
    page.wait_for_function(SENT, timeout=15_000)
    page.locator(".notice", has_text="Out of reach").wait_for(state="hidden")
    assert deeds(stage) == ["reading", "done", "undo"], "in the order in which they were noted"
    assert sorted(uid for lot in stage.posted for uid in lot) == sorted(entry.uid for _, entry in stage.entries)
    assert "kept here" not in page.locator(".log").inner_text()


def test_an_answer_that_was_lost_on_the_way_does_not_double_a_note(bench, stage) -> None:
    page = bench(view_at(now()))
    lost = []

    def lose(route) -> None:
        if lost:
            route.continue_()
        else:
            lost.append(route.fetch().status)
            route.abort()

    page.route("**/entries", lose)
    page.locator("#primary").click()
    page.wait_for_function(SENT, timeout=15_000)
    assert lost == [200]
    assert len(stage.posted) == 2, "it was sent again"
    assert stage.posted[0] == stage.posted[1], "under the same name"
    assert deeds(stage) == ["done"]
    page.get_by_role("heading", name="Sheet out", level=1).wait_for()


def test_a_laptop_that_is_busy_gets_it_later(bench, stage) -> None:
    page = bench(view_at(now()))
    stage.on = False
    page.locator("#primary").click()
    page.locator(".notice", has_text="1 note kept here").wait_for()
    stage.on = True
    page.wait_for_function(SENT, timeout=10_000)
    assert deeds(stage) == ["done"]


def test_what_the_laptop_does_not_take_is_kept_where_it_can_be_read(bench, stage) -> None:
    page = bench(view_at(now()))
    page.route("**/entries", lambda route: route.fulfill(status=422, json={"complaints": []}))
    page.locator("#primary").click()
    page.wait_for_function(SENT)
    page.locator("#tab-notes").click()
    page.get_by_text("The laptop did not take these").wait_for()
    page.get_by_role("button", name="I have read it").click()
    page.get_by_text("The laptop did not take these").wait_for(state="hidden")


def test_a_device_that_is_not_known_is_told_to_join_again_and_loses_nothing(bench, stage) -> None:
    page = bench(view_at(now()))
    page.route("**/bench/**", lambda route: route.fulfill(status=401, json={}))
    page.locator("#primary").click()
    page.get_by_role("link", name="Join again").wait_for()
    assert page.evaluate(KEPT) == ["done"]
    page.unroute("**/bench/**")
    page.reload()
    page.wait_for_function(SENT, timeout=10_000)
    assert deeds(stage) == ["done"]


class OnPort:
    """The stage served on a port of its own, so that it can stop and come back at the same address."""

    def __init__(self, stage: Stage, served, port: int = 0) -> None:
        self.stage = stage
        self.app = on_stage(stage)
        self.served = served
        self.port = port

    def __enter__(self):
        self.stage.closing = False
        self.one = self.served(self.app)
        self.one._server = Server(self.app, self.port)
        self.one._thread = threading.Thread(target=self.one._server.run, daemon=True)
        self.one.__enter__()
        self.port = self.one.port
        return self.one

    def __exit__(self, *gone: object) -> None:
        self.stage.closing = True
        self.one.__exit__(*gone)


def test_where_the_browser_may_keep_pages_it_opens_again_without_the_laptop(stage, serve_app, browser_page) -> None:
    page = browser_page
    stage.put(view_at(now()))
    with OnPort(stage, serve_app) as server:
        port = server.port
        page.goto(f"{server.address}/bench/coils-2")
        page.evaluate("navigator.serviceWorker.ready")
        page.wait_for_function("() => navigator.serviceWorker.controller")
        page.wait_for_function("""async () => {
          const cache = await caches.open('oventide-pages');
          return (await cache.keys()).some((request) => request.url.endsWith('/bench/coils-2'));
        }""")
    page.reload()
    page.get_by_role("heading", name="First rise", level=1).wait_for()
    note_three(page)
    page.locator(".notice", has_text="3 notes kept here").wait_for(timeout=5000)
    assert "opens again without the laptop" in page.locator(".notices").inner_text()
    page.reload()
    page.get_by_role("heading", name="First rise", level=1).wait_for()
    assert page.evaluate(KEPT) == ["reading", "done", "undo"], "they outlive a reload"
    page.goto(f"http://127.0.0.1:{port}/bench")
    page.get_by_role("heading", name="Bench", level=1).wait_for()
    time.sleep(0.2)
    with OnPort(stage, serve_app, port):
        page.wait_for_function(SENT, timeout=35_000)
        assert deeds(stage) == ["reading", "done", "undo"]


def test_on_plain_http_the_page_says_what_a_reload_would_do(stage, address, browser_page) -> None:
    page = browser_page
    stage.put(view_at(now()))
    # a tablet on plain HTTP has no secure context; the browser here would call this machine one
    page.add_init_script("Object.defineProperty(globalThis, 'isSecureContext', {value: false})")
    page.goto(f"{address}/bench/coils-2")
    page.locator("#clock").wait_for()
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    page.context.set_offline(True)
    page.locator("#primary").click()
    page.locator(".notice", has_text="1 note kept here").wait_for()
    assert "this page would not open again here, so leave it open" in page.locator(".notices").inner_text()
    page.context.set_offline(False)
    page.wait_for_function(SENT, timeout=15_000)


def test_a_browser_that_keeps_nothing_goes_on_from_memory(stage, address, browser_page) -> None:
    page = browser_page
    stage.put(view_at(now()))
    page.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('full'); };")
    page.goto(f"{address}/bench/coils-2")
    page.get_by_text("This browser keeps nothing").wait_for()
    page.context.set_offline(True)
    page.locator("#primary").click()
    page.get_by_role("heading", name="Sheet out", level=1).wait_for()
    page.context.set_offline(False)
    page.locator(".notice", has_text="Out of reach").wait_for(state="hidden", timeout=15_000)
    assert deeds(stage) == ["done"]


def test_two_pages_of_one_browser_send_a_note_once(bench, stage, address) -> None:
    page = bench(view_at(now()))
    other = page.context.new_page()
    other.goto(f"{address}/bench/coils-2")
    other.locator("#clock").wait_for()
    page.context.set_offline(True)
    page.locator("#primary").click()
    other.get_by_role("heading", name="Sheet out", level=1).wait_for()
    page.context.set_offline(False)
    page.wait_for_function(SENT, timeout=15_000)
    page.wait_for_timeout(500)
    assert deeds(stage) == ["done"]
