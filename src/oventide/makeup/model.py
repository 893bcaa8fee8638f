"""What the make-up is: sheet, spread, roll, pieces and tin, in mm, and what follows from them."""

from typing import Literal

from pydantic import Field

from oventide.formula.model import Frozen

TinShape = Literal["square", "rectangle", "round", "sheet_pan"]


class Tin(Frozen):
    """Inside of a tin [mm]. A square or round tin has `length_mm` = side or diameter and the same width."""

    shape: TinShape
    length_mm: float = Field(gt=0)
    width_mm: float = Field(gt=0)
    depth_mm: float = Field(default=50.0, gt=0)


class MakeUp(Frozen):
    """How the dough is made up. The sheet is rolled up along its length; the log is as long as the sheet is wide."""

    sheet_length_mm: float | None = None
    sheet_width_mm: float | None = None
    pieces: int | None = None
    piece_g: float | None = None
    kerf_mm: float = 0.0
    trim_mm: float = 0.0
    """Cut off each end of the log [mm]."""
    tin: Tin | None = None
    tins: int = 1
    sheets: int | None = None
    """Sheets (logs) that the dough is divided into; None: one, or one for each tin, whichever is workable."""
    seam_margin_mm: float = 0.0
    """Bare strip along the far edge, where the roll is sealed [mm]."""
    assumed: tuple[str, ...] = ()


class Place(Frozen):
    """Where one piece stands in the tin: centre and radius, before proof [mm from the tin's lower left corner]."""

    x_mm: float
    y_mm: float
    radius_mm: float
    position: Literal["centre", "edge", "corner"]


class Geometry(Frozen):
    """What the make-up gives. `fill` is dough volume over the tin's brim volume."""

    dough_g: float
    spread_g: float
    sheet_length_mm: float
    sheet_width_mm: float
    thickness_mm: float
    spread_mm: float
    spread_g_per_cm2: float
    turns: float
    log_diameter_mm: float
    log_length_mm: float
    trim_g: float
    pieces: int
    piece_g: float
    piece_height_mm: float
    cut_marks_mm: tuple[float, ...]
    layout: str
    """"grid 3 × 3", "staggered", "ring" …"""
    places: tuple[Place, ...]
    pitch_mm: float
    gap_mm: float
    """Least gap between neighbours before proof [mm]; negative where they would overlap."""
    wall_gap_mm: float
    fill_before: float
    fill_after_proof: float
    fill_after_bake: float
    assumed: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    tin: Tin | None = None
    """The tin that was given or chosen; a result always carries one."""
    tins: int = 1
    sheets: int = 1
    pieces_per_sheet: int = 1
    pieces_per_tin: int = 1
    """In the fullest tin."""
    trim_mm: float = 0.0
    kerf_mm: float = 0.0
    kerf_g: float = 0.0
    """Dough and spread in the width of the cuts [g]."""
    seam_margin_mm: float = 0.0
    log_across_seam_mm: float = 0.0
    """Widest diameter, across the seam, of an ideal spiral [mm]."""
    proof_radius_mm: float = 0.0
    """Radius of a piece after proof if it grew alike in all directions and nothing was in its way [mm]."""
    bake_radius_mm: float = 0.0
    how_to_cut: str = ""
    """The cuts in words, for example "thirds, then each third in thirds"."""
