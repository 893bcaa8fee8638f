"""Baker's percentages beside published worked examples. Sources were seen as excerpts; each row names its own.

Rows graded "definition" are arithmetic on the definition of the overall-formula method, not a printed example.
"""

import pytest

from oventide.formula.model import Component, ComponentKind, Formula, Line
from oventide.formula.percent import components, whole_dough
from oventide.formula.scaling import flour_for, shown_up
from oventide.units.estimate import Estimate
from oventide.units.measure import grams_per

OZ = grams_per("oz") or 0.0
LB = grams_per("lb") or 0.0
IDS = {
    "flour": "flour_bread_unenriched", "water": "water_tap", "salt": "salt_table", "yeast": "yeast_fresh",
    "instant": "yeast_instant_dry", "active": "yeast_active_dry", "oil": "oil_soybean", "sugar": "sugar_granulated",
    "shortening": "shortening_veg", "egg": "egg_whole", "milk": "milk_whole_unfort", "milk powder": "milk_dry_skim",
    "butter": "butter_unsalted", "lard": "lard", "malt": "malt_powder",
}  # fmt: skip


def part(kind: ComponentKind, name: str, grams: dict[str, float]) -> Component:
    lines = tuple(
        Line(text=key, name=key, ingredient=IDS[key], grams=Estimate.certain(value)) for key, value in grams.items()
    )
    return Component(kind=kind, name=name, lines=lines)


def shares(formula: Formula) -> dict[str, float]:
    """Percent of all flour by short name, summed over the components of the dough."""
    found: dict[str, float] = {}
    for component in components(formula):
        for line in component.on_all_flour:
            if line.percent is not None:
                found[line.text] = found.get(line.text, 0.0) + line.percent
    return found


WORKED = [
    # lean-worksheets: dough-clinic column of a trade magazine, worked example (oz).
    ("dough-clinic", {"flour": 640, "salt": 11.2, "instant": 2.4, "oil": 6.4, "water": 371.2},
     {"salt": 1.75, "instant": 0.375, "oil": 1.0, "water": 58.0}, 0.005),
    # lean-worksheets: teaching slides, lean dough: 5 lb 4 oz flour, 3 lb 8 oz water, 1.75 oz salt, 1.25 oz yeast.
    ("teaching-slides", {"flour": 84, "water": 56, "salt": 1.75, "yeast": 1.25},
     {"water": 66.67, "salt": 2.083, "yeast": 1.488}, 0.05),
    # armed-forces-d036: 10 lb flour, 8 oz active dry, 3.75 lb water, 28 oz sugar, 3 oz salt, 26 oz shortening, …
    ("military-sweet-dough",
     {"flour": 160, "active": 8, "water": 60, "sugar": 28, "salt": 3, "shortening": 26, "egg": 28, "milk powder": 5},
     {"active": 5.0, "water": 37.5, "sugar": 17.5, "salt": 1.875, "shortening": 16.25, "egg": 17.5,
      "milk powder": 3.125}, 0.01),
    # vocational course, two-formula table (g).
    ("vocational", {"flour": 350, "water": 180, "yeast": 10, "salt": 10, "sugar": 25, "shortening": 30},
     {"water": 51.43, "yeast": 2.86, "salt": 2.86, "sugar": 7.14, "shortening": 8.57}, 0.02),
    # chef instructor's tutorial: a quart of water taken as 32 oz of weight, as printed (true weight 33.4 oz).
    ("tutorial-slides", {"flour": 184, "water": 96, "yeast": 4.75, "salt": 3, "malt": 3},
     {"water": 52.17, "yeast": 2.58, "salt": 1.63}, 0.02),
    # gisslen-professional-baking, ch. 9, large metric batch.
    ("gisslen-brioche", {"milk": 250, "yeast": 60, "flour": 1200, "egg": 600, "sugar": 60, "salt": 24, "butter": 850},
     {"butter": 70.83, "milk": 20.83, "egg": 50.0, "sugar": 5.0, "salt": 2.0, "yeast": 5.0}, 0.02),
    # usda-school-rolls: flour 3 lb 10 oz, dry milk 3.25 oz, sugar 5.75 oz, oil 7/8 cup of 218 g, 4 cups of water.
    ("school-rolls",
     {"flour": 58, "milk powder": 3.25, "sugar": 5.75, "oil": 0.875 * 218 / OZ, "water": 4 * 236.6 / OZ},
     {"milk powder": 5.6, "sugar": 9.91, "water": 57.6, "oil": 11.6}, 0.2),
    # laminated-essay: croissant base, 1.44 kg milk, butter of the base and roll-in (kg as 1000 units).
    ("croissant", {"flour": 2040, "sugar": 198, "instant": 21, "salt": 50, "milk": 1440, "butter": 198},
     {"milk": 70.6, "butter": 9.7, "sugar": 9.7, "instant": 1.03, "salt": 2.45}, 0.05),
    # British soft-roll teaching page (uk-soft-rolls-page).
    ("soft-rolls",
     {"flour": 575, "salt": 8, "milk powder": 28, "shortening": 22, "yeast": 28, "sugar": 8, "water": 326},
     {"water": 56.7}, 0.05),
]  # fmt: skip


@pytest.mark.parametrize(("name", "weights", "expected", "within"), WORKED, ids=[row[0] for row in WORKED])
def test_percentages_from_weights(name: str, weights, expected, within: float) -> None:
    formula = Formula(name=name, components=(part("dough", "Dough", {key: w * OZ for key, w in weights.items()}),))
    found = shares(formula)
    assert found["flour"] == pytest.approx(100)
    for key, percent in expected.items():
        assert found[key] == pytest.approx(percent, abs=within), key


def test_rumford_meal_and_water() -> None:
    """rumford-1796, general results: 1736 lb of meal took 1061.156 lb of water, 61.13 %; printed as 61.148."""
    found = shares(
        Formula(name="x", components=(part("dough", "Dough", {"flour": 1736 * LB, "water": 1061.156 * LB}),))
    )
    assert found["water"] == pytest.approx(61.13, abs=0.05)


@pytest.mark.parametrize(
    ("weights", "total"),
    [
        # Worksheet, 73 pieces of 390 g (lean-worksheets).
        ({"flour": 100, "water": 67, "salt": 2, "yeast": 1}, 170),
        # Teaching slides: divisor 1.62125, not 1.62 (lean-worksheets).
        ({"flour": 100, "salt": 1.75, "sugar": 2, "instant": 0.375, "water": 58}, 162.125),
        # mixer-manual-60l, p. 22, "raised sweet".
        (
            {"flour": 100, "water": 65, "yeast": 5, "salt": 2.5, "sugar": 15, "shortening": 15, "milk powder": 8},
            210.5,
        ),
        # armed-forces-d036.
        (
            {"flour": 160, "active": 8, "water": 60, "sugar": 28, "salt": 3, "shortening": 26, "egg": 28,
             "milk powder": 5},
            198.75,
        ),
    ],
)  # fmt: skip
def test_sum_of_percentages(weights: dict[str, float], total: float) -> None:
    formula = Formula(name="x", components=(part("dough", "Dough", weights),))
    assert whole_dough(formula).total == pytest.approx(total, abs=1e-6)


def test_flour_from_pieces() -> None:
    """Worksheet: 73 pieces of 390 g at 170 % in all: 16 747.06 g flour, 11 220.53 g water."""
    flour = flour_for(73 * 390, 170)
    assert flour == pytest.approx(16747.06, abs=0.5)
    assert flour * 0.67 == pytest.approx(11220.53, abs=0.5)


def test_flour_from_a_new_yield() -> None:
    """gisslen-professional-cooking: 3000 g at 377.5 % is 794.7 g; the book rounds up to 800 to cover losses."""
    assert flour_for(3000, 377.5) == pytest.approx(794.7, abs=0.01)
    assert shown_up(flour_for(3000, 377.5), 50) == 800


class TestPreferments:
    def test_poolish(self) -> None:
        """wild-yeast-tutorial, tables: overall 68.4 % water, 1.97 % salt, 34.2 % of the flour fermented before.

        On the final dough's own flour it reads 52 % water and 3 % salt: the trap that the overall view avoids.
        """
        poolish = part("preferment", "Poolish", {"flour": 468, "water": 468, "instant": 0.3})
        final = part("dough", "Final dough", {"flour": 900, "water": 468, "instant": 9, "salt": 27})
        named = Line(text="936 g poolish", name="poolish", grams=Estimate.certain(936))
        final = final.model_copy(update={"lines": (*final.lines, named)})
        formula = Formula(name="x", components=(poolish, final))
        whole, found = whole_dough(formula), shares(formula)
        assert whole.flour_g == 1368
        assert whole.dough_g == pytest.approx(2340, rel=0.001)
        assert whole.prefermented_flour == pytest.approx(34.2, abs=0.05)
        assert found["water"] == pytest.approx(68.4, abs=0.05)
        assert found["salt"] == pytest.approx(1.97, abs=0.05)
        assert found["instant"] == pytest.approx(0.68, abs=0.05)
        own = {line.text: line.percent for line in components(formula)[1].on_own_flour}
        assert own["water"] == pytest.approx(52)
        assert own["salt"] == pytest.approx(3)

    def test_sponge_of_a_brioche(self) -> None:
        """reinhart-middle-brioche: 236.2 % in all, 14.1 % of the flour in the sponge, 177.3 % milk on its own flour."""
        sponge = part("preferment", "Sponge", {"flour": 14.1, "instant": 1.4, "milk": 25})
        dough = part("dough", "Dough", {"egg": 51.6, "flour": 85.9, "sugar": 6.3, "salt": 1.9, "butter": 50})
        formula = Formula(name="x", components=(sponge, dough))
        whole = whole_dough(formula)
        assert whole.total == pytest.approx(236.2, abs=0.15)
        assert whole.prefermented_flour == pytest.approx(14.1, abs=0.15)
        own = {line.text: line.percent for line in components(formula)[0].on_own_flour}
        assert own["milk"] == pytest.approx(177.3, abs=0.15)

    def test_biga(self) -> None:
        """Definition: 1000 g flour, 68 % water, 30 % of the flour in a biga of 50 % water."""
        biga = part("preferment", "Biga", {"flour": 300, "water": 150})
        formula = Formula(name="x", components=(biga, part("dough", "Dough", {"flour": 700, "water": 530})))
        assert shares(formula)["water"] == pytest.approx(68)
        assert whole_dough(formula).prefermented_flour == pytest.approx(30)

    def test_old_dough(self) -> None:
        """Definition: 20 % of the flour as 334 g old dough (65 % water, 2 % salt); 520 g water, 16 g salt to add."""
        old = part("preferment", "Old dough", {"flour": 200, "water": 130, "salt": 4})
        formula = Formula(name="x", components=(old, part("dough", "Dough", {"flour": 800, "water": 520, "salt": 16})))
        assert shares(formula)["water"] == pytest.approx(65)
        assert shares(formula)["salt"] == pytest.approx(2)


def test_true_water_by_the_rule_of_thumb() -> None:
    """Rule of thumb (remembered): milk × 0.87 + egg × 0.75 + butter × 0.16 + water. Ours is by USDA rows.

    Gisslen's brioche: 20 % milk, 50 % egg, 70 % butter: 17.4 + 37.5 + 11.2 = 66.1 %. Fresh yeast's own water is apart.
    """
    formula = Formula(
        name="x", components=(part("dough", "Dough", {"flour": 100, "milk": 20, "egg": 50, "butter": 70}),)
    )
    water = whole_dough(formula).water
    assert water.dairy == pytest.approx(17.4, abs=0.3)
    assert water.egg == pytest.approx(37.5, abs=0.7)
    # USDA unsalted butter (NDB 01145) has 17.9 % water, the rule 16 %: 1.4 % of flour more.
    assert water.butter == pytest.approx(11.2, abs=1.4)
    assert water.butter > 11.2
    assert water.total == pytest.approx(66.1, abs=2.3)


def test_institutional_roll_dough_weighs_more_than_is_printed() -> None:
    """institutional-sweet-rolls: lines sum to 29.7 lb, printed "approximately 28 lb".

    Sugar 21.4, fat 25, salt 0.9, dry yeast 4.0 %, all as weighed.
    """
    pounds = {
        "flour": 14, "sugar": 3, "lard": 1.5, "butter": 2, "milk powder": 0.9375, "active": 0.5625, "salt": 0.125,
        "water": 3 * 2.086, "egg": 12 * 1.76 / 16,
    }  # fmt: skip
    formula = Formula(name="x", components=(part("dough", "Dough", {key: w * LB for key, w in pounds.items()}),))
    whole = whole_dough(formula)
    assert whole.dough_g / LB == pytest.approx(29.7, abs=0.3)
    assert whole.sugar_weighed == pytest.approx(21.4, abs=0.05)
    assert whole.fat_weighed == pytest.approx(25.0, abs=0.05)
    assert whole.yeast_weighed == pytest.approx(4.0, abs=0.05)
    assert whole.salt == pytest.approx(0.9, abs=0.05)
