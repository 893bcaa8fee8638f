"""Read and touched at 4 a.m.: sizes, gaps, contrast and names as the browser works them out, in every pane and size."""

from datetime import datetime, timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from tests.web.bench.conftest import alarm_at, view_at

pytestmark = [pytest.mark.browser, pytest.mark.slow]
SIZES = {"phone": (390, 844), "tablet": (820, 1180), "tablet on its side": (1180, 820), "laptop": (1440, 900)}
TOUCH_PX, GAP_PX, TEXT_PX, DIGITS_MM, CONTRAST = 75.6, 18.9, 20, 7.0, 7.0
PX_PER_MM = 96 / 25.4

SMALL = """() => {
  const seen = (e) => e.checkVisibility({ visibilityProperty: true }) && e.getClientRects().length;
  const top = document.querySelector('dialog[open]') ?? document;
  const touched = [...top.querySelectorAll('a[href], button, input, select, textarea')].filter(seen);
  const boxes = touched.map((e) => [e.id || e.textContent.trim().slice(0, 30), e.getBoundingClientRect()]);
  const small = boxes.filter(([, b]) => b.width < %TOUCH% || b.height < %TOUCH%)
    .map(([name, b]) => [name, Math.round(b.width), Math.round(b.height)]);
  const near = [];
  for (const [at, [name, one]] of boxes.entries()) for (const [other, two] of boxes.slice(at + 1)) {
    const across = Math.max(one.left - two.right, two.left - one.right);
    const down = Math.max(one.top - two.bottom, two.top - one.bottom);
    if (Math.max(across, down) < %GAP% && Math.max(across, down) > -1) near.push([name, other, across, down]);
  }
  return { small, near, count: boxes.length };
}""".replace("%TOUCH%", str(TOUCH_PX)).replace("%GAP%", str(GAP_PX))

TYPE = """() => {
  const top = document.querySelector('dialog[open]') ?? document.body;
  const walk = document.createTreeWalker(top, NodeFilter.SHOW_TEXT);
  const parse = (colour) => { const [r, g, b, a = 1] = colour.match(/[\\d.]+/g).map(Number); return { r, g, b, a }; };
  const light = ({ r, g, b }) => [r, g, b].map((v) => v / 255).map((v) => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
    .reduce((sum, v, at) => sum + v * [0.2126, 0.7152, 0.0722][at], 0);
  const ratio = (one, two) => { const [high, low] = [light(one), light(two)].sort((a, b) => b - a); return (high + 0.05) / (low + 0.05); };
  const canvas = document.createElement('canvas').getContext('2d');
  const found = { texts: 0, small: [], faint: [], digits: [] };
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const e = node.parentElement, words = node.textContent.trim();
    if (!words || /^(SCRIPT|STYLE|NOSCRIPT)$/.test(e.tagName) || e.closest('.unseen, noscript') || !e.checkVisibility()) continue;
    const style = getComputedStyle(e);
    let ground = e;
    while (ground && parse(getComputedStyle(ground).backgroundColor).a === 0) ground = ground.parentElement;
    const colour = parse(e instanceof SVGElement ? style.fill : style.color);
    const contrast = ratio(colour, parse(getComputedStyle(ground ?? document.body).backgroundColor));
    found.texts += 1;
    if (parseFloat(style.fontSize) < %TEXT%) found.small.push([words.slice(0, 40), style.fontSize]);
    if (contrast < %CONTRAST% - 0.005) found.faint.push([words.slice(0, 40), Math.round(contrast * 100) / 100]);
    if (e.classList.contains('digits')) {
      canvas.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
      const high = canvas.measureText('8').actualBoundingBoxAscent / %PX%;
      if (high < %DIGITS%) found.digits.push([words, Math.round(high * 100) / 100]);
    }
  }
  return found;
}""".replace("%TEXT%", str(TEXT_PX)).replace("%CONTRAST%", str(CONTRAST)).replace("%PX%", str(PX_PER_MM)).replace("%DIGITS%", str(DIGITS_MM))  # fmt: skip  # noqa: E501


def now() -> datetime:
    return datetime.now().astimezone()


def panes(page, stage, address, rescue):
    """Every state of the screen, one after the other: its name, once it is shown."""
    view = view_at(now(), step=2)
    stage.put(view.model_copy(update={"rescue": rescue, "said": ("About 60 of 200 kitchens agree.",)}))
    stage.put(view_at(now(), "weigh", "Poppy coils 1", 0, 0))
    stage.put(view_at(now(), "over", "Poppy coils 0", 7, 7).model_copy(update={"now_step": None}))
    page.goto(f"{address}/bench/coils-2")
    page.locator("#sound-on").wait_for()
    yield "step with a notice"
    page.mouse.click(3, 3)
    page.locator("#sound-on").wait_for(state="hidden")
    page.locator("#primary").click()
    page.locator("#undo:not([disabled])").wait_for()
    yield "step"
    for pane in ("weigh", "tide", "notes"):
        page.locator(f"#tab-{pane}").click()
        yield pane
    page.locator("#tab-step").click()
    page.locator("#undo").click()
    page.locator("#ask-dough-temperature").click()
    yield "keypad"
    page.keyboard.press("Escape")
    page.locator("#device").click()
    yield "device"
    page.keyboard.press("Escape")
    page.goto(f"{address}/bench/weigh")
    page.locator("#primary").click()
    page.locator("#undo:not([disabled])").wait_for()
    yield "weighing"
    page.goto(f"{address}/bench/over")
    page.locator("#score-1").wait_for()
    yield "tasting"
    stage.change("over", alarms=(alarm_at(view_at(now(), "over", "Poppy coils 0", 7), now() - timedelta(minutes=1)),))
    page.get_by_role("alertdialog").wait_for()
    yield "alarm"


@pytest.mark.parametrize("size", SIZES)
def test_targets_are_20_mm_and_5_mm_apart(browser_page, stage, address, rescue, size: str) -> None:
    page = browser_page
    page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
    amiss, count = [], 0
    for pane in panes(page, stage, address, rescue):
        found = page.evaluate(SMALL)
        count += found["count"]
        amiss += [f"{pane}: small {each}" for each in found["small"]] + [
            f"{pane}: near {each}" for each in found["near"]
        ]
        wide = page.evaluate("document.documentElement.scrollWidth")
        if wide > SIZES[size][0]:
            amiss.append(f"{pane}: {wide} px wide")
    assert count > 60
    assert amiss == [], "\n".join(amiss)


@pytest.mark.parametrize(("size", "light"), [("phone", "light"), ("tablet", "dark"), ("laptop", "light")])
def test_text_digits_and_contrast(browser_page, stage, address, rescue, size: str, light: str) -> None:
    page = browser_page
    page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
    page.emulate_media(color_scheme=light, reduced_motion="reduce")
    amiss, texts = [], 0
    for pane in panes(page, stage, address, rescue):
        found = page.evaluate(TYPE)
        texts += found["texts"]
        for kind in ("small", "faint", "digits"):
            amiss += [f"{pane}: {kind} {each}" for each in found[kind]]
    assert texts > 200
    assert amiss == [], "\n".join(amiss)


def test_both_phases_of_the_flash_can_be_read(browser_page, stage, address) -> None:
    page = browser_page
    view = view_at(now())
    stage.put(view.model_copy(update={"alarms": (alarm_at(view, now() - timedelta(minutes=1)),)}))
    page.goto(f"{address}/bench/coils-2")
    page.get_by_role("alertdialog").wait_for()
    for _ in range(8):
        assert page.evaluate(TYPE)["faint"] == []
        page.wait_for_timeout(170)


def test_the_measure_would_find_something(browser_page, stage, address) -> None:
    page = browser_page
    stage.put(view_at(now()))
    page.goto(f"{address}/bench/coils-2")
    page.locator("#clock").wait_for()
    page.evaluate("""() => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync('.bench #undo { min-height: 0; min-width: 0; width: 60px; }'
        + '.eyebrow { color: #777 !important; font-size: 12px; }');
      document.adoptedStyleSheets = [sheet];
    }""")
    assert page.evaluate(SMALL)["small"]
    found = page.evaluate(TYPE)
    assert found["small"]
    assert found["faint"]


@pytest.mark.parametrize(("size", "light"), [("phone", "dark"), ("laptop", "light")])
def test_axe_finds_nothing(browser_page, stage, address, rescue, size: str, light: str) -> None:
    page = browser_page
    page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
    page.emulate_media(color_scheme=light, reduced_motion="reduce")
    faults = []
    for pane in panes(page, stage, address, rescue):
        for fault in Axe().run(page).response["violations"]:
            faults.append(f"{pane}: {fault['id']} {[node['target'] for node in fault['nodes']][:3]}")
    page.goto(f"{address}/bench")
    faults += [f"list: {fault['id']}" for fault in Axe().run(page).response["violations"]]
    assert faults == [], "\n".join(faults)


@pytest.mark.parametrize("size", [(410, 590), (320, 480)], ids=str)
def test_at_twice_the_size_nothing_is_cut_off(browser_page, stage, address, rescue, size: tuple[int, int]) -> None:
    page = browser_page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    for pane in panes(page, stage, address, rescue):
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= size[0], f"{pane}: {wide} px wide"
        if pane != "alarm" and page.locator("dialog[open]").count() == 0:
            page.locator("#primary").evaluate("e => e.scrollIntoView({block: 'center'})")
            box = page.locator("#primary").bounding_box()
            assert box["y"] >= 0, pane
            assert box["y"] + box["height"] <= size[1] + 1, pane
        if pane == "alarm":
            page.locator("#heard").scroll_into_view_if_needed()
            assert page.locator("#heard").is_visible()


def test_a_screen_reader_is_told_of_steps_and_not_of_seconds(browser_page, stage, address) -> None:
    page = browser_page
    stage.put(view_at(now()))
    page.goto(f"{address}/bench/coils-2")
    page.locator("#clock").wait_for()
    assert page.locator("[aria-live]").count() == 1
    assert page.locator("#clock").evaluate("e => e.closest('[aria-live]')") is None
    page.locator("#primary").click()
    page.locator("[aria-live]", has_text="Step 3: Sheet out. Likely done at").wait_for(state="attached")
    named = page.eval_on_selector_all(
        "section, nav, [role=group]", "all => all.map(e => e.ariaLabel || e.getAttribute('aria-labelledby'))"
    )
    assert all(named)
