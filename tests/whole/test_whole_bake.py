"""A bake on the bench, as a baker would have it: the program itself, a browser, a power cut in the middle.

The clock is the wall's, so a bake of hours is tapped through in seconds: what is tried is that nothing noted is lost,
doubled or forgotten on the way from a pasted recipe to the tasting note.
"""

import json
import re

import pytest

pytestmark = [pytest.mark.browser, pytest.mark.slow]

RECIPE = """Harbour wall seed knots

Dough
420 g bread flour
220 ml whole milk, lukewarm
7 g instant yeast
1 medium egg
45 g sugar
8 g salt
60 g soft butter

Filling
80 g sesame seeds
70 g honey

Method
Mix for 10 minutes. Cover and leave to rise for 1 hour at room temperature.
Roll out to 30 x 40 cm, spread with the filling, roll up and cut into 9.
Set in a 20 cm square tin, cover and prove for 50 minutes.
Bake at 180C fan for 25 minutes. Cool on a rack for 20 minutes.
"""
SLACK_MS = 800
"""A second touch within 0.7 s counts as the same touch, so a test's finger waits too."""


def tap(page, what: str) -> None:
    page.locator(f"#{what}").click()
    page.wait_for_timeout(SLACK_MS)


def key_in(page, figure: str) -> None:
    dialog = page.locator("dialog[open]")
    dialog.wait_for()
    for sign in figure:
        dialog.get_by_role("button", name="Decimal sign" if sign == "." else sign, exact=True).click()
    dialog.get_by_role("button", name="Note it").click()
    dialog.wait_for(state="detached")


def steps_of(bakehouse, key: str) -> dict:
    shown = bakehouse.command("log", "show", key, "--json")
    assert shown.returncode == 0, shown.stderr
    return json.loads(shown.stdout)


def begin(page, bakehouse) -> str:
    """From the pasted recipe to the bench; the bake's key."""
    page.goto(bakehouse.address + "/paste")
    page.get_by_label("The recipe, ingredients and method").fill(RECIPE)
    page.get_by_role("button", name="Read it").click()
    page.get_by_role("button", name="Save on the shelf").click()
    page.wait_for_url(re.compile(r"/formulas/harbour-wall-seed-knots"))
    page.goto(bakehouse.address + "/bench?formula=harbour-wall-seed-knots")
    page.get_by_label("Name, if it should have its own").fill("Seed knots")
    page.get_by_role("button", name="Begin", exact=True).click()
    page.wait_for_url(re.compile(r"/bench/seed-knots"))
    return page.url.rpartition("/")[2]


def test_a_whole_bake_from_a_pasted_recipe_to_the_tasting_note_over_a_power_cut(bakehouse, tablet) -> None:
    page = tablet()
    key = begin(page, bakehouse)

    # weighing: the flour, then the milk is put off, and the egg's bowl is read too light
    assert page.locator("#title").inner_text().lower() == "bread flour"
    tap(page, "primary")
    assert page.locator("#title").inner_text().lower() == "whole milk"
    tap(page, "later")
    while page.locator("#title").inner_text().lower() not in ("whole milk", "all is weighed"):
        tap(page, "primary")
    tap(page, "bowl")
    key_in(page, "612")
    page.locator(".bowl.differs").wait_for()
    said = page.locator(".difference").inner_text()
    assert re.search(r"\d", said), "what is short or doubled is said in grams"
    while page.locator("#title").inner_text() != "All is weighed":
        tap(page, "primary")
    tap(page, "primary")
    assert page.locator("#title").inner_text().startswith("Mix")

    # a reading, which stays through a reload
    tap(page, "ask-dough-temperature")
    key_in(page, "27.5")
    page.get_by_text("27.5 °C at").first.wait_for()
    tap(page, "primary")
    second = page.locator("#title").inner_text()
    assert not second.startswith("Mix")
    page.reload()
    page.locator("#title").wait_for()
    tap(page, "tab-step")
    assert page.locator("#title").inner_text() == second

    # the power is cut; the tablet goes on by itself, and sends once each when the laptop is back
    before = steps_of(bakehouse, key)
    bakehouse.lose_power()
    tap(page, "primary")
    page.get_by_text("Out of reach of the laptop since").wait_for()
    page.locator("#tab-notes").click()
    page.locator("#note").fill("The lights went out at the second step.")
    page.locator("#keep-note").click()
    assert page.get_by_text("kept here").count() >= 2
    bakehouse.start()
    page.locator("#out").wait_for(state="detached")
    page.get_by_text("Out of reach of the laptop since").wait_for(state="detached")
    after = steps_of(bakehouse, key)
    noted = [each["words"] for each in after["noted"]]
    assert len(after["noted"]) == len(before["noted"]) + 2, noted
    assert len([words for words in noted if "lights went out" in words]) == 1
    assert after["now_step"] == before["now_step"] + 1

    # on to the end
    page.locator("#tab-step").click()
    for _ in range(20):
        if page.locator("#title").inner_text() == "All steps are over":
            break
        tap(page, "primary")
    page.locator("#note").fill("Even crumb; a minute less next time.")
    page.locator("#score-4").click()
    page.locator("#keep-note").click()
    page.wait_for_timeout(SLACK_MS)
    tap(page, "primary")
    page.get_by_role("link", name="Its record").click()
    page.wait_for_url(re.compile(rf"/bakes/{key}"))
    assert page.get_by_text("Even crumb; a minute less next time.").first.is_visible()
    assert page.get_by_text("The lights went out at the second step.").first.is_visible()
    assert page.get_by_text("27.5 °C").first.is_visible()
    assert steps_of(bakehouse, key)["finished"] is True


def test_two_tablets_and_the_terminal_are_of_one_mind(bakehouse, tablet) -> None:
    one, two = tablet(), tablet(390, 844)
    key = begin(one, bakehouse)
    two.goto(f"{bakehouse.address}/bench/{key}")
    two.locator("#title").wait_for()
    one.locator("#tab-step").click()
    two.locator("#tab-step").click() if two.locator("#tab-step").is_visible() else two.keyboard.press("s")

    tap(one, "primary")
    name = one.locator("#title").inner_text()
    two.wait_for_function("name => document.getElementById('title').innerText === name", arg=name)

    # both say "done" of the same step, one of them out of reach: it counts once, and neither is lost
    two.context.set_offline(True)
    tap(two, "primary")
    tap(one, "primary")
    third = one.locator("#title").inner_text()
    two.context.set_offline(False)
    two.evaluate("window.dispatchEvent(new Event('online'))")
    two.get_by_text("Out of reach of the laptop since").wait_for(state="detached")
    for page in (one, two):
        page.wait_for_function("name => document.getElementById('title').innerText === name", arg=third)
    shown = steps_of(bakehouse, key)
    assert shown["now_step"] == 2
    assert len([each for each in shown["noted"] if each["entry"]["deed"] == "done"]) == 3

    # the terminal notes, both see it; one undoes, both see that
    said = bakehouse.command("log", "note", key, "Said at the terminal.")
    assert said.returncode == 0, said.stderr
    for page in (one, two):
        page.keyboard.press("n")
        page.get_by_text("Said at the terminal.").first.wait_for()
    tap(one, "undo")
    two.locator("li.undone", has_text="Said at the terminal.").wait_for()


def test_the_log_command_drives_a_whole_bake_without_a_screen(bakehouse, tmp_path) -> None:
    recipe = tmp_path / "knots.txt"
    recipe.write_text(RECIPE, encoding="utf-8")
    begun = bakehouse.command("log", "start", str(recipe), "--name", "Terminal knots", "--json")
    assert begun.returncode == 0, begun.stderr
    key = json.loads(begun.stdout)["key"]
    shown = steps_of(bakehouse, key)
    for words in (("reading", key, "dough 80 F"), ("mark", key, "too soft")):
        done = bakehouse.command("log", *words)
        assert done.returncode == 0, done.stderr
    assert bakehouse.command("log", "undo", key).returncode == 0
    for _ in range(3):
        assert bakehouse.command("log", "done", key).returncode == 0
    assert steps_of(bakehouse, key)["now_step"] == shown["now_step"] + 3
    refused = bakehouse.command("log", "reading", key, "dough 2000 C")
    assert refused.returncode == 2
    assert "Traceback" not in refused.stderr
    assert bakehouse.command("log", "note", key, "Good.", "--score", "4").returncode == 0
    assert bakehouse.command("log", "finish", key).returncode == 0
    shown = steps_of(bakehouse, key)
    assert shown["finished"] is True
    undone = [each for each in shown["noted"] if each["undone"]]
    assert len(undone) == 1
    assert any("26.7" in each["words"] or "27" in each["words"] for each in shown["noted"]), (
        "80 °F were read as 26.7 °C"
    )
