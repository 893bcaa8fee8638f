"""Cardinal temperatures and acidity of sourdough organisms against a published author's figures, misses included.

Gänzle, Ehmann, Hammes 1998 (Appl Environ Microbiol 64:2616) and a letter of the author, excerpt (gaenzle-1998):
C. milleri best 28, half 20 and 32, quarter 14 and 34, none 8 and 35 °C; L. sanfranciscensis best 32-33, half 20 and
37, quarter 15 and 39, none 4 and 41 °C.
"""

import pytest

from oventide.laws.cardinal import cardinal_acidity, cardinal_temperature

LAB = (7.9, 30.1, 40.0)
MILLERI = (9.0, 27.0, 34.7)
ANCHORS = [
    (LAB, 32.5, 1.00), (LAB, 20.0, 0.50), (LAB, 37.0, 0.50), (LAB, 15.0, 0.25), (LAB, 39.0, 0.25),
    (MILLERI, 28.0, 1.00), (MILLERI, 20.0, 0.50), (MILLERI, 32.0, 0.50), (MILLERI, 14.0, 0.25), (MILLERI, 34.0, 0.25),
]  # fmt: skip


def miss(law: tuple[float, float, float], temperature_c: float, rate: float) -> float:
    return abs(cardinal_temperature(temperature_c, *law) - rate)


@pytest.mark.parametrize(("law", "temperature_c", "rate"), ANCHORS)
def test_the_cardinal_law_is_within_0_15_of_every_anchor(law, temperature_c: float, rate: float) -> None:
    """Fitted to these very anchors, and still not through them: that is the law's form."""
    assert miss(law, temperature_c, rate) < 0.15


def test_miss_the_cardinal_law_does_not_pass_through_these_anchors() -> None:
    """The sheet asks for 0.1 in the rate. The worst miss is pinned: if it shrinks, the docs are to be changed."""
    worst = max(miss(*anchor) for anchor in ANCHORS)
    assert 0.10 < worst < 0.15


@pytest.mark.parametrize(
    ("ph", "rate"), [(3.9, 0.0), (6.7, 0.0), (4.2, 0.38), (4.5, 0.67), (5.0, 0.95), (5.5, 0.98), (6.0, 0.75)]
)
def test_growth_of_l_sanfranciscensis_over_acidity(ph: float, rate: float) -> None:
    """Range 3.9-6.7 published (abstract); the values between were computed with the same form by an outside sheet."""
    assert cardinal_acidity(ph, 3.9, 5.3, 6.7) == pytest.approx(rate, abs=0.01)
