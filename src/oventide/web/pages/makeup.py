"""Make-up: sheet, roll, cuts and tin to scale, drawn again at every change."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from markupsafe import Markup

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import Source
from oventide.makeup.model import MakeUp, Tin
from oventide.makeup.tins import name_of
from oventide.services import asking, making_up
from oventide.services.answers import MakeUpAnswer
from oventide.timeline.procedure import Product
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.drawings import framed
from oventide.web.fields import Fields
from oventide.web.figures import plain
from oventide.web.readings import sources_of

SHAPES = (("square", "square"), ("rectangle", "rectangular"), ("round", "round"), ("sheet_pan", "sheet pan"))
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


FIELDS = {
    "sheet": ("sheet", "sheet_length_mm", "sheet_width_mm"),
    "pieces": ("pieces", "piece_g", "cut"),
    "tin": ("tin", "fill", "layout"),
    "kerf": ("kerf",),
    "trim": ("trim", "log"),
    "tins": ("tins",),
}


def _field_of(complaint: Complaint) -> Complaint:
    """A complaint of the geometry, told to the box that can mend it."""
    bare = complaint.field.removeprefix("makeup.")
    for name, beginnings in FIELDS.items():
        if bare == name or bare.startswith(beginnings):
            return Complaint(name, complaint.given, complaint.problem, complaint.remedy)
    return complaint


def _size(first: float, second: float) -> str:
    return f"{plain(first / 10, 1)} × {plain(second / 10, 1)} cm"


def values_of(makeup: MakeUp) -> dict[str, str]:
    """The make-up as texts; what it does not say stays empty."""
    tin = makeup.tin
    size = ""
    if tin is not None:
        size = (
            f"{plain(tin.length_mm / 10, 1)} cm"
            if tin.shape in ("square", "round")
            else _size(tin.width_mm, tin.length_mm)
        )
    sheet = ""
    if makeup.sheet_width_mm and makeup.sheet_length_mm:
        sheet = _size(makeup.sheet_width_mm, makeup.sheet_length_mm)
    return {
        "sheet": sheet,
        "pieces": "" if makeup.pieces is None else str(makeup.pieces),
        "shape": tin.shape if tin else "square",
        "tin": size,
        "depth": f"{plain(tin.depth_mm / 10, 1)} cm" if tin else "",
        "tins": str(makeup.tins),
        "kerf": plain(makeup.kerf_mm, 1),
        "trim": plain(makeup.trim_mm / 10, 1),
    }


def _with_unit(text: str) -> str:
    """A size typed without its unit is taken in cm, as its label says."""
    bare = text.strip()
    return bare + " cm" if bare and bare[-1].isdigit() else bare


def product_from(product: Product, form: Mapping[str, str], ask: Ask) -> Product:
    """The product with the make-up that the form says."""
    fields = Fields(form, ask.units)
    sheet_text = _with_unit(fields.text("sheet"))
    sheet = fields.keep("sheet", lambda: asking.sheet_mm(sheet_text)) if sheet_text else None
    tin: Tin | None = None
    if fields.text("tin"):
        depth = _with_unit(fields.text("depth"))
        shape = fields.text("shape") if fields.text("shape") in dict(SHAPES) else "square"
        text = f"{shape}:{_with_unit(fields.text('tin'))}" + (f":{depth}" if depth else "")
        tin = fields.keep("tin", lambda: asking.tin(text))
    pieces = fields.whole("pieces", 1, 500)
    tins = fields.whole("tins", 1, 60)
    kerf = fields.number("kerf", 0, 20, "mm")
    trim = fields.number("trim", 0, 20, "cm")
    if fields.complaints:
        raise Refusal(fields.complaints)
    return making_up.with_make_up(
        product, sheet_mm=sheet, pieces=pieces, tin=tin, tins=tins, kerf_mm=kerf,
        trim_mm=None if trim is None else trim * 10,
    )  # fmt: skip


def handle(ask: Ask) -> Answer:
    """Show the make-up; draw a change; or save it."""
    key = ask.path["key"]
    given = ask.form.get("revision") or ask.query.get("revision", "")
    saved = ask.shelf.product(key, int(given) if given.isascii() and given.isdigit() else None)
    product, complaints = saved.content, tuple[Complaint, ...]()
    typed: Mapping[str, str] = {}
    if ask.is_post:
        try:
            product = product_from(product, ask.form, ask)
            if ask.form.get("deed") == "save":
                done = ask.shelf.save_product(product, "make-up changed", key, after=saved.newest)
                return Redirect(f"/formulas/{done.key}/make-up")
        except Refusal as refusal:
            complaints, typed = tuple(_field_of(each) for each in refusal.complaints), ask.form
    answer: MakeUpAnswer | None = None
    try:
        answer = making_up.make_up(product)
    except Refusal as refusal:
        complaints = (*complaints, *(_field_of(each) for each in refusal.complaints))
        typed = ask.form
    shown_makeup = product.makeup
    if answer is not None and not typed:
        shown_makeup = shown_makeup.model_copy(
            update={
                "sheet_length_mm": answer.sheet_length_mm, "sheet_width_mm": answer.sheet_width_mm,
                "pieces": answer.pieces, "tin": answer.tin,
            }
        )  # fmt: skip
    drawings = answer.drawings if answer else {}
    return Page(
        Shown(
            key=key,
            number=saved.number,
            newest=saved.newest,
            name=product.name,
            answer=answer,
            tin_name=name_of(answer.tin) if answer and answer.tin else "",
            sources=sources_of(answer.sources) if answer else (),
            drawings=tuple(
                Drawing(name, CAPTIONS.get(name, name.replace("_", " ").capitalize()), framed(svg))
                for name, svg in drawings.items()
            ),
            shapes=SHAPES,
            values={**values_of(shown_makeup), **typed},
            marks=marks_of(complaints),
            found=complaints,
            changed=product != saved.content or bool(typed),
        ),
        422 if complaints and ask.is_post else 200,
        part=ask.part,
    )
