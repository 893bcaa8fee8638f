"""Keeping: freezing and thawing, the enthalpy of frozen foods, staling by temperature, reheating."""

from collections.abc import Callable, Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np

from oventide.bake import freezing, staling
from oventide.forecast.foresee import ensemble_for
from oventide.kitchen.complete import complete
from oventide.matter.freezing import (
    ICE_HEAT_KJ_KG,
    enthalpy_kj_kg,
    freezing_point_c,
    ice_share,
    unfrozen_heat_capacity_kj_kgk,
)
from oventide.matter.syrup import syrup_water_activity
from oventide.timeline.keep import keep
from oventide.timeline.kept import Kept
from oventide.timeline.procedure import Span, Step
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import StepTrace
from validation.model import Check

# ASHRAE table 3, vegetables: water [%], freezing point, heat capacity above and below freezing, latent heat.
_FOODS = (
    ("artichokes", 84.94, -1.2, 3.90, 2.02, 284), ("Jerusalem artichokes", 78.01, -2.5, 3.63, 2.25, 261),
    ("asparagus", 92.40, -0.6, 4.03, 1.79, 309), ("beets", 87.58, -1.1, 3.91, 1.94, 293),
    ("cabbage", 92.15, -0.9, 4.02, 1.85, 308), ("carrots", 87.79, -1.4, 3.92, 2.00, 293),
    ("corn", 75.96, -0.6, 3.62, 1.98, 254), ("cucumbers", 96.01, -0.5, 4.09, 1.71, 321),
    ("garlic", 58.58, -0.8, 3.17, 2.19, 196), ("kale", 84.46, -0.5, 3.82, 1.86, 282),
)  # fmt: skip
_WATER = tuple(food[1] for food in _FOODS)


def _foods(law: Callable[[float, float], float]) -> Callable[[], Sequence[float]]:
    return lambda: [law(food[1] / 100.0, food[2]) for food in _FOODS]


def _below(water: float, point_c: float) -> float:
    """Heat capacity at -40 °C, from the enthalpy."""
    two = enthalpy_kj_kg(water, 0.0, point_c, np.array([-40.0, -39.8]))
    return float(np.diff(two)[0] / 0.2)


def _beef(celsius: float) -> float:
    """ASHRAE's beef carcass: water 0.5821, bound 0.4 of the protein's 0.1748, freezing from -1.7 °C."""
    return float(enthalpy_kj_kg(0.5821, 0.4 * 0.1748, -1.7, np.array([celsius]))[0])


def stays(*steps: Step) -> list[StepTrace]:
    """A likely small bun, 60 g, cooled, through stays; fat 28 and sugar 14 per 100 flour."""
    kitchen = complete({"room": 21, "fridge": 4})
    ensemble = ensemble_for(kitchen, 1, 1)
    draws: dict[str, Any] = {}
    for room in ("matter", "dough", "bake", "timeline", "weep", "keeping"):
        draws |= ensemble.of(room)
    one = np.ones(1)
    kept = Kept(
        stale=0.0 * one, lost=0.0 * one, mean_c=21.0 * one, slow=staling.slowness(14.0, draws),
        limit=staling.limit_over_fresh(28.0, draws), water=0.32 * one, density=300.0 * one, height_m=0.05 * one,
        surface_m2_kg=0.16 * one,
    )  # fmt: skip
    dough: Any = SimpleNamespace(draws=draws, ensemble=ensemble, kitchen=kitchen, members=1)
    found = []
    begun = np.zeros(1)
    for index, step in enumerate(steps):
        trace, kept = keep(dough, kept, step, index, begun, Clock(), [])
        begun = begun + trace.duration_s
        found.append(trace)
    return found


def stay(hours: float, **how: Any) -> Step:
    """A stay of so many hours."""
    return Step(kind="keep", minutes=Span(low=60 * hours, likely=60 * hours, high=60 * hours), **how)


def _end(name: str, *steps: Step) -> float:
    return float(stays(*steps)[-1].at_end(name)[0])


def _frozen_and_thawed() -> float:
    """Staling by freezing and thawing, over that of a day at 21 °C; both wrapped."""
    frozen = _end("staling", stay(6, where="freezer", covered=True), stay(3, covered=True))
    return frozen / _end("staling", stay(24, covered=True))


def _crumb_4_days() -> float:
    """Plain bread, sugar and fat none, 4 days at 22 °C, 29 % of its weight lost."""
    stale = 1.0 - np.exp(-4.0 * staling.rate_per_day(np.array(22.0)))
    return float(staling.firmness(np.array([stale]), np.array([6.0]), np.array([0.29]), np.array([3.0]))[0])


CHECKS = (
    Check(
        id="keeping.plank-slab",
        room="bake",
        what="Plank: meat slabs of 63.5 mm at -28.9 °C",
        source="plank-examples",
        where="Geankoplis, from memory",
        published=(6.65,),
        ours=lambda: float(freezing.plank_s(1057, 0.75 * 335e3, -2.8 + 28.9, 0.0635, 17.0, 1.038)) / 3600,
        unit="h",
        tolerance=0.02,
        blind=True,
    ),
    Check(
        id="keeping.plank-sphere",
        room="bake",
        what="Plank: a sphere of 70 mm at -40 °C",
        source="plank-examples",
        where="Singh and Heldman, from memory",
        published=(0.72,),
        ours=lambda: float(freezing.plank_s(1000, 250e3, 38.75, 0.07, 50.0, 1.2, freezing.SPHERE)) / 3600,
        unit="h",
        tolerance=0.01,
        blind=True,
    ),
    Check(
        id="keeping.plank-plates",
        room="bake",
        what="Plank: meat of 100 mm between plates at -34 °C, in cardboard of 1 mm and bare",
        source="plank-examples",
        where="Earle, from memory",
        published=(4.2, 2.1),
        ours=lambda: [float(freezing.plank_s(1090, 256e3, 32, 0.1, film, 1.6)) / 3600 for film in (1 / 0.019, 600.0)],
        unit="h",
        tolerance=0.06,
        blind=True,
        kind="curve",
        x=(1.0, 0.0),
        x_name="cardboard [mm]",
        note="With the film as the book rounds it, 1/h = 0.019 m²·K/W.",
    ),
    Check(
        id="keeping.ice-in-beef",
        room="matter",
        what="ice in beef at -20 °C",
        source="ashrae-foods",
        where="worked example, from memory",
        published=(0.52,),
        ours=lambda: ice_share(0.5821, -1.7, -20.0),
        unit="kg/kg",
        tolerance=0.005,
        blind=True,
    ),
    Check(
        id="keeping.beef-enthalpy",
        room="matter",
        what="enthalpy of beef over -40 °C, at its freezing point and at 10 °C",
        source="ashrae-foods",
        where="worked example, from memory",
        published=(243.14, 280.38),
        ours=lambda: [_beef(-1.7), _beef(10.0)],
        unit="kJ/kg",
        tolerance=0.1,
        blind=True,
        kind="curve",
        x=(-1.7, 10.0),
        x_name="temperature [°C]",
    ),
    Check(
        id="keeping.latent-heat",
        room="matter",
        what="heat of fusion of ten foods from their water",
        source="ashrae-table-3",
        where="vegetables",
        published=tuple(float(food[5]) for food in _FOODS),
        ours=_foods(lambda water, _: water * ICE_HEAT_KJ_KG),
        unit="kJ/kg",
        tolerance=1.0,
        blind=True,
        kind="curve",
        x=_WATER,
        x_name="water [%]",
    ),
    Check(
        id="keeping.heat-capacity-above",
        room="matter",
        what="heat capacity of ten foods above freezing",
        source="ashrae-table-3",
        where="vegetables",
        published=tuple(food[3] for food in _FOODS),
        ours=_foods(lambda water, _: float(unfrozen_heat_capacity_kj_kgk(1.0 - water))),
        unit="kJ/(kg·K)",
        tolerance=0.02,
        blind=True,
        relative=True,
        kind="curve",
        x=_WATER,
        x_name="water [%]",
    ),
    Check(
        id="keeping.heat-capacity-below",
        room="matter",
        what="heat capacity of ten foods frozen, at -40 °C",
        source="ashrae-table-3",
        where="vegetables",
        published=tuple(food[4] for food in _FOODS),
        ours=_foods(_below),
        unit="kJ/(kg·K)",
        tolerance=0.04,
        blind=True,
        relative=True,
        kind="curve",
        x=_WATER,
        x_name="water [%]",
        note="The table does not say at which temperature; its constituents are tabled down to -40 °C.",
    ),
    Check(
        id="keeping.freezing-point-of-syrup",
        room="matter",
        what="freezing point of sucrose solutions, from their water activity",
        source="sugar-handbook",
        where="10 to 40 % sucrose, from memory",
        published=(-0.63, -1.46, -2.64, -4.45),
        ours=lambda: [float(freezing_point_c(syrup_water_activity(s))) for s in (0.1, 0.2, 0.3, 0.4)],
        unit="°C",
        tolerance=0.15,
        blind=True,
        kind="curve",
        x=(10, 20, 30, 40),
        x_name="sucrose [%]",
        miss="-4.26 °C at 40 %: Norrish's line is that of 25 °C, a syrup below zero is drier. To 30 %: 0.04 K.",
    ),
    Check(
        id="keeping.slab-time-constant",
        room="bake",
        what="square of the first root of a slab with a film, by its Biot number",
        source="heat-transfer-book",
        where="table 5.1, from memory",
        published=(0.00996, 0.0968, 0.4268, 0.7401, 1.7261, 2.0418, 2.4186),
        ours=lambda: [
            1.0 / float(freezing.time_constant_s(1.0, 1.0, 2.0, biot, 1.0)) for biot in (0.01, 0.1, 0.5, 1, 5, 10, 100)
        ],
        unit="1",
        tolerance=0.05,
        blind=True,
        relative=True,
        kind="curve",
        x=(0.01, 0.1, 0.5, 1, 5, 10, 100),
        x_name="Biot number",
    ),
    Check(
        id="keeping.staling-by-temperature",
        room="bake",
        what="time constant of staling",
        source="colwell-1969",
        where="from memory",
        published=(1.5, 2.4, 3.7, 5.5),
        ours=lambda: [1.0 / float(staling.rate_per_day(np.array(t))) for t in (-1.0, 10.0, 21.0, 32.0)],
        unit="d",
        tolerance=0.01,
        blind=False,
        kind="curve",
        x=(-1, 10, 21, 32),
        x_name="temperature [°C]",
    ),
    Check(
        id="keeping.fridge-six-times",
        room="bake",
        what="how much faster bread stales in the fridge than in the room",
        source="common-practice",
        where="a figure often repeated in the trade, no measurement found behind it",
        published=(6.0,),
        ours=lambda: float(staling.rate_per_day(np.array(4.0)) / staling.rate_per_day(np.array(21.0))),
        unit="×",
        tolerance=1.0,
        blind=True,
        miss="The time constants of Colwell and co-workers give 2.0; the saying is not borne out by them.",
    ),
    Check(
        id="keeping.freeze-and-thaw",
        room="bake",
        what="staling by freezing and thawing a wrapped roll, over that of 24 h at 21 °C",
        source="kulp-bechtel-1960",
        where="abstract: a slight decrease, not as much as 24 h at 70 °F",
        published=(0.0, 1.0),
        ours=_frozen_and_thawed,
        unit="1",
        tolerance=0.0,
        blind=True,
        kind="range",
        note="a bun of 60 g and 50 mm, still freezer at -18 °C, then 3 h in the room",
    ),
    Check(
        id="keeping.two-months-frozen",
        room="bake",
        what="staling of wrapped sweet rolls in two months at -18 °C",
        source="kulp-bechtel-1960",
        where="abstract: no critical decrease of freshness",
        published=(0.0, 0.35),
        ours=lambda: _end("staling", stay(24 * 60, where="freezer", covered=True)),
        unit="1",
        tolerance=0.0,
        blind=False,
        kind="range",
    ),
    Check(
        id="keeping.month-at-minus-12",
        room="bake",
        what="staling of sweet rolls in a month at -12 °C",
        source="kulp-bechtel-1960",
        where="abstract: rapid firming at -12 °C and above",
        published=(0.5, 1.0),
        ours=lambda: _end("staling", stay(24 * 30, where="freezer", air_c=-12.0, covered=True)),
        unit="1",
        tolerance=0.0,
        blind=False,
        kind="range",
    ),
    Check(
        id="keeping.six-weeks-at-minus-25",
        room="bake",
        what="staling of part-baked bread in 42 days at -25 °C",
        source="barcenas-2003",
        where="abstract: no retrogradation detected in frozen storage",
        published=(0.0, 0.05),
        ours=lambda: float(1.0 - np.exp(-42.0 * staling.rate_per_day(np.array(-25.0)))),
        unit="1",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="keeping.composite-bread-4-days",
        room="bake",
        what="firmness after 4 days over fresh, 29 % of the weight lost",
        source="composite-bread-2016",
        where="table 3, no improver: 6.9 to 33.4 N, 45.4 to 32.2 g",
        published=(4.84,),
        ours=_crumb_4_days,
        unit="×",
        tolerance=0.3,
        blind=True,
        relative=True,
        note="Composite flour; the room's temperature and the limit of this bread are not given.",
        miss="Ours takes plain wheat bread's limit of 6 and drying on top of it; this bread firms less.",
    ),
)
