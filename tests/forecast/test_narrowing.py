"""A reading narrows the ensemble: against a posterior that is known in closed form, and at its edges."""

import numpy as np
import pytest
from scipy import stats

from oventide.errors import Refusal
from oventide.forecast.narrowing import LEAST_LEFT, Measured, narrow
from oventide.forecast.quantiles import alike, quantiles
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.procedure import Span, Step
from oventide.timeline.trace import StepTrace, Trace


def trace_of(core: np.ndarray, kind: str = "bake") -> Trace:
    """One step in which every kitchen's core rises from 20 °C to `core` (M,) over an hour."""
    members = core.size
    step = Step(kind=kind, minutes=Span(low=60, likely=60, high=60))
    samples = np.stack([np.full(members, 20.0), core], axis=1)[:, :, None]
    one = StepTrace(
        0, step, "oven", ("core_c",), np.zeros(members), np.full(members, 3600.0), np.array([0.0, 3600.0]), samples, {}
    )
    return Trace(Ensemble(members, 1, {}, {}), (one,))


def normal(members: int, mean: float, sd: float) -> np.ndarray:
    return stats.norm(mean, sd).ppf((np.arange(members) + 0.5) / members)


def test_weights_give_the_posterior_of_two_normals() -> None:
    """Prior N(90, 4²), reading 93 ± 3: posterior mean and spread by the conjugate formula."""
    core = normal(4000, 90.0, 4.0)
    found = narrow(trace_of(core), [Measured(0, 60.0, "core", 93.0, 3.0)])
    precision = 1 / 4.0**2 + 1 / 3.0**2
    mean, sd = (90.0 / 4.0**2 + 93.0 / 3.0**2) / precision, precision**-0.5
    assert found.weights.sum() == pytest.approx(1.0)
    wanted = stats.norm(mean, sd).ppf([0.05, 0.5, 0.95])
    assert quantiles(core, weights=found.weights) == pytest.approx(wanted, abs=0.02)
    assert found.warnings == ()


def test_a_reading_half_way_is_compared_half_way() -> None:
    core = normal(1000, 90.0, 4.0)
    found = narrow(trace_of(core), [Measured(0, 30.0, "core", 57.0, 0.5)])
    assert quantiles(core, weights=found.weights)[1] == pytest.approx(94.0 - 0.3, abs=0.4)


def test_two_like_readings_are_one_sharper_reading() -> None:
    core = normal(1000, 90.0, 4.0)
    twice = narrow(trace_of(core), [Measured(0, 60.0, "core", 92.0, 2.0)] * 2)
    once = narrow(trace_of(core), [Measured(0, 60.0, "core", 92.0, 2.0 / np.sqrt(2.0))])
    assert twice.weights == pytest.approx(once.weights)


def test_no_reading_leaves_every_kitchen_alike() -> None:
    found = narrow(trace_of(normal(50, 90.0, 4.0)), [])
    assert found.left == pytest.approx(50.0)


def test_too_few_kitchens_are_said_and_the_window_is_kept() -> None:
    core = normal(200, 90.0, 4.0)
    found = narrow(trace_of(core), [Measured(0, 60.0, "core", 90.0, 0.05)])
    assert found.left < LEAST_LEFT
    assert alike(found.weights) == pytest.approx(LEAST_LEFT, rel=1e-3)
    assert "of 200 kitchens fit" in found.warnings[-1]


def test_a_reading_that_no_kitchen_shows_is_said() -> None:
    found = narrow(trace_of(normal(200, 90.0, 2.0)), [Measured(0, 60.0, "core", 60.0, 1.0)])
    assert "outside what was foreseen" in found.warnings[0]
    assert np.isfinite(found.weights).all()


@pytest.mark.parametrize(
    "measured",
    [
        Measured(0, 60.0, "taste", 1.0, 1.0),
        Measured(1, 60.0, "core", 90.0, 1.0),
        Measured(-1, 60.0, "core", 90.0, 1.0),
        Measured(0, 61.0, "core", 90.0, 1.0),
        Measured(0, 60.0, "rise since mixing", 1.5, 0.1),
        Measured(0, 60.0, "core", float("nan"), 1.0),
        Measured(0, 60.0, "core", 90.0, 0.0),
    ],
)
def test_what_cannot_be_compared_is_refused(measured: Measured) -> None:
    with pytest.raises(Refusal):
        narrow(trace_of(normal(20, 90.0, 4.0)), [measured])


def test_weights_stand_for_repeated_kitchens() -> None:
    rng = np.random.default_rng(4)
    values, times = rng.normal(size=2000), rng.integers(1, 5, size=2000)
    often = quantiles(np.repeat(values, times), (0.2, 0.5, 0.75))
    assert quantiles(values, (0.2, 0.5, 0.75), times / 10.0) == pytest.approx(often, abs=0.01)


def test_a_further_draw_falls_into_the_window_in_nine_of_ten() -> None:
    """The promise of the window for a small ensemble: exact whatever the distribution."""
    rng = np.random.default_rng(3)
    drawn = rng.lognormal(size=(19, 40000))
    low, _, high = quantiles(drawn)
    further = rng.lognormal(size=40000)
    assert np.mean((further >= low) & (further <= high)) == pytest.approx(0.90, abs=0.005)
