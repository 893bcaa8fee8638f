"""A bake looked back on: its record beside its plan, and its tide chart."""

import re
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

import pytest
from tests.web.conftest import TestClient

from oventide.bench.model import Bake, Instants, Level, Taken
from oventide.bench.outlook import Outlook, StepOutlook
from oventide.services.outlooking import Fresh
from oventide.web.app import create_app
from oventide.web.bake_chart import chart_of, expected_at, whole_min
from oventide.web.figures import Units

if TYPE_CHECKING:
    from oventide.services.bakes import Bakes

START = datetime(2026, 3, 5, 16, 50, tzinfo=UTC)


class Hand:
    """A clock that is set by hand."""

    now = START

    def __call__(self) -> datetime:
        return self.now


class Foreseen:
    """A forecast of invented figures: 24 °C in the dough all along, half an hour to each step that is ahead."""

    def outlook(self, bake: Bake, taken: Sequence[Taken], now: datetime, fresh: Fresh | None = None) -> Outlook:
        steps, at = [], bake.started_at
        done = {each.entry.step: each.entry.at for each in taken if each.entry.deed == "done"}
        for index in range(len(bake.product.procedure.steps)):
            begins = Instants(earliest=at, likely=at, latest=at)
            if index in done:
                at = done[index]
                ends = Instants(earliest=at, likely=at, latest=at)
            else:
                at += timedelta(minutes=30)
                ends = Instants(earliest=at - timedelta(minutes=5), likely=at, latest=at + timedelta(minutes=9))
            steps.append(StepOutlook(index=index, begins=begins, ends=ends))
        moments = tuple(bake.started_at + timedelta(minutes=10 * k) for k in range(40))
        level = Level(name="temperature", unit="°C", at=moments, p5=(22.0,) * 40, p50=(24.0,) * 40, p95=(26.0,) * 40)
        return Outlook(
            number=max((each.number for each in taken), default=0), made_at=now, steps=tuple(steps), levels=(level,),
            said=("about 60 of 200 kitchens agree",), foreseen="fresh",
        )  # fmt: skip


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture
def served(invented: None, demo, hand: Hand) -> Iterator[TestClient]:
    app = create_app("sqlite://", clock=hand, live=Foreseen())
    with TestClient(app, base_url="http://127.0.0.1:8711", follow_redirects=False) as client:
        yield client


@pytest.fixture
def bake(served: TestClient, demo, hand: Hand) -> str:
    """Begun at 16:50; mixed in 14 min, risen 66 min, read three times, tasted."""
    bakes: Bakes = served.app.state.bakes
    made = bakes.begin(demo[0], demo[1], product_key="coils", product_revision=1, name="Poppy coils", ready_by="07:30")
    for minutes, entry in (
        (14, {"deed": "done", "step": 0}),
        (15, {"deed": "reading", "step": 1, "quantity": "dough temperature", "value": 25.0}),
        (40, {"deed": "reading", "step": 1, "quantity": "dough temperature", "value": 28.0}),
        (60, {"deed": "mark", "step": 1, "mark": "at the mark"}),
        (80, {"deed": "done", "step": 1}),
        (81, {"deed": "reading", "step": 2, "quantity": "core", "value": 3.0}),
        (90, {"deed": "note", "text": "good <b>crumb</b>", "score": 4}),
    ):
        hand.now = START + timedelta(minutes=minutes)
        sent = {"uid": f"entry-{minutes:04d}", "at": hand.now.isoformat(), "device": "bench tablet", **entry}
        answer = bakes.note(made.key, {"entries": [sent]})
        assert answer.refused == ()
    return made.key


def test_the_record_holds_the_plan_against_what_happened(served: TestClient, bake: str) -> None:
    page = served.get(f"/bakes/{bake}").text
    rows = dict(re.findall(r'<tr id="s(\d+)">(.*?)</tr>', page, re.DOTALL))
    assert "17:01" in rows["1"], "planned: 11 min after 16:50"
    assert "<b>17:04</b>" in rows["1"]
    assert "3\u202fmin longer" in rows["1"]
    assert "6\u202fmin longer" in rows["2"]
    assert "17:05 dough temperature 25" in rows["2"]
    assert "within what is foreseen, 22–26\u202f°C, likely 24\u202f°C" in rows["2"]
    assert "above what is foreseen" in rows["2"]
    assert "17:50 at the mark" in rows["2"]
    assert "below what is foreseen" in rows["3"]
    # 30 min to each step from 18:10 on
    assert "foreseen</span> 19:05–19:19" in rows["4"]
    assert "not noted" not in rows["4"]
    assert "about 60 of 200 kitchens agree" in page


def test_notes_scores_and_the_log_are_told_escaped(served: TestClient, bake: str) -> None:
    page = served.get(f"/bakes/{bake}").text
    assert "<b>4 of 5</b>" in page
    assert "good &lt;b&gt;crumb&lt;/b&gt;" in page
    assert "Everything that was noted: 7" in page
    assert "It is to be ready by 07:30." in page
    assert f'href="/bench/{bake}"' in page


def test_the_chart_shows_rings_windows_and_the_plan(served: TestClient, bake: str, demo) -> None:
    record = served.app.state.bakes.record(bake)
    chart = chart_of(record, Units(), START + timedelta(minutes=95))
    svg = str(chart.wide())
    assert svg.count('class="tc-ring"') == 3
    assert svg.count('class="tc-planned"') == sum(1 for s in demo[0].procedure.steps if s.kind != "keep")
    assert "now 18:25" in svg
    first = chart.forecast.steps[0]
    assert (first.end.earliest_min, first.end.latest_min) == (14, 14), "what is over has its own moment"
    ahead = chart.forecast.steps[3]
    assert ahead.end.latest_min - ahead.end.earliest_min == 14
    assert 'class="tc-ring"' in str(chart.tall())
    fahrenheit = chart_of(record, Units("f"))
    assert fahrenheit.over.rings[0].value == pytest.approx(77)
    assert "now " not in str(chart_of(record, Units()).wide())


def test_two_bakes_stand_on_one_clock(served: TestClient, bake: str) -> None:
    record = served.app.state.bakes.record(bake)
    span = whole_min(record) * 2
    wider = chart_of(record, Units(), span_min=span)
    assert wider.clock.span_min == span
    block = r'class="tc-block[^>]*'
    alone = re.findall(
        r'<rect x="[\d.]+" y="[\d.]+" width="([\d.]+)" height="40" ' + block, str(chart_of(record, Units()).wide())
    )
    beside = re.findall(r'<rect x="[\d.]+" y="[\d.]+" width="([\d.]+)" height="40" ' + block, str(wider.wide()))
    assert float(beside[2]) < float(alone[2])


def test_what_is_foreseen_lies_between_the_samples(served: TestClient, bake: str) -> None:
    record = served.app.state.bakes.record(bake)
    read = record.steps[1].readings[0]
    assert expected_at(record, read) == (22, 24, 26)
    assert expected_at(record, read.model_copy(update={"at": START - timedelta(minutes=1)})) is None
    assert expected_at(record, read.model_copy(update={"level": ""})) is None


def test_a_bake_of_which_nothing_was_noted_has_its_plan(served: TestClient, demo, hand: Hand) -> None:
    made = served.app.state.bakes.begin(demo[0], demo[1], name="Untouched")
    page = served.get(f"/bakes/{made.key}")
    assert page.status_code == 200
    assert "Nothing was noted." in page.text
    assert served.get("/bakes/nothing-like-it").status_code == 404
