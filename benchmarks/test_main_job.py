"""How long the main job takes: reading, weighing, make-up, the forecast of a whole timeline, the bench sheet.

Budgets are the project's own: an ensemble of 200 members answers in a second on two cores, the rest at once.
"""

from importlib.resources import files

import pytest

from oventide.kitchen.model import Kitchen
from oventide.services import foreseeing, reading, weighing
from oventide.timeline.procedure import Product

DEMO = files("oventide.services").joinpath("demo")


@pytest.fixture(scope="module")
def recipe() -> str:
    """The demo's recipe as text."""
    return DEMO.joinpath("lantern-quay-poppy-coils.txt").read_text("utf-8")


@pytest.fixture(scope="module")
def product(recipe: str) -> Product:
    return reading.read_file(recipe, "demo")


@pytest.fixture(scope="module")
def kitchen() -> Kitchen:
    text = DEMO.joinpath("lantern-quay-kitchen.toml").read_text("utf-8")
    return foreseeing.read_kitchen(text, "demo")


def test_read_a_recipe(measured, recipe):
    product = measured(lambda: reading.read_file(recipe, "demo"), budget_s=0.2)
    assert product.formula.components


def test_weigh_a_formula(measured, product):
    answer = measured(lambda: weighing.weigh(product), budget_s=0.05)
    assert answer.components


@pytest.mark.parametrize(("members", "budget_s"), [(1, 0.3), (200, 1.0)])
def test_foresee_the_whole_timeline(measured, product, kitchen, members, budget_s):
    forecast = measured(lambda: foreseeing.foresee(product, kitchen, members=members), budget_s=budget_s)
    assert forecast.members == members
    assert len(forecast.steps) == len(product.procedure.steps)
