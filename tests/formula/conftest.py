"""Formulas of our own for the tests of the formula room."""

from collections.abc import Callable

import pytest

from oventide.formula.model import Component, Formula, Line
from oventide.units.estimate import Estimate


def line(ingredient_id: str, grams: float | None) -> Line:
    return Line(
        text=f"{ingredient_id} {grams}",
        name=ingredient_id,
        ingredient=ingredient_id,
        amount=grams,
        unit="g",
        grams=None if grams is None else Estimate.certain(grams),
    )


def component(kind, name: str, **grams: float | None) -> Component:
    return Component(kind=kind, name=name, lines=tuple(line(key, value) for key, value in grams.items()))


@pytest.fixture
def make_component() -> Callable[..., Component]:
    return component


@pytest.fixture
def coils() -> Formula:
    """A potato-and-milk dough with a sponge, a poppy filling and a glaze."""
    return Formula(
        name="poppy coils",
        components=(
            component("preferment", "Sponge", flour_bread_unenriched=150, milk_whole_unfort=150, yeast_instant_dry=3),
            component(
                "dough",
                "Dough",
                flour_bread_unenriched=350,
                potato_mashed=100,
                milk_whole_unfort=80,
                egg_whole=51.6,
                butter_unsalted=90,
                sugar_caster=70,
                salt_table=9,
                yeast_instant_dry=4,
            ),
            component("filling", "Filling", poppy_seed=150, honey=60, milk_whole_unfort=60),
            component("glaze", "Glaze", sugar_icing=100, lemon_juice=20),
        ),
    )
