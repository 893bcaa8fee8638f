"""Baker's percentages of our own formula: all flour is 100 %, and a sponge is counted once."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.formula.model import Component, Formula, Line
from oventide.formula.percent import components, whole_dough
from oventide.pantry.ingredients import everything
from oventide.units.estimate import Estimate

FLOURS = [item.id for item in everything() if item.is_flour]


def of(ingredient_id: str | None, grams: float | None, text: str = "") -> Line:
    weight = None if grams is None else Estimate.certain(grams)
    return Line(
        text=text or str(ingredient_id), name=text or str(ingredient_id), ingredient=ingredient_id, grams=weight
    )


def test_the_sponges_flour_and_milk_are_in_the_whole_dough(coils: Formula) -> None:
    found = whole_dough(coils)
    assert found.flour_g == 500
    assert found.prefermented_flour == pytest.approx(30)
    assert found.yeast_weighed == pytest.approx(1.4)
    assert found.fat_weighed == pytest.approx(18)
    assert found.sugar_weighed == pytest.approx(14)
    # 230 g milk at 88.13 % water (USDA NDB 01211) on 500 g flour.
    assert found.water.dairy == pytest.approx(230 * 0.8813 / 5)
    assert found.water.total == pytest.approx(found.composition.added_water_g / 5)
    assert found.total == pytest.approx(found.dough_g / 5)


def test_sugar_on_water(coils: Formula) -> None:
    found = whole_dough(coils)
    made_of = found.composition
    assert found.sugar_on_water == pytest.approx(100 * made_of.sugars_g / made_of.added_water_g)


def test_each_component_beside_its_own_flour_and_beside_all_flour(coils: Formula) -> None:
    sponge, dough, filling, _ = components(coils)
    assert [line.percent for line in sponge.on_own_flour] == [100, 100, 2]
    assert [line.percent for line in sponge.on_all_flour] == [30, 30, pytest.approx(0.6)]
    assert dough.on_all_flour[0].percent == 70
    assert filling.flour_g == 0
    assert all(line.percent is None for line in filling.on_own_flour)
    assert filling.on_all_flour[0].percent == pytest.approx(30)
    assert filling.mass_percent == pytest.approx(54)


@pytest.mark.parametrize("text", ["all of the sponge", "303 g sponge", "the ripe sponge", "all the preferment"])
def test_a_line_that_names_the_sponge_is_not_counted_again(coils: Formula, text: str) -> None:
    sponge, dough, *rest = coils.components
    named = dough.model_copy(update={"lines": (of(None, 303, text), *dough.lines)})
    again = coils.model_copy(update={"components": (sponge, named, *rest)})
    assert whole_dough(again) == whole_dough(coils)
    assert components(again)[1].mass_g == components(coils)[1].mass_g


def test_a_starter_line_without_a_component_of_its_own_counts_half_as_flour() -> None:
    lines = (of("flour_bread_unenriched", 450), of("sourdough_starter_100", 100), of("water_tap", 250))
    found = whole_dough(Formula(name="x", components=(Component(kind="dough", name="Dough", lines=lines),)))
    assert found.flour_g == 500


def test_no_flour_is_refused() -> None:
    lines = (of("water_tap", 100), of("flour_bread_unenriched", None))
    with pytest.raises(Refusal) as caught:
        whole_dough(Formula(name="x", components=(Component(kind="dough", name="Dough", lines=lines),)))
    assert caught.value.complaints[0].field == "component.dough"


@given(
    st.lists(st.tuples(st.sampled_from(FLOURS), st.floats(1, 5000)), min_size=1, max_size=5),
    st.lists(st.tuples(st.sampled_from(FLOURS), st.floats(1, 5000)), max_size=3),
    st.floats(0, 5000),
)
def test_all_flours_together_are_100(
    in_dough: list[tuple[str, float]], in_sponge: list[tuple[str, float]], water: float
) -> None:
    parts = (
        Component(kind="preferment", name="Biga", lines=tuple(of(*row) for row in in_sponge)),
        Component(kind="dough", name="Dough", lines=(*(of(*row) for row in in_dough), of("water_tap", water))),
    )
    formula = Formula(name="x", components=parts)
    shares = [
        line.percent
        for component in components(formula)
        for line in component.on_all_flour
        if line.ingredient in FLOURS and line.percent is not None
    ]
    assert sum(shares) == pytest.approx(100)
    assert whole_dough(formula).water.liquid == pytest.approx(
        100 * water * 0.999 / sum(grams for _, grams in (*in_dough, *in_sponge))
    )
