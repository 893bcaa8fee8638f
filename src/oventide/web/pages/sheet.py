"""Paper: which sheet, on which paper, in which language; a look at it as it will be printed, and the same as text."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated

from oventide.errors import Complaint, Refusal
from oventide.press.papers import AnySheet
from oventide.web.ask import Answer, Ask, Page
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.orders import KINDS, PAPER_NAMES, UNIT_NAMES, order_of, order_tail, planned, sheet_of, values_of
from oventide.web.plan import stop
from oventide.words.catalogue import LANGUAGES


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    number: Annotated[int, "Which revision is open"]
    newest: Annotated[int, "The newest revision's number"]
    name: Annotated[str, "The formula's name"]
    kitchens: Annotated[tuple[tuple[str, str], ...], "Kitchens to choose from"]
    kinds: Annotated[tuple[tuple[str, str], ...], "Sheets to choose from"]
    papers: Annotated[tuple[tuple[str, str], ...], "Paper sizes to choose from"]
    tongues: Annotated[tuple[tuple[str, str], ...], "Languages to choose from, each by its own name"]
    measures: Annotated[tuple[tuple[str, str], ...], "Units to choose from"]
    kind: Annotated[str, "Which sheet is shown"]
    kind_name: Annotated[str, "What that sheet is called"]
    sheet_language: Annotated[str, "The language of the sheet"]
    usual_language: Annotated[str, "The language that this device prints in where nothing else is asked"]
    paper_say: Annotated[Callable[..., str], "Says a message in the language of the sheet"]
    sheet: Annotated[AnySheet | None, "The sheet, ready to print; None while its forecast is under way"]
    share: Annotated[float | None, "Share done of a forecast that is under way, 0 to 1; else None"]
    stopped: Annotated[bool, "Whether the forecast was stopped by the baker"]
    sized: Annotated[str, "A sentence where another size is asked for, else empty"]
    kept: Annotated[Mapping[str, str], "What the form carries unseen: an earlier revision, another size"]
    tail: Annotated[str, "Kitchen, ready-by time and the order of paper as the end of an address"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]


def handle(ask: Ask) -> Answer:
    """The sheet for the kitchen and the ready-by time in the address; or how far its forecast is, or its end."""
    if ask.is_post:
        return stop(ask, "sheet")
    order = order_of(ask)
    plan = planned(ask, order)
    complaints = plan.complaints
    sheet: AnySheet | None = None
    if plan.share is None:
        try:
            sheet = sheet_of(ask, plan, order)
        except Refusal as refusal:
            complaints = (*complaints, *refusal.complaints)
    return Page(
        Shown(
            key=plan.saved.key,
            number=plan.saved.number,
            newest=plan.saved.newest,
            name=plan.saved.content.name,
            kitchens=plan.kitchens,
            kinds=KINDS,
            papers=PAPER_NAMES,
            tongues=tuple(LANGUAGES.items()),
            measures=UNIT_NAMES,
            kind=order.kind,
            kind_name=dict(KINDS)[order.kind],
            sheet_language=order.voice.speaker.language,
            usual_language=ask.paper_language,
            paper_say=order.voice.speaker.say,
            sheet=sheet,
            share=plan.share,
            stopped=plan.stopped,
            sized=plan.sized,
            kept=plan.kept,
            tail=plan.tail + order_tail(order),
            values={**plan.values, **values_of(order)},
            marks=marks_of(complaints),
            found=complaints,
        ),
        422 if complaints else 200,
        part=ask.part,
    )
