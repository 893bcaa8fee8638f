"""The tide chart of a bake under way or done: as it ran on the quay, as it was planned below it, readings as rings.

`chart_of` makes of a bake's record what the two shapes of the chart draw. For two bakes beside each other give both
the same `span_min`: then a minute is as wide in the one as in the other.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from markupsafe import Markup

from oventide.bench.model import Level
from oventide.forecast.model import Forecast, StepForecast, Tide, Window
from oventide.services.record import ReadAt, Record, StepRecord
from oventide.timeline.procedure import Product
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.web.clock import Clock
from oventide.web.figures import Units
from oventide.web.levels import Panel, panels_of
from oventide.web.tide_marks import Overlay, Ring, Stretch
from oventide.web.tide_tall import tall_chart
from oventide.web.tide_wide import wide_chart

MIDDLING = 800.0
BEYOND = 1.03
"""The chart runs a little beyond the last moment."""


@dataclass(frozen=True)
class BakeChart:
    """Everything that is drawn of a bake."""

    forecast: Forecast
    """The bake in a forecast's shape: what is over has its own moments."""
    product: Product
    panels: tuple[Panel, ...]
    clock: Clock
    over: Overlay

    def wide(self, width: float = 1240.0) -> Markup:
        """For wide screens and paper."""
        return wide_chart(self.forecast, self.product, self.panels, self.clock, width, self.over)

    def tall(self) -> Markup:
        """For narrow screens."""
        return tall_chart(self.forecast, self.panels, self.clock, self.over)


def minutes_since(record: Record, at: datetime) -> float:
    """Minutes since the bake began."""
    return (at - record.bake.started_at).total_seconds() / 60.0


def _window(record: Record, step: StepRecord, begins: float) -> Window:
    if step.ended is not None:
        at = minutes_since(record, step.ended)
        return Window(earliest_min=at, likely_min=at, latest_min=at)
    if step.foreseen is not None:
        ends = (step.foreseen.earliest, step.foreseen.likely, step.foreseen.latest)
        earliest, likely, latest = (max(minutes_since(record, at), begins) for at in ends)
        return Window(earliest_min=earliest, likely_min=likely, latest_min=latest)
    at = begins + step.planned_min
    return Window(earliest_min=at, likely_min=at, latest_min=at)


def steps_of(record: Record) -> tuple[StepForecast, ...]:
    """The steps as they ran, and as they are foreseen from there."""
    written = record.bake.product.procedure.steps
    found, begins = [], 0.0
    for step in record.steps:
        end = _window(record, step, begins)
        found.append(
            StepForecast(
                index=step.index,
                kind=step.kind,
                name=step.name,
                start=Window(earliest_min=begins, likely_min=begins, latest_min=begins),
                end=end,
                where=written[step.index].where,
                covered=written[step.index].covered,
            )
        )
        begins = end.likely_min
    return tuple(found)


def _tide(record: Record, level: Level) -> Tide:
    minutes = tuple(minutes_since(record, at) for at in level.at)
    return Tide(name=level.name, unit=level.unit, minutes=minutes, p5=level.p5, p50=level.p50, p95=level.p95)


def _planned(record: Record) -> tuple[Stretch, ...]:
    rows, begins = [], 0.0
    for step in record.steps:
        end = minutes_since(record, step.planned.likely)
        if step.kind != "keep":
            rows.append(Stretch(step.index, begins, end))
        begins = end
    return tuple(rows)


def _rings(record: Record, panels: Sequence[Panel], units: Units) -> tuple[Ring, ...]:
    looks = {"temperature": 0, "surface": 0, "rise": 1}
    here = {panel.look for panel in panels}
    return tuple(
        Ring(
            minutes_since(record, read.at),
            looks[read.level],
            fahrenheit_from_celsius(read.value) if units.temperature == "f" and looks[read.level] == 0 else read.value,
            f"{read.quantity}",
        )
        for step in record.steps
        for read in step.readings
        if read.level in looks and looks[read.level] in here
    )


def whole_min(record: Record) -> float:
    """The last moment to draw: planned or real, without the hours of keeping."""
    steps = [s for s in steps_of(record) if s.kind != "keep"]
    return max([*(s.end.likely_min for s in steps), *(stretch.end for stretch in _planned(record)), 1.0])


def chart_of(record: Record, units: Units, now: datetime | None = None, span_min: float | None = None) -> BakeChart:
    """The chart of a bake; `now` is drawn while it is under way, `span_min` puts two bakes on one clock."""
    steps = steps_of(record)
    span = span_min or whole_min(record) * BEYOND + 5
    begun = record.bake.started_at
    kept = tuple(step for step in steps if step.start.likely_min < span)
    forecast = Forecast(
        product=record.bake.name, kitchen=record.bake.kitchen.name, members=record.bake.members,
        seed=record.bake.seed, steps=kept, tides=tuple(_tide(record, level) for level in record.levels),
    )  # fmt: skip
    panels = panels_of(forecast, units)
    running = record.finished_at is None and now is not None
    ready = record.bake.ready_at
    clock = Clock(
        span,
        begun.hour * 60 + begun.minute,
        begun,
        minutes_since(record, now) if running and now is not None else None,
        None if ready is None else minutes_since(record, ready),
    )
    over = Overlay(rings=_rings(record, panels, units), planned=_planned(record))
    return BakeChart(forecast, record.bake.product, panels, clock, over)


def expected_at(record: Record, read: ReadAt) -> tuple[float, float, float] | None:
    """What the forecast has at a reading's moment: low, likely and high; None where it has no such level then."""
    level = next((each for each in record.levels if each.name == read.level), None)
    if level is None or len(level.at) < 2 or not level.at[0] <= read.at <= level.at[-1]:
        return None
    after = next(i for i in range(1, len(level.at)) if level.at[i] >= read.at)
    whole = (level.at[after] - level.at[after - 1]).total_seconds()
    share = (read.at - level.at[after - 1]).total_seconds() / whole if whole > 0 else 0.0
    low, likely, high = (
        row[after - 1] + share * (row[after] - row[after - 1]) for row in (level.p5, level.p50, level.p95)
    )
    return low, likely, high
