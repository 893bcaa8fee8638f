"""Tins as figures: area, volume, and the way from one tin's size to another's."""

import math

from oventide.errors import Complaint
from oventide.evidence.parameters import load
from oventide.makeup.model import Tin


def area_mm2(tin: Tin) -> float:
    """Area of the tin's floor [mm²].

    >>> area_mm2(Tin(shape="square", length_mm=200, width_mm=200))
    40000.0
    """
    if tin.shape == "round":
        return math.pi / 4 * tin.length_mm * tin.width_mm
    return tin.length_mm * tin.width_mm


def volume_mm3(tin: Tin) -> float:
    """Volume to the brim, straight walls [mm³]."""
    return area_mm2(tin) * tin.depth_mm


def equivalent_square_mm(round_mm: float) -> float:
    """Side of the square tin with the area of a round one: d √π / 2 [mm].

    >>> round(equivalent_square_mm(230), 1)
    203.8
    """
    return round_mm * math.sqrt(math.pi) / 2


def equivalent_round_mm(square_mm: float) -> float:
    """Diameter of the round tin with the area of a square one: 2 s / √π [mm]."""
    return 2 * square_mm / math.sqrt(math.pi)


def name_of(tin: Tin) -> str:
    """The tin in words.

    >>> name_of(Tin(shape="rectangle", length_mm=300, width_mm=200))
    'rectangular tin 20 × 30 cm'
    """
    short, long = sorted((tin.length_mm / 10, tin.width_mm / 10))
    if tin.shape == "round":
        return f"round tin {long:g} cm"
    if tin.shape == "square":
        return f"square tin {long:g} cm"
    return f"{'sheet pan' if tin.shape == 'sheet_pan' else 'rectangular tin'} {short:g} × {long:g} cm"


def complaints_about(tin: Tin, field: str = "makeup.tin") -> list[Complaint]:
    """What is amiss with a tin's figures."""
    limits, found = load("makeup"), []
    for name, value, limit in (
        ("length_mm", tin.length_mm, limits["limits.tin_side"]),
        ("width_mm", tin.width_mm, limits["limits.tin_side"]),
        ("depth_mm", tin.depth_mm, limits["limits.tin_depth"]),
    ):
        if not limit.low <= value <= limit.high:
            found.append(
                Complaint(
                    f"{field}.{name}", f"{value:g} mm", f"It must lie between {limit.low:g} and {limit.high:g} mm.",
                    "Measure the inside of the tin; 1 cm is 10 mm and 1 inch 25.4 mm.",
                )
            )  # fmt: skip
    if tin.shape in ("square", "round") and abs(tin.length_mm - tin.width_mm) > 1e-6 * tin.length_mm:
        found.append(
            Complaint(
                field, f"{tin.length_mm:g} × {tin.width_mm:g} mm", f"A {tin.shape} tin has one size.",
                "Give the same length and width, or call it a rectangle.",
            )
        )  # fmt: skip
    return found
