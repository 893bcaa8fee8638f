"""Preferments: how long they take to be ripe, by yeast and by water."""

import numpy as np

from oventide.dough.preferment import ripen
from validation.doughs import FRESH, LIKELY, dough
from validation.model import Check


def _ripe_h(fresh_percent: float, celsius: float, water: float = 100.0) -> float:
    """Hours until a preferment with so much fresh yeast on its flour is ripe, likely kitchen."""
    made = dough(fresh_percent * FRESH, water=water, salt=0.0)
    return float(ripen(made, LIKELY, np.array([celsius])).ripe_h[0])


def _by_the_litre(grams: float, celsius: float) -> float:
    """The same by grams of fresh yeast on a litre of water, equal flour and water."""
    return _ripe_h(grams / 10.0, celsius)


CHECKS = (
    Check(
        id="preferment.poolish-by-yeast",
        room="dough",
        what="hours until a poolish of 23 °C is ripe, by its fresh yeast",
        source="poolish-times",
        where="table; middles of 1-2, 4-5, 7-8, 10-12, 15-18 h",
        published=(1.5, 4.5, 7.5, 11.0, 16.5),
        ours=lambda: [_ripe_h(percent, 23.0) for percent in (2.75, 1.5, 0.5, 0.2, 0.1)],
        unit="h",
        tolerance=1.5,
        blind=False,
        kind="curve",
        x=(2.75, 1.5, 0.5, 0.2, 0.1),
        x_name="fresh yeast [% of its flour]",
        note="One figure was chosen with it: the rise at which a batter begins to let its gas go.",
    ),
    Check(
        id="preferment.poolish-by-the-litre",
        room="dough",
        what="hours until a poolish is ripe, by grams of fresh yeast on a litre of water",
        source="poolish-pilloud",
        where="about 7 g for 6 h, 5 g for 10 h",
        published=(6.0, 10.0),
        ours=lambda: [_by_the_litre(grams, 22.0) for grams in (7.0, 5.0)],
        unit="h",
        tolerance=0.25,
        relative=True,
        blind=True,
        kind="curve",
        x=(7, 5),
        x_name="fresh yeast [g/L]",
        note="22 °C is a guess.",
    ),
    Check(
        id="preferment.biga-guide",
        room="dough",
        what="hours until a biga is ripe: 55 % water, 0.3 % fresh yeast, 20 °C",
        source="preferment-guide",
        where="table: 12-16 h; yeast and temperature are not given",
        published=(12.0, 16.0),
        ours=lambda: _ripe_h(0.3, 20.0, 55.0),
        unit="h",
        tolerance=0.0,
        blind=True,
        kind="range",
        note="Yeast and temperature are guesses.",
    ),
    Check(
        id="preferment.poolish-guide",
        room="dough",
        what="hours until a poolish is ripe: 0.15 % fresh yeast, 22 °C",
        source="preferment-guide",
        where="table: 12-16 h; yeast and temperature are not given",
        published=(12.0, 16.0),
        ours=lambda: _ripe_h(0.15, 22.0),
        unit="h",
        tolerance=0.0,
        blind=True,
        kind="range",
        note="Yeast and temperature are guesses.",
    ),
    Check(
        id="preferment.army-sponge",
        room="dough",
        what="hours until a sponge is ripe: 1.25 % compressed yeast, then half of it, 60 % water, 80 °F",
        source="army-bakers-1916",
        where="pages 49-50: about 5 h and 8 h",
        published=(5.0, 8.0),
        ours=lambda: [_ripe_h(percent, 26.7, 60.0) for percent in (1.25, 0.625)],
        unit="h",
        tolerance=0.25,
        relative=True,
        blind=True,
        kind="curve",
        x=(1.25, 0.625),
        x_name="compressed yeast [% of its flour]",
    ),
)
