"""A kitchen from what the baker knows: priors said aloud, nonsense refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.evidence.parameters import draw
from oventide.kitchen.complete import complete
from oventide.kitchen.limits import check_oven_setting
from oventide.kitchen.model import Kitchen
from oventide.kitchen.room import room_at
from oventide.kitchen.unknowns import unknowns
from oventide.units.estimate import Estimate


def complaint_of(given: dict[str, object]) -> dict[str, str]:
    with pytest.raises(Refusal) as caught:
        complete(given)
    for complaint in caught.value.complaints:
        assert complaint.problem
        assert complaint.remedy
    return {complaint.field: complaint.given for complaint in caught.value.complaints}


def test_empty_kitchen_names_every_assumption() -> None:
    kitchen = complete({})
    text = " ".join(kitchen.assumed)
    words = ("Room", "Fridge", "Tap water", "Proof", "Flour", "Oven", "Mixing", "Bench", "Tin", "Altitude", "Scales")
    for word in words:
        assert word in text
    assert (kitchen.room.low, kitchen.room.likely, kitchen.room.high) == (17, 21, 26)
    assert kitchen.flour.likely == kitchen.room.likely
    assert kitchen.proof is None


def test_given_figures_are_kept_and_not_called_assumed() -> None:
    room = Estimate(low=18, likely=19, high=20)
    kitchen = complete({"room": room, "fridge": 3, "oven_kind": "deck", "mixer": "spiral", "altitude_m": 640})
    assert kitchen.room == room
    assert kitchen.fridge.is_certain
    assert kitchen.altitude_m == 640
    assert not any(sentence.startswith(("Room", "Fridge: 3", "Altitude", "Mixer")) for sentence in kitchen.assumed)
    assert kitchen.oven_offset.high == 10
    assert kitchen.friction.likely == 0.55


def test_a_kitchen_goes_through_again_unchanged() -> None:
    kitchen = complete({"room": 24, "room_by_hour": [(5, 18), (15, 27)]})
    again = complete({name: getattr(kitchen, name) for name in Kitchen.model_fields})
    assert again == kitchen
    assert complete(kitchen.model_dump()) == kitchen


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"fridge": 19, "room": 18}, "kitchen.fridge"),
        ({"fridge": 15, "room": 10}, "kitchen.fridge"),
        ({"room": 46}, "kitchen.room"),
        ({"room": -6}, "kitchen.room"),
        ({"room": float("nan")}, "kitchen.room"),
        ({"room": "warm"}, "kitchen.room"),
        ({"altitude_m": 6001}, "kitchen.altitude_m"),
        ({"altitude_m": -431}, "kitchen.altitude_m"),
        ({"scale_step_g": 0}, "kitchen.scale_step_g"),
        ({"fine_step_g": -0.1}, "kitchen.fine_step_g"),
        ({"oven_kind": "campfire"}, "kitchen.oven_kind"),
        ({"mixer": "drill"}, "kitchen.mixer"),
        ({"tin": "gold"}, "kitchen.tin"),
        ({"room_by_hour": [(8, 18), (7, 19)]}, "kitchen.room_by_hour"),
        ({"room_by_hour": [(8, 18), (8, 19)]}, "kitchen.room_by_hour"),
        ({"room_by_hour": [(24, 18)]}, "kitchen.room_by_hour"),
        ({"room_by_hour": [(8, 60)]}, "kitchen.room_by_hour"),
        ({"rooom": 20}, "kitchen.rooom"),
    ],
)
def test_refusals_name_field_and_value(given: dict[str, object], field: str) -> None:
    assert field in complaint_of(given)


def test_all_complaints_come_at_once() -> None:
    found = complaint_of({"room": 99, "mixer": "drill", "altitude_m": 9000})
    assert set(found) == {"kitchen.room", "kitchen.mixer", "kitchen.altitude_m"}


def test_unknown_kind_says_what_is_allowed() -> None:
    with pytest.raises(Refusal, match="convection, static, deck"):
        complete({"oven_kind": "campfire"})


def test_near_miss_of_a_field_is_offered() -> None:
    with pytest.raises(Refusal, match="Did you mean altitude_m"):
        complete({"altitude": 300})


def test_cold_room_takes_no_warmer_fridge() -> None:
    assert complete({"room": 3}).fridge.likely == 3


@pytest.mark.parametrize("celsius", [79.9, 300.1, 900, float("nan"), -20])
def test_oven_setting_refused(celsius: float) -> None:
    with pytest.raises(Refusal):
        check_oven_setting(celsius, "step.bake")


def test_oven_setting_in_fahrenheit_is_hinted() -> None:
    with pytest.raises(Refusal, match="177 °C"):
        check_oven_setting(350)


def test_oven_settings_allowed() -> None:
    for celsius in (80, 170, 300):
        check_oven_setting(celsius)


@given(st.floats(-48, 72))
def test_room_by_hour_wraps_midnight(hour: float) -> None:
    kitchen = complete({"room_by_hour": [(4, 17), (15, 25), (23, 21)]})
    assert room_at(kitchen, hour) == pytest.approx(room_at(kitchen, hour + 24), abs=1e-9)
    assert 17 <= room_at(kitchen, hour) <= 25


def test_room_between_last_and_first_hour() -> None:
    kitchen = complete({"room_by_hour": [(4, 17), (22, 23)]})
    assert room_at(kitchen, 1.0) == pytest.approx(20)  # half way of the six hours from 22 to 4


def test_constant_room() -> None:
    assert np.all(room_at(complete({"room": 19}), [0, 12, 30]) == 19)


def test_unknowns_draw_inside_and_keep_certain_figures() -> None:
    kitchen = complete({"fridge": 4})
    drawn = draw(unknowns(kitchen), members=256, seed=3)
    assert np.all(drawn["fridge"] == 4)
    assert "flour" not in drawn  # it moves with the room
    share = np.mean((drawn["room"] >= 17) & (drawn["room"] <= 26))
    assert share == pytest.approx(0.9, abs=0.03)
    assert np.all(drawn["friction"] > 0)
