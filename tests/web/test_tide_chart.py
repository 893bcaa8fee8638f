"""The tide chart's geometry: flags, axes, clock, and figures that are the forecast's own."""

import re
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.kitchen.complete import complete
from oventide.web.clock import Clock, clock_of
from oventide.web.figures import Units, spread
from oventide.web.levels import Axis, level_rows, nice_step, panels_of
from oventide.web.svg import width_of
from oventide.web.tide_tall import tall_chart
from oventide.web.tide_wide import FLAG, fly_flags, wide_chart

NOW = datetime(2026, 3, 5, 21, 10, tzinfo=UTC)


@pytest.fixture
def forecast(demo, make_forecast):
    return make_forecast(demo[0], complete({}), ready_by="07:30")


@given(
    st.lists(
        st.tuples(st.floats(0, 1200), st.text("abcdef ghi", min_size=1, max_size=24)), min_size=1, max_size=18
    ).map(sorted)
)
def test_no_mast_crosses_a_name(steps: list[tuple[float, str]]) -> None:
    flags = fly_flags(steps)
    for flag in flags:
        end = flag.x + width_of(flag.words, FLAG)
        for other in flags:
            if other is not flag and flag.x < other.x < end:
                assert other.row < flag.row, "a mast to the right ends below the name"


@given(st.floats(0, 39), st.floats(41, 200), st.floats(-20, 260))
def test_a_bent_axis_rises_and_stays_inside(low: float, high: float, value: float) -> None:
    axis = Axis(((low, 0.0), (40.0, 0.62), (high, 1.0)), ())
    assert 0 <= axis.share(value) <= axis.share(value + 1) <= 1


@given(st.floats(0.01, 5000), st.integers(2, 8))
def test_a_nice_step_divides_in_few_parts(span: float, most: int) -> None:
    assert span / nice_step(span, most) <= most * 1.01


def test_the_chart_shows_every_step_and_the_forecast_s_own_levels(demo, forecast) -> None:
    panels = panels_of(forecast, Units())
    clock = clock_of(forecast, "07:30", NOW)
    for svg in (str(wide_chart(forecast, demo[0], panels, clock)), str(tall_chart(forecast, panels, clock))):
        drawn = sum(1 for step in forecast.steps if step.start.likely_min < clock.span_min)
        assert svg.count('class="tc-block') == drawn
        assert svg.count('class="tc-median"') == len(panels) == 3
        assert "NaN" not in svg
        assert "nan" not in svg.lower().replace("tenant", "")
    rows = level_rows(forecast, panels)
    at = forecast.steps[0].end.likely_min
    tide = forecast.tides[0]
    share = next(i for i, m in enumerate(tide.minutes) if m >= at)
    assert tide.p50[share - 1] <= float(re.search(r"likely (\d+)", rows[0].figures[0])[1]) + 1 <= tide.p50[share] + 2


def test_fahrenheit_is_the_same_chart_in_other_figures(forecast) -> None:
    celsius, fahrenheit = (panels_of(forecast, Units(t))[0] for t in ("c", "f"))
    assert fahrenheit.middle[0] == pytest.approx(celsius.middle[0] * 1.8 + 32)
    assert fahrenheit.unit == "°F"


def test_names_are_escaped(demo, forecast) -> None:
    evil = forecast.model_copy(update={"product": "<script>", "steps": tuple(
        step.model_copy(update={"name": "<b>bold</b>"}) for step in forecast.steps)})  # fmt: skip
    panels = panels_of(evil, Units())
    clock = clock_of(evil, None, NOW)
    for svg in (wide_chart(evil, demo[0], panels, clock), tall_chart(evil, panels, clock)):
        assert "<script>" not in svg
        assert "<b>" not in svg


def test_the_clock_counts_to_the_next_time_asked(forecast) -> None:
    clock = clock_of(forecast, "07:30", NOW)
    assert clock.start_at is not None
    assert clock.start_at.date() <= NOW.date() or clock.start_at > NOW
    assert clock.at(0) == f"{clock.start_at:%H:%M}"
    assert clock_of(forecast, None, NOW).at(75) == "+1:15"


def test_midnight_and_days() -> None:
    clock = Clock(600, 1380, datetime(2026, 3, 5, 23, 0, tzinfo=UTC), None)
    assert [clock.at(m) for m in clock.ticks(60)[:3]] == ["23:00", "00:00", "01:00"]
    assert clock.is_midnight(60)
    assert (clock.day(0), clock.day(60)) == ("Thu", "Fri")


@pytest.mark.parametrize(
    ("figures", "unit", "words"),
    [
        ((4.61, 8.1, 14.3), "°C", "5–14\u202f°C, likely 8\u202f°C"),
        ((1.57, 1.8, 2.04), "×", "×1.6–2, likely ×1.8"),
        ((93.2, 93.3, 93.4), "°C", "93.2–93.4"),
        ((20, 20, 20), "min", "20\u202fmin"),
    ],
)
def test_ranges_are_told_as_a_probe_shows_them(figures: tuple[float, float, float], unit: str, words: str) -> None:
    assert spread(*figures, unit, Units()).startswith(words)
