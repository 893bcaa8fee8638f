"""The make-up as a form: texts by field name, and back again with every complaint."""

from collections.abc import Mapping
from dataclasses import dataclass

from oventide.errors import Complaint, Refusal
from oventide.makeup.model import MakeUp, Tin
from oventide.services import asking, making_up
from oventide.services.answers import MakeUpAnswer
from oventide.timeline.procedure import Product
from oventide.web.ask import Ask
from oventide.web.fields import Fields
from oventide.web.figures import plain
from oventide.web.product_form import grams_text

ROUND = ("square", "round")
"""Shapes that have one size."""
SHAPES = (("square", "square"), ("rectangle", "rectangular"), ("round", "round"), ("sheet_pan", "sheet pan"))
FIELDS = {
    "sheet": ("sheet", "sheet_length_mm", "sheet_width_mm"),
    "pieces": ("pieces", "piece_g", "cut"),
    "tin": ("tin", "fill", "layout"),
    "kerf": ("kerf",),
    "trim": ("trim", "log"),
    "tins": ("tins",),
}


def field_of(complaint: Complaint) -> Complaint:
    """A complaint of the geometry, told to the box that can mend it."""
    bare = complaint.field.removeprefix("makeup.")
    for name, beginnings in FIELDS.items():
        if bare == name or bare.startswith(beginnings):
            return Complaint(name, complaint.given, complaint.problem, complaint.remedy)
    return complaint


def size_words(first: float, second: float) -> str:
    return f"{plain(first / 10, 1)} × {plain(second / 10, 1)} cm"


def values_of(makeup: MakeUp) -> dict[str, str]:
    """The make-up as texts; what it does not say stays empty."""
    tin = makeup.tin
    size = ""
    if tin is not None:
        size = f"{plain(tin.length_mm / 10, 1)} cm" if tin.shape in ROUND else size_words(tin.width_mm, tin.length_mm)
    sheet = ""
    if makeup.sheet_width_mm and makeup.sheet_length_mm:
        sheet = size_words(makeup.sheet_width_mm, makeup.sheet_length_mm)
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
    thickness = fields.number("thickness", 0.5, 60, "mm")
    layer = fields.grams("filling", 1, 200_000)
    if fields.complaints:
        raise Refusal(fields.complaints)
    made = making_up.with_make_up(
        product, sheet_mm=sheet, pieces=pieces, tin=tin, tins=tins, kerf_mm=kerf,
        trim_mm=None if trim is None else trim * 10,
    )  # fmt: skip
    if layer is not None and grams_text(layer, ask.units) != grams_text(layer_of(product), ask.units):
        made = making_up.with_layer(made, layer)
    touched = {name: fields.text(name) != fields.text(f"was.{name}") for name in ("thickness", "sheet")}
    if thickness is not None and touched["thickness"] and not touched["sheet"] and "was.thickness" in form:
        made = making_up.with_thickness(made, thickness)
    return made


def layer_of(product: Product) -> float | None:
    """Weight of spread and filling together [g]; None where there is none."""
    grams = [
        line.grams.likely
        for part in product.formula.of_kind("spread", "filling")
        for line in part.lines
        if line.grams is not None
    ]
    return sum(grams) if grams else None


@dataclass(frozen=True)
class Slide:
    """A slider: which box it writes to, its ends and its step in the box's unit, and what it says."""

    name: str
    writes: str
    label: str
    unit: str
    low: float
    high: float
    step: float
    value: float

    @property
    def words(self) -> str:
        return f"{plain(self.value, 1)} {self.unit}".strip()


def slides_of(answer: MakeUpAnswer, makeup: MakeUp) -> tuple[Slide, ...]:
    """A slider for every figure that is played with. Lengths in cm, as the boxes have them."""
    tin = answer.tin
    found = [
        Slide("along", "sheet", "Sheet, along the log", "cm", 10, 90, 0.5, answer.sheet_width_mm / 10),
        Slide("rolled", "sheet", "Sheet, rolled up", "cm", 10, 90, 0.5, answer.sheet_length_mm / 10),
        Slide("thickness", "thickness", "Thickness of the dough", "mm", 2, 20, 0.1, answer.thickness_mm),
        Slide("pieces", "pieces", "Pieces", "", 1, max(36, 2 * answer.pieces), 1, answer.pieces),
    ]
    if answer.spread_g:
        most = max(50.0, 2.5 * answer.spread_g)
        found.append(Slide("filling", "filling", "Spread and filling", "g", 5, most, 5, answer.spread_g))
    if tin is not None:
        found.append(Slide("tin", "tin", "Tin, across" if tin.shape in ROUND else "Tin, first side", "cm", 8, 70, 0.5,
                           tin.width_mm / 10))  # fmt: skip
        if tin.shape not in ROUND:
            found.append(Slide("tin2", "tin", "Tin, second side", "cm", 8, 70, 0.5, tin.length_mm / 10))
        found.append(Slide("depth", "depth", "Depth of the tin", "cm", 2, 15, 0.5, tin.depth_mm / 10))
    found.append(Slide("trim", "trim", "Trim off each end", "cm", 0, 8, 0.1, makeup.trim_mm / 10))
    return tuple(found)


@dataclass(frozen=True)
class Outcome:
    """One figure that follows, in a few words, and what it was in the revision that is open."""

    name: str
    figure: str
    was: str


def outcomes_of(answer: MakeUpAnswer, before: MakeUpAnswer | None) -> tuple[Outcome, ...]:
    """What a change does: thickness, turns, height, room, fill."""

    def figures(made: MakeUpAnswer) -> dict[str, str]:
        return {
            "Dough": f"{plain(made.thickness_mm, 1)} mm",
            "Turns": plain(made.turns, 1),
            "Piece": f"{plain(made.piece_height_mm)} mm high",
            "Across": f"{plain(made.log_diameter_mm)} mm",
            "Gap": f"{plain(made.gaps.neighbours_mm)} mm",
            "Tin, proofed": f"{plain(100 * made.fill.after_proof)} %",
        }

    now, then = figures(answer), figures(before) if before else {}
    return tuple(
        Outcome(name, figure, then[name] if then.get(name, figure) != figure else "") for name, figure in now.items()
    )


def bake_hint(answer: MakeUpAnswer, before: MakeUpAnswer | None) -> str:
    """What the height in the tin does to the bake, beside the revision that is open: heat's way grows by its square."""
    if before is None or answer.tin is None or before.tin is None:
        return ""
    high, was = (made.fill.after_bake * made.tin.depth_mm for made in (answer, before) if made.tin is not None)
    if round(high) == round(was) or was <= 0:
        return ""
    factor = (high / was) ** 2
    return (
        f"Baked, the tin is about {plain(high)} mm high instead of {plain(was)} mm: heat needs about "
        f"× {plain(factor, 2)} as long to the middle, by the square of the height. The tide foresees the bake itself."
    )
