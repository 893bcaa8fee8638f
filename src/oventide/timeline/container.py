"""Dough in a box, a bowl or a wrapped block: how deep it lies, and what its sides add to the heat that it gives away.

The hold kernel knows depth only. A body of length, width and depth cools as the product of three slabs; the kernel's
slab is given the films and the conductivity with which it keeps the whole body's heat balance (films: sides shared
out to top and bottom) and its slowest rate of cooling (conductivity). Exact where the dough's inside is even, and
where it cools steadily; in between within a few per cent (docs/models/cold.md).
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.timeline.procedure import Container
from oventide.timeline.shape import Body

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Films:
    """Films with covers and walls in series, (M,) each [W/(m²·K)]: over, under and beside the dough."""

    top: Array
    bottom: Array
    side: Array


def laid_in(container: Container, volume_m3: float, members: int) -> Body:
    """Dough of a volume (freshly mixed) in a container, or in as many as it is divided into."""
    part = volume_m3 / container.pieces
    floor = floor_m2(container)
    depth = part / floor if floor is not None else (container.depth_mm or 0.0) / 1000.0
    plan = floor if floor is not None else part / depth
    if container.shape == "round":
        # a cylinder has the sides, for its volume, of a square box as wide as it
        length = width = math.sqrt(4.0 * plan / math.pi)
    elif container.length_mm is not None and container.width_mm is not None:
        length, width = container.length_mm / 1000.0, container.width_mm / 1000.0
    else:
        length = width = math.sqrt(plan)
    one = np.ones(members)
    return Body("block", "slab", depth * one, one, one, 0.5 * length * one, 0.5 * width * one, container)


def floor_m2(container: Container) -> float | None:
    """Floor of one container [m²]; None where only the dough's depth is known."""
    if container.length_mm is None:
        return None
    if container.shape == "round":
        return math.pi / 4.0 * (container.length_mm / 1000.0) ** 2
    return container.length_mm * (container.width_mm or container.length_mm) / 1e6


def overfull(container: Container, volume_m3: float) -> bool:
    """Whether the dough, freshly mixed, stands higher than the walls that were given."""
    floor = floor_m2(container)
    if floor is None or container.depth_mm is None:
        return False
    return volume_m3 / container.pieces / floor > container.depth_mm / 1000.0


def films(container: Container, film: Array, draws: Mapping[str, Array]) -> Films:
    """What lies between the dough in its container and the air."""
    wall = load("timeline").value(f"container.wall.{container.wall}")
    lid = {"lid": draws["container.lid"], "film": draws["container.film"], "open": np.zeros_like(film)}[container.cover]
    return Films(
        top=1.0 / (1.0 / film + lid),
        bottom=1.0 / (1.0 / film + wall + draws["container.wall_resistance"]),
        side=1.0 / (1.0 / film + wall),
    )


def slowest(biot: Array) -> Array:
    """First root ζ of ζ·tan ζ = Bi, by Newton from a guess that is exact at both ends; a slab's slowest rate is ζ²·Fo.

    >>> [round(float(z), 4) for z in slowest(np.array([0.01, 1.0, 100.0]))]
    [0.0998, 0.8603, 1.5552]
    """
    root = np.sqrt(biot / (1.0 + 4.0 / math.pi**2 * biot))
    for _ in range(8):
        value = root * np.sin(root) - biot * np.cos(root)
        slope = (1.0 + biot) * np.sin(root) + root * np.cos(root)
        root = np.clip(root - value / slope, 1e-9, 0.5 * math.pi)
    return np.asarray(root)


def as_slab(body: Body, over: Films, conductivity: Array) -> tuple[Array, Array, Array]:
    """Films at top and bottom, and the factor on the conductivity, of the slab that stands for a body with sides.

    `conductivity` (M,) [W/(m·K)]. The sides are reckoned at the rise of `container.reckoned_rise`.
    """
    length, width = body.half_length_m, body.half_width_m
    if length is None or width is None:
        one = np.ones_like(conductivity)
        return over.top * body.top_factor, over.bottom * body.bottom_factor, one
    rise = load("timeline").value("container.reckoned_rise")
    depth = body.thickness_m * rise
    # gas bubbles insulate: conductivity falls about as dough over volume (Maxwell-Eucken is within a tenth of it)
    inside = conductivity / rise
    half, mean = 0.5 * depth, 0.5 * (over.top + over.bottom)
    beside = over.side * depth * (1.0 / length + 1.0 / width)
    factor = 1.0 + beside / (over.top + over.bottom)
    through = np.square(slowest(mean * half / inside) / half)
    along = np.square(slowest(over.side * length / inside) / length)
    along = along + np.square(slowest(over.side * width / inside) / width)
    wanted = through + along
    low, high = np.ones_like(inside), 1.0 + 2.0 * np.square(half) * (1.0 / length**2 + 1.0 / width**2) + along / through
    for _ in range(40):
        middle = 0.5 * (low + high)
        short = middle * np.square(slowest(factor * mean * half / (inside * middle)) / half) < wanted
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return over.top * factor, over.bottom * factor, 0.5 * (low + high)
