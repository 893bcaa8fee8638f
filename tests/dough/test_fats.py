"""Fats beside butter: what sets in a dough, and along which curve."""

import numpy as np

from oventide.dough.fats import curve_of, setting_fats
from oventide.formula.model import Line
from oventide.units.estimate import Estimate


def line(ingredient: str, grams: float) -> Line:
    return Line(text=ingredient, name=ingredient, ingredient=ingredient, grams=Estimate.certain(grams))


def test_oil_never_sets_and_butter_does() -> None:
    fats = setting_fats([line("oil_sunflower_midlin", 100), line("butter_unsalted", 100), line("lard", 50)])
    assert set(fats) == {"milk", "lard"}
    assert 80 < fats["milk"] < 83
    assert 49 < fats["lard"] <= 50


def test_a_soft_margarine_stays_below_a_fifth_at_ten_degrees() -> None:
    """other-fat-solids: soft margarines below 20 % at 10 °C (abstract)."""
    assert curve_of({"soft_spread": 1.0}, np.array([10.0]), np.zeros(1))[0, 0] < 0.20


def test_coconut_fat_is_hard_in_the_fridge_and_gone_in_a_warm_room() -> None:
    cold, warm = curve_of({"coconut": 1.0}, np.array([5.0, 26.0]), np.zeros(1))[0]
    butter = curve_of({"milk": 1.0}, np.array([5.0]), np.zeros(1))[0, 0]
    assert cold > butter
    assert warm < 0.05


def test_every_curve_falls_with_warmth() -> None:
    at = np.linspace(-10, 60, 141)
    for kind in ("milk", "margarine", "soft_spread", "lard", "shortening", "coconut", "palm"):
        curve = curve_of({kind: 2.0}, at, np.zeros(1))[0]
        assert np.all(np.diff(curve) <= 1e-12)
        assert curve[-1] == 0.0
