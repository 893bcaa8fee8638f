"""Alarms in a browser: at their moment, again until heard, after reload and sleep, on every page, on every device."""

from datetime import datetime, timedelta

import pytest
from tests.web.bench.conftest import Stage, alarm_at, view_at

pytestmark = [pytest.mark.browser, pytest.mark.slow]
COUNT_TONES = """
  globalThis.tones = 0;
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...given) { globalThis.tones += 1; return start.apply(this, given); };
"""


def now() -> datetime:
    return datetime.now().astimezone()


def with_alarm(seconds: float, words: str = "Look at the jar", **of: object):
    view = view_at(now(), **of)
    return view.model_copy(update={"alarms": (alarm_at(view, now() + timedelta(seconds=seconds), words),)})


def heard(stage: Stage) -> list[str]:
    return [entry.of for _, entry in stage.entries if entry.deed == "heard"]


def test_it_calls_at_its_moment_again_and_again_until_the_space_bar_hears_it(bench, stage, browser_page) -> None:
    browser_page.add_init_script(COUNT_TONES)
    page = bench(with_alarm(3))
    page.mouse.click(2, 2)
    alarm = page.get_by_role("alertdialog")
    assert not alarm.is_visible(), "not before its moment"
    alarm.wait_for(timeout=5000)
    assert abs((now() - stage.views["coils-2"].alarms[0].at).total_seconds()) < 1.5
    assert page.get_by_role("alertdialog", name="Poppy coils 2").is_visible()
    assert "Look at the jar" in alarm.inner_text()
    assert "Diamond" in alarm.inner_text()
    page.wait_for_function("() => globalThis.tones > 0")
    first = page.evaluate("globalThis.tones")
    page.wait_for_function("first => globalThis.tones >= 2 * first", arg=first)
    page.keyboard.press(" ")
    alarm.wait_for(state="hidden")
    page.wait_for_function("() => !JSON.parse(localStorage.getItem('oventide.outbox') || '[]').length")
    assert heard(stage) == [stage.views["coils-2"].alarms[0].id]
    silent = page.evaluate("globalThis.tones")
    page.wait_for_timeout(2600)
    assert page.evaluate("globalThis.tones") == silent, "heard is heard"
    assert not alarm.is_visible()


def test_it_is_there_at_once_when_the_page_is_opened_late_and_after_a_reload(bench) -> None:
    page = bench(with_alarm(-3600))
    page.get_by_role("alertdialog").wait_for(timeout=2000)
    assert "1 h 00 min ago" in page.get_by_role("alertdialog").inner_text()
    page.reload()
    page.get_by_role("alertdialog").wait_for(timeout=2000)


def test_it_calls_right_after_the_device_slept(bench, browser_page) -> None:
    browser_page.clock.install(time=now())
    page = bench(with_alarm(2 * 3600))
    assert not page.get_by_role("alertdialog").is_visible()
    page.clock.fast_forward("02:00:02")  # timers that were due meanwhile fire once, as after sleep
    page.get_by_role("alertdialog").wait_for(timeout=2000)


def test_it_calls_without_the_laptop(bench, stage) -> None:
    page = bench(with_alarm(4))
    page.context.set_offline(True)
    page.get_by_role("alertdialog").wait_for(timeout=8000)
    page.wait_for_timeout(700)
    page.get_by_role("button", name="Heard").click()
    page.get_by_role("alertdialog").wait_for(state="hidden")
    assert heard(stage) == []
    page.context.set_offline(False)
    page.wait_for_function("() => !JSON.parse(localStorage.getItem('oventide.outbox') || '[]').length", timeout=10_000)
    assert heard(stage) == [stage.views["coils-2"].alarms[0].id]


def test_a_touch_meant_for_what_stood_there_does_not_hear_it(bench, stage) -> None:
    page = bench(with_alarm(3))
    assert page.evaluate("""() => new Promise((done) => {
      const pane = document.querySelector('dialog.alarm');
      new MutationObserver(() => {
        if (!pane.open) return;
        document.getElementById('heard').click(); // the finger was on its way already
        setTimeout(() => done(pane.open), 100);
      }).observe(pane, { attributes: true });
    })""")
    assert page.get_by_role("alertdialog").is_visible()
    assert heard(stage) == []


def test_the_alarm_of_another_bake_calls_here_too_by_its_own_name_and_sign(bench, stage, address) -> None:
    stage.put(with_alarm(-5, "Take the cover off", key="knots", name="Seed knots", sign=6))
    page = bench(view_at(now()))
    alarm = page.get_by_role("alertdialog", name="Seed knots")
    alarm.wait_for(timeout=3000)
    assert "Pennant" in alarm.inner_text()
    page.goto(address + "/bench")
    page.get_by_role("alertdialog", name="Seed knots").wait_for(timeout=3000)
    page.wait_for_timeout(700)
    page.keyboard.press(" ")
    page.get_by_role("alertdialog").wait_for(state="hidden")
    page.wait_for_function("() => !JSON.parse(localStorage.getItem('oventide.outbox') || '[]').length")
    assert stage.entries[-1][0] == "knots"


def test_two_bakes_call_one_after_the_other(bench, stage) -> None:
    stage.put(with_alarm(-5, "Take the cover off", key="knots", name="Seed knots", sign=6))
    page = bench(with_alarm(-2))
    page.get_by_role("alertdialog", name="Seed knots").wait_for(timeout=3000)
    assert "Then: Poppy coils 2" in page.get_by_role("alertdialog").inner_text()
    page.wait_for_timeout(700)
    page.get_by_role("button", name="Heard").click()
    page.get_by_role("alertdialog", name="Poppy coils 2").wait_for()
    page.wait_for_timeout(700)
    page.get_by_role("button", name="Heard").click()
    page.get_by_role("alertdialog").wait_for(state="hidden")


def test_heard_on_one_device_it_is_still_on_the_others(bench, stage, chromium, address) -> None:
    page = bench(with_alarm(-2))
    other = chromium.new_context().new_page()
    other.goto(f"{address}/bench/coils-2")
    for each in (page, other):
        each.get_by_role("alertdialog").wait_for(timeout=5000)
    page.wait_for_timeout(700)
    page.keyboard.press(" ")
    other.get_by_role("alertdialog").wait_for(state="hidden", timeout=3000)
    other.context.close()


FLIPS = """async () => {
  const pane = document.querySelector('.alarm');
  let flips = 0, before = getComputedStyle(pane).backgroundColor;
  const until = performance.now() + 4000;
  while (performance.now() < until) {
    await new Promise((next) => setTimeout(next, 25));
    const after = getComputedStyle(pane).backgroundColor;
    if (after !== before) flips += 1;
    before = after;
  }
  return flips;
}"""


def test_it_flashes_slowly_and_not_at_all_where_less_motion_is_asked_for(bench) -> None:
    page = bench(with_alarm(-2))
    page.get_by_role("alertdialog").wait_for()
    flips = page.evaluate(FLIPS)
    assert 4 <= flips <= 3 * 2 * 4, f"{flips} changes in 4 s; a flash is two"
    page.emulate_media(reduced_motion="reduce")
    assert page.evaluate(FLIPS) == 0
    ground, paper = page.evaluate(
        "[getComputedStyle(document.querySelector('.alarm')).backgroundColor,"
        " getComputedStyle(document.body).backgroundColor]"
    )
    assert ground != paper, "held still, the screen is turned over"


def test_a_browser_that_waits_for_a_tap_says_so_and_one_tap_turns_the_sound_on(bench, browser_page) -> None:
    browser_page.add_init_script(COUNT_TONES)
    page = bench(view_at(now()))
    page.get_by_text("the browser waits for a tap").wait_for()
    page.get_by_role("button", name="Sound on").click()
    page.get_by_text("the browser waits for a tap").wait_for(state="hidden")
    page.get_by_role("button", name="Device").click()
    page.get_by_role("button", name="Try the call of Diamond").click()
    page.wait_for_function("() => globalThis.tones > 0")


def test_each_sign_has_a_call_of_its_own(bench) -> None:
    page = bench(view_at(now()))
    source = page.request.get(page.url.split("/bench")[0] + "/static/bench/sound.js").text()
    calls = [line.strip() for line in source.splitlines() if line.strip().startswith("{ tones:")]
    assert len(calls) == len(set(calls)) == 8
