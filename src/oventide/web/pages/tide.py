"""The tide chart: the whole timeline as forecast, with its windows and what they rest on."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from markupsafe import Markup

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import Source
from oventide.forecast.model import Forecast, StepForecast
from oventide.services.cover import Cover, cover_of, uncovered_at
from oventide.services.uncovering import Uncovering
from oventide.timeline.procedure import Product
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.clock import Clock, clock_of
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.fields import Fields
from oventide.web.figures import plain
from oventide.web.levels import LevelRow, Panel, level_rows, panels_of
from oventide.web.plan import Plan, foreseen, plan_of, quick_uncovered, stop
from oventide.web.readings import ReadingShown, readings_of, sources_of, step_name
from oventide.web.tide_marks import Handle, Overlay
from oventide.web.tide_tall import tall_chart
from oventide.web.tide_uncover import Uncover, uncover_of
from oventide.web.tide_wide import wide_chart

MIDDLING = 800.0
HALF_DAY = 720.0
AFTER_S = 0.05
"""What the page still waits for the chart of another moment, once its figures are there."""


@dataclass(frozen=True)
class StepTold:
    """A step with its name and its readings in words; the first of them stands in its line while it is folded."""

    step: StepForecast
    name: str
    readings: tuple[ReadingShown, ...]
    is_open: bool


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
    moved: Annotated[bool, "Whether the chart is the one for another time, moved, while its own is worked out"]
    uncover: Annotated[Uncover | None, "The moment to uncover; None where the bake has none"]
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


def _handles(clock: Clock, ready_by: str | None) -> tuple[Handle, ...]:
    """The ready-by time as a handle, where there is one."""
    if ready_by is None or clock.ready_min is None or clock.start_minute is None:
        return ()
    at = clock.ready_min
    return (Handle("ready", "Ready by", at, at - HALF_DAY, at + HALF_DAY, "f-ready_by", clock.start_minute, ready_by),)


def _keep(ask: Ask, plan: Plan, minutes: float | None) -> Redirect:
    """Save the moment that was tried, as a revision; or for one bake, and the formula as it was after it."""
    saved = plan.saved
    if minutes is None:
        return Redirect(f"/formulas/{saved.key}/tide{plan.tail}")
    tried = uncovered_at(saved.content, minutes)
    once = ask.form.get("deed") == "once"
    note = f"uncovered after {minutes:g} min" + (", for one bake" if once else "")
    done = ask.shelf.save_product(tried, note, saved.key, after=saved.newest)
    if not once:
        return Redirect(f"/formulas/{saved.key}/tide{plan.tail_without_revision}")
    ask.shelf.save_product(saved.content, f"as in revision {saved.number}", saved.key, after=done.number)
    asked = plan.tail_without_revision.removeprefix("?")
    return Redirect(f"/bench?formula={saved.key}&revision={done.number}&{asked}")


@dataclass(frozen=True)
class _Tried:
    """What is shown: the forecast of the moment that is tried, or of the formula as it is written."""

    product: Product
    forecast: Forecast | None
    written: Forecast | None
    cover: Cover | None
    share: float | None
    at_min: float | None = None
    """The moment that is tried."""
    quick: Uncovering | None = None
    """What it changes, of the bake alone: there before the forecast is."""


def _tried(ask: Ask, plan: Plan, minutes: float | None) -> _Tried:
    cover = cover_of(plan.product)
    written = plan.forecast or plan.meanwhile
    if cover is None or minutes is None or minutes == cover.covered_min:
        return _Tried(plan.product, written, written, cover, plan.share)
    product = uncovered_at(plan.product, minutes)
    if plan.forecast is None:  # the written one first: the bake goes on from its dough
        return _Tried(plan.product, written, written, cover, plan.share, minutes)
    quick = quick_uncovered(ask, plan, minutes)
    forecast, share = foreseen(ask, product, plan, AFTER_S if quick is not None else 0.0)
    if forecast is None:  # until it is there, what is written stays on the page
        return _Tried(plan.product, written, written, cover, share, minutes, quick)
    return _Tried(product, forecast, written, cover, None, minutes, quick)


def handle(ask: Ask) -> Answer:
    """The chart for the kitchen and the ready-by time in the address; or how far it is, or its end."""
    fields = Fields(ask.form if "uncover" in ask.form else ask.query, ask.units)
    minutes = fields.number("uncover", 0, 600, "min")
    if ask.is_post and ask.form.get("deed") not in ("keep", "once"):
        return stop(ask, "tide")
    plan = plan_of(ask)
    complaints = (*plan.complaints, *fields.complaints)
    if ask.is_post and not complaints:
        return _keep(ask, plan, minutes)
    try:
        tried = _tried(ask, plan, minutes)
    except Refusal as refusal:
        complaints = (*complaints, *refusal.complaints)
        tried = _tried(ask, plan, None)
    forecast, product = tried.forecast, tried.product
    clock = clock_of(forecast, plan.ready_by, ask.now) if forecast else None
    panels = panels_of(forecast, ask.units) if forecast else ()
    late = ""
    if clock and clock.start_at and clock.now_min is not None and clock.now_min > 0 and forecast:
        late = f"For {plan.ready_by} the first step begins at {clock.start_at:%a %H:%M}, which is already past."
    chosen = ask.number("step") or 1
    over = Overlay(handles=_handles(clock, plan.ready_by)) if clock else Overlay()
    return Page(
        Shown(
            key=plan.saved.key,
            number=plan.saved.number,
            newest=plan.saved.newest,
            name=plan.saved.content.name,
            kitchens=plan.kitchens,
            forecast=forecast,
            share=tried.share,
            moved=plan.forecast is None and forecast is not None,
            uncover=uncover_of(
                product, tried.cover, forecast, tried.written, clock, ask.units, tried.at_min, tried.quick
            )
            if forecast and clock and tried.cover
            else None,
            stopped=plan.stopped,
            sized=plan.sized,
            kept=plan.kept,
            steps=tuple(
                StepTold(step, step_name(step, forecast), readings_of(step, ask.units), step.index + 1 == chosen)
                for step in forecast.steps
            )
            if forecast
            else (),
            sources=sources_of(forecast.sources) if forecast else (),
            clock=clock,
            summary=_summary(forecast, clock) if forecast and clock else "",
            late=late,
            wide=wide_chart(forecast, product, panels, clock, over=over) if forecast and clock else Markup(""),
            middling=wide_chart(forecast, product, panels, clock, MIDDLING, over) if forecast and clock else Markup(""),
            tall=tall_chart(forecast, panels, clock, over) if forecast and clock else Markup(""),
            panels=panels,
            levels=level_rows(forecast, panels) if forecast else (),
            tail=plan.tail,
            values={
                **plan.values,
                "step": str(chosen),
                "uncover": fields.text("uncover") or (plain(tried.cover.covered_min, 1) if tried.cover else ""),
            },
            marks=marks_of(complaints),
            found=complaints,
        ),
        422 if complaints else 200,
        part=ask.part,
    )
