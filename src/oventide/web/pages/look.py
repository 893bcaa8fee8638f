"""A sheet as it will be printed: a picture of each page."""

from base64 import b64encode
from dataclasses import dataclass
from typing import Annotated

from oventide.errors import Refusal
from oventide.services.papers import sheet_pictures
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext
from oventide.web.orders import KINDS, order_of, order_tail, planned, sheet_of


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    name: Annotated[str, "The formula's name"]
    kind_name: Annotated[str, "What that sheet is called"]
    tail: Annotated[str, "Kitchen, ready-by time and the order of paper as the end of an address"]
    pages: Annotated[tuple[str, ...], "A picture of each page, as an address that holds it"]


def handle(ask: Ask) -> Page:
    """The pages of the sheet that the address asks for."""
    order = order_of(ask)
    plan = planned(ask, order, waits=True)
    if plan.complaints:
        raise Refusal(plan.complaints)
    pictures = sheet_pictures(sheet_of(ask, plan, order), order.paper)
    return Page(
        Shown(
            key=plan.saved.key,
            name=plan.saved.content.name,
            kind_name=dict(KINDS)[order.kind],
            tail=plan.tail + order_tail(order),
            pages=tuple("data:image/svg+xml;base64," + b64encode(picture).decode("ascii") for picture in pictures),
        ),
        part=ask.part,
    )
