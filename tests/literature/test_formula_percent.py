"""Preferments by definition and true water by a rule of thumb; printed examples stand in the validation book."""

import pytest

from oventide.formula.model import Component, ComponentKind, Formula, Line
from oventide.formula.percent import components, whole_dough
from oventide.units.estimate import Estimate

IDS = {
    "flour": "flour_bread_unenriched", "water": "water_tap", "salt": "salt_table", "egg": "egg_whole",
    "milk": "milk_whole_unfort", "butter": "butter_unsalted",
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


def test_biga() -> None:
    """Definition: 1000 g flour, 68 % water, 30 % of the flour in a biga of 50 % water."""
    biga = part("preferment", "Biga", {"flour": 300, "water": 150})
    formula = Formula(name="x", components=(biga, part("dough", "Dough", {"flour": 700, "water": 530})))
    assert shares(formula)["water"] == pytest.approx(68)
    assert whole_dough(formula).prefermented_flour == pytest.approx(30)


def test_old_dough() -> None:
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
