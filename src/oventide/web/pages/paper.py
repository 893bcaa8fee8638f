"""Paper: every sheet as PDF, A4 or Letter, in any of the languages."""

from oventide.errors import Refusal
from oventide.services.papers import Order, ruler_sheet, sheet_pdf
from oventide.web.ask import Ask, Download
from oventide.web.orders import order_of, planned, sheet_of


def _name(key: str, what: str, order: Order) -> str:
    """A file's name, with the language where it is another than English."""
    language = order.voice.speaker.language
    return f"{key}-{what}.pdf" if language == "en" else f"{key}-{what}-{language}.pdf"


def handle_sheet(ask: Ask) -> Download:
    """The sheet that the address asks for."""
    order = order_of(ask)
    plan = planned(ask, order, waits=True)
    if plan.complaints:
        raise Refusal(plan.complaints)
    content = sheet_pdf(sheet_of(ask, plan, order), order.paper)
    what = order.kind if order.kind in ("ruler", "handout") else f"{order.kind}-sheet"
    return Download(content, "application/pdf", _name(plan.saved.key, what, order), inline=True)


def handle_ruler(ask: Ask) -> Download:
    """The cut marks, 1 : 1."""
    order = order_of(ask)
    saved = ask.shelf.product(ask.path["key"], ask.number("revision"))
    content = sheet_pdf(ruler_sheet(saved.content, order.voice), order.paper)
    return Download(content, "application/pdf", _name(saved.key, "ruler", order), inline=True)
