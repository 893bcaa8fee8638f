"""Every page: its address, its handler, and its template's name. A new page is one line here."""

from collections.abc import Callable
from dataclasses import dataclass

from oventide.web.ask import Answer, Ask
from oventide.web.context import PageContext
from oventide.web.pages import (
    about,
    formula,
    kitchen,
    makeup,
    paper,
    paste,
    reading,
    revisions,
    ruler,
    sheet,
    shelf,
    tide,
    units,
)  # fmt: skip

GET = ("GET",)
POST = ("POST",)
BOTH = ("GET", "POST")


@dataclass(frozen=True)
class Route:
    """One line of the table; `context` is None where the address never shows a page."""

    path: str
    name: str
    handler: Callable[[Ask], Answer]
    context: type[PageContext] | None
    methods: tuple[str, ...] = GET


ROUTES: tuple[Route, ...] = (
    Route("/", "shelf", shelf.handle, shelf.Shown),
    Route("/paste", "paste", paste.handle, paste.Shown),
    Route("/reading", "reading", reading.handle, reading.Shown, POST),
    Route("/formulas/{key}", "formula", formula.handle, formula.Shown, BOTH),
    Route("/formulas/{key}/make-up", "makeup", makeup.handle, makeup.Shown, BOTH),
    Route("/formulas/{key}/tide", "tide", tide.handle, tide.Shown),
    Route("/formulas/{key}/sheet", "sheet", sheet.handle, sheet.Shown),
    Route("/formulas/{key}/sheet.pdf", "paper", paper.handle_sheet, None),
    Route("/formulas/{key}/ruler", "ruler", ruler.handle, ruler.Shown),
    Route("/formulas/{key}/ruler.pdf", "paper", paper.handle_ruler, None),
    Route("/formulas/{key}/revisions", "revisions", revisions.handle, revisions.Shown, BOTH),
    Route("/kitchens/{key}", "kitchen", kitchen.handle, kitchen.Shown, BOTH),
    Route("/units", "units", units.handle, None, POST),
    Route("/about", "about", about.handle, about.Shown),
)
