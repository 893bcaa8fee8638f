"""Two things side by side: chosen by name, revision or bake; what is typed too; on one clock."""

from datetime import UTC, datetime, timedelta

import pytest
from tests.web.test_pages import fields, post
from tests.web.test_table import line_of

from oventide.bench.model import Entry
from oventide.services.comparing import Comparison, StepBeside
from oventide.services.travelling import Beside
from oventide.travel.model import Figure
from oventide.web import two_clocks
from oventide.web.figures import Units
from oventide.web.pages import compare
from oventide.web.step_change import change_words, window_rows

NOW = datetime(2026, 3, 5, 21, 10, tzinfo=UTC)


@pytest.fixture
def two(client, key: str) -> str:
    form = fields(client.get(f"/formulas/{key}").text)
    salt = line_of(form, "7 g fine salt")
    post(client, f"/formulas/{key}", **{**form, salt: "9 g fine salt", "deed": "save", "note": "saltier"})
    return f"/compare?one={key}@1&other={key}@2"


def test_two_revisions_stand_side_by_side(client, two: str) -> None:
    page = client.get(two).text
    assert "2.5\u202f%" in page
    assert "2\u202fg more" in page
    assert "its price" in page, "a price that is not known is named"


def test_a_part_of_a_name_finds_the_formula_and_nothing_is_refused(client) -> None:
    assert "Lantern Quay poppy coils" in client.get("/compare?one=poppy&other=lantern").text
    missing = client.get("/compare?one=poppy&other=thunder")
    assert missing.status_code == 422
    assert "Nothing on the shelf has that name" in missing.text


def test_what_is_typed_stands_beside_what_is_saved(client, key: str) -> None:
    form = fields(client.get(f"/formulas/{key}").text)
    sent = post(client, f"/formulas/{key}", **{**form, line_of(form, "7 g fine"): "9 g fine salt", "deed": "beside"})
    assert sent.status_code == 303
    page = client.get(sent.headers["location"]).text
    assert "as it is typed now" in page
    assert "2\u202fg more" in page
    assert len(client.app.state.shelf.product_history(key)) == 1, "nothing was stored"
    gone = client.get(f"/compare?one={key}&other=typed:0000")
    assert gone.status_code == 422


def figure(low: float, likely: float, high: float, unit: str = "min") -> Figure:
    return Figure(name="minutes", unit=unit, low=low, likely=likely, high=high)


def test_a_clock_under_way_shows_its_share_and_can_be_stopped(client, two: str, monkeypatch) -> None:
    class Slow:
        share = 0.4
        stopped = False

        def answer(self, patience_s):
            return None

        def stop(self):
            Slow.stopped = True

    class Some:
        def begin(self, one, other):
            return Slow()

    monkeypatch.setattr(compare, "comparisons", lambda: Some())
    page = client.get(f"{two}&clock=yes").text
    assert "Foreseeing both" in page
    assert post(client, two).status_code == 303
    assert Slow.stopped


def test_a_change_is_told_kitchen_by_kitchen(client, two: str, monkeypatch) -> None:
    pair = Beside(name="minutes", before=figure(50, 60, 75), after=figure(60, 72, 90), change=figure(8, 12, 15))
    rise = Beside(
        name="rise",
        before=figure(1.6, 1.8, 2.1, "×"),
        after=figure(1.5, 1.7, 2.0, "×"),
        change=figure(-0.12, -0.1, -0.08, "×"),
    )
    step = StepBeside(name="first rise", kind="bulk", before=1, after=1, minutes=pair, rows=(rise,))
    made = Comparison(
        before="a", after="b", before_kitchen="k", after_kitchen="k", whole=(pair,), members=200, seed=1, steps=(step,)
    )
    lasts, rises = window_rows(made, Units())
    assert lasts.change == "12\u202fmin longer (8 to 15)"
    assert rises.change == "0.1 less (0.08 to 0.12)"
    assert change_words(figure(-3, 1, 5), Units()) == "3 shorter to 5 longer, min"
    assert change_words(figure(0.5, 1.0, 1.5, "K"), Units("f")) == "1.8\u202f°F warmer (0.9 to 2.7)"

    class Done:
        share = 1.0

        def answer(self, patience_s):
            return made

    class Some:
        def begin(self, one, other):
            return Done()

    monkeypatch.setattr(compare, "comparisons", lambda: Some())
    page = client.get(f"{two}&clock=yes&ready_by=07:30").text
    assert "12\u202fmin longer (8 to 15)" in page
    assert page.count('class="chart wide"') == 2


def test_two_charts_have_one_clock_and_one_scale(make_forecast, demo) -> None:
    product, kitchen = demo
    short = make_forecast(product, kitchen, "07:30")
    long = two_clocks.shifted(short, 0)
    long = long.model_copy(update={"tides": tuple(
        t.model_copy(update={"p95": tuple(v * 1.5 for v in t.p95)}) for t in long.tides)})  # fmt: skip
    one, other = two_clocks.one_above_the_other(((product, short), (product, long)), "07:30", NOW, Units())
    ticks = [chart.wide[chart.wide.index('class="tc-axis"') :].count("tc-hour") for chart in (one, other)]
    assert ticks[0] == ticks[1]
    moved = two_clocks.shifted(short, 30)
    assert moved.steps[0].start.likely_min == short.steps[0].start.likely_min + 30
    assert moved.tides[0].minutes[0] == short.tides[0].minutes[0] + 30


def test_two_bakes_stand_side_by_side_as_they_were_made(client, demo) -> None:
    bakes, (product, kitchen) = client.app.state.bakes, demo
    begun = NOW - timedelta(hours=3)
    for name, minutes, score in (("Early", 12, 4), ("Late", 20, 2)):
        bake = bakes.begin(product, kitchen, name=name, started_at=begun)
        at = begun + timedelta(minutes=minutes)
        bakes.note_entries(
            bake.key,
            [
                Entry(uid=f"{name}-done-0001", deed="done", at=at, step=0),
                Entry(uid=f"{name}-note-0001", deed="note", at=at, text=f"{name} crumb", score=score),
            ],
        )
    refs = [f"bake:{row.key}" for row in reversed(bakes.page())]
    page = client.get(f"/compare?one={refs[0]}&other={refs[1]}").text
    assert "As it was made" in page
    assert "8 min more" in page
    assert "4 of 5, Early crumb" in page
    assert "2 of 5, Late crumb" in page
