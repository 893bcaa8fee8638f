"""The scripts of the bench by themselves: the fold, what a device out of reach sees, alarms, words of time, size."""

import gzip
import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

pytestmark = [pytest.mark.browser, pytest.mark.slow]
LARGEST_BYTES = 40_000


def run(page, module: str, body: str, *given: object):
    """Run a piece of script over a module of the bench."""
    return page.evaluate(
        f"async ([address, given]) => {{ const module = await import(address); return ({body})(module, ...given); }}",
        [f"/static/bench/{module}", list(given)],
    )


@pytest.fixture
def scripts(address: str, browser_page):
    """A page from which modules can be taken. Its clock stands in UTC and says so in 24 hours."""
    browser_page.goto(f"{address}/static/bench/theme.js")
    return browser_page


def test_the_scripts_fold_as_the_cases_say(scripts, root: Path) -> None:
    cases = json.loads((root / "tests/bench/fold_cases.json").read_text("utf-8"))
    start = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)
    for case in cases["cases"]:
        entries = [
            {"uid": uid, "deed": deed, "at": (start + timedelta(minutes=minutes)).isoformat(), **fields}
            for uid, deed, minutes, fields in case["entries"]
        ]
        found = run(
            scripts, "fold.js",
            """(module, entries, steps) => {
              const now = module.fold(entries);
              return {now: now.finished ? null : module.nowStep(now.done, steps),
                done: Object.fromEntries(now.done), weighed: Object.fromEntries(now.weighed),
                heard: [...now.heard.keys()],
                undone: [...now.undone].sort(), readings: now.readings.map((each) => each.uid),
                finished: now.finished, last: now.last};
            }""",
            entries, cases["steps"],
        )  # fmt: skip
        found["done"] = {
            step: (datetime.fromisoformat(at) - start).total_seconds() / 60 for step, at in found["done"].items()
        }
        expected = {name: case[name] for name in found}
        assert found == expected, case["name"]


def test_a_step_done_late_moves_what_follows_until_the_laptop_answers(scripts, stage) -> None:
    from tests.web.bench.conftest import alarm_at, view_at

    now = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)
    view = view_at(now)
    ends = view.steps[1].ends.likely
    view = view.model_copy(
        update={
            "alarms": (alarm_at(view, ends, "Look now", 1), alarm_at(view, ends + timedelta(minutes=12), "Roll", 2))
        }
    )
    late = ends + timedelta(minutes=25)
    entry = {"uid": "entry-0001", "deed": "done", "at": late.isoformat(), "step": 1}
    seen = run(scripts, "seen.js", "(module, view, kept) => module.seen(view, kept)",
               json.loads(view.model_dump_json()), [entry])  # fmt: skip
    assert seen["now_step"] == 2
    assert [step["state"] for step in seen["steps"][:4]] == ["done", "done", "now", "ahead"]
    moved = datetime.fromisoformat(seen["steps"][2]["ends"]["likely"]) - view.steps[2].ends.likely
    assert moved == timedelta(minutes=25)
    assert [alarm["words"] for alarm in seen["alarms"]] == ["Roll"], "the alarm of the step that is over is stilled"
    assert datetime.fromisoformat(seen["alarms"][0]["at"]) == ends + timedelta(minutes=37)
    assert seen["foreseen"] == "under way"
    undo = {"uid": "entry-0002", "deed": "undo", "at": late.isoformat(), "of": "entry-0001"}
    undone = run(scripts, "seen.js", "(module, view, kept) => module.seen(view, kept)",
                 json.loads(view.model_dump_json()),
                 [entry, undo])  # fmt: skip
    assert undone["now_step"] == 1
    assert datetime.fromisoformat(undone["steps"][2]["ends"]["likely"]) == view.steps[2].ends.likely


def test_what_is_due_is_told_by_bake_the_earliest_first(scripts) -> None:
    alarms = [
        {"id": str(at), "bake": bake, "name": bake, "sign": 1, "at": f"2026-03-05T04:0{at}:00Z", "heard": heard}
        for at, bake, heard in ((5, "b", False), (3, "a", False), (2, "a", True), (4, "b", False), (9, "a", False))
    ]
    now = datetime(2026, 3, 5, 4, 6, tzinfo=UTC).timestamp() * 1000
    due = run(scripts, "alarms.js", "(module, alarms, now) => module.due(alarms, now)", alarms, now)
    assert [(each["bake"], [alarm["id"] for alarm in each["alarms"]]) for each in due] == [
        ("a", ["3"]),
        ("b", ["4", "5"]),
    ]


def test_time_is_told_in_24_hours_and_minutes(scripts) -> None:
    told = run(scripts, "clock.js", """(module) => {
      const when = new Date(2026, 2, 5, 16, 5).getTime();
      return [module.hhmm(when), module.until(when + 12 * 60000, when), module.until(when + 65 * 60000, when),
        module.until(when - 4 * 60000, when), module.until(when + 20000, when)];
    }""")  # fmt: skip
    assert told == ["16:05", "in 12 min", "in 1 h 05 min", "4 min ago", "now"]


def test_another_language_has_its_own_decimal_sign_and_words(scripts, address: str) -> None:
    scripts.route("**/words/de.json", lambda route: route.fulfill(json={"in {time}": "in {time} noch"}))
    told = run(scripts, "say.js", """async (module) => [await module.speak("de"), module.say("in {time}", {time: "3"}),
      module.say("not in the catalogue"), module.figure(24.5, 1), module.decimalSign()]""")  # fmt: skip
    assert told == [True, "in 3 noch", "not in the catalogue", "24,5", ","]


def test_the_scripts_are_light(root: Path) -> None:
    folder = root / "src/oventide/web/static/bench"
    size = sum(len(gzip.compress(path.read_bytes(), 9)) for path in folder.glob("*.js"))
    assert size <= LARGEST_BYTES, f"{size} bytes"
