"""What may be read and marked at each kind of step, and within which figures a reading can lie."""

from collections.abc import Mapping

from oventide.bench.model import Mark, Quantity
from oventide.timeline.procedure import StepKind

ASKS: Mapping[StepKind, tuple[Quantity, ...]] = {
    "mix": ("dough temperature", "bowl weight"),
    "bulk": ("rise since mixing", "dough temperature", "jar height"),
    "retard": ("core", "rise since mixing", "surface", "jar height"),
    "temper": ("core", "surface"),
    "sheet": ("dough temperature", "surface"),
    "spread": ("dough temperature", "surface", "bowl weight"),
    "roll": ("dough temperature", "surface"),
    "chill": ("surface", "core"),
    "cut": ("dough temperature", "surface"),
    "tin": ("dough temperature", "surface"),
    "proof": ("rise since shaping", "dough temperature", "core", "surface", "jar height"),
    "bake": ("core", "surface"),
    "glaze": ("surface", "bowl weight"),
    "cool": ("core", "surface"),
    "keep": (),
}
"""Most telling first."""

MARKS: Mapping[StepKind, tuple[Mark, ...]] = {
    "mix": ("too soft", "not yet"),
    "bulk": ("at the mark", "not yet"),
    "retard": ("at the mark", "not yet"),
    "temper": ("too soft", "not yet"),
    "sheet": ("too soft",),
    "spread": ("too soft",),
    "roll": ("too soft",),
    "chill": ("at the mark", "too soft", "not yet"),
    "cut": ("too soft",),
    "tin": ("too soft",),
    "proof": ("at the mark", "too soft", "not yet"),
    "bake": ("not yet",),
    "glaze": ("not yet",),
    "cool": ("not yet",),
    "keep": (),
}

RANGES: Mapping[Quantity, tuple[float, float, str]] = {
    "dough temperature": (-20.0, 60.0, "°C"),
    "core": (-20.0, 110.0, "°C"),
    "surface": (-20.0, 250.0, "°C"),
    "rise since mixing": (0.5, 8.0, "×"),
    "rise since shaping": (0.5, 8.0, "×"),
    "jar height": (5.0, 1000.0, "mm"),
    "bowl weight": (0.0, 200_000.0, "g"),
}
"""Beyond these a probe, a jar or a scale of a bakehouse shows no dough; a slip of the hand does."""

LEVELS: Mapping[Quantity, str] = {
    "dough temperature": "temperature",
    "core": "temperature",
    "surface": "surface",
    "rise since mixing": "rise",
}
"""On which level of the tide chart a reading is marked."""
