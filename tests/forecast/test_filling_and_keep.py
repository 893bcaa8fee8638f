"""Readings after the spreading and of the stays after the bake."""

from collections.abc import Callable

import numpy as np
import pytest
from tests.forecast.conftest import DOUGH, STEPS, line, minutes

from oventide.dough.state import body_of
from oventide.dough.weep import Layers, dough_water, filling_of
from oventide.forecast.filling import weep_answer
from oventide.forecast.foresee import foresee
from oventide.forecast.model import Forecast
from oventide.formula.composition import compose
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Product, Step

STAYS = (
    Step(kind="keep", minutes=minutes(1440), covered=True),
    Step(kind="keep", minutes=minutes(1440), where="freezer", covered=True),
)


@pytest.fixture(scope="module")
def forecast() -> Forecast:
    """One night in the fridge after rolling, and two stays after cooling."""
    from oventide.formula.model import Component, Formula
    from oventide.kitchen.complete import complete
    from oventide.makeup.model import MakeUp, Tin

    spread = Component(kind="spread", name="Spread", lines=(line(60, "butter_unsalted"),))
    sugar = Component(kind="filling", name="Filling", lines=(line(110, "sugar_granulated"),))
    night = Step(kind="retard", minutes=minutes(720), where="fridge", covered=True)
    product = Product(
        name="Test coils",
        formula=Formula(name="Test coils", components=(DOUGH, spread, sugar)),
        makeup=MakeUp(
            sheet_length_mm=300, sheet_width_mm=300, pieces=9, tin=Tin(shape="square", length_mm=200, width_mm=200)
        ),
        procedure={"steps": (*STEPS[:7], night, *STEPS[7:], *STAYS)},
    )
    return foresee(batch_of(product), complete({}), product="t", members=64, seed=3)


def test_syrup_grows_from_step_to_step(forecast: Forecast) -> None:
    made = [
        reading.p50
        for step in forecast.steps
        for reading in step.readings
        if reading.name.startswith("syrup in the filling")
    ]
    assert len(made) == 3  # the short chill, the night, the proof
    assert made[0] < made[1] < made[2]


def test_a_kept_bun_is_softer_by_the_bag_than_it_will_be(forecast: Forecast) -> None:
    room, freezer = (step for step in forecast.steps if step.kind == "keep")
    names = [reading.name for reading in room.readings]
    assert names[:3] == ["softness, fresh is 100", "minutes until clearly firmer", "weight lost since the oven"]
    assert 30.0 < room.readings[0].p50 < 100.0
    assert freezer.readings[0].p50 <= room.readings[0].p50
    assert any(reading.name == "minutes until frozen through" for reading in freezer.readings)
    loss = next(reading for reading in freezer.readings if reading.name.startswith("weight"))
    assert not loss.valid
    assert any("mould is not in this figure" in sentence for sentence in forecast.assumed)


def test_keeping_moves_no_figure_before_it(make_product: Callable[..., Product], known_kitchen: Kitchen) -> None:
    """The figures of filling and keeping are drawn by themselves."""
    with_keep, without = (
        foresee(batch_of(make_product((*STEPS, *more))), known_kitchen, product="t", members=16, seed=3)
        for more in (STAYS, ())
    )
    assert with_keep.steps[: len(STEPS)] == without.steps


def test_one_question_by_itself() -> None:
    """200 g sugar and 20 g cinnamon on 200 g butter, 45 × 60 cm, 12 h cold: will it weep?"""
    dough = compose(DOUGH.lines)
    factor = 1900.0 / dough.mass_g
    density = body_of(dough).density
    spread = compose([line(200, "butter_unsalted"), line(200, "sugar_granulated"), line(20, "cinnamon_ground")])
    layers = Layers(0.27, 0.5 * factor * dough.mass_g / 1000.0 / density / 0.27, 0.045, 12)
    answer = weep_answer(
        filling_of(spread, layered=True), dough_water(dough, density, np.array([0.3]), 0.14), layers, 12.0, 4.0
    )
    by_name = {reading.name.split(" (")[0]: reading for reading in answer.readings}
    assert by_name["water drawn from the dough"].p5 < by_name["water drawn from the dough"].p50
    assert by_name["syrup"].p50 > by_name["water drawn from the dough"].p50
    assert "of 100 kitchens" in by_name["syrup that runs"].because
    assert answer.to_do[0].startswith("Butter over the whole sheet")
