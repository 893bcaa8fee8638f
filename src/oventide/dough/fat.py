"""Butter in dough: how much of its fat is solid, and what that means for spreading, sheeting and cutting.

The curve is matter's (`solid_fat`); the thresholds are data. One curve serves cooling and warming: quickly cooled
fat has in truth more solid than tempered fat, and fresh dough crystallises some minutes late.
"""

from dataclasses import dataclass

from oventide.evidence.parameters import load
from oventide.matter.milk_fat import solid_fat, temperature_at_solid

FIRMNESS_WORDS = ("oiling out", "too soft", "soft", "good", "firm and brittle")


@dataclass(frozen=True)
class FatThresholds:
    """Shares of solid fat at which handling changes [1]."""

    too_hard: float
    getting_soft: float
    too_soft: float
    oiling_out: float


def thresholds() -> FatThresholds:
    """The thresholds of evidence/data/dough.toml.

    >>> thresholds().too_soft
    0.2
    """
    known = load("dough")
    return FatThresholds(
        too_hard=known.value("fat.too_hard"),
        getting_soft=known.value("fat.getting_soft"),
        too_soft=known.value("fat.too_soft"),
        oiling_out=known.value("fat.oiling_out"),
    )


def firmness(solid: float) -> str:
    """A word for a share of solid fat.

    >>> firmness(solid_fat(12.0, 0.0)), firmness(solid_fat(15.0, 0.0)), firmness(solid_fat(22.0, 0.0))
    ('firm and brittle', 'good', 'too soft')
    """
    at = thresholds()
    limits = (at.oiling_out, at.too_soft, at.getting_soft, at.too_hard)
    return FIRMNESS_WORDS[sum(solid >= limit for limit in limits)]


def threshold_temperatures_c(offset: float = 0.0) -> dict[str, float]:
    """Temperature at which each threshold is met [°C], for a summer (-0.05) or winter (+0.05) fat.

    >>> {name: round(c, 1) for name, c in threshold_temperatures_c().items()}
    {'too_hard': 13.0, 'getting_soft': 16.3, 'too_soft': 19.7, 'oiling_out': 30.0}
    """
    at = thresholds()
    return {name: temperature_at_solid(getattr(at, name), offset) for name in FatThresholds.__dataclass_fields__}


__all__ = ["FIRMNESS_WORDS", "FatThresholds", "firmness", "solid_fat", "threshold_temperatures_c", "thresholds"]
