"""From one tin to another: how many pieces, how heavy, what factor on the formula.

Same depth of filling needs the factor of the areas, a full tin the factor of the volumes. A piece that stays as it
is bakes as it did; a piece that changes its weight does not, and the times have to be foreseen anew.
"""

from dataclasses import dataclass
from typing import Literal

from oventide.errors import Refusal, refuse
from oventide.makeup.layout import choose
from oventide.makeup.model import Tin
from oventide.makeup.tins import area_mm2, complaints_about, name_of, volume_mm3


def factor_by_area(old: Tin, new: Tin) -> float:
    """Factor on the formula that keeps the depth of the filling [1].

    >>> eight, ten = (Tin(shape="round", length_mm=25.4 * d, width_mm=25.4 * d) for d in (8, 10))
    >>> round(factor_by_area(eight, ten), 4)
    1.5625
    """
    return area_mm2(new) / area_mm2(old)


def factor_by_volume(old: Tin, new: Tin) -> float:
    """Factor on the formula that fills the new tin to the same share of its depth [1]."""
    return volume_mm3(new) / volume_mm3(old)


@dataclass(frozen=True)
class Swap:
    """One way to fill the new tin. `mass_g` is dough and spread together, `factor` is on the whole formula."""

    keeps: Literal["piece", "count"]
    pieces: int
    piece_g: float
    mass_g: float
    factor: float
    crowding: float
    """Floor area for each piece in the new tin over that in the old one; below 1 the pieces stand closer [1]."""
    pitch_mm: float
    layout: str
    because: str


def swap(
    pieces: int, piece_g: float, old: Tin, new: Tin, depth: Literal["same", "scaled"] = "same"
) -> tuple[Swap, Swap]:
    """Two ways into another tin: the same piece in another number, or the same number of another weight.

    `depth` "same" keeps the depth of the filling (factor of the areas), "scaled" fills the deeper tin fuller (factor
    of the volumes).

    >>> square = Tin(shape="square", length_mm=200, width_mm=200)
    >>> same_piece, same_count = swap(9, 80, square, Tin(shape="rectangle", length_mm=300, width_mm=200))
    >>> same_piece.pieces, same_piece.mass_g, same_count.piece_g
    (14, 1120.0, 120.0)
    """
    complaints = complaints_about(old, "swap.from") + complaints_about(new, "swap.to")
    if complaints:
        raise Refusal(complaints)
    if pieces < 1:
        raise refuse("swap.pieces", pieces, "There must be at least one piece.", "Give how many the tin holds now.")
    if not 0 < piece_g < 1e5:
        raise refuse("swap.piece_g", piece_g, "A piece must weigh more than 0 g.", "Give one piece's weight in grams.")
    areas = factor_by_area(old, new)
    factor = areas if depth == "same" else factor_by_volume(old, new)
    exact = pieces * (areas if depth == "same" else factor)
    count = max(round(exact), 1)
    placing = choose(count, new)
    kept = choose(pieces, new)
    by = "area" if depth == "same" else "volume"
    came = f"{name_of(old)} to {name_of(new)}: {by} × {factor:.3g}"
    heavier = piece_g * factor
    return (
        Swap(
            keeps="piece",
            pieces=count,
            piece_g=piece_g,
            mass_g=float(count * piece_g),
            factor=count / pieces,
            crowding=areas * pieces / count,
            pitch_mm=placing.pitch_mm,
            layout=placing.name,
            because=f"{came}, {pieces} pieces become {exact:.1f}, so {count} of the same weight.",
        ),
        Swap(
            keeps="count",
            pieces=pieces,
            piece_g=heavier,
            mass_g=pieces * heavier,
            factor=factor,
            crowding=areas,
            pitch_mm=kept.pitch_mm,
            layout=kept.name,
            because=f"{came}, so each of the {pieces} pieces weighs {heavier:.0f} g; its times change.",
        ),
    )
