"""Common practice of the trade, no source: the whole coupled timeline beside what bakers say of one kind of bun.

A rolled enriched bun of 80-90 g, nine in a 20 cm square tin, after a night in the fridge. Nothing was tuned to it.
Where the likely value misses, the miss is pinned by its size, so that a change of a law shows here as what it is.
"""

import pytest

from oventide.forecast.foresee import foresee
from oventide.forecast.model import Forecast, Reading
from oventide.formula.model import Component, Formula, Line
from oventide.kitchen.complete import complete
from oventide.makeup.model import Geometry, MakeUp, Tin
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Procedure, Product, Span, Step
from oventide.units.estimate import Estimate


def _line(grams: float, ingredient: str) -> Line:
    return Line(text=ingredient, name=ingredient, ingredient=ingredient, grams=Estimate.certain(grams))


def _step(kind: str, minutes: float, spread: float = 0.0, **more: object) -> Step:
    span = Span(low=minutes - spread, likely=minutes, high=minutes + spread)
    return Step.model_validate({"kind": kind, "minutes": span, **more})


def _product(dough_g: float = 577.0) -> Product:
    """An enriched dough (12 % sugar, 29 % butter, 1.6 % instant yeast), butter and sugar spread on it."""
    shares = {
        "flour_bread_unenriched": 290,
        "milk_whole_unfort": 105,
        "egg_whole": 52,
        "sugar_granulated": 35,
        "salt_table": 5.5,
        "yeast_instant_dry": 4.6,
        "butter_unsalted": 85,
    }
    factor = dough_g / sum(shares.values())
    lines = tuple(_line(grams * factor, name) for name, grams in shares.items())
    inside = (_line(75 * factor, "butter_unsalted"), _line(110 * factor, "sugar_brown"))
    steps = (
        _step("mix", 15, target={"measure": "dough_c", "value": 24}),
        _step("bulk", 45, covered=True),
        _step("retard", 720, where="fridge", covered=True),
        _step("sheet", 8, 2, where="bench"),
        _step("spread", 6, 2, where="bench"),
        _step("roll", 4, 1),
        _step("chill", 15, where="fridge", covered=True),
        _step("cut", 4, 1),
        _step("tin", 3, 1),
        _step("proof", 60, covered=True, air_c=27),
        _step("bake", 20, where="oven", air_c=170, covered=True, oven_kind="convection"),
        _step("bake", 10, where="oven", air_c=170, oven_kind="convection"),
        _step("glaze", 3),
        _step("cool", 40),
    )
    components = (
        Component(kind="dough", name="Dough", lines=lines),
        Component(kind="spread", name="Spread", lines=inside),
    )
    tin = Tin(shape="square", length_mm=200, width_mm=200)
    return Product(
        name="Practice",
        formula=Formula(name="Practice", components=components),
        makeup=MakeUp(sheet_length_mm=300, sheet_width_mm=300, pieces=9, tin=tin),
        procedure=Procedure(steps=steps),
    )


@pytest.fixture(scope="module")
def geometry() -> Geometry:
    return batch_of(_product(500.0)).geometry


@pytest.fixture(scope="module")
def forecast() -> Forecast:
    kitchen = complete(
        {
            "room": Estimate(low=21, likely=22, high=23),
            "flour": Estimate(low=21, likely=22, high=23),
            "fridge": Estimate(low=4, likely=5, high=6),
            "tap_water": 14,
            "oven_offset": Estimate(low=-5, likely=0, high=5),
            "friction": Estimate(low=0.3, likely=0.45, high=0.6),
            "oven_kind": "convection",
        }
    )
    return foresee(batch_of(_product()), kitchen, product="practice", members=200, seed=1)


def _reading(forecast: Forecast, kind: str, name: str, covered: bool | None = None) -> Reading:
    step = next(s for s in forecast.steps if s.kind == kind and (covered is None or s.covered == covered))
    return next(reading for reading in step.readings if reading.name.startswith(name))


def test_half_a_kilo_on_thirty_centimetres_gives_nine_with_room_to_grow(geometry: Geometry) -> None:
    """Practice: nine for such a tin, with room to grow. A grid of nine, under half full as set."""
    assert geometry.layout == "grid 3 × 3"
    assert geometry.gap_mm > 10
    assert geometry.fill_before < 0.5


def test_miss_the_nine_do_not_quite_fill_the_tin(geometry: Geometry) -> None:
    """MISS. Practice: baked, they fill the tin and kiss. Ours, grown alike in all directions: 7 mm short of that."""
    short_mm = geometry.pitch_mm - 2 * geometry.bake_radius_mm
    assert 5.0 < short_mm < 9.0


def test_miss_ten_to_twenty_minutes_in_the_fridge_firm_the_outside_of_a_soft_log(forecast: Forecast) -> None:
    """MISS. Practice: 10-20 min. Likely 21 min for the outer 8 mm, since melted fat sets with time; the core later."""
    assert 19 <= _reading(forecast, "chill", "minutes until the outside is firm").p50 <= 23
    assert _reading(forecast, "chill", "minutes until firm to the core").reached < 0.5


def test_an_hour_of_warm_covered_proof_after_the_night_gives_a_moderate_rise(forecast: Forecast) -> None:
    """Practice: about ×1.3-1.6 on just shaped."""
    assert 1.3 <= _reading(forecast, "proof", "rise since shaping").p50 <= 1.6


def test_twenty_minutes_covered_and_ten_open_at_170_come_out_done(forecast: Forecast) -> None:
    """Practice: done. Core within 6 °C of boiling, and set at the coldest point."""
    assert _reading(forecast, "bake", "core", covered=False).p50 >= 94
    assert _reading(forecast, "bake", "crumb set", covered=False).p50 >= 98


def test_miss_colour_is_too_pale(forecast: Forecast) -> None:
    """MISS. Practice: golden, ΔE 20 and more. Ours: likely about 15 (light golden); golden lies inside the window."""
    colour = _reading(forecast, "bake", "colour", covered=False)
    assert 12 < colour.p50 < 19
    assert colour.p5 < 20 < colour.p95


def test_miss_loss_is_too_small(forecast: Forecast) -> None:
    """MISS, by 0.1 points. Practice: 6-10 % with cooling (remembered). Ours: likely 5.9 %; 6 lies inside the window."""
    loss = _reading(forecast, "cool", "loss")
    assert 5.7 < loss.p50 < 6.0
    assert loss.p95 > 6.0
