"""The balance: masses add, water is split by where it comes from, and nothing unknown becomes zero."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.formula.composition import Composition, compose
from oventide.formula.model import Line
from oventide.pantry.ingredients import everything, ingredient
from oventide.pantry.own import OwnIngredient, Pantry
from oventide.units.estimate import Estimate

NEEDED = ("water", "fat", "sugars", "protein", "carbohydrate", "fibre", "salt")
MASSES = [name for name in Composition.model_fields if name.endswith("_g")]
LINES = st.lists(st.tuples(st.sampled_from([item.id for item in everything()]), st.floats(0.1, 2000)), max_size=12)


def of(ingredient_id: str, grams: float) -> Line:
    return Line(text=ingredient_id, name=ingredient_id, ingredient=ingredient_id, grams=Estimate.certain(grams))


def test_one_ingredient_is_its_own_row() -> None:
    found = compose([of("butter_unsalted", 200)])
    butter = ingredient("butter_unsalted")
    assert found.fat_g == pytest.approx(2 * butter.fat)
    assert found.milk_fat_g == found.fat_g
    assert found.water_from_butter_g == pytest.approx(2 * butter.water)
    assert found.added_water_g == pytest.approx(found.water_g)


def test_the_flours_own_moisture_is_water_and_not_added_water() -> None:
    found = compose([of("flour_bread_unenriched", 1000)])
    assert found.water_g == pytest.approx(133.6)
    assert found.added_water_g == 0
    assert found.flour_g == 1000


def test_a_starter_brings_half_flour_and_half_water() -> None:
    found = compose([of("sourdough_starter_100", 200)])
    assert found.flour_g == pytest.approx(100)
    # 57 g water in 100 g, of which 13.5 % of 50 g is the flour's own.
    assert found.added_water_g == pytest.approx(2 * (57 - 6.75))
    assert found.water_from_liquid_g == pytest.approx(found.added_water_g)


@pytest.mark.parametrize(
    ("ids", "kind"),
    [
        ((), "none"), (("yeast_fresh",), "fresh"), (("yeast_active_dry",), "active_dry"),
        (("yeast_instant_dry",), "instant"), (("yeast_osmotolerant",), "instant_osmotolerant"),
        (("yeast_fresh", "yeast_instant_dry"), "mixed"),
    ],
)  # fmt: skip
def test_the_kind_of_yeast(ids: tuple[str, ...], kind: str) -> None:
    assert compose([of(name, 5) for name in ids]).yeast_kind == kind


def test_dry_matter_of_fresh_and_instant_yeast() -> None:
    # USDA NDB 18374: 69 % water in compressed yeast; instant dry about 5 %.
    assert compose([of("yeast_fresh", 100)]).yeast_dry_matter_g == pytest.approx(31, abs=0.5)
    assert compose([of("yeast_instant_dry", 100)]).yeast_dry_matter_g == pytest.approx(95, abs=0.5)


def test_lactose_and_sucrose_are_known_where_nothing_else_can_be_there() -> None:
    milk = compose([of("milk_semi_2pct", 1000)])
    assert milk.lactose_g == pytest.approx(milk.sugars_g, rel=0.05)
    sugar = compose([of("sugar_demerara", 100), of("sugar_icing", 100)])
    assert sugar.sucrose_g == pytest.approx(sugar.sugars_g)
    assert compose([of("dextrose_monohydrate", 100)]).sucrose_g == 0
    assert compose([of("milk_lactose_free", 100)]).lactose_g == 0


def test_spices_that_slow_yeast_are_counted_and_others_are_not() -> None:
    found = compose([of("cinnamon_ground", 10), of("cardamom", 5), of("cinnamon_sugar_9_1", 100)])
    assert found.spice_g == pytest.approx(20)


@given(LINES)
def test_masses_add_and_are_never_negative(rows: list[tuple[str, float]]) -> None:
    found = compose([of(name, grams) for name, grams in rows])
    assert found.mass_g == pytest.approx(sum(grams for _, grams in rows))
    assert all(getattr(found, name) >= 0 for name in MASSES)
    by_source = (
        found.water_from_liquid_g
        + found.water_from_egg_g
        + found.water_from_butter_g
        + found.water_from_dairy_g
        + found.water_from_other_g
    )
    assert by_source == pytest.approx(found.added_water_g)
    assert found.added_water_g <= found.water_g + 1e-9
    assert found.milk_fat_g <= found.fat_g + 1e-9
    assert found.lactose_g + found.sucrose_g <= found.sugars_g * 1.06 + 1e-6
    parts = found.water_g + found.fat_g + found.protein_g + found.sugars_g + found.starch_g + found.fibre_g
    assert parts + found.alcohol_g <= found.mass_g * 1.02 + 1e-6


@given(LINES, st.floats(0.01, 50))
def test_the_balance_is_linear(rows: list[tuple[str, float]], factor: float) -> None:
    one = compose([of(name, grams) for name, grams in rows])
    scaled = compose([of(name, grams * factor) for name, grams in rows])
    for name in MASSES:
        assert getattr(scaled, name) == pytest.approx(factor * getattr(one, name), rel=1e-9, abs=1e-9)


@given(st.sampled_from(NEEDED), st.sampled_from(["flour_bread_unenriched", "milk_whole_unfort", "honey"]))
def test_a_figure_that_is_not_known_is_named_and_not_counted_as_zero(figure: str, like: str) -> None:
    known = ingredient(like)
    figures = {name: getattr(known, name) for name in NEEDED if name != figure}
    own = Pantry(own=(OwnIngredient(id="packet", name="my packet", category=known.category, **figures),))
    found = compose([of("packet", 100)], own)
    assert any("my packet" in sentence and figure in sentence for sentence in found.unknown)
    full = Pantry(own=(OwnIngredient(id="packet", name="my packet", like=like),))
    assert compose([of("packet", 100)], full).unknown == ()


@given(st.sampled_from(everything()))
def test_every_row_either_knows_a_figure_or_says_so(item) -> None:
    lacking = [name for name in NEEDED if getattr(item, name) is None]
    found = compose([of(item.id, 10)])
    assert bool(found.unknown) == bool(lacking)
    assert all(name in found.unknown[0] for name in lacking)


def test_lines_without_weight_or_ingredient_are_named() -> None:
    lines = [
        Line(text="a sprig of something", name="something"),
        Line(text="30 g moon dust", name="moon dust", grams=Estimate.certain(30)),
        Line(text="30 g gone", name="gone", ingredient="no_longer_there", grams=Estimate.certain(30)),
    ]
    found = compose(lines)
    assert found.mass_g == 60
    assert len(found.unknown) == 3
    assert "no weight" in found.unknown[0]
    assert "not recognised" in found.unknown[1]
