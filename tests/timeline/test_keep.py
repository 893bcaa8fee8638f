"""Keeping in the timeline: one stay hands over to the next, wraps and places go the right way round."""

import numpy as np
import pytest

from oventide.timeline.keep import wrap_of
from oventide.timeline.procedure import Span, Step
from validation.rows.keeping import stay, stays


def test_what_one_stay_leaves_the_next_begins_with() -> None:
    first, second = stays(stay(12, covered=True), stay(12, where="fridge", covered=True))
    for name in ("staling", "lost"):
        assert second.at_start(name) == pytest.approx(first.at_end(name), abs=1e-9)
    assert second.at_start("mean_c") == pytest.approx(first.at_end("mean_c"), abs=1e-6)


@pytest.mark.parametrize("hours", [2.0, 24.0, 96.0])
def test_softness_falls_and_weight_goes(hours: float) -> None:
    trace = stays(stay(hours))[0]
    assert (np.diff(trace.curve("softness")) < 0.0).all()
    assert (np.diff(trace.curve("lost")) >= 0.0).all()


def test_a_day_by_place_and_wrap() -> None:
    def soft(**how: object) -> float:
        return float(stays(stay(24, **how))[0].at_end("softness")[0])

    assert soft(covered=True) > soft(where="fridge", covered=True)
    assert soft(where="freezer", covered=True) > soft(covered=True)
    assert soft(covered=True) > soft()


def test_freeze_thaw_and_reheat_follow_each_other() -> None:
    frozen, thawed, hot, later = stays(
        stay(24, where="freezer", covered=True), stay(4, covered=True), stay(0.25, where="oven", air_c=160), stay(4)
    )
    assert float(frozen.at_end("mean_c")[0]) == pytest.approx(-18.0, abs=1.0)
    assert 600.0 < float(frozen.facts["frozen_s"][0]) < 4 * 3600.0
    assert 1200.0 < float(thawed.facts["thawed_s"][0]) < 6 * 3600.0
    assert float(thawed.at_end("mean_c")[0]) > 15.0
    assert 60.0 < float(hot.facts["hot_s"][0]) < 1800.0
    assert float(hot.at_end("staling")[0]) < 0.5 * float(thawed.at_end("staling")[0])
    assert float(later.at_end("staling")[0]) > float(later.at_start("staling")[0])


def test_a_course_has_no_jump() -> None:
    for trace in stays(stay(24, where="freezer", covered=True), stay(6, covered=True)):
        course, seconds = trace.curve("mean_c")[0], trace.sample_s
        # 0.1 K a second is more than any bun can do
        assert (np.abs(np.diff(course)) <= 0.1 * np.diff(seconds) + 1e-9).all()


@pytest.mark.parametrize(
    ("text", "covered", "wrap"),
    [("in a paper bag", True, "paper"), ("in the cake tin", False, "box"), ("", True, "bag"), ("", False, "open"),
     ("well wrapped", False, "bag")],
)  # fmt: skip
def test_the_wrap_is_read_from_the_step(text: str, covered: bool, wrap: str) -> None:
    minutes = Span(low=1, likely=1, high=1)
    assert wrap_of(Step(kind="keep", minutes=minutes, covered=covered, text=text)) == wrap
