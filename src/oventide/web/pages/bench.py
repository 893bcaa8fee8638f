"""The bench: bakes under way with their step now, and beginning one from a formula on the shelf."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from markupsafe import Markup

from oventide.bench.model import BenchView
from oventide.errors import Complaint, Refusal
from oventide.services.leafing import shelf_leaf
from oventide.services.shelf import NotOnShelf
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import PageContext
from oventide.web.embedded import as_json_list
from oventide.web.pages.bench_notes import USUAL, begin_from
from oventide.web.sizes import WAYS
from oventide.words.speaker import Speaker

USUAL_NAME = "a kitchen of which nothing is known"


@dataclass(frozen=True)
class Row:
    """A bake under way, for a browser without scripts; the scripts draw it anew."""

    key: str
    name: str
    now: str
    until: str


@dataclass(frozen=True)
class Chosen:
    """What stands in the form."""

    formula: str
    revision: str
    kitchen: str
    ready_by: str
    name: str
    sizes: Mapping[str, str]


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    language: Annotated[str, "The language of the bench on this device"]
    device: Annotated[str, "The name of the device that asks, where it has one"]
    clock: Annotated[str, "The time of day now"]
    rows: Annotated[tuple[Row, ...], "Bakes under way, the last begun first"]
    views_json: Annotated[Markup, "The same bakes in full, for the scripts"]
    formulas: Annotated[tuple[tuple[str, str], ...], "Formulas to begin from: key and name, last saved first"]
    more: Annotated[int, "How many formulas are on the shelf besides"]
    kitchens: Annotated[tuple[tuple[str, str], ...], "Kitchens to choose from: key and name"]
    chosen: Annotated[Chosen, "What stands in the form"]
    complaints: Annotated[tuple[Complaint, ...], "What is amiss with the form that was sent"]


def row_of(view: BenchView) -> Row:
    """A bake in one line."""
    if view.now_step is None:
        return Row(view.key, view.name, "all steps are over", "")
    step = view.steps[view.now_step]
    return Row(view.key, view.name, step.name or step.kind, f"{step.ends.likely.astimezone():%H:%M}")


def _listed(ask: Ask, chosen: str) -> tuple[tuple[tuple[str, str], ...], int]:
    """Formulas for the form, the chosen one among them, and how many more there are."""
    leaf = shelf_leaf(ask.shelf, "product")
    rows = tuple((row.key, row.name) for row in leaf.rows)
    if chosen and chosen not in dict(rows):
        try:
            rows = ((chosen, ask.shelf.product(chosen).content.name), *rows)
        except NotOnShelf:
            chosen = ""
    return rows, max(0, leaf.of - len(rows))


def page_of(ask: Ask, asked: Mapping[str, str], complaints: tuple[Complaint, ...] = ()) -> Page:
    """The page with a form as asked."""
    speaker = Speaker(ask.language)
    views = tuple(ask.bakes.view(row.key, ask.now, speaker) for row in ask.bakes.under_way())
    formulas, more = _listed(ask, asked.get("formula", ""))
    kitchens = tuple((row.key, row.name) for row in shelf_leaf(ask.shelf, "kitchen").rows)
    return Page(
        Shown(
            language=ask.language,
            device=ask.device,
            clock=f"{ask.now:%H:%M}",
            rows=tuple(row_of(view) for view in views),
            views_json=as_json_list(views),
            formulas=formulas,
            more=more,
            kitchens=(*kitchens, (USUAL, USUAL_NAME)),
            chosen=Chosen(
                formula=asked.get("formula", ""),
                revision=asked.get("revision", ""),
                kitchen=asked.get("kitchen", kitchens[0][0] if kitchens else USUAL),
                ready_by=asked.get("ready_by", ""),
                name=asked.get("name", ""),
                sizes={name: asked[name] for name in WAYS if asked.get(name, "").strip()},
            ),
            complaints=complaints,
        ),
        422 if complaints else 200,
    )


def handle(ask: Ask) -> Answer:
    """The page; or, where the form was sent, begin a bake and go to it."""
    if not ask.is_post:
        return page_of(ask, ask.query)
    try:
        return Redirect(f"/bench/{begin_from(ask).key}")
    except NotOnShelf:
        raise
    except Refusal as refusal:
        return page_of(ask, ask.form, refusal.complaints)
