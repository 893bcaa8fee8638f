"""Losses beside arithmetic on published examples; the examples themselves stand in the validation book."""

import pytest

from oventide.formula.scaling import gross_up, shown_up


@pytest.mark.parametrize(("loss", "expected"), [(0.10, 555.6), (0.13, 574.7)])
def test_dough_for_a_baked_weight(loss: float, expected: float) -> None:
    """500 g baked at 10 to 13 % loss of the dough's weight: 500/(1 - loss)."""
    assert gross_up(500, [loss]) == pytest.approx(expected, abs=0.05)


def test_losses_in_a_chain() -> None:
    """Arithmetic: 24 × 90 g through 10, 2 and 1 %. Adding to 13 % would give 2440.8 g."""
    assert gross_up(24 * 90, [0.10]) == pytest.approx(2400.0, abs=0.05)
    assert gross_up(24 * 90, [0.10, 0.02]) == pytest.approx(2448.98, abs=0.05)
    assert gross_up(24 * 90, [0.10, 0.02, 0.01]) == pytest.approx(2473.72, abs=0.05)


def test_a_figure_rounded_up_to_cover_losses() -> None:
    """gisslen-professional-cooking: 794.7 g of flour is printed as 800."""
    assert shown_up(794.7, 50) == 800
