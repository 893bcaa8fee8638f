"""Paper: the bench sheet and the ruler as PDF, A4 or Letter."""

from oventide.errors import Refusal
from oventide.press.model import Paper
from oventide.services import sheets
from oventide.web.ask import Ask, Download
from oventide.web.pages.sheet import sheet_of
from oventide.web.plan import plan_of


def _paper(ask: Ask) -> Paper:
    return "letter" if ask.query.get("paper") == "letter" else "a4"


def handle_sheet(ask: Ask) -> Download:
    """The bench sheet."""
    plan = plan_of(ask, patience_s=None)
    if plan.complaints:
        raise Refusal(plan.complaints)
    content = sheets.sheet_pdf(sheet_of(ask, plan), _paper(ask))
    return Download(content, "application/pdf", f"{plan.saved.key}-bench-sheet.pdf", inline=True)


def handle_ruler(ask: Ask) -> Download:
    """The cut marks, 1 : 1."""
    saved = ask.shelf.product(ask.path["key"], ask.number("revision"))
    content = sheets.ruler_pdf(saved.content, _paper(ask))
    return Download(content, "application/pdf", f"{saved.key}-ruler.pdf", inline=True)
