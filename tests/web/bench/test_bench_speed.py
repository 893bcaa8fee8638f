"""From Enter on the keypad to the laptop's answer on the screen, over the real services and a journal on disk.

The live forecast is left out: it answers from what it has and runs beside; `docs/live.md` says what its answer takes.
"""

from statistics import median

import pytest

from oventide.services.outlooking import NoLive
from oventide.web.app import create_app

pytestmark = [pytest.mark.browser, pytest.mark.slow]
MOST_MS = 300
WATCH = """() => {
  const plain = globalThis.fetch;
  globalThis.fetch = async (...given) => {
    const answer = await plain(...given);
    if (String(given[0]).endsWith('/entries')) {
      const read = answer.json.bind(answer);
      answer.json = async () => {
        const noted = await read();
        setTimeout(() => requestAnimationFrame(() => { globalThis.drawn = performance.now(); }));
        return noted;
      };
    }
    return answer;
  };
  addEventListener('keydown', (event) => {
    if (event.key === 'Enter') { globalThis.pressed = performance.now(); globalThis.drawn = 0; }
  }, { capture: true });
}"""


def test_a_reading_is_answered_on_the_screen_at_once(serve_app, browser_page, demo, tmp_path) -> None:
    app = create_app(f"sqlite:///{tmp_path / 'journal.db'}", live=NoLive())
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    page = browser_page
    with serve_app(app) as server:
        page.goto(f"{server.address}/bench")
        page.get_by_role("button", name="Begin").click()
        page.wait_for_url("**/bench/*")
        page.locator("#tab-step").click()
        page.evaluate(WATCH)
        took = []
        for tenth in range(7):
            page.locator("#ask-dough-temperature").click()
            page.keyboard.type(f"24.{tenth}")
            page.keyboard.press("Enter")
            page.wait_for_function("() => globalThis.drawn > 0")
            took.append(page.evaluate("globalThis.drawn - globalThis.pressed"))
        page.goto("about:blank")
    assert median(took) <= MOST_MS, took
