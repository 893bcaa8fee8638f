"""A product and a kitchen of our own, small enough to reason about."""

from collections.abc import Callable

import pytest

from oventide.formula.model import Component, Formula, Line
from oventide.kitchen.complete import complete
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import MakeUp, Tin
from oventide.timeline.procedure import Procedure, Product, Span, Step, Target
from oventide.units.estimate import Estimate


def line(grams: float, ingredient: str, preparation: str = "") -> Line:
    """A line whose weight is certain."""
    return Line(
        text=f"{grams} g {ingredient}",
        name=ingredient,
        amount=grams,
        unit="g",
        ingredient=ingredient,
        preparation=preparation,
        grams=Estimate.certain(grams),
    )


def minutes(likely: float, spread: float = 0.0) -> Span:
    """A span around the likely minutes."""
    return Span(low=likely - spread, likely=likely, high=likely + spread)


DOUGH = Component(
    kind="dough",
    name="Dough",
    lines=(
        line(280, "flour_bread_unenriched"),
        line(100, "milk_whole_unfort"),
        line(50, "egg_whole"),
        line(34, "sugar_granulated"),
        line(5, "salt_table"),
        line(4.5, "yeast_instant_dry"),
        line(80, "butter_unsalted"),
    ),
)
SPREAD = Component(kind="spread", name="Spread", lines=(line(60, "butter_unsalted"), line(90, "sugar_brown")))
STEPS = (
    Step(kind="mix", minutes=minutes(14), target=Target(measure="dough_c", value=24)),
    Step(kind="bulk", minutes=minutes(45), covered=True),
    Step(kind="retard", minutes=minutes(720), where="fridge", covered=True),
    Step(kind="sheet", minutes=minutes(8, 2), where="bench"),
    Step(kind="spread", minutes=minutes(6, 2), where="bench"),
    Step(kind="roll", minutes=minutes(4, 1)),
    Step(kind="chill", minutes=minutes(15), where="fridge", covered=True),
    Step(kind="cut", minutes=minutes(4, 1)),
    Step(kind="tin", minutes=minutes(3, 1)),
    Step(
        kind="proof",
        minutes=minutes(60),
        covered=True,
        air_c=27,
        target=Target(measure="rise", value=1.5, low=1.4, high=1.6),
    ),
    Step(kind="bake", minutes=minutes(20), where="oven", air_c=170, covered=True),
    Step(kind="bake", minutes=minutes(10), where="oven", air_c=170),
    Step(kind="glaze", minutes=minutes(4, 1)),
    Step(kind="cool", minutes=minutes(40)),
)


@pytest.fixture
def make_product() -> Callable[..., Product]:
    """Build the product, with other steps where a test wants them."""

    def build(steps: tuple[Step, ...] = STEPS) -> Product:
        return Product(
            name="Test coils",
            formula=Formula(name="Test coils", components=(DOUGH, SPREAD)),
            makeup=MakeUp(
                sheet_length_mm=300,
                sheet_width_mm=300,
                pieces=9,
                tin=Tin(shape="square", length_mm=200, width_mm=200),
            ),
            procedure=Procedure(steps=steps),
        )

    return build


@pytest.fixture
def known_kitchen() -> Kitchen:
    """A kitchen whose every figure is certain."""
    return complete(
        {
            "name": "known",
            "room": 21,
            "fridge": 4,
            "tap_water": 12,
            "flour": 20,
            "oven_offset": 0,
            "friction": 0.5,
        }
    )
