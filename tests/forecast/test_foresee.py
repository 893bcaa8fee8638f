"""The forecast as a whole: the same for the same seed, in order, moved the right way by what moves it."""

from collections.abc import Callable

import pytest

from oventide.errors import Refusal
from oventide.forecast.foresee import foresee
from oventide.forecast.model import Forecast, Reading, StepForecast
from oventide.kitchen.complete import complete
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Product, Step
from oventide.units.estimate import Estimate

Make = Callable[..., Product]
FEW = 16


def step_of(forecast: Forecast, kind: str, covered: bool | None = None) -> StepForecast:
    """The step of a kind."""
    return next(s for s in forecast.steps if s.kind == kind and (covered is None or s.covered == covered))


def reading_of(step: StepForecast, start: str) -> Reading:
    """The reading whose name starts so."""
    return next(reading for reading in step.readings if reading.name.startswith(start))


def run(product: Product, kitchen: Kitchen, members: int = FEW, ready_by_min: float | None = None) -> Forecast:
    return foresee(batch_of(product), kitchen, product="t", members=members, seed=3, ready_by_min=ready_by_min)


def test_same_seed_same_answer(make_product: Make) -> None:
    first, second = (run(make_product(), complete({})) for _ in range(2))
    assert first == second


def test_another_seed_moves_the_median_little(make_product: Make) -> None:
    batch, kitchen = batch_of(make_product()), complete({})
    cores = [
        reading_of(step_of(foresee(batch, kitchen, product="t", members=256, seed=seed), "bake", covered=True), "core")
        for seed in (1, 2)
    ]
    spread = cores[0].p95 - cores[0].p5
    assert spread > 3.0
    assert abs(cores[0].p50 - cores[1].p50) < 0.1 * spread


def test_steps_follow_each_other_and_quantiles_are_in_order(make_product: Make) -> None:
    forecast = run(make_product(), complete({}))
    for before, after in zip(forecast.steps, forecast.steps[1:], strict=False):
        assert after.start == before.end
    for step in forecast.steps:
        assert step.start.earliest_min <= step.start.likely_min <= step.start.latest_min
        for reading in step.readings:
            assert reading.p5 <= reading.p50 <= reading.p95
            assert reading.because.endswith(".")
            assert reading.sources


def test_every_step_of_the_demo_kind_has_readings(make_product: Make) -> None:
    forecast = run(make_product(), complete({}))
    assert all(step.readings for step in forecast.steps)
    assert {tide.name for tide in forecast.tides} == {"temperature", "surface", "rise", "softness"}


def test_a_warmer_room_softens_sooner_and_proofs_faster(make_product: Make) -> None:
    steps = tuple(
        step.model_copy(update={"air_c": None}) if step.kind == "proof" else step
        for step in make_product().procedure.steps
    )
    known = {"fridge": 4, "tap_water": 12, "flour": 20, "oven_offset": 0, "friction": 0.5}
    cool, warm = (run(make_product(steps), complete({**known, "room": room})) for room in (18, 26))
    assert reading_of(step_of(warm, "sheet"), "minutes until getting soft").p50 < (
        reading_of(step_of(cool, "sheet"), "minutes until getting soft").p50
    )
    assert reading_of(step_of(warm, "proof"), "rise since shaping").p50 > (
        reading_of(step_of(cool, "proof"), "rise since shaping").p50 + 0.05
    )


def test_a_hotter_oven_bakes_sooner_and_browner(make_product: Make) -> None:
    known = {"room": 21, "fridge": 4, "tap_water": 12, "flour": 20, "friction": 0.5}
    mild, hot = (run(make_product(), complete({**known, "oven_offset": offset})) for offset in (-10, 15))
    for name in ("core", "colour", "loss"):
        covered = name == "core"
        assert (
            reading_of(step_of(hot, "bake", covered), name).p50 > reading_of(step_of(mild, "bake", covered), name).p50
        )


def test_altitude_lowers_the_core_that_counts_as_done(make_product: Make, known_kitchen: Kitchen) -> None:
    high = known_kitchen.model_copy(update={"altitude_m": 2000.0})
    names = [
        next(r.name for r in step_of(run(make_product(), place), "bake", covered=True).readings if "inside" in r.name)
        for place in (known_kitchen, high)
    ]
    assert names == ["minutes until 94 °C inside", "minutes until 87 °C inside"]


def test_what_is_known_narrows_the_window(make_product: Make, known_kitchen: Kitchen) -> None:
    unknown, known = (run(make_product(), kitchen, members=128) for kitchen in (complete({}), known_kitchen))
    for kind, name in (("retard", "core"), ("mix", "dough temperature")):
        wide, narrow = (reading_of(step_of(forecast, kind), name) for forecast in (unknown, known))
        assert narrow.p95 - narrow.p5 < 0.8 * (wide.p95 - wide.p5)


def test_the_fridge_drives_the_cold_core_and_says_so(make_product: Make, known_kitchen: Kitchen) -> None:
    vague = known_kitchen.model_copy(update={"fridge": Estimate(low=2, likely=5, high=9)})
    core = reading_of(step_of(run(make_product(), vague, members=256), "retard"), "core")
    assert "the fridge's air" in core.because
    assert "a thermometer in the fridge" in core.because


def test_proof_that_ends_by_its_target_ends_there(make_product: Make, known_kitchen: Kitchen) -> None:
    steps = tuple(
        step.model_copy(update={"ends_by": "target"}) if step.kind == "proof" else step
        for step in make_product().procedure.steps
    )
    proof = step_of(run(make_product(steps), known_kitchen, members=64), "proof")
    rise = reading_of(proof, "rise since shaping")
    assert rise.p50 == pytest.approx(1.5, abs=0.02)
    assert proof.end.latest_min - proof.end.earliest_min > 5.0


def test_the_clock_is_planned_so_that_nineteen_in_twenty_are_ready(make_product: Make) -> None:
    forecast = run(make_product(), complete({}), ready_by_min=8 * 60)
    last = forecast.steps[-1]
    first = forecast.steps[0]
    assert first.start_clock.endswith("the day before")
    hour, minute = (int(part) for part in first.start_clock[:5].split(":"))
    assert (24 * 60 - (hour * 60 + minute)) + 8 * 60 == pytest.approx(last.end.latest_min, abs=1.0)


def test_the_room_follows_the_clock(make_product: Make) -> None:
    known = {"fridge": 4, "tap_water": 12, "flour": 20, "oven_offset": 0, "friction": 0.5, "room": 21}
    steps = tuple(
        step.model_copy(update={"air_c": None}) if step.kind == "proof" else step
        for step in make_product().procedure.steps
    )
    hours = {"room_by_hour": [(0, 16), (12, 27)]}
    night, noon = (run(make_product(steps), complete({**known, **hours}), ready_by_min=hour * 60) for hour in (3, 15))
    assert reading_of(step_of(noon, "proof"), "rise since shaping").p50 > (
        reading_of(step_of(night, "proof"), "rise since shaping").p50 + 0.05
    )


def test_a_setting_for_another_oven_is_carried_over_and_said(make_product: Make, known_kitchen: Kitchen) -> None:
    steps = tuple(
        step.model_copy(update={"oven_kind": "static", "air_c": 190}) if step.kind == "bake" else step
        for step in make_product().procedure.steps
    )
    forecast = run(make_product(steps), known_kitchen)
    assert step_of(forecast, "bake").air_c == 170
    assert any("190 °C is meant for a static oven" in sentence for sentence in forecast.assumed)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        (lambda steps: (), "procedure"),
        (lambda steps: (steps[0].model_copy(update={"minutes": None}), *steps[1:]), "procedure.step.1"),
        (lambda steps: tuple(s.model_copy(update={"air_c": None}) for s in steps), "procedure.step.11"),
        (lambda steps: (*steps, steps[2]), "procedure.step.15"),
    ],
)
def test_a_procedure_that_cannot_be_run_is_refused(
    make_product: Make, known_kitchen: Kitchen, change: Callable[[tuple[Step, ...]], tuple[Step, ...]], field: str
) -> None:
    steps = make_product().procedure.steps
    with pytest.raises(Refusal) as refused:
        run(make_product(change(steps)), known_kitchen)
    assert refused.value.complaints[0].field == field
    assert refused.value.complaints[0].remedy


def test_progress_goes_from_none_to_all(make_product: Make, known_kitchen: Kitchen) -> None:
    told: list[float] = []
    foresee(batch_of(make_product()), known_kitchen, product="t", members=4, progress=told.append)
    assert told[0] == 0.0
    assert told[-1] == 1.0
    assert told == sorted(told)
