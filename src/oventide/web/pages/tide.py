"""The tide chart: the whole timeline as forecast, with its windows and what they rest on."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from markupsafe import Markup

from oventide.errors import Complaint
from oventide.evidence.parameters import Source
from oventide.forecast.model import Forecast, StepForecast
from oventide.web.ask import Answer, Ask, Page
from oventide.web.clock import Clock, clock_of
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.levels import LevelRow, Panel, level_rows, panels_of
from oventide.web.plan import plan_of, stop
from oventide.web.readings import ReadingShown, readings_of, sources_of, step_name
from oventide.web.tide_tall import tall_chart
from oventide.web.tide_wide import wide_chart

MIDDLING = 800.0


@dataclass(frozen=True)
class StepTold:
    """A step with its name and its readings in words."""

    step: StepForecast
    name: str
    readings: tuple[ReadingShown, ...]


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    number: Annotated[int, "Which revision is open"]
    newest: Annotated[int, "The newest revision's number"]
    name: Annotated[str, "The formula's name"]
    kitchens: Annotated[tuple[tuple[str, str], ...], "Kitchens to choose from"]
    forecast: Annotated[Forecast | None, "The forecast; None where it is not there"]
    share: Annotated[float | None, "Share done of a forecast that is under way, 0 to 1; else None"]
    stopped: Annotated[bool, "Whether the forecast was stopped by the baker"]
    sized: Annotated[str, "A sentence where another size is asked for, else empty"]
    kept: Annotated[Mapping[str, str], "What the form carries unseen: an earlier revision, another size"]
    steps: Annotated[tuple[StepTold, ...], "Step by step, with readings, ranges, reasons and sources"]
    sources: Annotated[tuple[Source, ...], "Every source that the forecast rests on"]
    clock: Annotated[Clock | None, "What the chart's minutes are on the clock"]
    summary: Annotated[str, "When to begin and when it is ready, in one sentence; empty without a forecast"]
    late: Annotated[str, "A sentence where the start that is needed lies in the past, else empty"]
    wide: Annotated[Markup, "The chart for wide screens and paper"]
    middling: Annotated[Markup, "The same chart narrower, for tablets and upright paper"]
    tall: Annotated[Markup, "The chart for narrow screens, time running down"]
    panels: Annotated[tuple[Panel, ...], "The water levels: name, unit, axis"]
    levels: Annotated[tuple[LevelRow, ...], "The levels at the end of each step, for the table"]
    tail: Annotated[str, "Kitchen and ready-by time as the end of an address"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]


def _summary(forecast: Forecast, clock: Clock) -> str:
    """When to begin and when it is ready."""
    work = [step for step in forecast.steps if step.kind != "keep"]
    if not work:
        return ""
    first, last = work[0], work[-1]
    day = clock.day(first.start.likely_min)
    ends = [clock.at(m) for m in (last.end.earliest_min, last.end.likely_min, last.end.latest_min)]
    ready = ends[1] if ends[0] == ends[2] else f"{ends[0]} to {ends[2]}, likely {ends[1]}"
    return f"Begin {clock.at(first.start.likely_min)}{f' {day}' if day else ''}. Ready {ready}."


def handle(ask: Ask) -> Answer:
    """The chart for the kitchen and the ready-by time in the address; or how far it is, or its end."""
    if ask.is_post:
        return stop(ask, "tide")
    plan = plan_of(ask)
    forecast, product = plan.forecast, plan.product
    clock = clock_of(forecast, plan.ready_by, ask.now) if forecast else None
    panels = panels_of(forecast, ask.units) if forecast else ()
    late = ""
    if clock and clock.start_at and clock.now_min is not None and clock.now_min > 0 and forecast:
        late = f"For {plan.ready_by} the first step begins at {clock.start_at:%a %H:%M}, which is already past."
    return Page(
        Shown(
            key=plan.saved.key,
            number=plan.saved.number,
            newest=plan.saved.newest,
            name=plan.saved.content.name,
            kitchens=plan.kitchens,
            forecast=forecast,
            share=plan.share,
            stopped=plan.stopped,
            sized=plan.sized,
            kept=plan.kept,
            steps=tuple(
                StepTold(step, step_name(step, forecast), readings_of(step, ask.units)) for step in forecast.steps
            )
            if forecast
            else (),
            sources=sources_of(forecast.sources) if forecast else (),
            clock=clock,
            summary=_summary(forecast, clock) if forecast and clock else "",
            late=late,
            wide=wide_chart(forecast, product, panels, clock) if forecast and clock else Markup(""),
            middling=wide_chart(forecast, product, panels, clock, MIDDLING) if forecast and clock else Markup(""),
            tall=tall_chart(forecast, panels, clock) if forecast and clock else Markup(""),
            panels=panels,
            levels=level_rows(forecast, panels) if forecast else (),
            tail=plan.tail,
            values=plan.values,
            marks=marks_of(plan.complaints),
            found=plan.complaints,
        ),
        422 if plan.complaints else 200,
        part=ask.part,
    )
