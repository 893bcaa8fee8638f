"""The bakes over the live forecast: an outlook is kept, stands after a restart before any run, and is told fresh."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from oventide.journal.store import Journal
from oventide.services.bakes import Bakes
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.live import Live

START = datetime.fromisoformat("2026-03-05T17:00:00+01:00")
ENDS = (12, 75, 690, 700, 707, 711, 727, 731, 734)


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    opened = Journal(f"sqlite:///{tmp_path / 'journal.sqlite3'}")
    yield opened
    opened.close()


def test_what_is_foreseen_outlives_the_program_and_a_missed_window_is_told(journal: Journal) -> None:
    now = [START]
    live = Live(clock=lambda: now[0])
    bakes = Bakes(journal, live, lambda: now[0])
    told: list[int] = []
    bakes.on_noted = lambda _key, number: told.append(number)
    key = bakes.begin(demo_product(), demo_kitchen(), ready_by="07:30", members=24).key
    assert bakes.view(key).foreseen == "planned"
    assert live.settle(120)
    first = bakes.view(key)
    assert first.foreseen == "fresh"
    assert first.levels
    assert told == [0, 0]
    for step, minutes in enumerate(ENDS):
        now[0] = START + timedelta(minutes=minutes)
        bakes.note(key, {"entries": [
            {"uid": f"done-{step:04d}", "deed": "done", "at": now[0].isoformat(), "step": step}
        ]})  # fmt: skip
    assert live.settle(120)
    before = bakes.view(key)
    assert (before.foreseen, before.now_step) == ("fresh", 9)
    assert before.steps[9].begins.likely == now[0]
    # the program is gone; another one opens the journal, and nothing has been run yet
    after = Bakes(journal, None, lambda: now[0]).view(key)
    assert [step.ends for step in after.steps] == [step.ends for step in before.steps]
    assert (after.ready, after.levels, after.alarms) == (before.ready, before.levels, before.alarms)
    # nobody came back: the proof is late, and its ways out are told when they are there
    now[0] = START + timedelta(minutes=960)
    count = len(told)
    bakes.view(key)
    assert live.settle(120)
    assert len(told) == count + 1
    assert [choice.id.partition("/")[0] for choice in bakes.view(key).rescue] == ["bake", "reshape", "cold"]
    assert Bakes(journal, None, lambda: now[0]).view(key).rescue == bakes.view(key).rescue
