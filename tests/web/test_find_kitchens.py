"""Kitchens beside each other, and how well each figure is known."""

import re
from typing import TYPE_CHECKING

import pytest

from oventide.kitchen.complete import complete
from oventide.units.estimate import Estimate
from oventide.web.figures import Units
from oventide.web.range_marks import axis_of, bar_of, known_of, words_of

if TYPE_CHECKING:
    from fastapi.testclient import TestClient


def estimate(low: float, likely: float, high: float) -> Estimate:
    return Estimate(low=low, likely=likely, high=high)


@pytest.mark.parametrize("degree", ["c", "f"])
@pytest.mark.parametrize("step", [False, True])
@pytest.mark.parametrize("ends", [(17, 26), (-12, 15), (0.18, 0.95), (4, 4), (-30, 320)])
def test_an_axis_holds_what_is_drawn_on_it(ends: tuple[float, float], step: bool, degree: str) -> None:
    units = Units(degree)
    one = estimate(ends[0], sum(ends) / 2, ends[1])
    axis = axis_of([one], step, units)
    assert axis.low <= ends[0]
    assert axis.high >= ends[1]
    assert 2 <= len(axis.ticks) <= 7
    assert [axis.ticks[0][0], axis.ticks[-1][0]] == [0, 100]
    bar = bar_of(one, axis, True, step, units)
    assert 0 <= bar.start <= bar.start + bar.width <= 100
    assert bar.start <= bar.likely <= bar.start + bar.width or bar.width == 0.8


def test_words_follow_the_switch() -> None:
    assert words_of(estimate(-8, -2, 4), True, Units("f")) == "−14.4 to 7.2\u202f°F, likely −3.6\u202f°F"
    assert words_of(Estimate.certain(20), False, Units("f")) == "68\u202f°F"


def test_what_was_measured_and_what_is_assumed_are_told_apart() -> None:
    known = {each.name: each for each in known_of(complete({"room": estimate(18, 20, 22)}), Units())}
    assert known["room"].bar.given
    assert not known["fridge"].bar.given
    assert known["fridge"].bar.width > known["room"].bar.width * 0.9


def test_kitchens_stand_on_one_scale(client: "TestClient") -> None:
    client.app.state.shelf.save_kitchen(complete({"name": "Netloft <b>", "room": estimate(15, 16, 18)}))
    page = client.get("/kitchens").text
    assert "2 kitchens" in page
    assert "Netloft &lt;b&gt;" in page
    assert "15–18\u202f°C, likely 16\u202f°C" in page
    room = page.split(">Room</h2>")[1].split("</section>")[0]
    assert re.findall(r'class="(rm-given|rm-assumed)"', room) == ["rm-given", "rm-given"]
    fridge = page.split(">Fridge</h2>")[1].split("</section>")[0]
    assert re.findall(r'class="(rm-given|rm-assumed)"', fridge) == ["rm-assumed", "rm-given"]


def test_more_kitchens_than_can_be_compared_stand_a_dozen_at_a_time(client: "TestClient") -> None:
    for number in range(14):
        client.app.state.shelf.save_kitchen(complete({"name": f"Shed {number}"}))
    assert "15 kitchens, page 1 of 2" in client.get("/kitchens").text
    assert "Lantern Quay bakehouse" in client.get("/kitchens?page=2").text


def test_a_kitchen_shows_how_well_each_figure_is_known(client: "TestClient") -> None:
    page = client.get("/kitchens/lantern-quay-bakehouse").text
    assert page.count('class="rm-given"') >= 4
    assert page.count('class="rm-assumed"') >= 1
    assert 'class="rm-given"' not in client.get("/kitchens/new").text
