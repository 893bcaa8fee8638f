"""Scaling, losses and yields beside published worked examples (seen as excerpts)."""

import pytest

from oventide.formula.model import Component, Formula, Line
from oventide.formula.parts import dough_lines, mass_g
from oventide.formula.scaling import Scaling, gross_up, scale, tin_ratio
from oventide.units.estimate import Estimate
from oventide.units.measure import grams_per

OZ = grams_per("oz") or 0.0


def dough(grams: float) -> Formula:
    line = Line(text="flour", name="flour", ingredient="flour_bread_unenriched", grams=Estimate.certain(grams))
    return Formula(name="x", components=(Component(kind="dough", name="Dough", lines=(line,)),))


@pytest.mark.parametrize(
    ("now", "wanted", "factor"),
    [
        (8, 18, 2.25),  # Gisslen, Professional Baking ch. 2, conversion factor, as reproduced
        (100, 348, 3.48),  # Armed Forces Recipe Service, recipe conversion card
        (48, 72, 1.5),  # Bakery and Business Math, open textbook, ch. 21
    ],
)
def test_factor_from_portions(now: int, wanted: int, factor: float) -> None:
    made = scale(dough(1.25), Scaling(pieces=wanted), pieces_now=now)
    assert made.factor == pytest.approx(factor, abs=1e-9)
    assert mass_g(dough_lines(made.formula)) == pytest.approx(1.25 * factor)


def test_total_yields_are_compared_and_not_counts() -> None:
    """College library guide, warning box: 5 portions of 8 oz to 10 of 4 oz is a factor of 1, not 2."""
    assert scale(dough(40 * OZ), Scaling(pieces=10, piece_g=4 * OZ)).factor == pytest.approx(1.0)


def test_dough_for_a_larger_tin() -> None:
    """Teaching blog (2015): 8 × 3.5 × 3 in holds 450 g; 9 × 4 × 4 in asks for 771.4 g (page: 770 by rounding)."""
    ratio = tin_ratio(8 * 3.5 * 3, 9 * 4 * 4)
    assert ratio == pytest.approx(1.714, abs=0.001)
    assert mass_g(dough_lines(scale(dough(450), Scaling(tin_ratio=ratio)).formula)) == pytest.approx(771.4, abs=0.1)


@pytest.mark.parametrize(("loss", "expected"), [(0.10, 555.6), (0.13, 574.7)])
def test_dough_for_a_baked_weight(loss: float, expected: float) -> None:
    """Gisslen, Professional Baking, 7th ed., ch. 6: 500 g baked at 10 to 13 % loss.

    The book adds 50 to 65 g, which is 10 to 13 % of the baked weight; the gross-up by division is 55.6 to 74.7 g.
    """
    assert gross_up(500, [loss]) == pytest.approx(expected, abs=0.05)


def test_losses_in_a_chain() -> None:
    """Arithmetic: 24 × 90 g through 10, 2 and 1 %. Adding to 13 % would give 2440.8 g."""
    assert gross_up(24 * 90, [0.10]) == pytest.approx(2400.0, abs=0.05)
    assert gross_up(24 * 90, [0.10, 0.02]) == pytest.approx(2448.98, abs=0.05)
    assert gross_up(24 * 90, [0.10, 0.02, 0.01]) == pytest.approx(2473.72, abs=0.05)


def test_rumford_dough_and_bread() -> None:
    """rumford-1796: 2755 lb dough lost 13.125 % to give 2393.406 lb bread.

    The ingredients weighed 2812.156 lb: 2.03 % was lost before the oven.
    """
    assert gross_up(2393.406, [0.13125]) == pytest.approx(2755, abs=0.2)
    assert gross_up(2755, [0.0203]) == pytest.approx(2812.156, abs=0.2)


def test_a_printed_yield_that_its_weights_do_not_bear_out() -> None:
    """uk-soft-rolls-page: 995 g of dough is printed as 14 rolls of 56 g; they take 0.788 of it (17.8 would fit)."""
    assert scale(dough(995), Scaling(pieces=14, piece_g=56)).factor == pytest.approx(0.788, abs=0.001)
