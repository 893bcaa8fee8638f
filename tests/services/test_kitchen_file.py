"""A kitchen's TOML: short, commented, and refused with field, value and remedy where it cannot be."""

from pathlib import Path

import pytest

from oventide.errors import Refusal
from oventide.services.foreseeing import read_kitchen, usual_kitchen

DEMO = Path(__file__).parents[2] / "src" / "oventide" / "services" / "demo"


def test_the_demo_kitchen_leaves_only_flour_and_friction_open():
    kitchen = read_kitchen((DEMO / "lantern-quay-kitchen.toml").read_text("utf-8"), "demo")
    assert [sentence.split()[0] for sentence in kitchen.assumed] == ["Flour:", "Mixing"]
    assert kitchen.fridge.low == 3
    assert [entry.hour for entry in kitchen.room_by_hour] == [0, 7, 11, 22]


def test_a_file_with_a_name_alone_is_a_usual_kitchen_with_everything_assumed():
    named = read_kitchen('name = "kitchen"', "kitchen.toml")
    assert named == usual_kitchen()
    assert len(usual_kitchen().assumed) >= 8


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("room = 18\nfridge = 19", "kitchen.fridge"),
        ("room = 200", "kitchen.room"),
        ("room = nan", "kitchen"),
        ("room = '21 C'", "kitchen.room"),
        ("room = [19, 21]", "kitchen.room"),
        ("room = '23-21-19'", "kitchen.room"),
        ("fridge = ", "kitchen"),
        ("[room_by_hour\n6 = 17", "kitchen"),
        ("[[room_by_hour]]\nhour = 6\ncelsius = 17\n[[room_by_hour]]\nhour = 5\ncelsius = 18", "kitchen.room_by_hour"),
        ("oven_kind = 'steam'", "kitchen.oven_kind"),
        ("oven = 170", "kitchen.oven"),
        ("", "kitchen"),
        ("scale_step_g = 0", "kitchen.scale_step_g"),
        ("altitude_m = 1e9", "kitchen.altitude_m"),
        ("assumed = 'abc'", "kitchen.assumed"),
        ("x = " + "[" * 5000, "kitchen"),
    ],
)
def test_kitchens_that_cannot_be_are_refused(text, field):
    with pytest.raises(Refusal) as caught:
        read_kitchen(text, "kitchen.toml")
    assert any(complaint.field.startswith(field) for complaint in caught.value.complaints)
    assert all(complaint.remedy for complaint in caught.value.complaints)
