"""Side by side: two formulas, two revisions, two kitchens, what is typed and what is saved, or two bakes."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated
from urllib.parse import urlencode

from oventide.errors import Complaint, Refusal
from oventide.services import asking, balancing, differing
from oventide.services.comparing import Comparison, Comparisons, Pair
from oventide.services.tasks import Stopped
from oventide.web import beside, plan
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.beside import Row, Rows, Side
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.costs import CostBeside, costs_beside
from oventide.web.differences import Told, told_of
from oventide.web.staffs import Staff, staffs_of
from oventide.web.step_change import whole_rows, window_rows
from oventide.web.two_clocks import Charts, one_above_the_other

LISTED = 60
NAMES = ("one", "other", "kitchen", "other_kitchen", "ready_by")


@cache
def comparisons() -> Comparisons:
    """The comparisons of this program: same question, same answer, so that keeping them is honest."""
    return Comparisons()


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    sides: Annotated[tuple[Side, ...], "The two; empty until both are chosen"]
    things: Annotated[tuple[tuple[str, str], ...], "What can be chosen: reference and name"]
    kitchens: Annotated[tuple[tuple[str, str], ...], "Kitchens to choose from"]
    told: Annotated[tuple[Told, ...], "What is different, in words"]
    staff_rows: Annotated[tuple[Staff, ...], "The balance of the other, with a notch where the first stands"]
    weights: Annotated[tuple[Rows, ...], "Ingredient by ingredient"]
    balance: Annotated[tuple[Row, ...], "Figure by figure of the balance"]
    make_up: Annotated[tuple[Row, ...], "The make-up"]
    steps: Annotated[tuple[Row, ...], "The steps as written"]
    made: Annotated[tuple[Row, ...], "The steps as they were, where bakes are compared"]
    costs: Annotated[CostBeside | None, "What the ingredients cost; None until both are chosen"]
    clock: Annotated[bool, "Whether both timelines are asked for"]
    clock_address: Annotated[str, "This page with both timelines"]
    share: Annotated[float | None, "Share done of the timelines under way, 0 to 1; else None"]
    stopped: Annotated[bool, "Whether the timelines were stopped by the baker"]
    windows: Annotated[tuple[Row, ...], "Step by step: how long in each, and the change in the same kitchens"]
    whole: Annotated[tuple[Row, ...], "What both timelines come to"]
    members: Annotated[int, "How many likely kitchens were tried"]
    charts: Annotated[tuple[Charts, ...], "Both tide charts on one clock"]
    assumed: Annotated[tuple[str, ...], "What was assumed in the timelines"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]


@dataclass(frozen=True)
class Timelines:
    """Both timelines, or how far they are."""

    comparison: Comparison | None = None
    charts: tuple[Charts, ...] = ()
    share: float | None = None
    stopped: bool = False
    complaints: tuple[Complaint, ...] = ()


def _pairs(sides: tuple[Side, Side]) -> tuple[Pair, Pair]:
    one, other = sides
    return (one.product, one.kitchen), (other.product, other.kitchen)


def _timelines(ask: Ask, sides: tuple[Side, Side], ready_by: str | None) -> Timelines:
    task = comparisons().begin(*_pairs(sides))
    jobs = [ask.forecasts.begin(s.product, s.kitchen, ready_by, plan.SEED, plan.MEMBERS) for s in sides]
    try:
        comparison = task.answer(plan.PATIENCE_S)
        forecasts = [job.answer(plan.PATIENCE_S) for job in jobs]
    except Refusal as refusal:
        return Timelines(complaints=refusal.complaints)
    except Stopped:
        return Timelines(stopped=True)
    one, other = forecasts
    if comparison is None or one is None or other is None:
        done = 2 * (1.0 if comparison else task.share)
        done += sum(1.0 if found else job.share for found, job in zip(forecasts, jobs, strict=True))
        return Timelines(share=done / 4.0)
    pairs = ((sides[0].product, one), (sides[1].product, other))
    return Timelines(comparison, one_above_the_other(pairs, ready_by, ask.now, ask.units))


def _stop(ask: Ask, sides: tuple[Side, Side], ready_by: str | None) -> None:
    comparisons().begin(*_pairs(sides)).stop()
    for side in sides:
        ask.forecasts.stop(side.product, side.kitchen, ready_by, plan.SEED, plan.MEMBERS)


def _things(ask: Ask) -> tuple[tuple[str, str], ...]:
    """What can be chosen, last saved first; bakes behind the formulas."""
    formulas = tuple((s.key, s.content.name) for s in ask.shelf.products(limit=LISTED))
    bakes = ask.bakes.page(limit=LISTED)
    return (*formulas, *((f"{beside.BAKE}{row.key}", f"{row.name}, bake of {row.day}") for row in bakes))


def _address(ask: Ask, **more: str) -> str:
    kept = {name: ask.query[name] for name in NAMES if ask.query.get(name)}
    return "/compare?" + urlencode({**kept, **more})


def handle(ask: Ask) -> Answer:
    """The two side by side; with `clock=yes` their timelines too, or how far these are."""
    query = ask.query
    complaints: list[Complaint] = []
    sides: tuple[Side, Side] | None = None
    ready_by: str | None = None
    try:
        ready_by = asking.clock(query.get("ready_by", ""))
        if query.get("one") and query.get("other"):
            kitchen = query.get("kitchen", "")
            sides = (
                beside.side_of(ask, "one", query["one"], kitchen),
                beside.side_of(ask, "other", query["other"], query.get("other_kitchen", "") or kitchen),
            )
    except Refusal as refusal:
        complaints += refusal.complaints
    if ask.is_post:
        if sides:
            _stop(ask, sides, ready_by)
        return Redirect(_address(ask, stopped="yes"))
    wanted = query.get("clock") == "yes" and not complaints
    found = _timelines(ask, sides, ready_by) if sides and wanted else Timelines(stopped=query.get("stopped") == "yes")
    complaints += found.complaints
    one, other = (side.product for side in sides) if sides else (None, None)
    ready = one is not None and other is not None
    comparison = found.comparison
    return Page(
        Shown(
            sides=sides or (),
            things=_things(ask),
            kitchens=(("", "the first on the shelf"), *((k.key, k.content.name) for k in ask.shelf.kitchens()),
                      (beside.USUAL, "a kitchen of which nothing is known")),
            told=told_of(differing.between(one, other, balance=False), ask.units) if one and other else (),
            staff_rows=staffs_of(balancing.levels_of(other), balancing.levels_of(one)) if one and other else (),
            weights=beside.weights(one, other, ask.units) if one and other else (),
            balance=beside.balance(one, other) if one and other else (),
            make_up=beside.make_up(one, other) if one and other else (),
            steps=beside.steps(one, other, ask.units) if one and other else (),
            made=beside.as_made(*sides) if sides else (),
            costs=costs_beside(ask.shelf, one, other) if one and other else None,
            clock=wanted and ready,
            clock_address=_address(ask, clock="yes"),
            share=found.share,
            stopped=found.stopped,
            windows=window_rows(comparison, ask.units) if comparison else (),
            whole=whole_rows(comparison, ask.units) if comparison else (),
            members=comparison.members if comparison else 0,
            charts=found.charts,
            assumed=comparison.assumed if comparison else (),
            values={name: query.get(name, "") for name in NAMES}
            | ({"one": sides[0].ref, "other": sides[1].ref} if sides else {}),
            marks=marks_of(tuple(complaints)),
            found=tuple(complaints),
        ),
        422 if complaints else 200,
        part=ask.part,
    )  # fmt: skip
