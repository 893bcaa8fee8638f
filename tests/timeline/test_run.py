"""The coupling: what one kernel hands to the next is neither lost nor made, and the grid is fine enough."""

from collections.abc import Callable

import numpy as np
import pytest

from oventide.forecast.foresee import ensemble_for
from oventide.formula.model import Component, Formula, Line
from oventide.kitchen.complete import complete
from oventide.makeup.model import MakeUp, Tin
from oventide.timeline import passage
from oventide.timeline.batch import Batch, batch_of
from oventide.timeline.grid import graded_faces
from oventide.timeline.procedure import Procedure, Product, Span, Step, Target
from oventide.timeline.run import run_timeline
from oventide.timeline.surroundings import Clock
from oventide.timeline.through_oven import on_other_cells
from oventide.timeline.trace import Trace
from oventide.units.estimate import Estimate


def _line(grams: float, ingredient: str) -> Line:
    return Line(text=ingredient, name=ingredient, ingredient=ingredient, grams=Estimate.certain(grams))


def _span(minutes: float) -> Span:
    return Span(low=minutes, likely=minutes, high=minutes)


@pytest.fixture(scope="module")
def batch() -> Batch:
    dough = Component(
        kind="dough",
        name="Dough",
        lines=(
            _line(300, "flour_bread_unenriched"),
            _line(130, "milk_whole_unfort"),
            _line(36, "sugar_granulated"),
            _line(5, "salt_table"),
            _line(4.5, "yeast_instant_dry"),
            _line(75, "butter_unsalted"),
        ),
    )
    steps = (
        Step(kind="mix", minutes=_span(12), target=Target(measure="dough_c", value=24)),
        Step(kind="bulk", minutes=_span(40), covered=True),
        Step(kind="retard", minutes=_span(600), where="fridge", covered=True),
        Step(kind="sheet", minutes=_span(10), where="bench"),
        Step(kind="roll", minutes=_span(4)),
        Step(kind="tin", minutes=_span(5)),
        Step(kind="proof", minutes=_span(70), covered=True, air_c=27),
        Step(kind="bake", minutes=_span(20), where="oven", air_c=170, covered=True),
        Step(kind="bake", minutes=_span(10), where="oven", air_c=170),
        Step(kind="cool", minutes=_span(30)),
    )
    product = Product(
        name="coupling",
        formula=Formula(name="coupling", components=(dough,)),
        makeup=MakeUp(
            sheet_length_mm=300, sheet_width_mm=300, pieces=9, tin=Tin(shape="square", length_mm=200, width_mm=200)
        ),
        procedure=Procedure(steps=steps),
    )
    return batch_of(product)


@pytest.fixture(scope="module")
def run(batch: Batch) -> Callable[[int], Trace]:
    kitchen = complete({"fridge": 4, "room": 21, "flour": 20, "tap_water": 12, "oven_offset": 0, "friction": 0.5})

    def go(members: int) -> Trace:
        return run_timeline(batch, kitchen, ensemble_for(kitchen, members, 1), Clock())

    return go


def test_temperature_goes_on_where_the_body_stays(run: Callable[[int], Trace]) -> None:
    steps = run(4).steps
    bulk, retard = steps[1], steps[2]
    assert retard.at_start("mean_c") == pytest.approx(bulk.at_end("mean_c"), abs=1e-9)
    tin, proof = steps[5], steps[6]
    for name in ("mean_c", "core_c", "rise", "sugar_g"):
        assert proof.at_start(name) == pytest.approx(tin.at_end(name), abs=1e-9)


def test_nothing_but_gas_is_lost_at_the_make_up(run: Callable[[int], Trace]) -> None:
    steps = run(4).steps
    retard, sheet = steps[2], steps[3]
    for name in ("sugar_g", "co2_made_mmol", "ethanol_g"):
        assert sheet.at_start(name) == pytest.approx(retard.at_end(name), rel=1e-9)
    assert (sheet.at_start("rise") - 1.0 < 0.5 * (retard.at_end("rise") - 1.0)).all()


def test_heat_is_handed_over_at_the_oven_door(run: Callable[[int], Trace]) -> None:
    steps = run(4).steps
    assert steps[7].at_start("mean_c") == pytest.approx(steps[6].at_end("mean_c"), abs=1e-6)
    assert (steps[7].at_start("loss") == 0).all()


def test_the_bake_goes_on_when_the_cover_comes_off(run: Callable[[int], Trace]) -> None:
    steps = run(4).steps
    for name in ("mean_c", "core_c", "loss", "colour_top", "set_coldest"):
        assert steps[8].at_start(name) == pytest.approx(steps[7].at_end(name), abs=0.05)


def test_other_cells_hold_the_same_heat() -> None:
    coarse, fine = graded_faces(12), graded_faces(24)
    values = np.random.default_rng(5).uniform(0, 30, (3, 12))
    moved = on_other_cells(values, coarse, fine)
    assert moved @ np.diff(fine) == pytest.approx(values @ np.diff(coarse), rel=1e-12)
    assert on_other_cells(values, coarse, coarse) == pytest.approx(values, rel=1e-9)


def test_ten_cells_are_enough_outside_the_oven(run: Callable[[int], Trace], monkeypatch: pytest.MonkeyPatch) -> None:
    usual = run(1)
    monkeypatch.setattr(passage, "HOLD_CELLS", 36)
    fine = run(1)
    for index in range(1, 7):
        assert usual.steps[index].at_end("mean_c") == pytest.approx(fine.steps[index].at_end("mean_c"), abs=0.1)
        assert usual.steps[index].at_end("core_c") == pytest.approx(fine.steps[index].at_end("core_c"), abs=0.1)
        assert usual.steps[index].at_end("rise") == pytest.approx(fine.steps[index].at_end("rise"), abs=0.01)
