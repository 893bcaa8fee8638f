"""The section through the tin is the kernel's own state, and agrees with a run without stops."""

import numpy as np
import pytest

from oventide.errors import Refusal
from oventide.forecast.in_section import low_likely_high
from oventide.formula.model import Formula
from oventide.services.at_the_door import Doors
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.tin_section import TinSection, tin_section
from oventide.timeline.procedure import Product
from oventide.timeline.section import watch

MEMBERS = 40


@pytest.fixture(scope="module")
def doors() -> Doors:
    return Doors()


@pytest.fixture(scope="module")
def section(doors: Doors) -> TinSection:
    return tin_section(demo_product(), demo_kitchen(), "07:30", doors=doors, members=MEMBERS)


def test_carried_from_minute_to_minute_it_is_the_run_without_stops(doors: Doors, section: TinSection) -> None:
    door = doors.peek(demo_product(), demo_kitchen(), "07:30", members=MEMBERS)
    assert door is not None
    who = low_likely_high(door.ahead.trace)
    seen = watch(door.mark, who, door.ahead.clock)
    bakes = [step for step in door.ahead.trace.steps if step.step.kind == "bake"]
    end = int(np.flatnonzero(seen.step == bakes[-1].index)[-1])
    assert seen.seconds[end] == sum(step.duration_s[0] for step in bakes)
    for name, ours, tolerance in (
        ("core_c", seen.core_c, 0.3),
        ("colour_top", seen.colour_top, 0.3),
        ("loss", seen.loss, 0.002),
        ("height_mm", seen.top_mm[:, :, -1], 0.6),
    ):
        whole = bakes[-1].at_end(name)[who]
        assert np.abs(ours[:, end] - whole).max() < tolerance, name


def test_every_minute_has_its_cells_and_they_stand_on_each_other(section: TinSection) -> None:
    assert [kitchen.which for kitchen in section.kitchens] == ["low", "likely", "high"]
    for kitchen in section.kitchens:
        tops = np.array(kitchen.top_mm)
        assert tops.shape == np.array(kitchen.temperature_c).shape == np.array(kitchen.water_percent).shape
        assert tops.shape[0] == len(section.minutes)
        assert (np.diff(tops, axis=1) > 0).all()
        assert np.allclose(tops[:, -1], kitchen.height_mm, atol=0.06)
        # it springs in the oven, and the crust dries while the crumb keeps its water
        assert max(kitchen.height_mm) > kitchen.height_mm[0]
        water = np.array(kitchen.water_percent)
        assert water[-1, -1] < 0.5 * water[0, -1]
        assert abs(water[-1, 16] - water[0, 16]) < 3.0
    low, likely, high = (max(kitchen.core_c) for kitchen in section.kitchens)
    assert low < likely < high
    assert section.stays[0].covered
    assert [stay.name for stay in section.stays] == ["Bake covered", "Bake open", "Glaze", "Cool"]
    assert section.stays[-1].ends_min == section.minutes[-1]


def test_a_bun_by_the_wall_is_ahead_of_the_centre_one(doors: Doors) -> None:
    product = demo_product()
    tin = product.makeup.tin
    assert tin is not None
    narrow = product.model_copy(
        update={"makeup": product.makeup.model_copy(update={"tin": tin.model_copy(update={"width_mm": 170.0})})}
    )
    found = tin_section(narrow, demo_kitchen(), doors=doors, members=MEMBERS)
    likely = found.kitchens[1]
    places = {place.position: place for place in likely.places}
    assert set(places) <= {"edge", "corner"}
    assert places
    for place in places.values():
        bake = len(place.core_c)
        assert bake == 1 + round(found.stays[1].ends_min)
        assert (np.array(place.temperature_c) >= np.array(likely.temperature_c)[:bake] - 0.11).all()
        assert max(place.core_c) > max(likely.core_c[:bake])


def test_without_a_bake_there_is_nothing_to_cut(doors: Doors) -> None:
    with pytest.raises(Refusal, match="There is no bake"):
        tin_section(Product(name="Dough", formula=Formula(name="Dough")), demo_kitchen(), doors=doors)
