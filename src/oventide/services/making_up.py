"""Make-up: sheet, roll, cut and tin in figures and drawings."""

from typing import Any

from oventide.errors import refuse
from oventide.formula.limits import check
from oventide.formula.model import ComponentKind, Line
from oventide.formula.scaling import Scaling, scale
from oventide.makeup import drawing
from oventide.makeup.model import Geometry, Tin
from oventide.services.answers import Fill, Gaps, MakeUpAnswer
from oventide.services.editing import weighed
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Product


def with_make_up(
    product: Product,
    sheet_mm: tuple[float, float] | None = None,
    pieces: int | None = None,
    tin: Tin | None = None,
    tins: int | None = None,
    kerf_mm: float | None = None,
    trim_mm: float | None = None,
    piece_g: float | None = None,
) -> Product:
    """The product with other make-up figures; what is not given stays. `sheet_mm` is (width, rolled length)."""
    changed: dict[str, Any] = {
        "sheet_width_mm": sheet_mm[0] if sheet_mm else None,
        "sheet_length_mm": sheet_mm[1] if sheet_mm else None,
        "pieces": pieces,
        "piece_g": piece_g,
        "tin": tin,
        "tins": tins,
        "kerf_mm": kerf_mm,
        "trim_mm": trim_mm,
    }
    given = {name: value for name, value in changed.items() if value is not None}
    return product.model_copy(update={"makeup": product.makeup.model_copy(update=given)}) if given else product


def with_dough(product: Product, dough_g: float | None) -> Product:
    """The product with its formula at another mass of dough [g]; sheet, pieces and tin stay as they are."""
    if dough_g is None:
        return product
    check(product.formula)
    return product.model_copy(update={"formula": scale(product.formula, Scaling(dough_g=dough_g)).formula})


def with_layer(product: Product, layer_g: float) -> Product:
    """The product with another weight of spread and filling [g]; their lines keep their shares."""
    kinds: tuple[ComponentKind, ...] = ("spread", "filling")
    now = sum(
        line.grams.likely for part in product.formula.of_kind(*kinds) for line in part.lines if line.grams is not None
    )
    if now <= 0.0:
        raise refuse(
            "filling", layer_g, "There is no spread or filling with a weight.", "Give its lines a weight first."
        )
    parts = tuple(
        part.model_copy(update={"lines": tuple(_at(line, layer_g / now) for line in part.lines)})
        if part.kind in kinds
        else part
        for part in product.formula.components
    )
    return product.model_copy(update={"formula": product.formula.model_copy(update={"components": parts})})


def _at(line: Line, factor: float) -> Line:
    return line if line.grams is None else weighed(line, line.grams.likely * factor)


def with_thickness(product: Product, thickness_mm: float) -> Product:
    """The product with its dough sheeted to another thickness [mm]: the sheet is rolled up over another length."""
    found = geometry_of(product, by_hand=True)
    length = found.sheet_length_mm * found.thickness_mm / thickness_mm
    return with_make_up(product, sheet_mm=(found.sheet_width_mm, length))


def geometry_of(product: Product, by_hand: bool = False) -> Geometry:
    """The geometry that the product's make-up gives: the one that its forecast is run with.

    With `by_hand` no free placing in the tin is looked for, so that a drawing can follow a hand at once.
    """
    check(product.formula)
    return batch_of(product, by_hand=by_hand).geometry


def answer_from(product: Product, found: Geometry, drawings: dict[str, str]) -> MakeUpAnswer:
    """A geometry as an answer: rounded to what a ruler and a scale show."""
    return MakeUpAnswer(
        name=product.name,
        dough_g=round(found.dough_g, 1),
        spread_g=round(found.spread_g, 1),
        sheet_length_mm=round(found.sheet_length_mm, 2),
        sheet_width_mm=round(found.sheet_width_mm, 2),
        thickness_mm=round(found.thickness_mm, 2),
        spread_mm=round(found.spread_mm, 2),
        spread_g_per_cm2=round(found.spread_g_per_cm2, 3),
        turns=round(found.turns, 2),
        log_diameter_mm=round(found.log_diameter_mm, 1),
        log_length_mm=round(found.log_length_mm, 1),
        trim_g=round(found.trim_g, 1),
        sheets=found.sheets,
        pieces=found.pieces,
        piece_g=round(found.piece_g, 1),
        piece_height_mm=round(found.piece_height_mm, 1),
        cut_marks_mm=tuple(round(mark, 2) for mark in found.cut_marks_mm),
        how_to_cut=found.how_to_cut,
        tin=found.tin,
        tins=found.tins,
        layout=found.layout,
        places=tuple(
            place.model_copy(
                update={
                    "x_mm": round(place.x_mm, 2),
                    "y_mm": round(place.y_mm, 2),
                    "radius_mm": round(place.radius_mm, 2),
                }
            )
            for place in found.places
        ),
        gaps=Gaps(
            neighbours_mm=round(found.gap_mm, 1), wall_mm=round(found.wall_gap_mm, 1), pitch_mm=round(found.pitch_mm, 1)
        ),
        fill=Fill(
            before=round(found.fill_before, 3),
            after_proof=round(found.fill_after_proof, 3),
            after_bake=round(found.fill_after_bake, 3),
        ),
        assumed=found.assumed,
        warnings=found.warnings,
        sources=found.sources,
        drawings=drawings,
    )


def make_up(product: Product, drawings: bool = True, by_hand: bool = False) -> MakeUpAnswer:
    """Thickness, turns, log, pieces, layout and fill; change figures first by `with_make_up`."""
    found = geometry_of(product, by_hand)
    pictures = {
        "sheet": drawing.sheet_svg,
        "log": drawing.log_svg,
        "section": drawing.section_svg,
        "tin": drawing.tin_svg,
    }
    return answer_from(product, found, {name: draw(found) for name, draw in pictures.items()} if drawings else {})
