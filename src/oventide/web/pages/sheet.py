"""The bench sheet as a page: the same content as the paper, large, black on white."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from oventide.errors import Complaint
from oventide.press.model import BenchSheet
from oventide.services import sheets
from oventide.web.ask import Answer, Ask, Page
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.plan import Plan, plan_of, stop


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    number: Annotated[int, "Which revision is open"]
    newest: Annotated[int, "The newest revision's number"]
    name: Annotated[str, "The formula's name"]
    kitchens: Annotated[tuple[tuple[str, str], ...], "Kitchens to choose from"]
    sheet: Annotated[BenchSheet | None, "The sheet, ready to print; None while its forecast is under way"]
    share: Annotated[float | None, "Share done of a forecast that is under way, 0 to 1; else None"]
    stopped: Annotated[bool, "Whether the forecast was stopped by the baker"]
    sized: Annotated[str, "A sentence where another size is asked for, else empty"]
    kept: Annotated[Mapping[str, str], "What the form carries unseen: an earlier revision, another size"]
    tail: Annotated[str, "Kitchen and ready-by time as the end of an address"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]


def sheet_of(ask: Ask, plan: Plan) -> BenchSheet:
    """The sheet for a plan; without a forecast it stands with the formula's own minutes."""
    return sheets.bench_sheet(
        plan.saved.content,
        plan.kitchen,
        plan.forecast,
        scaling=plan.size,
        units="us" if ask.units.mass == "oz" else "metric",
        ready_by=plan.ready_by,
        revision=f"revision {plan.saved.number}",
        printed=ask.now,
    )


def handle(ask: Ask) -> Answer:
    """The sheet for the kitchen and the ready-by time in the address; or how far its forecast is, or its end."""
    if ask.is_post:
        return stop(ask, "sheet")
    plan = plan_of(ask)
    return Page(
        Shown(
            key=plan.saved.key,
            number=plan.saved.number,
            newest=plan.saved.newest,
            name=plan.saved.content.name,
            kitchens=plan.kitchens,
            sheet=sheet_of(ask, plan) if plan.share is None else None,
            share=plan.share,
            stopped=plan.stopped,
            sized=plan.sized,
            kept=plan.kept,
            tail=plan.tail,
            values=plan.values,
            marks=marks_of(plan.complaints),
            found=plan.complaints,
        ),
        422 if plan.complaints else 200,
        part=ask.part,
    )
