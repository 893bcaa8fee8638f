"""A bake that travels: masses that must hold, refusals, and what the two timelines share."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.formula.composition import compose
from oventide.formula.parts import dough_lines, mass_g
from oventide.services import demo_bake, travelling
from oventide.services.asking import tin as tin_of
from oventide.timeline.batch import batch_of
from oventide.travel import compared, eggs, flour, forgotten, instead, oven, tin, yeast
from oventide.travel.from_the_fridge import proof_from_the_fridge
from oventide.travel.model import figure_of_members


@pytest.fixture(scope="module")
def product():
    return demo_bake.demo_product()


@pytest.fixture(scope="module")
def kitchen():
    return demo_bake.demo_kitchen()


def _figures(told):
    return {figure.name: figure for figure in told.figures}


def test_every_answer_has_range_reason_and_advice(product, kitchen):
    told = [
        eggs.other_eggs(product, "eu_s"),
        yeast.other_yeast(product, "fresh")[1],
        flour.other_flour(product, 12.5, 10.5),
        instead.instead(product, "whole milk", "oat drink")[1],
        tin.other_tin(product, batch_of(product).geometry, tin_of("round:24cm"))[1],
        oven.other_oven(product, kitchen, "static")[1],
    ]
    for each in told:
        assert each.figures, each.asked
        assert each.because, each.asked
        assert each.do, each.asked
        for figure in each.figures:
            assert figure.low <= figure.likely <= figure.high, (each.asked, figure)
            assert all(np.isfinite((figure.low, figure.likely, figure.high)))


def test_smaller_eggs_leave_the_dough_short_and_larger_ones_over(product):
    small, large = (_figures(eggs.other_eggs(product, size)) for size in ("eu_s", "eu_xl"))
    assert small["egg short (below 0: over)"].likely > 0 > large["egg short (below 0: over)"].likely


def test_other_yeast_keeps_the_dough_mass_where_water_can_be_added(product):
    fresh, _ = yeast.other_yeast(product, "fresh")
    back, told = yeast.other_yeast(fresh, "instant")
    assert mass_g(dough_lines(back.formula)) == pytest.approx(mass_g(dough_lines(fresh.formula)))
    assert _figures(told)["water to add (below 0: take out)"].likely > 0


def test_fat_is_kept_between_fats_and_water_between_liquids(product):
    before = compose(dough_lines(product.formula))
    fat = compose(dough_lines(instead.instead(product, "butter", "baking spread")[0].formula))
    wet = compose(dough_lines(instead.instead(product, "whole milk", "oat drink")[0].formula))
    assert fat.fat_g == pytest.approx(before.fat_g, rel=1e-6)
    assert fat.added_water_g > before.added_water_g
    assert wet.added_water_g == pytest.approx(before.added_water_g, rel=1e-6)
    assert wet.lactose_g < before.lactose_g


def test_an_allergen_that_comes_is_said_and_one_that_stays_is_not_called_gone(product):
    told = instead.instead(product, "whole milk", "oat drink")[1]
    said = " ".join(told.cautions)
    assert "oats" in said
    assert "Still in the formula from other lines: milk" in said


@given(st.floats(8, 15), st.floats(8, 15))
def test_water_follows_protein_and_swaps_back_to_nothing(product, one, other):
    there, back = (
        _figures(flour.other_flour(product, *pair))["water, on flour"] for pair in ((one, other), (other, one))
    )
    assert there.likely == pytest.approx(-back.likely)
    assert np.sign(there.likely) == np.sign(other - one) or one == other
    assert there.low <= there.likely <= there.high


def test_flour_slope_lies_inside_what_was_published(product):
    """55.7-63.2 % over 10.55-14.75 % protein (abstract of Sedlacek & Svec 2023): 7.5 points at most."""
    change = _figures(flour.other_flour(product, 10.55, 14.75))["water, on flour"]
    assert change.low <= 63.2 - 55.7 <= change.high


def test_tin_by_area(product):
    """Same depth, factor of the areas: pi/4 24² over 20 x 30 cm is 0.754 (geometry)."""
    geometry = batch_of(product).geometry
    (same_piece, same_count), told = tin.other_tin(product, geometry, tin_of("round:24cm"))
    assert batch_of(same_piece).geometry.pieces == 9
    assert batch_of(same_piece).geometry.piece_g == pytest.approx(geometry.piece_g, rel=0.02)
    assert batch_of(same_count).geometry.piece_g == pytest.approx(geometry.piece_g * 0.754, rel=0.02)
    assert batch_of(same_count).geometry.piece_height_mm == pytest.approx(geometry.piece_height_mm, rel=0.02)
    assert _figures(told)["the same piece: pieces"].likely == 9


def test_salt_dose_is_the_formulas_share_of_the_flour(product, kitchen):
    told = forgotten.forgotten(product, kitchen, "salt", "mix", 6000.0)
    dough = compose(dough_lines(product.formula))
    figures = _figures(told)
    assert figures["salt to give"].likely / figures["for flour"].likely == pytest.approx(7.0 / dough.flour_g, rel=1e-6)
    assert figures["salt to give"].likely + 6000.0 == pytest.approx(
        6000.0 * dough.mass_g / (dough.mass_g - 7.0), rel=1e-6
    )


def test_dough_without_salt_is_ahead(product, kitchen):
    told = forgotten.forgotten(product, kitchen, "salt", "bulk", members=16)
    assert _figures(told)["rise, ahead of the plan"].likely > 0


def test_the_same_bake_beside_itself_does_not_change(product, kitchen):
    batch = batch_of(product)
    for name, before, after, change in compared.beside((batch, kitchen), (batch, kitchen), 8, 3):
        assert before == after, name
        assert change.low == change.high == 0.0, name


def test_what_never_happens_is_held_and_said():
    figure = figure_of_members("done", "min", np.array([10.0, 20.0, np.inf, np.inf]), horizon=40.0)
    assert (figure.high, figure.reached) == (40.0, 0.5)


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"to_material": "gold"}, "tin_material"),
        ({"to_oven": "fire"}, "oven"),
        ({"to_yeast": "wild"}, "yeast"),
        ({"protein": (12.0, 40.0)}, "protein"),
        ({"swaps": (("whole milk", "moon dust"),)}, "instead"),
        ({"swaps": (("dark chocolate", "oat drink"),)}, "instead"),
        ({}, "travel"),
    ],
)
def test_refusals_name_field_and_remedy(product, kitchen, asked, field):
    with pytest.raises(Refusal) as refusal:
        travelling.travel(product, kitchen, members=2, **asked)
    complaint = refusal.value.complaints[0]
    assert complaint.field == field
    assert complaint.remedy


@pytest.mark.parametrize(("what", "found"), [("butter", "bulk"), ("salt", "breakfast")])
def test_what_cannot_be_rescued_is_refused(product, kitchen, what, found):
    with pytest.raises(Refusal):
        forgotten.forgotten(product, kitchen, what, found, members=2)


def test_a_warmer_room_proofs_sooner_and_a_colder_fridge_later(product, kitchen):
    def likely(room_c: float, fridge_c: float) -> float:
        told = proof_from_the_fridge(product, kitchen, (room_c,), fridge_c=fridge_c, members=9)[0]
        return next(figure for figure in told.figures if figure.name.startswith("bake when")).likely

    assert likely(26, 4) < likely(18, 4)
    assert likely(22, 7) < likely(22, 2)


@pytest.mark.parametrize("asked", [{"rooms_c": (70.0,)}, {"rooms_c": (20.0,), "fridge_c": 20.0}])
def test_rooms_and_fridges_that_are_none_are_refused(product, kitchen, asked):
    with pytest.raises(Refusal):
        proof_from_the_fridge(product, kitchen, members=2, **asked)
