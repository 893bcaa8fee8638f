"""Butter: what is solid when, and what that means to hands."""

import math

from oventide.evidence.parameters import load
from oventide.matter.milk_fat import solid_fat, temperature_at_solid
from validation.model import Check

_FUSION = load("matter").value("milk_fat.fusion_heat")
_SETTING_MIN = load("matter").value("milk_fat.setting_time")


def _set_after(hours: float, celsius: float, from_c: float) -> float:
    """Solid fat after a time at one temperature, from what was solid before: the law of the hold kernel."""
    before, then = solid_fat(from_c, 0.0), solid_fat(celsius, 0.0)
    return before + (then - before) * -math.expm1(-60.0 * hours / _SETTING_MIN)


CHECKS = (
    Check(
        id="fat.cream-aged",
        room="matter",
        what="solid share of milk fat after eight hours at 5 °C",
        source="mcgee-cream",
        where="about half of the milk fat",
        published=(0.5,),
        ours=lambda: _set_after(8.0, 5.0, 40.0),
        unit="1",
        tolerance=0.1,
        blind=True,
    ),
    Check(
        id="fat.melting-point",
        room="matter",
        what="temperature at which milk fat is all but molten (1 % solid)",
        source="milk-fat-fractions-1998",
        where="melting point, abstract",
        published=(35.6,),
        ours=lambda: temperature_at_solid(0.01),
        unit="°C",
        tolerance=1.0,
        blind=True,
    ),
    Check(
        id="fat.melting-heat",
        room="matter",
        what="heat that melts milk fat from the fridge up",
        source="milk-fat-fractions-1998",
        where="80.8 J/g over the whole melting range, which begins far below 0 °C: ours, from -5 °C, must be less",
        published=(0.0, 80.8),
        ours=lambda: _FUSION * solid_fat(-5.0, 0.0) / 1000.0,
        unit="kJ/kg",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="fat.butter-melts",
        room="matter",
        what="temperature at which butter runs (6 % solid)",
        source="butter-characteristics",
        where="butter melts over 28 to 36 °C",
        published=(28.0, 36.0),
        ours=lambda: temperature_at_solid(load("dough").value("fat.oiling_out")),
        unit="°C",
        tolerance=0.0,
        blind=False,
        kind="range",
    ),
    Check(
        id="fat.lamination",
        room="matter",
        what="solid share of butter at lamination temperatures, 15 and 18 °C: in the window that spreads",
        source="ronholt-2013",
        where="spreadable from 20 to 40 % solid",
        published=(0.20, 0.40),
        ours=lambda: [solid_fat(15.0, 0.0), solid_fat(18.0, 0.0)],
        unit="1",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="fat.lamination-summer-winter",
        room="matter",
        what="the same at 16 °C, summer and winter fat",
        source="ronholt-2013",
        where="spreadable from 20 to 40 % solid",
        published=(0.20, 0.40),
        ours=lambda: [solid_fat(16.0, -0.05), solid_fat(16.0, 0.05)],
        unit="1",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
)
