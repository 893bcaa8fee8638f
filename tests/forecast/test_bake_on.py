"""Bake on, cover or stop: the readings weigh the kitchens, and the answer follows them."""

from collections.abc import Callable

import numpy as np
import pytest

from oventide.errors import Refusal
from oventide.forecast.bake_on import BROWNS, BakeOn, bake_on, browned, weighed, weights
from oventide.kitchen.complete import complete
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Product

Make = Callable[..., Product]


@pytest.fixture
def ask(make_product: Make) -> Callable[..., BakeOn]:
    batch, kitchen = batch_of(make_product()), complete({})

    def run(minutes: float, core_c: float, colour: str | None = None) -> BakeOn:
        return bake_on(batch, kitchen, minutes_in_oven=minutes, core_c=core_c, colour=colour, members=48)

    return run


def test_a_colder_core_needs_longer(ask: Callable[..., BakeOn]) -> None:
    cold, warm = ask(22.0, 75.0), ask(22.0, 88.0)
    assert cold.open.more_min.p50 > warm.open.more_min.p50 + 1.0
    assert cold.covered.more_min.p50 > cold.open.more_min.p50  # a cover keeps heat out


def test_dark_tops_over_a_short_core_are_covered_and_pale_ones_are_not(ask: Callable[..., BakeOn]) -> None:
    dark, pale = ask(24.0, 84.0, "dark"), ask(24.0, 84.0, "pale")
    assert dark.advice.startswith("bake on covered")
    assert pale.advice == "bake on open"
    assert dark.open.too_dark > 0.5 > pale.open.too_dark


def test_done_and_dark_stops(ask: Callable[..., BakeOn]) -> None:
    assert ask(30.0, 98.0, "golden brown").advice == "stop"


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"minutes_in_oven": 0.0, "core_c": 80.0}, "minutes_in_oven"),
        ({"minutes_in_oven": 20.0, "core_c": 180.0}, "core_c"),
        ({"minutes_in_oven": 20.0, "core_c": 80.0, "colour": "mauve"}, "colour"),
    ],
)
def test_readings_that_cannot_be_are_refused(make_product: Make, given: dict[str, object], field: str) -> None:
    with pytest.raises(Refusal) as refused:
        bake_on(batch_of(make_product()), complete({}), **given)  # type: ignore[arg-type]
    assert refused.value.complaints[0].field == field


def test_weights_go_to_the_members_that_agree() -> None:
    core = np.linspace(70.0, 100.0, 100)
    weight, effective, fits = weights(core, np.full(100, 10.0), 80.0, None)
    assert weight.sum() == pytest.approx(1.0)
    assert float(core @ weight.sum(axis=1)) == pytest.approx(80.0, abs=0.5)
    assert 12.0 <= effective < 60.0
    assert fits
    assert not weights(core, np.full(100, 10.0), 40.0, None)[2]


def test_a_colour_that_was_seen_sets_how_fast_it_browns() -> None:
    weight, _, _ = weights(np.full(50, 85.0), np.full(50, 8.0), 85.0, "golden")
    likely = float(np.exp(np.log(BROWNS) @ weight.sum(axis=0)))
    assert likely > 1.5
    assert 11.0 < float(browned(np.array(8.0), np.array(likely))) < 30.0  # between the prior's 8 and golden


def test_weighed_quantiles_follow_the_weights() -> None:
    values = np.array([1.0, 2.0, 3.0, np.inf])
    found = weighed(values, np.array([0.0, 0.5, 0.0, 0.5]), never=9.0)
    assert found.reached == 0.5
    assert found.p95 == 9.0
