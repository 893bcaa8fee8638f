"""Every page: its address and its name. A new page is one line here, a module and a template of that name.

A page's module is loaded when it is first asked for (or by the thread that warms the rooms after the start), since
some pages reach rooms that take seconds to load.
"""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from types import ModuleType
from typing import cast

from oventide.web.ask import Answer, Ask
from oventide.web.context import PageContext

GET = ("GET",)
POST = ("POST",)
BOTH = ("GET", "POST")


@dataclass(frozen=True)
class Route:
    """One line of the table: oventide.web.pages.<name> holds `handle` and, where it shows a page, `Shown`."""

    path: str
    name: str
    methods: tuple[str, ...] = GET
    deed: str = "handle"

    def module(self) -> ModuleType:
        """The page's module."""
        return import_module(f"oventide.web.pages.{self.name}")

    def handler(self) -> Callable[[Ask], Answer]:
        """What answers."""
        return cast(Callable[[Ask], Answer], getattr(self.module(), self.deed))

    def context(self) -> type[PageContext] | None:
        """What the page shows; None where the address never shows a page."""
        return cast(type[PageContext] | None, getattr(self.module(), "Shown", None))


ROUTES: tuple[Route, ...] = (
    Route("/", "shelf"),
    Route("/paste", "paste"),
    Route("/reading", "reading", POST),
    Route("/formulas/{key}", "formula", BOTH),
    Route("/formulas/{key}/make-up", "makeup", BOTH),
    Route("/formulas/{key}/tide", "tide", BOTH),
    Route("/formulas/{key}/section", "section"),
    Route("/formulas/{key}/sheet", "sheet", BOTH),
    Route("/formulas/{key}/sheet/look", "look"),
    Route("/formulas/{key}/sheet.pdf", "paper", deed="handle_sheet"),
    Route("/formulas/{key}/ruler", "ruler"),
    Route("/formulas/{key}/ruler.pdf", "paper", deed="handle_ruler"),
    Route("/formulas/{key}/revisions", "revisions", BOTH),
    Route("/compare", "compare", BOTH),
    Route("/formulas/{key}/together", "together", POST),
    Route("/kitchens/{key}/together", "together", POST, deed="handle_kitchen"),
    Route("/formulas/{key}/formula.toml", "files", deed="handle_toml"),
    Route("/formulas/{key}/formula.jsonld", "files", deed="handle_jsonld"),
    Route("/kitchens", "kitchens"),
    Route("/kitchens/{key}", "kitchen", BOTH),
    Route("/bakes", "bakes"),
    Route("/bench/alarms", "bench_notes", deed="handle_alarms"),
    Route("/bench", "bench", BOTH),
    Route("/bench/{key}/view", "bench_notes", deed="handle_view"),
    Route("/bench/{key}/forgotten", "bench_notes", deed="handle_forgotten"),
    Route("/bench/{key}/entries", "bench_notes", POST, deed="handle_entries"),
    Route("/bench/{key}", "bench_bake"),
    Route("/bakes/{key}", "bake"),
    Route("/oventide-worker.js", "bench_worker"),
    Route("/units", "units", POST),
    Route("/language", "language", POST),
    Route("/words/{language}.json", "language", deed="handle_words"),
    Route("/about", "about"),
    Route("/find", "find"),
    Route("/glossary", "glossary"),
    Route("/pantry", "pantry"),
    Route("/pantry/{id}", "ingredient", BOTH),
    Route("/join", "join", BOTH),
    Route("/join/certificate", "join", deed="certificate"),
    Route("/devices", "devices", BOTH),
)
