"""Use cases of a bake under way: begin, note, look, restart."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from oventide.bench.laid import lay
from oventide.bench.model import Bake, Taken
from oventide.bench.outlook import Outlook
from oventide.errors import Refusal
from oventide.journal.store import Journal
from oventide.kitchen.complete import complete
from oventide.services import reading
from oventide.services.bakes import Bakes, NoSuchBake
from oventide.services.outlooking import Fresh
from oventide.services.shelf import DEMO
from oventide.timeline.procedure import Procedure, Product
from oventide.words.speaker import Speaker, Value

START = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)


class Hand:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.now = START

    def __call__(self) -> datetime:
        return self.now

    def go(self, minutes: float) -> datetime:
        self.now += timedelta(minutes=minutes)
        return self.now


class Marked(Speaker):
    """A language that shows what was said in it."""

    def say(self, msgid: str, /, **values: Value) -> str:
        return f"<{super().say(msgid, **values)}>"

    def retell(self, text: str) -> str:
        return f"<{text}>"


class Said:
    """A forecast that says what it is told to."""

    def __init__(self) -> None:
        self.answer: Outlook | None = None
        self.fresh: Fresh | None = None
        self.asked = 0

    def outlook(
        self, bake: Bake, taken: tuple[Taken, ...], now: datetime, fresh: Fresh | None = None
    ) -> Outlook | None:
        self.asked += 1
        self.fresh = fresh
        return self.answer

    def settle(self, timeout_s: float | None = None) -> bool:
        return True


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    opened = Journal(f"sqlite:///{tmp_path / 'journal.sqlite3'}")
    yield opened
    opened.close()


@pytest.fixture
def bakes(journal: Journal, hand: Hand) -> Bakes:
    return Bakes(journal, None, hand)


@pytest.fixture(scope="module")
def coils() -> Product:
    path = DEMO / "lantern-quay-poppy-coils.toml"
    return reading.read_file(path.read_text("utf-8"), path.name)


def begin(bakes: Bakes, product: Product, **more: object) -> Bake:
    return bakes.begin(product, complete({"name": "Quay"}), product_key="coils", product_revision=3,
                       kitchen_key="quay", **more)  # type: ignore[arg-type]  # fmt: skip


def entry(uid: str, deed: str, at: datetime = START, **fields: object) -> dict[str, object]:
    return {"uid": uid, "deed": deed, "at": at.isoformat(), **fields}


def test_a_bake_keeps_what_it_was_begun_with(bakes: Bakes, coils: Product) -> None:
    made = begin(bakes, coils, ready_by="19:30", name="  Poppy   coils ")
    assert (made.key, made.name, made.sign) == ("poppy-coils-2026-03-05", "Poppy coils", 0)
    assert made.ready_at == START.replace(hour=19, minute=30)
    assert bakes.bake(made.key) == made
    assert bakes.bake(made.key).product == coils


def test_bakes_under_way_are_told_apart(bakes: Bakes, coils: Product, hand: Hand) -> None:
    first, second = begin(bakes, coils), begin(bakes, coils)
    assert (second.name, second.sign) == ("Lantern Quay poppy coils 2", 1)
    assert second.key != first.key
    bakes.note(first.key, {"entries": [entry("finished-1", "finish", hand.go(9))]})
    third = begin(bakes, coils)
    assert (third.name, third.sign) == ("Lantern Quay poppy coils", 0)
    assert [row.key for row in bakes.under_way()] == [third.key, second.key]
    assert [row.key for row in bakes.page("poppy")] == [third.key, second.key, first.key]


def test_ready_is_the_next_such_time_that_leaves_room(bakes: Bakes, coils: Product) -> None:
    assert begin(bakes, coils, ready_by="07:00").ready_at == START.replace(day=6, hour=7)
    assert begin(bakes, coils).ready_at is None


def test_what_cannot_be_followed_is_refused(bakes: Bakes, coils: Product, hand: Hand) -> None:
    with pytest.raises(Refusal, match="no steps"):
        begin(bakes, coils.model_copy(update={"procedure": Procedure()}))
    with pytest.raises(Refusal, match="later than now"):
        begin(bakes, coils, started_at=START + timedelta(minutes=1))
    for ask in (bakes.view, bakes.record, bakes.bake):
        with pytest.raises(NoSuchBake):
            ask("nothing")
    assert bakes.under_way() == ()


def test_entries_are_taken_once_each_and_the_unusable_ones_refused(bakes: Bakes, coils: Product, hand: Hand) -> None:
    key = begin(bakes, coils).key
    hand.go(12)
    sent = {
        "entries": [
            entry("mix-is-done", "done", START + timedelta(minutes=11), step=0),
            entry("no-such-step", "done", step=40),
            entry("wrong-figure", "reading", step=1, quantity="core", value=40),
            entry("unreadable-1", "reading", step=1, quantity="core", value="warm"),
            entry("too-warm-1", "reading", step=1, quantity="dough temperature", value=340),
            entry("wrong-mark", "mark", step=0, mark="at the mark"),
            entry("no-such-line", "weighed", line="9.9"),
            entry("undo-nothing", "undo", of="not-there-1"),
            entry("other-alarm", "heard", of="another-bake.1.look"),
            entry("empty-note", "note", text="  "),
            entry("no-time-of-day", "ready_by", value=1440),
            entry("rise-1.4-x", "reading", step=1),
        ]
    }
    sent["entries"][-1]["uid"] = "rise-without"
    noted = bakes.note(key, sent)
    assert noted.taken == ("mix-is-done",)
    assert {uid for uid, _ in noted.refused} == {str(each["uid"]) for each in sent["entries"][1:]}
    assert all(words.endswith(".") for _, words in noted.refused)
    assert noted.view.now_step == 1
    again = bakes.note(key, sent)
    assert (again.taken, again.view.number) == (noted.taken, 1)
    assert len(bakes.taken(key)) == 1


@pytest.mark.parametrize(
    "body", [None, [], {}, {"entries": "x"}, {"entries": [1]}, {"entries": [{"uid": "a"}]}, {"entries": [{}] * 501}]
)
def test_what_is_no_list_of_entries_is_refused_whole(bakes: Bakes, coils: Product, body: object) -> None:
    key = begin(bakes, coils).key
    with pytest.raises(Refusal):
        bakes.note(key, body)
    assert bakes.taken(key) == ()


def test_undo_may_come_with_what_it_undoes(bakes: Bakes, coils: Product) -> None:
    key = begin(bakes, coils).key
    sent = [entry("take-back", "undo", of="mix-is-done"), entry("mix-is-done", "done", step=0)]
    noted = bakes.note(key, {"entries": sent})
    assert (set(noted.taken), noted.view.now_step) == ({"take-back", "mix-is-done"}, 0)
    log = {each.uid: each for each in noted.view.noted}
    assert log["mix-is-done"].undone
    assert log["take-back"].words == "taken back: Mix: done"
    assert not any(each.undoable for each in log.values())


def test_the_newest_entry_that_counts_is_the_one_to_undo(bakes: Bakes, coils: Product, hand: Hand) -> None:
    key = begin(bakes, coils).key
    bakes.note(key, {"entries": [entry("mix-is-done", "done", hand.go(11), step=0)]})
    bakes.note(key, {"entries": [entry("rise-so-far", "reading", hand.go(9), step=1, quantity="rise since mixing",
                                       value=1.4)]})  # fmt: skip
    view = bakes.note(key, {"entries": [entry("heard-this", "heard", hand.go(1), of=f"{key}.1.look")]}).view
    assert [each.uid for each in view.noted if each.undoable] == ["rise-so-far"]
    assert [each.words for each in view.noted] == [
        "alarm heard: First rise", "First rise: risen since mixing ×1.4", "Mix: done",
    ]  # fmt: skip
    assert view.readings == ((START + timedelta(minutes=20), "rise", 1.4),)


def test_weighing_is_for_the_step_now(bakes: Bakes, coils: Product, hand: Hand) -> None:
    key = begin(bakes, coils).key
    view = bakes.view(key)
    assert {each.component for each in view.weighing} == {"Sponge", "Dough"}
    assert {each.component for each in view.weigh_later} == {"Spread", "Filling", "Wash", "Topping", "Glaze"}
    lines = [each.line for each in view.weighing if each.component == "Dough"]
    sent = [entry(f"line-{line}".replace(".", "-") + "-in", "weighed", hand.go(1), line=line) for line in lines[:-2]]
    shown = sum(each.grams or 0 for each in view.weighing if each.line in lines[:-2])
    missing = next(each for each in view.weighing if each.name == "fine salt")
    sent[-1]["value"] = round(shown - (missing.grams or 0))
    view = bakes.note(key, {"entries": sent}).view
    said = [each.difference for each in view.weighing if each.difference]
    assert said == ["The bowl is 7 g too light, as much as fine salt weighs. If it was left out, add 7 g fine salt."]
    later = bakes.note(key, {"entries": [entry("mix-is-done", "done", hand.go(5), step=0)]}).view
    assert later.weighing == ()
    assert any("fine salt may have been left out" in sentence for sentence in later.said)


def test_the_log_and_the_steps_are_said_in_another_language(bakes: Bakes, coils: Product, hand: Hand) -> None:
    key = begin(bakes, coils).key
    bakes.note(key, {"entries": [entry("tasted-well", "note", hand.go(1), text="nussig", score=4)]})
    english, other = bakes.view(key), bakes.view(key, speaker=Marked())
    assert english.noted[0].words == "tasted: 4 of 5. nussig"
    assert other.noted[0].words == "<tasted: 4 of 5. nussig>"
    assert [step.name for step in other.steps] == [f"<{step.name}>" for step in english.steps]
    assert all(alarm.words.startswith("<") for alarm in other.alarms)


def test_the_outlook_is_kept_and_stands_after_a_restart(journal: Journal, hand: Hand, coils: Product) -> None:
    said = Said()
    bakes = Bakes(journal, said, hand)
    bake = begin(bakes, coils)
    assert bakes.view(bake.key).foreseen == "planned"
    laid = lay(bake, bakes.progress(bake.key), None, START)
    longer = [
        step.model_copy(update={"figures": ("core 91 to 96 °C",), "target": "from the forecast"}) for step in laid.steps
    ]
    told: list[tuple[str, int]] = []
    bakes.on_noted = lambda key, number: told.append((key, number))
    assert said.fresh is not None
    said.fresh(bake, Outlook(number=0, made_at=START, steps=tuple(longer), foreseen="fresh", said=("hello",)))
    assert told == [(bake.key, 0)]
    after = Bakes(journal, None, hand)
    view = after.view(bake.key)
    assert (view.foreseen, view.steps[1].target, view.said) == ("fresh", "from the forecast", ("hello",))
    noted = after.note(bake.key, {"entries": [entry("mix-is-done", "done", hand.go(15), step=0)]}).view
    assert noted.foreseen == "under way"
    assert noted.steps[1].begins.likely == START + timedelta(minutes=15)
    assert [alarm.id for alarm in after.alarms().alarms] == [alarm.id for alarm in noted.alarms]


def test_what_the_forecast_answers_at_once_is_kept(journal: Journal, hand: Hand, coils: Product) -> None:
    said = Said()
    bakes = Bakes(journal, said, hand)
    bake = begin(bakes, coils)
    laid = lay(bake, bakes.progress(bake.key), None, START)
    said.answer = Outlook(number=1, made_at=START, steps=laid.steps, foreseen="fresh")
    bakes.note(bake.key, {"entries": [entry("mix-is-done", "done", hand.go(11), step=0)]})
    assert bakes.stored_outlook(bake.key) == said.answer
    bakes.note(bake.key, {"entries": [entry("finished-1", "finish", hand.go(11))]})
    asked = said.asked
    assert bakes.view(bake.key).finished
    assert said.asked == asked


def test_a_record_holds_plan_and_what_was(bakes: Bakes, coils: Product, hand: Hand) -> None:
    key = begin(bakes, coils).key
    bakes.note(key, {"entries": [
        entry("mix-is-done", "done", hand.go(14), step=0),
        entry("rise-so-far", "reading", hand.go(30), step=1, quantity="rise since mixing", value=1.4),
        entry("not-yet-no", "mark", hand.go(1), step=1, mark="not yet"),
        entry("tasted-well", "note", hand.go(1), text="close crumb", score=4),
    ]})  # fmt: skip
    record = bakes.record(key)
    assert (record.steps[0].planned_min, record.steps[0].minutes) == (11, 14)
    first = record.steps[1]
    assert (first.minutes, first.readings[0].since_begin_min, first.readings[0].level) == (None, 30, "rise")
    assert [mark for _, mark in first.marks] == ["not yet"]
    assert [(tasted.text, tasted.score) for tasted in record.tasted] == [("close crumb", 4)]
    assert (record.ready, record.total_min) == (None, None)


WRITER = """
import sys
from datetime import UTC, datetime, timedelta
from oventide.journal.store import Journal
from oventide.services.bakes import Bakes
bakes = Bakes(Journal(sys.argv[1]))
key, number = sys.argv[2], 0
while True:
    number += 1
    at = datetime(2026, 3, 5, 5, tzinfo=UTC) + timedelta(seconds=number)
    entry = {"uid": f"written-{number:06d}", "deed": "note", "at": at.isoformat(), "text": f"note {number}"}
    noted = bakes.note(key, {"entries": [entry]})
    print(noted.taken[0], flush=True)
"""


def test_a_writer_that_is_killed_loses_nothing_that_was_answered(
    bakes: Bakes, coils: Product, tmp_path: Path
) -> None:  # fmt: skip
    key = begin(bakes, coils).key
    url = f"sqlite:///{tmp_path / 'journal.sqlite3'}"
    writer = subprocess.Popen([sys.executable, "-c", WRITER, url, key], stdout=subprocess.PIPE, text=True)
    assert writer.stdout is not None
    answered = [writer.stdout.readline().strip() for _ in range(20)]
    time.sleep(0.05)
    os.kill(writer.pid, signal.SIGKILL)
    rest, _ = writer.communicate(timeout=20)
    answered += [line for line in rest.splitlines() if line.startswith("written-") and len(line) == 14]
    assert writer.returncode == -signal.SIGKILL
    other = Journal(url)
    stored = {taken.entry.uid for taken in Bakes(other).taken(key)}
    other.close()
    assert len(answered) >= 20
    assert set(answered) <= stored
    assert len(stored) - len(answered) <= 1
