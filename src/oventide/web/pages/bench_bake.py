"""One bake at the bench: the shell that the scripts fill, with the bake's view in it, so that it is there at once."""

from dataclasses import dataclass
from typing import Annotated
from urllib.parse import urlencode

from markupsafe import Markup

from oventide.bench.model import BenchView
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext
from oventide.web.embedded import as_json
from oventide.words.speaker import Speaker


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    language: Annotated[str, "The language of the bench on this device"]
    device: Annotated[str, "The name of the device that asks, where it has one"]
    title: Annotated[str, "The bake's name"]
    view_json: Annotated[Markup, "The bake's view, for the scripts"]
    sheet_address: Annotated[str, "The bench sheet to print, for a browser without scripts; empty where there is none"]


def sheet_address(view: BenchView) -> str:
    """The bench sheet of the formula, ready by the same time."""
    if not view.product_key:
        return ""
    asked = {"revision": str(view.product_revision)}
    if view.ready is not None:
        asked["ready_by"] = f"{view.ready.likely.astimezone():%H:%M}"
    return f"/formulas/{view.product_key}/sheet?{urlencode(asked)}"


def handle(ask: Ask) -> Page:
    """The page."""
    view = ask.bakes.view(ask.path["key"], ask.now, Speaker(ask.language))
    return Page(
        Shown(
            language=ask.language,
            device=ask.device,
            title=view.name,
            view_json=as_json(view),
            sheet_address=sheet_address(view),
        )
    )
