"""The make-up as figures: from masses, densities and sizes to sheet, roll, pieces, tin and fill.

Volumes are conserved throughout: thickness = dough volume / sheet area; log cross-section = (dough + spread) volume
/ log length; piece = its share of the log. The dough is taken without stretch and the roll without hollows.
"""

import math

from oventide.errors import Complaint, Refusal, refuse
from oventide.makeup.cuts import Cuts, cut, cuts_in_words
from oventide.makeup.fill import fill
from oventide.makeup.layout import choose, places
from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.makeup.spiral import Roll, roll_up
from oventide.makeup.tins import name_of
from oventide.makeup.whole import Batch, Whole, check_given, choose_tin, limit_complaint, make_whole

_SOURCES = ("archimedes-arc", "rolled-tape")


def geometry(
    dough_g: float,
    dough_density_g_cm3: float,
    spread_g: float,
    spread_density_g_cm3: float,
    makeup: MakeUp,
    rise_after_proof: float,
    rise_after_bake: float,
    by_hand: bool = False,
) -> Geometry:
    """What a make-up gives; with `by_hand` without looking for a free placing.

    Arguments: dough mass [g] and density as sheeted, with the gas it holds then [g/cm³]; spread mass [g] and density
    [g/cm³]; the make-up as given; dough volume after proof and after baking over the volume when cut [1].
    Everything is for all sheets together, except sheet, log and marks (each sheet) and fill (the fullest tin).

    >>> tin = Tin(shape="square", length_mm=200, width_mm=200)
    >>> asked = MakeUp(sheet_length_mm=300, sheet_width_mm=300, pieces=9, tin=tin)
    >>> found = geometry(500, 1.15, 150, 1.1, asked, 1.7, 2.3)
    >>> round(found.thickness_mm, 2), round(found.log_diameter_mm, 1), round(found.piece_height_mm, 1), found.layout
    (4.83, 49.2, 33.3, 'grid 3 × 3')
    """
    batch = Batch(dough_g, dough_density_g_cm3, spread_g, spread_density_g_cm3, rise_after_proof, rise_after_bake)
    check_given(batch, makeup)
    whole = make_whole(batch, makeup)
    thickness, spread_mm, per_cm2 = _layers(batch, makeup, whole)
    roll = roll_up(whole.sheet_length_mm, thickness, spread_mm, makeup.seam_margin_mm)
    per_sheet = whole.pieces // whole.sheets
    cuts = cut(whole.sheet_width_mm, per_sheet, makeup.trim_mm, makeup.kerf_mm)
    _check_roll(thickness, roll, cuts, whole)
    share = cuts.piece_mm / cuts.log_mm / whole.sheets
    assumed = [*makeup.assumed, *whole.assumed]
    per_tin = -(-whole.pieces // makeup.tins)
    tin = makeup.tin
    if tin is None:
        tin, said = choose_tin(per_tin, roll.area_diameter_mm)
        assumed.append(said)
    _check_tin(tin, roll.area_diameter_mm)
    layout = choose(per_tin, tin, by_hand)
    radius = roll.area_diameter_mm / 2
    filled = fill(per_tin, batch.dough_mm3 * share, batch.spread_mm3 * share, tin, rise_after_proof, rise_after_bake)
    piece_g = batch.grams * share
    gap = layout.pitch_mm - 2 * radius
    warnings = [
        *_piece_warnings(makeup, whole, piece_g, batch.grams, per_tin),
        *_layout_warnings(gap, layout.wall_mm - radius, tin, cuts.piece_mm),
        *filled.warnings,
    ]
    return Geometry(
        dough_g=dough_g,
        spread_g=spread_g,
        sheet_length_mm=whole.sheet_length_mm,
        sheet_width_mm=whole.sheet_width_mm,
        thickness_mm=thickness,
        spread_mm=spread_mm,
        spread_g_per_cm2=per_cm2,
        turns=roll.turns,
        log_diameter_mm=roll.area_diameter_mm,
        log_length_mm=whole.sheet_width_mm,
        trim_g=batch.grams * 2 * cuts.trim_mm / cuts.log_mm,
        pieces=whole.pieces,
        piece_g=piece_g,
        piece_height_mm=cuts.piece_mm,
        cut_marks_mm=cuts.marks_mm,
        layout=layout.name,
        places=places(layout, tin, radius),
        pitch_mm=layout.pitch_mm,
        gap_mm=gap,
        wall_gap_mm=layout.wall_mm - radius,
        fill_before=filled.before,
        fill_after_proof=filled.after_proof,
        fill_after_bake=filled.after_bake,
        assumed=tuple(assumed),
        warnings=tuple(warnings),
        sources=_SOURCES,
        tin=tin,
        tins=makeup.tins,
        sheets=whole.sheets,
        pieces_per_sheet=per_sheet,
        pieces_per_tin=per_tin,
        trim_mm=makeup.trim_mm,
        kerf_mm=makeup.kerf_mm,
        kerf_g=batch.grams * cuts.kerfs_mm / cuts.log_mm,
        seam_margin_mm=makeup.seam_margin_mm,
        log_across_seam_mm=roll.across_seam_mm,
        proof_radius_mm=radius * _growth(batch, rise_after_proof),
        bake_radius_mm=radius * _growth(batch, rise_after_bake),
        how_to_cut=cuts_in_words(per_sheet),
    )


def _layers(batch: Batch, makeup: MakeUp, whole: Whole) -> tuple[float, float, float]:
    """Dough thickness, spread thickness [mm] and spread per area [g/cm²] where spread lies."""
    area = whole.sheet_length_mm * whole.sheet_width_mm
    thickness = batch.dough_mm3 / whole.sheets / area
    complaint = limit_complaint(
        "makeup.sheet", "thickness", thickness, "Give a smaller or larger sheet, or another weight of dough."
    )
    if complaint:
        raise Refusal(
            Complaint(
                complaint.field,
                f"{whole.sheet_length_mm:g} × {whole.sheet_width_mm:g} mm for {batch.dough_g / whole.sheets:.0f} g",
                f"The sheet would be {thickness:.2g} mm thick. " + complaint.problem,
                complaint.remedy,
            )
        )
    if makeup.seam_margin_mm >= whole.sheet_length_mm:
        raise refuse(
            "makeup.seam_margin_mm", f"{makeup.seam_margin_mm:g} mm",
            f"The bare strip is as long as the sheet, {whole.sheet_length_mm:g} mm.", "Give a narrower strip.",
        )  # fmt: skip
    covered = (whole.sheet_length_mm - makeup.seam_margin_mm) * whole.sheet_width_mm
    spread_mm = batch.spread_mm3 / whole.sheets / covered
    return thickness, spread_mm, batch.spread_g / whole.sheets / (covered / 100)


def _check_roll(thickness_mm: float, roll: Roll, cuts: Cuts, whole: Whole) -> None:
    short = limit_complaint(
        "makeup.sheet_length_mm",
        "turns",
        roll.turns,
        "Give a longer or a thinner sheet; it is rolled up along its length.",
    )
    if short:
        raise Refusal(short)
    if cuts.piece_mm <= 0:
        raise refuse(
            "makeup.trim_mm", f"{cuts.trim_mm:g} mm", "Trim and cuts together take the whole log.",
            "Give less trim, fewer pieces or a wider sheet.",
        )  # fmt: skip
    low = limit_complaint(
        "makeup.pieces", "piece_height", cuts.piece_mm, "Give fewer pieces, more sheets, or a wider sheet."
    )
    if low:
        raise Refusal(
            Complaint(
                low.field,
                f"{cuts.pieces} from a log of {cuts.log_mm:g} mm",
                f"Each piece would be {cuts.piece_mm:.3g} mm high. " + low.problem,
                low.remedy if cuts.piece_mm < 100 else "Give more pieces or a narrower sheet.",
            )
        )


def _check_tin(tin: Tin, piece_diameter_mm: float) -> None:
    smallest = min(tin.length_mm, tin.width_mm)
    if piece_diameter_mm > smallest:
        raise refuse(
            "makeup.tin", name_of(tin),
            f"One piece is {piece_diameter_mm:.0f} mm across and does not fit into {smallest:g} mm.",
            "Give a larger tin, or a shorter or thinner sheet, which makes a slimmer log.",
        )  # fmt: skip


def _growth(batch: Batch, rise: float) -> float:
    """Factor on a piece's lengths when its dough rises and grows alike in all directions [1]."""
    before = batch.dough_mm3 + batch.spread_mm3
    return math.cbrt((batch.dough_mm3 * rise + batch.spread_mm3) / before)


def _piece_warnings(makeup: MakeUp, whole: Whole, piece_g: float, grams: float, per_tin: int) -> list[str]:
    said = []
    if makeup.pieces and makeup.piece_g and abs(piece_g / makeup.piece_g - 1) > 0.03:
        said.append(
            f"{makeup.pieces} pieces of {makeup.piece_g:g} g would need {makeup.pieces * makeup.piece_g:.0f} g; "
            f"there are {grams:.0f} g, so a piece weighs about {piece_g:.0f} g."
        )
    if whole.pieces % makeup.tins:
        said.append(
            f"{whole.pieces} pieces do not come out evenly in {makeup.tins} tins; a tin with {per_tin} is shown."
        )
    return said


def _layout_warnings(gap_mm: float, wall_gap_mm: float, tin: Tin, height_mm: float) -> list[str]:
    said = []
    if gap_mm < 0 or wall_gap_mm < -1e-9:
        said.append(
            f"The pieces overlap by about {max(-gap_mm, -2 * wall_gap_mm):.0f} mm even before proof: they have to be "
            "pressed in, and the middle ones stay raw longest. A larger tin or fewer pieces gives room."
        )
    if height_mm > tin.depth_mm:
        said.append(f"A piece is {height_mm:.0f} mm high and stands over the tin's brim ({tin.depth_mm:g} mm) at once.")
    return said
