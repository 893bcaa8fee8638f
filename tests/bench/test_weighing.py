"""A bowl that keeps count: a forgotten or doubled ingredient shows, and agreeing bowls say nothing."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from oventide.bench.fold import InBowl
from oventide.bench.model import Bake
from oventide.bench.weighing import Bowl, Item, _bowl, allowed_g, bowls_of, items_of, step_of
from oventide.bench.weighing_words import finding_words
from oventide.formula.model import Component, Formula, Line
from oventide.timeline.procedure import Procedure, Step
from oventide.units.estimate import Estimate
from oventide.words.speaker import Speaker

START = datetime(2026, 3, 5, 4, 0, tzinfo=UTC)


def items(*grams: float | None) -> list[Item]:
    return [Item(f"0.{n}", "Dough", f"line {n}", "", each, 1.0, 0) for n, each in enumerate(grams)]


def noted(lines: list[Item], readings: dict[int, float | None]) -> dict[str, InBowl]:
    """Lines noted as in the bowl, minute by minute, with what the scale showed."""
    return {lines[n].line: InBowl(lines[n].line, START + timedelta(minutes=n), shown) for n, shown in readings.items()}


def weighed(lines: list[Item], readings: dict[int, float | None], beside: tuple[float, ...] = ()) -> Bowl:
    return _bowl(lines, noted(lines, readings), 1.0, beside)


def found(bowl: Bowl, line: int) -> tuple[str, list[str]]:
    finding = bowl.findings[f"0.{line}"]
    return finding.kind, [item.line for item in finding.items]


def test_the_bowl_adds_up_line_by_line() -> None:
    lines = items(270, 90, None, 7.2, 55)
    bowl = weighed(lines, {})
    assert list(bowl.expected_g.values()) == [270, 360, 360, 367, 422]
    assert weighed(items(None, 5), {}).expected_g == {"0.0": None, "0.1": 5}


def test_what_is_in_is_counted_in_the_order_in_which_it_went_in() -> None:
    lines = items(270, 90, 20)
    bowl = _bowl(lines, {"0.2": InBowl("0.2", START, 20.0)}, 1.0, ())
    assert bowl.expected_g == {"0.2": 20, "0.0": 290, "0.1": 380}
    assert bowl.findings["0.2"].kind == "agrees"


@pytest.mark.parametrize(
    ("shown", "kind", "lines"),
    [
        (417, "agrees", []), (418, "agrees", []), (410, "missing", ["0.2"]), (327, "missing", ["0.1"]),
        (424, "doubled", ["0.2"]), (507, "doubled", ["0.1"]), (400, "short", ["0.3"]), (430, "over", ["0.3"]),
        (300, "unclear", []),
    ],
)  # fmt: skip
def test_one_ingredient_explains_a_difference(shown: float, kind: str, lines: list[str]) -> None:
    bowl = weighed(items(270, 90, 7, 50), {0: None, 1: None, 2: None, 3: shown})
    assert found(bowl, 3) == (kind, lines)


def test_a_bowl_that_agreed_clears_the_lines_before_it() -> None:
    lines = items(100, 50, 50, 30)
    first = weighed(lines, {0: None, 1: 150, 2: 150})
    assert found(first, 2) == ("missing", ["0.2"])
    alone = weighed(lines, {0: None, 1: None, 2: 150})
    assert alone.findings["0.2"].kind == "missing"
    assert {item.line for item in alone.findings["0.2"].items} == {"0.1", "0.2"}


def test_a_difference_that_stays_is_said_once_more_and_a_new_one_is_seen() -> None:
    lines = items(300, 80, 40, 25)
    bowl = weighed(lines, {0: 300, 1: 300, 2: 340, 3: 340})
    assert found(bowl, 1) == ("missing", ["0.1"])
    assert found(bowl, 2) == ("missing", ["0.1"])
    assert found(bowl, 3) == ("missing", ["0.3"])
    mended = weighed(lines, {0: 300, 1: 300, 2: 420, 3: 445})
    assert [finding.kind for finding in mended.findings.values()] == ["agrees", "missing", "agrees", "agrees"]


def test_something_in_the_bowl_that_is_not_ticked_yet() -> None:
    lines = items(300, 80, 40)
    bowl = weighed(lines, {0: None, 1: 420})
    assert found(bowl, 1) == ("not ticked", ["0.2"])


def test_a_preferment_may_stand_in_the_bowl() -> None:
    bowl = weighed(items(270, 90, 7), {0: 455, 1: 545, 2: 552}, beside=(185.0,))
    assert [finding.kind for finding in bowl.findings.values()] == ["agrees"] * 3
    late = weighed(items(270, 90, 7), {0: 270, 1: 545, 2: 545}, beside=(185.0,))
    assert [finding.kind for finding in late.findings.values()] == ["agrees", "agrees", "missing"]


@given(
    st.lists(st.floats(5, 900).map(lambda grams: round(grams, 1)), min_size=2, max_size=12),
    st.data(),
    st.sampled_from([0.0, 2.0]),
)
def test_a_forgotten_or_doubled_line_of_any_formula_is_among_those_named(grams, data, times: float) -> None:
    odd = data.draw(st.integers(0, len(grams) - 1))
    last = data.draw(st.integers(odd, len(grams) - 1))
    total = sum(grams[: last + 1])
    # rounded to the scale; a line lighter than what a full bowl's scale can tell is not looked for
    assume(grams[odd] > allowed_g(total, 1.0) + 0.5)
    shown = float(round(total + (times - 1.0) * grams[odd]))
    lines = items(*grams)
    bowl = weighed(lines, {n: shown if n == last else None for n in range(last + 1)})
    finding = bowl.findings[f"0.{last}"]
    assert finding.kind == ("missing" if times == 0.0 else "doubled")
    assert f"0.{odd}" in [item.line for item in finding.items]


@given(st.lists(st.floats(0.5, 900), min_size=1, max_size=12), st.floats(-0.5, 0.5))
def test_a_bowl_that_was_filled_as_written_says_nothing(grams, slip: float) -> None:
    lines = items(*grams)
    readings = {n: float(round(sum(grams[: n + 1]) + slip)) for n in range(len(grams))}
    bowl = weighed(lines, readings)
    assert {finding.kind for finding in bowl.findings.values()} == {"agrees"}


def test_every_line_of_a_bake_is_weighed_at_its_step(bake: Bake) -> None:
    by_component: dict[str, set[str]] = {}
    for item in items_of(bake):
        by_component.setdefault(item.component, set()).add(bake.product.procedure.steps[item.step].kind)
    assert by_component == {
        "Sponge": {"mix"}, "Dough": {"mix"}, "Spread": {"spread"}, "Filling": {"spread"}, "Wash": {"proof"},
        "Topping": {"proof"}, "Glaze": {"glaze"},
    }  # fmt: skip
    egg = next(item for item in items_of(bake) if item.line == "1.4")
    assert (egg.note, egg.step_g) == ("1 ×", 1.0)
    assert next(item for item in items_of(bake) if item.line == "1.5").step_g == 0.1


def test_at_another_size_pieces_are_counted_anew(bake: Bake) -> None:
    egg = next(item for item in items_of(bake.model_copy(update={"factor": 2.5})) if item.line == "1.4")
    assert egg.note == "2.5 ×"


def test_a_formula_without_the_usual_steps_is_weighed_at_its_first() -> None:
    assert step_of("glaze", Procedure(steps=(Step(kind="retard"), Step(kind="proof")))) == 0
    assert step_of("glaze", Procedure(steps=(Step(kind="mix"), Step(kind="bake")))) == 1


def test_a_line_that_stands_for_the_preferment_weighs_what_it_does(bake: Bake) -> None:
    grams = Estimate(low=100, likely=100, high=100)
    formula = Formula(
        name="Knots",
        components=(
            Component(
                kind="preferment", name="Poolish", lines=(
                    Line(text="100 g flour", name="flour", ingredient="wheat_flour_white", grams=grams),
                    Line(text="100 g water", name="water", ingredient="water", grams=grams),
                ),
            ),
            Component(
                kind="dough", name="Dough", lines=(
                    Line(text="all of the poolish", name="poolish"),
                    Line(text="100 g flour", name="flour", ingredient="wheat_flour_white", grams=grams),
                ),
            ),
        ),
    )  # fmt: skip
    knots = bake.model_copy(update={"product": bake.product.model_copy(update={"formula": formula})})
    lines = items_of(knots)
    assert [item.grams for item in lines] == [100, 100, 200, 100]
    bowl = bowls_of(knots, lines, {})[1]
    assert list(bowl.expected_g.values()) == [200, 300]


def test_every_finding_is_said_with_its_rescue() -> None:
    lines = items(270, 90, 7, 50)
    said = {
        shown: finding_words(Speaker(), weighed(lines, {0: None, 1: None, 2: None, 3: shown}).findings["0.3"])
        for shown in (417, 410, 507, 400, 430, 300)
    }
    assert said[417] == ""
    assert said[410] == "The bowl is 7 g too light, as much as line 2 weighs. If it was left out, add 7 g line 2."
    assert "weigh everything else twice" in said[507]
    assert said[400] == "The bowl is 17 g too light: add 17 g line 3."
    assert said[430] == (
        "The bowl is 13 g too heavy: lift out 13 g line 3, or weigh the other ingredients × 1.26."
    )  # fmt: skip
    assert "no one ingredient explains it" in said[300]
