"""Shares of variance from one sample: known functions, false alarms, weights."""

import numpy as np
import pytest
from scipy.stats import qmc

from oventide.evidence.causes import cause_of, keys
from oventide.forecast.drivers import Drivers
from oventide.forecast.foresee import ensemble_for
from oventide.forecast.main_effects import MainEffects
from oventide.kitchen.complete import complete


def cube(inputs: int, count: int, seed: int = 1) -> np.ndarray:
    return qmc.LatinHypercube(inputs, rng=seed).random(count).T


def test_a_sum_is_shared_as_its_variances_are() -> None:
    """The mean over several samples: in one of 200 the inputs' chance correlation alone moves a share by 0.04."""
    shares = []
    for seed in range(12):
        u = cube(60, 200, seed)
        found = MainEffects(u).of(3.0 * u[0] + 2.0 * u[1] + 1.0 * u[2])
        assert [effect.place for effect in found[:3]] == [0, 1, 2]
        shares.append([effect.share for effect in found[:3]])
    assert np.mean(shares, axis=0) == pytest.approx([9 / 14, 4 / 14, 1 / 14], abs=0.03)


def test_noise_is_not_given_a_cause() -> None:
    rng = np.random.default_rng(5)
    named = sum(bool(MainEffects(cube(100, 200, seed)).of(rng.normal(size=200))) for seed in range(40))
    assert named <= 6, "more than one in twenty outputs of pure noise, by far, has a cause"


def test_a_few_far_kitchens_are_not_given_a_cause() -> None:
    rng = np.random.default_rng(6)
    named = 0
    for seed in range(40):
        values = np.zeros(200)
        values[rng.integers(0, 200, size=3)] = 30.0
        named += bool(MainEffects(cube(100, 200, seed)).of(values))
    assert named <= 4


def test_a_hump_is_found_where_a_rank_correlation_is_blind() -> None:
    u = cube(40, 200)
    found = MainEffects(u).of((u[7] - 0.5) ** 2 + 0.01 * u[3])
    assert found[0].place == 7
    assert found[0].share > 0.9


def test_weights_stand_for_repeated_kitchens() -> None:
    rng = np.random.default_rng(7)
    u = rng.random((3, 400))
    values = u[0] + 0.5 * u[1]
    half = np.where(u[2] < 0.5, 1.0, 1e-9)
    weighed = MainEffects(u, half).of(values)
    kept = MainEffects(u[:, u[2] < 0.5]).of(values[u[2] < 0.5])
    assert [e.place for e in weighed] == [e.place for e in kept] == [0, 1]
    assert [e.share for e in weighed] == pytest.approx([e.share for e in kept], abs=0.02)


def test_too_few_kitchens_name_no_cause() -> None:
    u = cube(3, 8)
    assert MainEffects(u).of(u[0]) == ()


def test_causes_that_are_one_to_the_baker_stand_together() -> None:
    """The blend of the two laws and their constants: which law of temperature the yeast keeps to."""
    ensemble = ensemble_for(complete({}), 200, 1)
    axes = ensemble.axes()

    def unit(key: str) -> np.ndarray:
        return (axes[key] - axes[key].mean()) / axes[key].std()

    values = unit("dough:yeast.temperature_law") + unit("dough:yeast.cardinal_least") + unit("kitchen:room")
    first, second = Drivers(ensemble).of(values)
    assert first.what == "which law of temperature the yeast keeps to"
    assert "one in the cold" in first.narrowed_by
    assert (first.share, second.share) == pytest.approx((2 / 3, 1 / 3), abs=0.06)


def test_every_uncertain_figure_has_a_measurement_that_would_narrow_it() -> None:
    ensemble = ensemble_for(complete({"proof": {"low": 24, "likely": 26, "high": 28}}), 2, 1)
    lacking = [key for key in ensemble.axes() if not cause_of(key, ensemble.parameters[key]).narrowed_by]
    assert lacking == []


def test_every_entry_of_the_causes_fits_some_figure() -> None:
    known = [*ensemble_for(complete({}), 2, 1).parameters, "kitchen:proof", "kitchen:flour"]
    assert [key for key in keys() if not any(figure.startswith(key) for figure in known)] == []
