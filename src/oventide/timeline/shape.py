"""The dough's body at each moment of the make-up: what it is to heat conduction.

Bowl and block, where no container is given, are slabs whose depth is a share of the cube root of the volume; the
sheet and the pieces in the tin are slabs; the log is a cylinder. Thicknesses hold at relative volume 1 (freshly mixed);
the kernel lets them grow with the rise.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oventide.makeup.model import Geometry, Tin
from oventide.timeline.procedure import Container

Array = NDArray[np.float64]
Form = Literal["bowl", "block", "sheet", "log", "pieces"]


@dataclass(frozen=True)
class Body:
    """What lies there. `thickness_m` (M,) is a slab's thickness or the log's diameter."""

    form: Form
    shape: Literal["slab", "cylinder"]
    thickness_m: Array
    top_factor: Array
    """(M,) surface that exchanges heat like the top, over the top's own: its share of the sides."""
    bottom_factor: Array
    half_length_m: Array | None = None
    """(M,) half the length of a body whose sides count by themselves; None where factors do."""
    half_width_m: Array | None = None
    container: Container | None = None


def bowl(volume_m3: float, draws: Mapping[str, Array]) -> Body:
    """Dough in its bowl or tub."""
    return _lump("bowl", draws["container.bowl_depth"], volume_m3)


def block(volume_m3: float, draws: Mapping[str, Array]) -> Body:
    """Dough flattened and wrapped for the fridge."""
    return _lump("block", draws["container.block_depth"], volume_m3)


def _lump(form: Form, depth_share: Array, volume_m3: float) -> Body:
    """A slab of a square plan, d = s·V^(1/3) thick."""
    depth = depth_share * volume_m3 ** (1 / 3)
    half, one = 0.5 * np.sqrt(volume_m3 / depth), np.ones_like(depth)
    return Body(form, "slab", depth, one, one, half, half)


def sheet(geometry: Geometry, members: int) -> Body:
    """The pinned-out sheet, with its spread once that is on."""
    thickness = np.full(members, geometry.thickness_mm / 1000)
    return Body("sheet", "slab", thickness, np.ones(members), np.ones(members))


def log(geometry: Geometry, members: int) -> Body:
    """The rolled-up log."""
    diameter = np.full(members, geometry.log_diameter_mm / 1000)
    return Body("log", "cylinder", diameter, np.ones(members), np.ones(members))


def tin_area_m2(tin: Tin) -> float:
    """Inside floor area of a tin [m²]."""
    if tin.shape == "round":
        return math.pi / 4 * (tin.length_mm / 1000) ** 2
    return tin.length_mm * tin.width_mm / 1e6


def footprint_m2(geometry: Geometry, proofed_rise: float, most_spread: float) -> float:
    """Floor that one piece is reckoned to stand on from the proof on [m²].

    A free piece grows alike in all directions: its footprint grows with the 2/3 power of its volume. In a tin the
    pieces go on to grow in the oven until they meet, so each has its share of the tin, unless that is more than
    `most_spread` times the free footprint: then it stands free and is heated like a piece of that wider footprint,
    which stands for the heat that its open sides take up.
    """
    radius_m: float = geometry.log_diameter_mm / 2000
    free: float = math.pi * radius_m**2 * proofed_rise ** (2 / 3)
    if geometry.tin is None:
        return free * most_spread
    return min(free * most_spread, tin_area_m2(geometry.tin) * geometry.tins / geometry.pieces)


def pieces(geometry: Geometry, footprint: float, volume_m3: float, draws: Mapping[str, Array]) -> Body:
    """Cut pieces standing in the tin. `volume_m3` is one piece's, at relative volume 1."""
    height = volume_m3 / footprint
    radius = (footprint / np.pi) ** 0.5
    sides = 1.0 + draws["tin.side_share"] * 2.0 * height / radius
    return Body("pieces", "slab", np.full_like(sides, height), sides, np.ones_like(sides))
