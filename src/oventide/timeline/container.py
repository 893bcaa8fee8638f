"""Dough in a box, a bowl or a wrapped block: how deep it lies, and what its sides add to the heat that it gives away.

The hold kernel knows depth only. A body of length, width and depth cools as the product of three slabs; the kernel's
slab therefore loses heat from every layer, at the slowest rate of the two slabs that stand upright. Exact where the
body cools steadily but for a factor; how far off at first, docs/models/cold.md says.
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


def sides(body: Body, side: Array, conductivity: Array) -> Array:
    """What the sides of a body add to the cooling of every layer of it (M,) [1/m²]; 0 for a body without sides.

    Σ (ζ/b)² over half length and half width, ζ tan ζ = h b/k: the slowest rate at which a layer cools sideways, over
    its diffusivity. `side` (M,) [W/(m²·K)] is the film there, `conductivity` (M,) [W/(m·K)] dense dough's.
    """
    if body.half_length_m is None or body.half_width_m is None:
        return np.zeros_like(conductivity)
    # risen dough insulates: about as dough over volume (Maxwell-Eucken is within a tenth of it)
    inside = conductivity / load("timeline").value("container.reckoned_rise")
    total = np.zeros_like(inside)
    for half in (body.half_length_m, body.half_width_m):
        total = total + np.square(slowest(side * half / inside) / half)
    return total


def middle_c(
    body: Body, side: Array, conductivity: Array, per_volume: float, layer_c: Array, air_c: Array, seconds: Array
) -> Array:
    """The very middle of a body (M, K) [°C], from the mean over its plan `layer_c` (M, K) at half depth.

    The middle feels the sides later than the layer does: its excess over the air is the layer's times e^(λt), at most
    the first weight of the two upright slabs' series, Π 4 sin ζ/(2ζ + sin 2ζ). `air_c` (M, K) [°C], `seconds` (K,)
    since the body was even inside, `per_volume` [J/(m³·K)] of dense dough.
    """
    if body.half_length_m is None or body.half_width_m is None:
        return layer_c
    inside = conductivity / load("timeline").value("container.reckoned_rise")
    weight = np.ones_like(conductivity)
    for half in (body.half_length_m, body.half_width_m):
        root = slowest(side * half / inside)
        weight = weight * 4.0 * np.sin(root) / (2.0 * root + np.sin(2.0 * root))
    rate = sides(body, side, conductivity) * conductivity / per_volume
    later = np.minimum(np.exp(np.minimum(rate[:, None] * seconds[None, :], 50.0)), weight[:, None])
    return np.asarray(air_c + (layer_c - air_c) * later)
