"""The roll: an exact Archimedean spiral of the sheet's centre line.

Arc length of r = a θ from the centre (a = pitch / 2π):  s = a/2 · [θ √(1 + θ²) + asinh θ]   (standard calculus).
A round log of the same cross-section has the diameter D = √(4 L t / π) (area conserved; D² - d² = 4 L t / π in a
published derivation for a rolled tape). The two agree to 1 % from two turns on.
"""

import math
from dataclasses import dataclass

TWO_PI = 2 * math.pi


def arc(theta: float) -> float:
    """Arc length over a, from the centre to the angle θ [1].

    >>> round(arc(1.0), 6)
    1.147794
    """
    return 0.5 * (theta * math.sqrt(1 + theta * theta) + math.asinh(theta))


def angle_of_arc(length_over_a: float) -> float:
    """The angle at which the arc length over a is reached; inverse of `arc` by Newton's method [rad]."""
    if length_over_a <= 0:
        return 0.0
    theta = math.sqrt(2 * length_over_a)
    for _ in range(60):
        step = (arc(theta) - length_over_a) / math.sqrt(1 + theta * theta)
        theta -= step
        if abs(step) <= 1e-14 * theta:
            break
    return theta


@dataclass(frozen=True)
class Winding:
    """A rolled length at one pitch: where its centre line ends."""

    pitch_mm: float
    end_radius_mm: float
    end_angle: float


def wind(length_mm: float, pitch_mm: float) -> Winding:
    """Roll up a length at a pitch, from the centre.

    >>> roll = wind(400, 8)
    >>> round(roll.end_angle / TWO_PI, 4), round(roll.end_radius_mm, 3)
    (3.9754, 31.803)
    """
    a = pitch_mm / TWO_PI
    angle = angle_of_arc(length_mm / a)
    return Winding(pitch_mm, a * angle, angle)


@dataclass(frozen=True)
class Roll:
    """A rolled sheet: turns, and measures of its diameter [mm]."""

    winding: Winding
    spread_end_angle: float
    """Where the spread ends and the bare strip begins [rad]."""
    turns: float
    mean_diameter_mm: float
    """Twice the centre line's outer radius: the mean diameter of the skin."""
    across_seam_mm: float
    """From the skin at the seam to the skin opposite."""
    area_diameter_mm: float
    """Diameter of a round log of the same cross-section."""


def roll_up(length_mm: float, dough_mm: float, spread_mm: float, margin_mm: float = 0.0) -> Roll:
    """Roll up a sheet with a spread that stops `margin_mm` short of the far edge.

    The pitch is dough + spread all along: a bare strip shorter than the log's girth lies on the turn before it and
    rises with that turn. Only the cross-section knows that the strip carries no spread.
    """
    pitch = dough_mm + spread_mm
    winding = wind(length_mm, pitch)
    area = length_mm * dough_mm + (length_mm - margin_mm) * spread_mm
    opposite = max(winding.end_radius_mm - pitch / 2, 0.0)
    return Roll(
        winding=winding,
        spread_end_angle=wind(length_mm - margin_mm, pitch).end_angle,
        turns=winding.end_angle / TWO_PI,
        mean_diameter_mm=2 * winding.end_radius_mm,
        across_seam_mm=winding.end_radius_mm + opposite + pitch,
        area_diameter_mm=math.sqrt(4 * area / math.pi),
    )


def concentric_length(inner_diameter_mm: float, thickness_mm: float, turns: float) -> float:
    """Length of a tape taken as N rings of inner diameter d, d + 2t …: L = π N (d + t (N - 1)) [mm].

    A published short-cut (source rolled-tape), too short because it uses inner diameters; kept as an outside check.

    >>> round(concentric_length(0, 8, 4), 1)
    301.6
    """
    return math.pi * turns * (inner_diameter_mm + thickness_mm * (turns - 1))
