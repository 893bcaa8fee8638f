"""The screen of one bake: steps, keypad, weighing, undo, keyboard, what is told, and what other devices change."""

from datetime import datetime, timedelta

import pytest
from tests.web.bench.conftest import Stage, around, view_at

from oventide.words.catalogue import bench_messages

pytestmark = [pytest.mark.browser, pytest.mark.slow]
SENT = "() => !JSON.parse(localStorage.getItem('oventide.outbox') || '[]').length"


def now() -> datetime:
    return datetime.now().astimezone()


def noted(stage: Stage, page) -> list:
    """What the laptop was told, once everything was sent."""
    page.wait_for_function(SENT)
    return [entry for _, entry in stage.entries]


def test_the_step_now_its_window_the_next_and_the_clock(bench, stage) -> None:
    view = view_at(now())
    page = bench(view)
    step = view.steps[1]
    assert page.get_by_role("heading", level=1).inner_text() == "First rise"
    main = page.locator("main").inner_text()
    for words in ("Covered, in the room", "×1.8, jar at 108 mm", "Step 2 of 8"):
        assert words in main
    for moment in (step.ends.earliest, step.ends.likely, step.ends.latest):
        assert f"{moment:%H:%M}" in main
    assert "in 1 h 10 min" in main
    assert f"{view.steps[2].begins.likely:%H:%M}" in page.locator(".next").inner_text()
    assert page.locator("#clock").inner_text() in (f"{now():%H:%M}", f"{now() - timedelta(minutes=1):%H:%M}")


def test_minutes_count_down_by_the_device_s_clock(bench, browser_page) -> None:
    browser_page.clock.install(time=now())
    page = bench(view_at(now()))
    assert "in 1 h 10 min" in page.locator(".when.likely").inner_text()
    page.clock.fast_forward("00:58:30")
    page.get_by_text("in 11 min").or_(page.get_by_text("in 12 min")).first.wait_for()


def test_done_goes_on_and_undo_comes_back_from_the_same_place(bench, stage) -> None:
    page = bench(view_at(now()))
    place = page.locator("#undo").bounding_box()
    page.get_by_role("button", name="Done First rise").click()
    page.get_by_role("heading", name="Sheet out", level=1).wait_for(timeout=300)
    page.locator("[role=status]", has_text="Step 3: Sheet out").wait_for(state="attached")
    assert page.locator("#undo").bounding_box() == place
    page.locator("#tab-notes").click()
    assert page.locator("#undo").bounding_box() == place
    page.locator("#undo").click()
    page.locator("#tab-step").click()
    page.get_by_role("heading", name="First rise", level=1).wait_for()
    done, undo = noted(stage, page)
    assert (done.deed, done.step, undo.deed, undo.of) == ("done", 1, "undo", done.uid)
    assert page.locator("#undo").is_disabled()


def test_a_finger_that_touches_twice_does_one_step(bench, stage) -> None:
    page = bench(view_at(now()))
    page.locator("#primary").dblclick()
    page.get_by_role("heading", name="Sheet out", level=1).wait_for()
    assert [entry.deed for entry in noted(stage, page)] == ["done"]


def test_marks_take_one_tap(bench, stage) -> None:
    page = bench(view_at(now()))
    page.get_by_role("button", name="Not yet").click()
    (mark,) = noted(stage, page)
    assert (mark.deed, mark.mark, mark.step) == ("mark", "not yet", 1)


def test_the_keypad_takes_a_reading_and_the_tide_moves(bench, stage) -> None:
    page = bench(view_at(now()))
    page.locator("#tab-tide").click()
    before = page.locator(".level-0 .lv-median").get_attribute("d")
    figure = page.locator(".levels").inner_text()
    page.locator("#tab-step").click()
    page.get_by_role("button", name="Dough temperature").click()
    pad = page.get_by_role("dialog", name="Dough temperature")
    for key in ("2", "4", ".", "7", "5"):
        pad.get_by_role("button", name="Decimal sign" if key == "." else key, exact=True).click()
    pad.get_by_role("button", name="Take the last digit away").click()
    assert page.locator("#keypad-figure").inner_text() == "24.7"
    pad.get_by_role("button", name="Note it").click()
    pad.wait_for(state="hidden")
    (reading,) = noted(stage, page)
    assert (reading.quantity, reading.value, reading.step) == ("dough temperature", 24.7, 1)
    assert "24.7 °C at" in page.get_by_role("button", name="Dough temperature").inner_text()
    page.locator("#tab-tide").click()
    assert page.locator(".level-0 .lv-median").get_attribute("d") != before
    assert page.locator(".levels").inner_text() != figure


def test_a_figure_that_cannot_be_is_named_and_nothing_is_noted(bench, stage) -> None:
    page = bench(view_at(now()))
    page.get_by_role("button", name="Dough temperature").click()
    page.keyboard.type("245")
    page.keyboard.press("Enter")
    page.get_by_role("alert").filter(has_text="−25 to 60 °C can be. 245 stands there.").or_(
        page.get_by_role("alert").filter(has_text="-25 to 60 °C can be. 245 stands there.")
    ).wait_for()
    page.keyboard.press("Escape")
    page.get_by_role("dialog").wait_for(state="hidden")
    assert page.evaluate("document.activeElement.id") == "ask-dough-temperature", "the focus goes back"
    assert noted(stage, page) == []


def test_fahrenheit_is_typed_and_celsius_is_noted(bench, stage) -> None:
    page = bench(view_at(now()))
    page.get_by_role("button", name="Dough temperature").click()
    page.get_by_role("button", name="Type in °F").click()
    page.keyboard.type("77")
    page.keyboard.press("Enter")
    assert noted(stage, page)[0].value == 25.0
    page.reload()
    page.get_by_role("button", name="Dough temperature").click()
    assert "°F" in page.locator(".keypad-figure").inner_text(), "kept on the device"


def test_weighing_goes_one_by_one_with_the_bowl_s_weight(bench, stage) -> None:
    page = bench(view_at(now(), step=0))
    assert page.get_by_role("heading", level=1).inner_text() == "Strong white bread flour"
    assert page.locator(".grams").inner_text().replace("\n", " ") == "800 g"
    assert "whole milk" in page.locator(".next").inner_text()
    page.locator("#primary").click()
    page.get_by_role("heading", name="whole milk, 8 °C", level=1).wait_for()
    assert "1110" in page.locator(".after").inner_text()
    page.get_by_role("button", name="Later").click()
    page.get_by_role("heading", name="boiled potato, riced", level=1).wait_for()
    page.locator("#bowl").click()
    page.keyboard.type("1157")
    page.keyboard.press("Enter")
    page.get_by_text("113 g short: was it forgotten?").wait_for()
    lines = [(entry.line, entry.value) for entry in noted(stage, page)]
    assert lines == [("0.0", None), ("0.2", 1157.0)]
    page.locator("#undo").click()
    page.get_by_role("heading", name="boiled potato, riced", level=1).wait_for()
    page.get_by_text("113 g short").wait_for(state="hidden")


def test_two_countdowns_and_the_ways_out(bench, stage, rescue) -> None:
    page = bench(view_at(now(), step=2).model_copy(update={"rescue": rescue}))
    assert page.locator(".countdown").count() == 2
    rolls, spreads = page.locator(".countdown").all_inner_texts()
    assert rolls.startswith("Dough rolls")
    assert spreads.startswith("Butter spreads")
    page.get_by_role("button", name="Into the fridge").click()
    (way,) = noted(stage, page)
    assert (way.deed, way.of, way.step) == ("rescue", "chill", 2)


def test_a_countdown_opens_and_closes_by_the_clock(bench, stage) -> None:
    view = view_at(now(), step=2)
    spreads = view.countdowns[1].model_copy(update={"opens": None, "closes": around(now() - timedelta(minutes=2), 1)})
    rolls = view.countdowns[0].model_copy(update={"opens": around(now() + timedelta(minutes=5), 1)})
    page = bench(view.model_copy(update={"countdowns": (rolls, spreads)}))
    first, second = page.locator(".countdown").all_inner_texts()
    assert "not yet" in first
    assert "in 5 min" in first
    assert "too late" in second


def test_what_another_device_notes_is_here_at_once(bench, stage) -> None:
    view = view_at(now())
    page = bench(view)
    page.wait_for_timeout(300)
    stage.change("coils-2", now_step=2, steps=view_at(now(), step=2).steps)
    page.get_by_role("heading", name="Sheet out", level=1).wait_for(timeout=2000)


def test_by_keyboard_alone(bench, stage) -> None:
    page = bench(view_at(now()))
    page.keyboard.press("9")
    page.get_by_role("dialog", name="Height in the jar").wait_for()
    page.keyboard.type("2")
    page.keyboard.press("Enter")
    page.get_by_role("dialog").wait_for(state="hidden")
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press(" ")
    page.get_by_role("heading", name="Sheet out", level=1).wait_for()
    page.wait_for_timeout(750)
    page.keyboard.press(" ")
    page.keyboard.press("u")
    page.keyboard.press("t")
    page.get_by_role("heading", name="Tide", level=1).wait_for()
    page.keyboard.press("n")
    page.locator("#note").focus()
    page.keyboard.type("u wet")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.keyboard.press("s")
    found = [(entry.deed, entry.value, entry.text) for entry in noted(stage, page)]
    assert found == [
        ("reading", 92.0, ""), ("done", None, ""), ("done", None, ""), ("undo", None, ""), ("note", None, "u wet"),
    ]  # fmt: skip


def test_tab_reaches_every_deed_and_the_focus_is_seen(bench) -> None:
    page = bench(view_at(now()))
    wanted = set(
        page.eval_on_selector_all(
            "button:not([disabled]), a[href]",
            "all => all.filter(e => e.checkVisibility()).map(e => e.id || e.className)",
        )
    )
    reached = set()
    for _ in range(40):
        page.keyboard.press("Tab")
        here, outline = page.evaluate("[document.activeElement.id || document.activeElement.className,"
                                      " getComputedStyle(document.activeElement).outlineWidth]")  # fmt: skip
        if here in wanted:
            reached.add(here)
            assert float(outline.removesuffix("px")) >= 3, here
    assert wanted <= reached


def test_single_keys_can_be_turned_off(bench, stage) -> None:
    page = bench(view_at(now()))
    page.keyboard.press("?")
    page.locator("#keys-off").click()
    page.locator("#device-back").click()
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("t")
    page.keyboard.press(" ")
    assert page.get_by_role("heading", level=1).inner_text() == "First rise"
    assert noted(stage, page) == []


def test_the_focus_stays_where_it_was_when_the_screen_changes(bench, stage) -> None:
    page = bench(view_at(now()))
    page.locator("#mark-not-yet").focus()
    stage.change("coils-2", said=("About 60 of 200 kitchens agree.",))
    page.get_by_text("About 60 of 200").wait_for()
    assert page.evaluate("document.activeElement.id") == "mark-not-yet"


def test_a_note_being_typed_outlives_a_change(bench, stage) -> None:
    page = bench(view_at(now()))
    page.locator("#tab-notes").click()
    page.locator("#note").press_sequentially("sticky")
    page.keyboard.press("ArrowLeft")
    stage.change("coils-2", said=("Another word.",))
    page.wait_for_timeout(400)
    page.keyboard.type("k")
    assert page.locator("#note").input_value() == "stickky"


def test_the_end_is_a_tasting_and_the_bake_finished(bench, stage) -> None:
    page = bench(view_at(now(), step=7))
    page.locator("#primary").click()
    page.get_by_role("heading", name="All steps are over", level=1).wait_for()
    page.locator("#note").fill("Even crumb, a dry edge")
    page.locator("#score-4").click()
    page.wait_for_timeout(750)
    page.get_by_role("button", name="Finish the bake").click()
    page.get_by_role("heading", name="Bake finished", level=1).wait_for()
    done, note, finish = noted(stage, page)
    assert (done.deed, note.text, note.score, finish.deed) == ("done", "Even crumb, a dry edge", 4, "finish")


def test_another_ready_by_time(bench, stage) -> None:
    page = bench(view_at(now()))
    page.locator("#tab-tide").click()
    page.locator("#ready-by").click()
    page.keyboard.type("2599")
    page.keyboard.press("Enter")
    page.get_by_role("alert").filter(has_text="0730").wait_for()
    for _ in range(4):
        page.keyboard.press("Backspace")
    page.keyboard.type("0815")
    page.keyboard.press("Enter")
    assert noted(stage, page)[0].value == 8 * 60 + 15


def test_light_is_kept_on_the_device_before_anything_is_painted(bench) -> None:
    page = bench(view_at(now()))
    page.locator("#device").click()
    page.locator("#theme-night").click()
    dark = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert dark == "rgb(12, 26, 33)"
    page.reload(wait_until="commit")
    page.wait_for_selector("body", state="attached")
    assert page.evaluate("document.documentElement.dataset.theme") == "night"


def test_another_language_is_spoken_at_once_and_kept(bench) -> None:
    german = bench_messages("de")
    page = bench(view_at(now()))
    page.locator("#device").click()
    page.locator("#language-de").click()
    page.locator("#device-back").click()
    page.get_by_role("button", name=german["Done"]).wait_for()
    assert page.evaluate("document.documentElement.lang") == "de"
    page.reload()
    page.get_by_role("button", name=german["Done"]).wait_for()
    page.get_by_role("button", name=german["Dough temperature"]).click()
    page.keyboard.type("24.5")
    assert page.locator("#keypad-figure").inner_text() == "24,5"


@pytest.mark.parametrize("language", ["de", "fr", "it", "es"])
def test_every_language_fits_a_phone(bench, language: str) -> None:
    page = bench(view_at(now(), step=2), (390, 844))
    page.locator("#device").click()
    page.locator(f"#language-{language}").click()
    page.get_by_role("button", name=bench_messages(language)["Back"], exact=True).click()
    for pane in ("step", "weigh", "tide", "notes"):
        page.locator(f"#tab-{pane}").click()
        beyond = page.eval_on_selector_all(
            "body *",
            """all => all.filter(e => e.checkVisibility() && !e.closest('.unseen')
            && e.getBoundingClientRect().right > 390.5).map(e => e.outerHTML)""",
        )
        assert beyond == [], pane
        cut = page.eval_on_selector_all(
            "button.deed",
            "all => all.filter(e => e.checkVisibility() && e.scrollWidth > e.clientWidth + 1).map(e => e.innerText)",
        )
        assert cut == [], pane


def test_without_scripts_the_sheet_is_offered(stage, address, chromium) -> None:
    stage.put(view_at(now()))
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/bench/coils-2")
    link = page.get_by_role("link", name="The bench sheet, to print")
    assert link.get_attribute("href") == "/formulas/lantern-quay-poppy-coils/sheet"
    context.close()
