"""The tide page: one step at a time, the ready-by time moved without a run, the moment to uncover tried and kept."""

import re
import threading
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.web.sections import invented_uncovering

from oventide.errors import Refusal
from oventide.forecast.clock import clock_words, minute_of, moved
from oventide.forecast.model import Forecast
from oventide.kitchen.complete import complete
from oventide.services import foreseeing
from oventide.services.cover import cover_of, uncovered_at
from oventide.web.figures import Units
from oventide.web.readings import step_name
from oventide.web.tide_uncover import changed, compared

OWN = {"origin": "http://127.0.0.1:8711", "sec-fetch-site": "same-origin"}


@given(st.integers(-4000, 4000), st.integers(-1500, 1500))
def test_a_clock_s_words_can_be_read_back_and_moved(minute: int, by: int) -> None:
    assert minute_of(clock_words(minute)) == minute
    assert minute_of(clock_words(minute_of(clock_words(minute)) + by)) == minute + by


@pytest.mark.slow
def test_in_a_room_that_keeps_its_warmth_another_time_is_the_same_run_moved(demo) -> None:
    kitchen = demo[1].model_copy(update={"room_by_hour": ()})
    early, late = (foreseeing.foresee(demo[0], kitchen, ready_by=time, members=8) for time in ("12:00", "06:25"))
    assert moved(early, 6 * 60 + 25 - 12 * 60) == late


def test_dragging_the_time_in_such_a_room_runs_nothing(client, key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    client.get(f"/formulas/{key}/tide?kitchen=usual&ready_by=07%3A30")
    asked: list[object] = []
    monkeypatch.setattr(foreseeing, "foresee", lambda *a, **k: asked.append(k))
    page = client.get(f"/formulas/{key}/tide?kitchen=usual&ready_by=09%3A05").text
    assert "Ready" in page
    assert 'data-box="f-ready_by"' in page
    assert asked == []


def test_one_step_is_open_and_the_others_are_a_line_each(client, key: str, demo) -> None:
    page = client.get(f"/formulas/{key}/tide?ready_by=07%3A30&step=3").text
    steps = re.findall(r'<details class="tstep" name="tstep" data-step="(\d+)"( open)?>', page)
    assert len(steps) == len(demo[0].procedure.steps)
    assert [number for number, is_open in steps if is_open] == ["3"]
    lines = re.findall(r'<details class="tstep".*?</summary>', page, re.DOTALL)
    assert all("core <b>" in line and "ends " in line for line in lines), "each line has its window and first figure"


def test_every_step_of_the_chart_leads_to_its_place(client, key: str) -> None:
    page = client.get(f"/formulas/{key}/tide?ready_by=07%3A30").text
    places = set(re.findall(r'id="(s\d+)"', page))
    assert places
    assert set(re.findall(r'<a href="#(s\d+)" tabindex="-1"', page)) <= places
    wide = page.split('class="chart wide"')[1].split("</figure>")[0]
    assert set(re.findall(r'<a href="#(s\d+)"', wide)) == places


def test_another_moment_to_uncover_keeps_the_bake_as_long(demo) -> None:
    product, cover = demo[0], cover_of(demo[0])
    assert cover is not None
    assert (cover.covered_min, cover.open_min) == (20, 10)
    for minutes in (1, 12.5, 29):
        tried = cover_of(uncovered_at(product, minutes))
        assert tried is not None
        assert tried.covered_min == minutes
        assert tried.whole_min == pytest.approx(30)
    assert uncovered_at(product, 20) == product
    for minutes in (0, 30, 400):
        with pytest.raises(Refusal):
            uncovered_at(product, minutes)


def test_a_bake_without_a_cover_has_nothing_to_take_off(demo) -> None:
    steps = tuple(s.model_copy(update={"covered": False}) for s in demo[0].procedure.steps)
    bare = demo[0].model_copy(update={"procedure": demo[0].procedure.model_copy(update={"steps": steps})})
    assert cover_of(bare) is None
    with pytest.raises(Refusal):
        uncovered_at(bare, 10)


def test_what_is_tried_stands_beside_what_is_written(make_forecast, demo) -> None:
    written = make_forecast(demo[0], complete({}))
    step = written.steps[11]
    hotter = tuple(r.model_copy(update={"p50": r.p50 + 3}) if r.name == "core" else r for r in step.readings)
    steps = [*written.steps]
    steps[11] = step.model_copy(update={"readings": hotter})
    tried = written.model_copy(update={"steps": tuple(steps)})
    (row,) = compared(written, tried, 11, Units())
    assert (row.name, row.difference) == ("Core", "+3\u202f°C")
    (same,) = compared(written, written, 11, Units("f"))
    assert same.difference == "the same"


def test_the_figures_of_a_moment_are_there_before_its_forecast(
    client, key: str, monkeypatch: pytest.MonkeyPatch, make_forecast
) -> None:
    go = threading.Event()

    def slow(product, kitchen, *, progress, **rest):
        if cover_of(product).covered_min != 20:
            while not go.wait(0.02):
                progress(0.5)
        return make_forecast(product, kitchen, **rest)

    monkeypatch.setattr(foreseeing, "foresee", slow)
    address = f"/formulas/{key}/tide?ready_by=07%3A30&uncover=15"
    try:
        page = client.get(address).text
        assert "The bake is being followed anew" in page
        assert "+2\u202f°C (+1 to +3)" in page
        assert "16–28" not in page
        assert "14–26\u202fΔE, likely 18\u202fΔE, light golden" in page
        assert "Uncover after 15\u202fmin" in page, "the handle stays where it was let go"
        assert 'class="tc-ghost"' not in page
    finally:
        go.set()
    for _ in range(100):
        page = client.get(address).text
        if "being followed" not in page:
            break
        time.sleep(0.02)
    assert 'class="tc-ghost"' in page, "the written course stands behind the tried one"


def test_changes_are_told_with_their_range() -> None:
    core, colour = changed(invented_uncovering(15), Units("f"))
    assert core.difference == "+3.6\u202f°F (+1.8 to +5.4)" or core.difference == "+4\u202f°F (+2 to +5)"
    assert colour.written.endswith("straw")


def test_a_moment_outside_the_bake_is_refused_in_its_box(client, key: str) -> None:
    answer = client.get(f"/formulas/{key}/tide?uncover=55")
    assert answer.status_code == 422
    assert 'id="f-uncover"' in answer.text
    assert "1 to 29 min into the 30 min of this bake" in answer.text


@pytest.mark.parametrize("odd", ["nan", "inf", "-5", "1e400", "", "0", "30", "٣", "15,5", "twenty", "9" * 40, "\x00"])
def test_odd_figures_are_told_and_never_a_fault(client, key: str, odd: str) -> None:
    for address in (f"/formulas/{key}/tide", f"/formulas/{key}/section"):
        for name in ("uncover", "minute", "step", "only", "view", "which"):
            answer = client.get(address, params={name: odd, "kitchen": "usual"})
            assert answer.status_code in (200, 422), (address, name)
    sent = client.post(f"/formulas/{key}/tide", data={"deed": "keep", "uncover": odd}, headers=OWN)
    assert sent.status_code in (303, 422)


def test_keeping_makes_a_revision(client, key: str) -> None:
    answer = client.post(f"/formulas/{key}/tide?ready_by=07%3A30", data={"deed": "keep", "uncover": "16"}, headers=OWN)
    assert answer.status_code == 303
    kept = client.app.state.shelf.product(key)
    assert (kept.number, kept.note) == (2, "uncovered after 16 min")
    cover = cover_of(kept.content)
    assert cover is not None
    assert cover.covered_min == 16


def test_for_one_bake_the_formula_stays_what_it_was(client, key: str, demo) -> None:
    answer = client.post(f"/formulas/{key}/tide?ready_by=07%3A30", data={"deed": "once", "uncover": "16"}, headers=OWN)
    assert answer.headers["location"].startswith(f"/bench?formula={key}&revision=2&")
    assert "ready_by=07%3A30" in answer.headers["location"]
    shelf = client.app.state.shelf
    assert shelf.product(key).content == demo[0]
    once = cover_of(shelf.product(key, 2).content)
    assert once is not None
    assert once.covered_min == 16


def test_names_in_the_page_are_the_forecast_s(make_forecast, demo) -> None:
    forecast: Forecast = make_forecast(demo[0], complete({}))
    assert step_name(forecast.steps[2], forecast) == "Fridge"
