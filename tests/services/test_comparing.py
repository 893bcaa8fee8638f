"""Two bakes beside each other, member by member: what a change does has a range of its own."""

import pytest

from oventide.errors import Refusal
from oventide.formula.model import Formula
from oventide.services.comparing import Comparison, Comparisons
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.foreseeing import usual_kitchen
from oventide.services.travelling import Beside
from oventide.timeline.procedure import Procedure, Product

MEMBERS = 40


@pytest.fixture(scope="module")
def comparisons() -> Comparisons:
    return Comparisons()


def less_yeast() -> Product:
    product = demo_product()
    components = list(product.formula.components)
    sponge = components[0]
    lines = tuple(
        line.model_copy(update={"grams": line.grams.model_copy(update={"low": 2.5, "likely": 2.5, "high": 2.5})})
        if line.grams is not None and "yeast" in line.text
        else line
        for line in sponge.lines
    )
    components[0] = sponge.model_copy(update={"lines": lines})
    return product.model_copy(
        update={"formula": product.formula.model_copy(update={"components": tuple(components)})}
    )  # fmt: skip


def step(found: Comparison, kind: str) -> dict[str, Beside]:
    one = next(each for each in found.steps if each.kind == kind)
    return {row.name: row for row in one.rows}


def test_a_bake_beside_itself_changes_in_nothing(comparisons: Comparisons) -> None:
    pair = (demo_product(), demo_kitchen())
    found = comparisons.of(pair, pair, members=MEMBERS)
    rows = [*found.whole, *(row for each in found.steps for row in each.rows)]
    assert len(rows) > 40
    assert all(row.change.low == row.change.high == 0.0 for row in rows)


def test_half_the_yeast_rises_later_and_the_change_is_known_better_than_the_figure(comparisons: Comparisons) -> None:
    kitchen = demo_kitchen()
    found = comparisons.of((demo_product(), kitchen), (less_yeast(), kitchen), members=MEMBERS)
    bulk = step(found, "bulk")["rise since mixing"]
    assert bulk.change.high < 0.0
    proof = step(found, "proof")
    later = proof["minutes to a rise of 1.7"]
    assert later.change.low > 0.0
    assert later.change.likely == pytest.approx(later.after.likely - later.before.likely, abs=15.0)
    fridge = step(found, "retard")["core"]
    assert fridge.change.high - fridge.change.low < 0.5 * (fridge.after.high - fridge.after.low)


def test_in_another_kitchen_the_steps_stand_beside_each_other(comparisons: Comparisons) -> None:
    product = demo_product()
    found = comparisons.of((product, demo_kitchen()), (product, usual_kitchen()), members=MEMBERS)
    assert found.before_kitchen != found.after_kitchen
    assert [each.before for each in found.steps] == [each.after for each in found.steps]
    assert any(row.change.likely != 0.0 for row in found.whole)


def test_a_step_that_the_other_has_not_stands_alone(comparisons: Comparisons) -> None:
    product = demo_product()
    steps = tuple(each for each in product.procedure.steps if each.kind != "retard")
    same_day = product.model_copy(update={"procedure": Procedure(steps=steps)})
    found = comparisons.of((product, demo_kitchen()), (same_day, demo_kitchen()), members=MEMBERS)
    night = next(each for each in found.steps if each.kind == "retard")
    assert (night.before, night.after, night.minutes) == (2, None, None)
    assert night.alone is not None
    assert night.alone.likely == 600.0
    assert len(found.steps) == len(product.procedure.steps)
    ready = next(row for row in found.whole if row.name == "minutes until ready")
    assert ready.change.likely == pytest.approx(-600.0)


def test_it_is_begun_beside_the_page_and_kept(comparisons: Comparisons) -> None:
    pairs = (demo_product(), demo_kitchen()), (less_yeast(), demo_kitchen())
    task = comparisons.begin(*pairs, members=MEMBERS)
    found = task.answer(60)
    assert found is not None
    assert task.share == 1.0
    assert comparisons.begin(*pairs, members=MEMBERS) is task
    nothing = Product(name="Empty", formula=Formula(name="Empty"))
    with pytest.raises(Refusal):
        comparisons.begin((nothing, demo_kitchen()), pairs[1], members=MEMBERS).answer(60)
