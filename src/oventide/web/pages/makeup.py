"""Make-up: sheet, roll, cuts and tin to scale, drawn again at every change."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from markupsafe import Markup

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import Source
from oventide.makeup.tins import name_of
from oventide.services import making_up, saving
from oventide.services.answers import MakeUpAnswer
from oventide.timeline.procedure import Product
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.drawings import framed
from oventide.web.figures import plain
from oventide.web.make_up_form import (
    SHAPES,
    Outcome,
    Slide,
    bake_hint,
    field_of,
    outcomes_of,
    product_from,
    slides_of,
    values_of,
)
from oventide.web.pages import together
from oventide.web.product_form import grams_text
from oventide.web.readings import sources_of

ORDER = ("sheet", "tin", "log", "section")
CAPTIONS = {"tin": "The tin from above", "section": "The cut face", "log": "The log and its cuts", "sheet": "The sheet"}


@dataclass(frozen=True)
class Drawing:
    """One drawing to scale."""

    name: str
    caption: str
    svg: Markup


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    number: Annotated[int, "Which revision is open"]
    newest: Annotated[int, "The newest revision's number"]
    name: Annotated[str, "The formula's name"]
    answer: Annotated[MakeUpAnswer | None, "What the make-up gives; None where it could not be worked out"]
    tin_name: Annotated[str, "The tin in words"]
    sources: Annotated[tuple[Source, ...], "What the geometry rests on"]
    drawings: Annotated[tuple[Drawing, ...], "Drawings to scale, with captions"]
    shapes: Annotated[tuple[tuple[str, str], ...], "Shapes of tin, to choose from"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]
    changed: Annotated[bool, "Whether the form differs from the revision that is open"]
    seen: Annotated[int, "The newest revision when the page was opened: a save comes after it"]
    slides: Annotated[tuple[Slide, ...], "Sliders, for a page with scripts"]
    outcomes: Annotated[tuple[Outcome, ...], "What a change does, in a few figures that stay in view"]
    hint: Annotated[str, "What the height in the tin does to the bake; empty where nothing changed"]


def _worked_out(product: Product, by_hand: bool) -> tuple[MakeUpAnswer | None, tuple[Complaint, ...]]:
    try:
        return making_up.make_up(product, by_hand=by_hand), ()
    except Refusal as refusal:
        return None, tuple(field_of(each) for each in refusal.complaints)


def _before(product: Product, changed: bool) -> MakeUpAnswer | None:
    """What the revision that is open gives, where the form differs from it."""
    try:
        return making_up.make_up(product, drawings=False) if changed else None
    except Refusal:
        return None


def handle(ask: Ask) -> Answer:
    """Show the make-up; draw a change; or save it."""
    key = ask.path["key"]
    given, seen = ask.form.get("revision") or ask.query.get("revision", ""), ask.form.get("seen", "")
    saved = ask.shelf.product(key, int(given) if given.isascii() and given.isdigit() else None)
    after = int(seen) if seen.isascii() and seen.isdigit() else saved.newest
    product, complaints = saved.content, tuple[Complaint, ...]()
    typed: Mapping[str, str] = {}
    if ask.is_post:
        try:
            product = product_from(product, ask.form, ask)
            if ask.form.get("deed") == "save":
                done = saving.save(ask.shelf, product, "make-up changed", key, after)
                if isinstance(done, saving.Meanwhile):
                    return together.page_for(ask, key, done, "make-up changed")
                return Redirect(f"/formulas/{key}/make-up")
        except Refusal as refusal:
            complaints, typed = tuple(field_of(each) for each in refusal.complaints), ask.form
    live = ask.part and ask.form.get("live") == "yes"
    answer, amiss = _worked_out(product, by_hand=live)
    if amiss:
        complaints, typed = (*complaints, *amiss), ask.form
    shown_makeup, follows = product.makeup, dict[str, str]()
    if answer is not None and not typed:
        shown_makeup = shown_makeup.model_copy(
            update={
                "sheet_length_mm": answer.sheet_length_mm, "sheet_width_mm": answer.sheet_width_mm,
                "pieces": answer.pieces, "tin": answer.tin,
            }
        )  # fmt: skip
    if answer is not None:
        layer = answer.spread_g or None
        follows = {"thickness": plain(answer.thickness_mm, 1), "filling": grams_text(layer, ask.units)}
    changed = product != saved.content or bool(typed)
    before = _before(saved.content, changed)
    drawings = answer.drawings if answer else {}
    return Page(
        Shown(
            key=key,
            number=saved.number,
            newest=saved.newest,
            seen=after,
            name=product.name,
            answer=answer,
            tin_name=name_of(answer.tin) if answer and answer.tin else "",
            sources=sources_of(answer.sources) if answer else (),
            drawings=tuple(
                Drawing(name, CAPTIONS.get(name, name.replace("_", " ").capitalize()), framed(svg))
                for name, svg in sorted(drawings.items(), key=lambda each: ORDER.index(each[0]))
            ),
            shapes=SHAPES,
            slides=slides_of(answer, product.makeup) if answer else (),
            outcomes=outcomes_of(answer, before) if answer else (),
            hint=bake_hint(answer, before) if answer else "",
            values={**values_of(shown_makeup), **follows, **typed},
            marks=marks_of(complaints),
            found=complaints,
            changed=changed,
        ),
        422 if complaints and ask.is_post else 200,
        part=ask.part,
    )
