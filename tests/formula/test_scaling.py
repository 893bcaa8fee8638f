"""Scaling: linear, one way at a time, and lines that add up on the scale."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.formula.model import Component, Formula, Line
from oventide.formula.parts import dough_lines, mass_g
from oventide.formula.percent import whole_dough
from oventide.formula.scaling import Scaling, egg_counts, gross_up, scale, to_scale
from oventide.units.estimate import Estimate


@pytest.mark.parametrize(
    ("wanted", "pieces_now", "dough_g"),
    [
        (Scaling(dough_g=2000), None, 2000), (Scaling(pieces=12, piece_g=85), None, 1020),
        (Scaling(factor=2), None, 2 * 1057.6), (Scaling(tin_ratio=1.5), None, 1.5 * 1057.6),
        (Scaling(flour_g=1000), None, 2 * 1057.6), (Scaling(pieces=24), 12, 2 * 1057.6),
        (Scaling(piece_g=80), 12, 960), (Scaling(), None, 1057.6),
    ],
)  # fmt: skip
def test_ways_of_scaling(coils: Formula, wanted: Scaling, pieces_now: int | None, dough_g: float) -> None:
    made = scale(coils, wanted, pieces_now)
    assert mass_g(dough_lines(made.formula)) == pytest.approx(dough_g)
    assert made.sentence
    # Fillings and glazes go with it.
    assert mass_g(made.formula.components[2].lines) == pytest.approx(270 * made.factor)


def test_what_the_baker_wrote_does_not_change(coils: Formula) -> None:
    made = scale(coils, Scaling(factor=3)).formula
    for before, after in zip(coils.components, made.components, strict=True):
        for old, new in zip(before.lines, after.lines, strict=True):
            assert (old.text, old.amount, old.unit) == (new.text, new.amount, new.unit)


@pytest.mark.parametrize(
    "wanted",
    [
        Scaling(factor=0), Scaling(factor=-1), Scaling(pieces=0), Scaling(dough_g=-5), Scaling(piece_g=0),
        Scaling(factor=2, dough_g=100), Scaling(pieces=12, flour_g=100), Scaling(factor=float("nan")),
        Scaling(factor=float("inf")), Scaling(factor=1e9), Scaling(pieces=12),
    ],
)  # fmt: skip
def test_a_size_that_cannot_be_meant_is_refused(coils: Formula, wanted: Scaling) -> None:
    with pytest.raises(Refusal) as caught:
        scale(coils, wanted)
    assert all(complaint.remedy for complaint in caught.value.complaints)


def test_a_dough_without_weights_cannot_be_scaled() -> None:
    empty = Formula(name="x", components=(Component(kind="dough", name="Dough"),))
    for wanted in (Scaling(dough_g=100), Scaling(flour_g=100), Scaling(pieces=2, piece_g=50)):
        with pytest.raises(Refusal):
            scale(empty, wanted)


FACTORS = st.floats(0.05, 50)


@given(FACTORS, FACTORS)
def test_scaling_is_linear_and_leaves_percentages_alone(first: float, second: float) -> None:
    line = Line(text="f", name="f", ingredient="flour_bread_unenriched", grams=Estimate(low=450, likely=500, high=560))
    butter = Line(text="b", name="b", ingredient="butter_unsalted", grams=Estimate.certain(90))
    formula = Formula(name="x", components=(Component(kind="dough", name="Dough", lines=(line, butter)),))
    twice = scale(scale(formula, Scaling(factor=first)).formula, Scaling(factor=second)).formula
    once = scale(formula, Scaling(factor=first * second)).formula
    for one, other in zip(dough_lines(once), dough_lines(twice), strict=True):
        assert (one.grams.low, one.grams.likely, one.grams.high) == pytest.approx(
            (other.grams.low, other.grams.likely, other.grams.high)
        )
    assert whole_dough(once).fat == pytest.approx(whole_dough(formula).fat)


@given(
    st.lists(st.one_of(st.none(), st.floats(0.02, 4000)), min_size=1, max_size=15),
    st.sampled_from([(1.0, 0.1), (5.0, 1.0), (0.5, 0.01), (2.0, 2.0)]),
)
def test_shown_lines_add_up_to_the_shown_total(grams: list[float | None], steps: tuple[float, float]) -> None:
    lines = tuple(
        Line(text=str(place), name="", grams=None if value is None else Estimate.certain(value))
        for place, value in enumerate(grams)
    )
    shown = to_scale(Component(kind="dough", name="Dough", lines=lines), *steps)
    known = [line.grams for line in shown.lines if line.grams is not None]
    assert shown.total_g == pytest.approx(sum(known), abs=1e-6)
    assert [line.grams is None for line in shown.lines] == [value is None for value in grams]
    small = sum(1 for value in grams if value is not None and value < 20)
    exact = sum(value for value in grams if value is not None)
    assert abs(shown.total_g - exact) <= steps[0] / 2 + small * steps[1] / 2 + 1e-6


def test_an_egg_that_becomes_a_fraction_is_shown_both_ways() -> None:
    egg = Line(text="2 eggs", name="egg", ingredient="egg_whole", amount=2, unit=None, grams=Estimate.certain(103.2))
    weighed = Line(text="50 g egg", name="egg", ingredient="egg_whole", amount=50, unit="g", grams=Estimate.certain(50))
    formula = Formula(name="x", components=(Component(kind="dough", name="Dough", lines=(egg, weighed)),))
    (half,) = egg_counts(formula, 0.75)
    assert half.count == 1.5
    assert half.grams == pytest.approx(77.4)
    assert "beat 2" in half.sentence
    (whole,) = egg_counts(formula, 2.0)
    assert "4 ×" in whole.sentence


@pytest.mark.parametrize("loss", [-0.1, 1.0, 2.0])
def test_a_loss_is_a_share(loss: float) -> None:
    with pytest.raises(Refusal):
        gross_up(100, [loss])
