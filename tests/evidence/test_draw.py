"""Draws of an ensemble: even cover of every prior, no accidental correlation, the same for the same seed."""

import numpy as np
import pytest

from oventide.evidence.parameters import Parameter, draw


def made(name: str, spread: str = "normal") -> Parameter:
    return Parameter(name, 10.0, "1", "a figure", "assumed", 8.0, 13.0, spread)  # type: ignore[arg-type]


@pytest.mark.parametrize("spread", ["normal", "lognormal", "uniform"])
def test_nine_in_ten_lie_between_low_and_high(spread: str) -> None:
    values = draw([made("x", spread)], 1000, 4)["x"]
    inside = np.mean((values >= 8.0) & (values <= 13.0))
    assert inside == pytest.approx(1.0 if spread == "uniform" else 0.9, abs=0.01)
    if spread != "uniform":
        assert np.median(values) == pytest.approx(10.0, abs=0.05)


def test_a_hundred_axes_are_nearly_free_of_each_other() -> None:
    values = draw([made(f"x{axis}") for axis in range(100)], 256, 1)
    correlation = np.corrcoef(np.stack(list(values.values()))) - np.eye(100)
    assert np.abs(correlation).max() < 0.1


def test_fewer_members_than_axes_still_cover_each_prior() -> None:
    values = draw([made(f"x{axis}", "uniform") for axis in range(40)], 10, 1)
    for column in values.values():
        shares = np.floor((column - 8.0) / 0.5)
        assert sorted(shares) == list(range(10))


def test_one_member_is_the_likely_kitchen_and_seeds_repeat() -> None:
    assert draw([made("x")], 1, 9)["x"].tolist() == [10.0]
    assert (draw([made("x")], 50, 9)["x"] == draw([made("x")], 50, 9)["x"]).all()
    assert (draw([made("x")], 50, 9)["x"] != draw([made("x")], 50, 8)["x"]).any()
