"""Limits, balance, yeast, and what changed between two formulas."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.evidence.parameters import load, sources
from oventide.formula.balance import class_of, findings, neighbours
from oventide.formula.difference import differences
from oventide.formula.limits import check, complaints
from oventide.formula.model import Component, Formula, Line
from oventide.formula.percent import whole_dough
from oventide.formula.scaling import Scaling, scale
from oventide.formula.yeast import RULES, convert, water_by_moisture
from oventide.units.estimate import Estimate

VERDICTS = ("safe", "legal", "perfect", "wrong", "good", "bad", "ideal", "should", "must", "correct", "!")


def of(ingredient_id: str, grams: float, **more) -> Line:
    return Line(text=ingredient_id, name=ingredient_id, ingredient=ingredient_id, grams=Estimate.certain(grams), **more)


def dough(**grams: float) -> Formula:
    lines = tuple(of(name, value) for name, value in grams.items())
    return Formula(name="x", components=(Component(kind="dough", name="Dough", lines=lines),))


class TestLimits:
    def test_our_own_formula_passes(self, coils: Formula) -> None:
        check(coils)

    @pytest.mark.parametrize(
        ("formula", "field"),
        [
            (dough(water_tap=100), "component.dough"),
            (Formula(name="x"), "component.dough"),
            (dough(flour_bread_unenriched=100, butter_unsalted=101), "component.dough.fat"),
            (dough(flour_bread_unenriched=100, butter_unsalted=60, lard=50), "component.dough.fat"),
            (dough(flour_bread_unenriched=100, yeast_fresh=15.5), "component.dough.yeast"),
            (dough(flour_bread_unenriched=1_000_001), "component.dough.line.1"),
            (dough(flour_bread_unenriched=500, water_tap=0), "component.dough.line.2"),
            (dough(flour_bread_unenriched=500, water_tap=-3), "component.dough.line.2"),
        ],
    )
    def test_what_cannot_be_used_is_refused(self, formula: Formula, field: str) -> None:
        with pytest.raises(Refusal) as caught:
            check(formula)
        found = caught.value.complaints
        assert field in [complaint.field for complaint in found]
        assert all(complaint.problem and complaint.remedy for complaint in found)

    def test_a_negative_amount_is_refused_even_where_it_has_no_weight(self) -> None:
        bad = Line(text="-2 eggs", name="egg", ingredient="egg_whole", amount=-2)
        formula = Formula(
            name="x", components=(Component(kind="dough", name="Dough", lines=(of("flour_t55", 500), bad)),)
        )
        assert complaints(formula)[0].given == "-2 eggs"

    def test_every_bad_line_is_named_at_once(self) -> None:
        formula = dough(flour_bread_unenriched=-1, water_tap=-1, salt_table=2e6)
        assert len(complaints(formula)) == 3

    def test_butter_of_a_spread_is_not_butter_in_the_dough(self) -> None:
        formula = dough(flour_bread_unenriched=100, butter_unsalted=50)
        spread = Component(kind="spread", name="Spread", lines=(of("butter_unsalted", 200),))
        check(formula.model_copy(update={"components": (*formula.components, spread)}))


class TestBalance:
    @pytest.mark.parametrize(
        ("grams", "expected"),
        [
            ({"water_tap": 60}, "lean"), ({"sugar_caster": 5, "butter_unsalted": 5}, "enriched"),
            ({"sugar_caster": 14, "butter_unsalted": 18}, "sweet_rich"),
            ({"sugar_caster": 6, "butter_unsalted": 50, "egg_whole": 50}, "brioche"),
            ({"sugar_caster": 20, "butter_unsalted": 50}, "sweet_rich"),
        ],
    )  # fmt: skip
    def test_class(self, grams: dict[str, float], expected: str) -> None:
        assert class_of(whole_dough(dough(flour_bread_unenriched=100, **grams))) == expected

    def test_every_finding_has_figure_range_and_source_and_no_verdict(self, coils: Formula) -> None:
        found = findings(coils)
        assert len(found) >= 5
        for finding in found:
            assert finding.source in sources()
            assert sources()[finding.source].title in finding.sentence
            assert f"{finding.value:.1f}" in finding.sentence
            assert finding.low is not None or finding.high is not None
            words = finding.sentence.lower().replace("!", " ! ").split()
            assert not set(VERDICTS) & set(words)

    @pytest.mark.parametrize(
        ("grams", "measure", "high"),
        [
            ({"sugar_caster": 26, "butter_unsalted": 20}, "sugar", 25), ({"butter_unsalted": 91}, "fat", 90),
            ({"salt_table": 2.7}, "salt", 2.5), ({"cinnamon_ground": 1}, "spice", 0.5),
            ({"sugar_caster": 13}, "sugar", 12), ({"butter_unsalted": 10}, "fat", 5),
            ({"butter_unsalted": 16}, "fat", 15),
        ],
    )  # fmt: skip
    def test_gates(self, grams: dict[str, float], measure: str, high: float) -> None:
        formula = dough(flour_bread_unenriched=100, **grams)
        gates = [finding for finding in findings(formula) if finding.kind == "gate"]
        assert (measure, high) in [(gate.measure, gate.high) for gate in gates]
        plain = [finding for finding in findings(dough(flour_bread_unenriched=100)) if finding.kind == "gate"]
        assert (measure, high) not in [(gate.measure, gate.high) for gate in plain]

    def test_a_sugar_tolerant_strain_is_not_asked_for_twice(self) -> None:
        for kind, asked in (("yeast_instant_dry", True), ("yeast_osmotolerant", False)):
            formula = dough(flour_bread_unenriched=100, sugar_caster=15, **{kind: 1.5})
            assert any("sugar-tolerant" in finding.sentence for finding in findings(formula)) is asked

    def test_standing_follows_the_figure_as_shown(self) -> None:
        for salt, standing in ((0.5, "below"), (1.8, "within"), (2.6, "above")):
            formula = dough(flour_bread_unenriched=100, sugar_caster=14, lard=18, salt_table=salt)
            found = [row for row in findings(formula) if row.measure == "salt" and row.kind == "range"]
            assert found[0].standing == standing

    def test_a_published_formula_is_its_own_nearest_neighbour(self) -> None:
        rows = load("formula-balance")
        for row in ("military", "institutional", "brioche_gisslen"):
            figure = {name: rows.value(f"row.{row}.{name}") for name in ("sugar", "fat", "egg", "salt")}
            formula = dough(
                flour_bread_unenriched=100,
                sugar_caster=figure["sugar"],
                lard=figure["fat"],
                egg_whole=figure["egg"],
                salt_table=figure["salt"],
            )
            nearest = neighbours(whole_dough(formula))[0]
            assert nearest.name == row.replace("_", " ")
            assert nearest.distance < 0.3


class TestYeast:
    @given(st.floats(0.1, 500), st.sampled_from(["fresh", "active_dry", "instant"]), st.sampled_from(RULES))
    def test_there_and_back(self, grams: float, kind: str, rule) -> None:
        there = convert(grams, "fresh", kind, rule).grams
        assert there.low <= there.likely <= there.high
        assert convert(there.likely, kind, "fresh", rule).grams.likely == pytest.approx(grams)

    def test_water_make_up_keeps_the_mass(self) -> None:
        made = convert(30, "fresh", "instant")
        assert made.grams.likely + made.water_g == pytest.approx(30)
        # By moisture alone nearly the same water goes in: 0.67 of the fresh yeast.
        assert water_by_moisture(30, "fresh", "instant") == pytest.approx(made.water_g, rel=0.03)
        assert convert(9.9, "instant", "fresh").water_g < 0

    def test_osmotolerant_yeast_is_weighed_as_instant(self) -> None:
        assert convert(5, "instant_osmotolerant", "instant").grams.likely == 5

    def test_the_sentence_names_its_source(self) -> None:
        for rule in RULES:
            made = convert(10, "fresh", "active_dry", rule)
            assert sources()[made.source].title in made.sentence


class TestDifference:
    def test_nothing_changed(self, coils: Formula) -> None:
        assert differences(coils, coils) == ()

    def test_more_butter_shows_as_a_line_and_as_fat(self, coils: Formula) -> None:
        sponge, main, *rest = coils.components
        lines = tuple(
            of("butter_unsalted", 120) if line.ingredient == "butter_unsalted" else line for line in main.lines
        )
        after = coils.model_copy(update={"components": (sponge, main.model_copy(update={"lines": lines}), *rest)})
        found = {change.what: change for change in differences(coils, after)}
        assert (found["butter_unsalted"].before, found["butter_unsalted"].after) == (90, 120)
        assert "fat" in found
        assert "salt" not in found

    def test_a_component_that_went_shows_every_line(self, coils: Formula) -> None:
        after = coils.model_copy(update={"components": coils.components[:-1]})
        found = differences(coils, after)
        assert {change.what for change in found} == {"sugar_icing", "lemon_juice"}
        assert all(change.after is None for change in found)

    def test_scaling_changes_weights_and_no_percentage(self, coils: Formula) -> None:
        found = differences(coils, scale(coils, Scaling(factor=2)).formula)
        assert found
        assert all(change.component != "whole dough" for change in found)
