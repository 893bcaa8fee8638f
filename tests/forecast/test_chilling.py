"""Dough in a box in the fridge: the bench's questions of a deep box, of thin slabs, and of how thin it must lie."""

import pytest

from oventide.errors import Refusal
from oventide.forecast.chilling import Chilled, chill, depth_for
from oventide.intake import product_toml
from oventide.kitchen.complete import complete
from oventide.timeline.batch import Batch, batch_of
from oventide.timeline.procedure import Container

TEXT = """
name = "Rich dough"
[[component]]
lines = [
  "1000 g strong white flour", "400 g whole milk", "200 g egg", "350 g unsalted butter", "120 g caster sugar",
  "18 g salt", "16 g instant yeast",
]
[makeup]
sheet = "40 x 30 cm"
pieces = 12
"""
KITCHEN = complete({"fridge": 5.0, "room": 20.0})


@pytest.fixture(scope="module")
def batch() -> Batch:
    return batch_of(product_toml.read(TEXT))


def put(batch: Batch, container: Container) -> Chilled:
    return chill(batch, KITCHEN, container, hours=10.0, dough_c=25.5, dough_kg=4.0, members=32)


def test_four_kilos_in_a_deep_box_take_hours_and_blow(batch: Batch) -> None:
    """Expected: hours, not minutes; not cold by the morning, and well risen."""
    box = put(batch, Container(depth_mm=120, cover="lid"))
    assert box.depth_mm == pytest.approx(120.0)
    assert box.minutes_to_cold.p5 > 600.0
    assert box.core.p50 > 12.0
    assert box.rise.p50 > 1.8


def test_four_thin_slabs_are_cold_hours_before_the_box(batch: Batch) -> None:
    slabs, box = put(batch, Container(depth_mm=40, pieces=4)), put(batch, Container(depth_mm=120))
    assert 180.0 < slabs.minutes_to_cold.p50 < box.minutes_to_cold.p50
    assert slabs.core.p50 < box.core.p50 - 5.0
    assert slabs.rise.p50 < box.rise.p50


def test_a_lid_slows_and_steel_hastens(batch: Batch) -> None:
    plain = put(batch, Container(length_mm=330, width_mm=250))
    assert put(batch, Container(length_mm=330, width_mm=250, cover="lid")).core.p50 > plain.core.p50
    assert put(batch, Container(length_mm=330, width_mm=250, wall="steel")).core.p50 < plain.core.p50


def test_the_depth_that_is_cold_in_time(batch: Batch) -> None:
    """Thinner for less time, and thinner for nearly every kitchen than for one of two."""
    night = depth_for(batch, KITCHEN, Container(depth_mm=40), hours=10.0, dough_c=25.5, dough_kg=4.0, members=32)
    short = depth_for(batch, KITCHEN, Container(depth_mm=40), hours=5.0, dough_c=25.5, dough_kg=4.0, members=32)
    assert night.likely_mm is not None
    assert short.likely_mm is not None
    assert 20.0 < night.likely_mm <= 60.0
    assert short.likely_mm < night.likely_mm
    assert night.careful_mm is None or night.careful_mm < night.likely_mm


def test_what_cannot_be_looked_at_is_refused(batch: Batch) -> None:
    with pytest.raises(Refusal):
        chill(batch, KITCHEN, Container(depth_mm=40), hours=100.0)
    with pytest.raises(Refusal):
        chill(batch, KITCHEN, Container(depth_mm=40), dough_kg=0.0)
