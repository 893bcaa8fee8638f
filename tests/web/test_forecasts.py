"""A forecast under way: the page is there at once, says how far it is, can be stopped, and blocks nothing."""

import re
import threading
import time

import pytest
from starlette.testclient import TestClient

from oventide.errors import Refusal, refuse
from oventide.forecast.model import Reading
from oventide.services import foreseeing
from oventide.services import tasks as module
from oventide.services.tasks import Stopped
from oventide.web import plan
from oventide.web.figures import Units
from oventide.web.forecasts import Forecasts
from oventide.web.readings import _words

OWN = {"origin": "http://127.0.0.1:8711", "sec-fetch-site": "same-origin"}


class Slow:
    """A forecast that goes on step by step, as far as the test lets it."""

    def __init__(self, answer) -> None:
        self.answer, self.go, self.begun, self.runs = answer, threading.Event(), threading.Event(), 0
        self.stopped = threading.Event()

    def __call__(self, product, kitchen, *, progress, **rest):
        self.runs += 1
        try:
            progress(0.4)
            self.begun.set()
            while not self.go.wait(0.01):
                progress(0.4)
        except Stopped:
            self.stopped.set()
            raise
        return self.answer(product, kitchen, **rest)


@pytest.fixture
def slow(client: TestClient, monkeypatch: pytest.MonkeyPatch, make_forecast) -> Slow:
    found = Slow(make_forecast)
    monkeypatch.setattr(foreseeing, "foresee", found)
    monkeypatch.setattr(plan, "PATIENCE_S", 0.05)
    monkeypatch.setattr(plan.plan_of, "__defaults__", (0.05,))
    return found


@pytest.mark.parametrize("page", ["tide", "sheet"])
def test_the_page_says_how_far_it_is_and_then_shows_it(client: TestClient, key: str, slow: Slow, page: str) -> None:
    address = f"/formulas/{key}/{page}?ready_by=07%3A30"
    waiting = client.get(address)
    assert slow.begun.wait(5)
    waiting = client.get(address)
    assert waiting.status_code == 200
    assert "Foreseeing Lantern Quay poppy coils" in waiting.text
    assert re.search(r'<p class="lead" id="going-share">40 %</p>', waiting.text)
    assert '<noscript><meta http-equiv="refresh"' in waiting.text, "without scripts the page looks again by itself"
    assert f'hx-get="{address}"' in waiting.text.replace("&amp;", "&")
    assert client.get("/about").status_code == 200, "other pages answer meanwhile"
    part = client.get(address, headers={"hx-request": "true"})
    assert "<html" not in part.text
    assert "40 %" in part.text
    slow.go.set()
    for _ in range(200):
        done = client.get(address)
        if "Foreseeing" not in done.text:
            break
        time.sleep(0.02)
    assert "http-equiv" not in done.text
    assert ('class="tstep"' if page == "tide" else 'class="paper-sheet"') in done.text
    assert slow.runs == 1, "asking again begins nothing anew"


def test_a_forecast_can_be_stopped_and_begun_again(client: TestClient, key: str, slow: Slow) -> None:
    address = f"/formulas/{key}/tide?ready_by=07%3A30"
    client.get(address)
    assert slow.begun.wait(5)
    answer = client.post(address, headers=OWN)
    assert answer.status_code == 303
    assert answer.headers["location"].endswith("&stopped=yes")
    assert slow.stopped.wait(5)
    page = client.get(answer.headers["location"])
    assert "Stopped." in page.text
    assert "Foreseeing" not in page.text
    slow.go.set()
    client.get(address)
    for _ in range(200):
        if 'class="tstep"' in client.get(address).text:
            break
        time.sleep(0.02)
    assert slow.runs == 2


def test_work_that_nobody_waits_for_is_given_up(
    client: TestClient, key: str, slow: Slow, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "LEFT_ALONE_S", 0.1)
    client.get(f"/formulas/{key}/tide?ready_by=07%3A30")
    assert slow.stopped.wait(5)


def test_a_refusal_is_the_same_each_time_and_a_fault_is_tried_again(demo, monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []

    def refusing(*_: object, **__: object) -> None:
        calls.append("refused")
        raise refuse("steps", "", "There is no step.", "Add one.")

    def broken(*_: object, **__: object) -> None:
        calls.append("broke")
        raise ZeroDivisionError

    kept = Forecasts()
    for trouble, error, times in ((refusing, Refusal, 1), (broken, ZeroDivisionError, 2)):
        monkeypatch.setattr(foreseeing, "foresee", trouble)
        calls.clear()
        for _ in range(2):
            with pytest.raises(error):
                kept.of(demo[0], demo[1], None, 1 if trouble is refusing else 2, 8)
        assert len(calls) == times


def reading(p5: float, p50: float, p95: float, reached: float = 1.0, unit: str = "min") -> Reading:
    return Reading(name="minutes until firm", unit=unit, p5=p5, p50=p50, p95=p95, because="", reached=reached)


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (reading(10, 14, 20), "10\u202fmin–20\u202fmin, likely 14\u202fmin"),
        (reading(10, 14, 30, 0.9), "10\u202fmin to over 30\u202fmin, likely 14\u202fmin"),
        (reading(10, 14, 20, 0.96), "10\u202fmin–20\u202fmin, likely 14\u202fmin"),
        (reading(22, 30, 30, 0.4), "from 22\u202fmin, likely over 30\u202fmin"),
        (reading(0, 30, 30, 0.4), "at once to over 30\u202fmin, likely over 30\u202fmin"),
        (reading(30, 30, 30, 0.0), "over 30\u202fmin"),
        (reading(0, 0, 0), "at once"),
        (reading(0, 0, 0.2, 0.97), "at once"),
        (reading(0, 3, 9), "at once to 9\u202fmin, likely 3\u202fmin"),
        (reading(99.990, 99.991, 99.995, 1.0, "%"), "100\u202f%"),
    ],
)
def test_a_figure_at_the_end_of_the_time_looked_at_is_told_as_a_bound(told: Reading, words: str) -> None:
    assert _words(told, Units()) == words
