"""Acidity and a sourdough organism: the range is published, the values between come from an outside sheet."""

import pytest

from oventide.laws.cardinal import cardinal_acidity


@pytest.mark.parametrize(
    ("ph", "rate"), [(3.9, 0.0), (6.7, 0.0), (4.2, 0.38), (4.5, 0.67), (5.0, 0.95), (5.5, 0.98), (6.0, 0.75)]
)
def test_growth_of_l_sanfranciscensis_over_acidity(ph: float, rate: float) -> None:
    """Range 3.9-6.7 published (abstract); the values between were computed with the same form by an outside sheet."""
    assert cardinal_acidity(ph, 3.9, 5.3, 6.7) == pytest.approx(rate, abs=0.01)
