"""A kitchen as TOML: short by hand, and the same again when written.

name = "Lantern Quay"
room = 22                 # a figure
fridge = "4-6"            # or a range
oven = "convection"       # convection | static | deck
mixer = "planetary"

[[room_by_hour]]
hour = 5
celsius = 18
"""

from typing import Any

from pydantic import ValidationError

from oventide.errors import refuse
from oventide.intake.clean import check_size
from oventide.intake.toml_text import estimate, estimate_text, load, number, only, quoted, strings, value
from oventide.kitchen.complete import complete
from oventide.kitchen.model import Kitchen, RoomHour

_ESTIMATES = ("room", "fridge", "proof", "tap_water", "flour", "oven_offset", "friction")
_WORDS = {
    "name": "name",
    "fridge_kind": "fridge_kind",
    "oven": "oven_kind",
    "oven_kind": "oven_kind",
    "mixer": "mixer",
    "bench": "bench",
    "tin": "tin",
}
_FIGURES = {
    "altitude": "altitude_m", "altitude_m": "altitude_m", "scale_step": "scale_step_g", "scale_step_g": "scale_step_g",
    "fine_step": "fine_step_g", "fine_step_g": "fine_step_g",
    "fine_below": "fine_below_g", "fine_below_g": "fine_below_g",
}  # fmt: skip
KEYS = (*_ESTIMATES, *_WORDS, *_FIGURES, "room_by_hour", "assumed")


def given(text: str) -> dict[str, Any]:
    """What the baker wrote, by the field names of `Kitchen`; nothing is filled in."""
    check_size(text, "kitchen")
    table = load(text, "kitchen")
    only(table, KEYS, "kitchen")
    out: dict[str, Any] = {}
    for key, item in table.items():
        field = f"kitchen.{key}"
        if key in _ESTIMATES:
            out[key] = estimate(item, field)
        elif key in _WORDS:
            if not isinstance(item, str):
                raise refuse(field, item, "A word in quotes is expected.", 'Write "…".')
            out[_WORDS[key]] = item
        elif key in _FIGURES:
            if isinstance(item, bool) or not isinstance(item, int | float):
                raise refuse(field, item, "A figure is expected.", "Write it without quotes and without a unit.")
            out[_FIGURES[key]] = float(item)
        elif key == "room_by_hour":
            out[key] = _hours(item)
        else:
            if not isinstance(item, list):
                raise refuse(field, item, "A list of sentences is expected.", "Delete it, or write a list.")
            out[key] = tuple(str(entry) for entry in item)
    return out


def _hours(item: object) -> tuple[RoomHour, ...]:
    if not isinstance(item, list):
        raise refuse(
            "kitchen.room_by_hour", item, "Each hour is a table of its own.", "Begin each with [[room_by_hour]]."
        )
    hours: list[RoomHour] = []
    for at, row in enumerate(item):
        try:
            hours.append(RoomHour.model_validate(row))
        except ValidationError:
            raise refuse(
                f"kitchen.room_by_hour.{at + 1}",
                row,
                "An hour from 0 to below 24 and a temperature in °C are expected.",
                "Write hour = 5 and celsius = 18.",
            ) from None
    return tuple(hours)


def read(text: str) -> Kitchen:
    """A whole kitchen: what the text gives, and stated priors for the rest.

    >>> read('room = 22\\nfridge = "4-6"\\noven = "static"').fridge.likely
    5.0
    """
    return complete(given(text))


def write(kitchen: Kitchen) -> str:
    """TOML text that reads back as the same kitchen."""
    out = [f"name = {quoted(kitchen.name)}", "", '# Temperatures in °C: a figure, or a range such as "4-6" or "4-5-7".']
    for key in _ESTIMATES:
        item = getattr(kitchen, key)
        if item is not None:
            out.append(f"{key} = {value(estimate_text(item))}")
    out += [
        "",
        f"oven = {quoted(kitchen.oven_kind)}  # convection | static | deck",
        f"fridge_kind = {quoted(kitchen.fridge_kind)}  # still | fan",
    ]
    out += [f"{key} = {quoted(getattr(kitchen, key))}" for key in ("mixer", "bench", "tin")]
    out.append(f"altitude = {number(kitchen.altitude_m)}  # m")
    out.append(f"scale_step = {number(kitchen.scale_step_g)}  # g")
    out.append(f"fine_step = {number(kitchen.fine_step_g)}  # g, on the small scale")
    out.append(f"fine_below = {number(kitchen.fine_below_g)}  # g, lighter lines go on the small scale")
    if kitchen.assumed:
        out.append(f"assumed = {strings(kitchen.assumed)}")
    for hour in kitchen.room_by_hour:
        out += ["", "[[room_by_hour]]", f"hour = {number(hour.hour)}", f"celsius = {number(hour.celsius)}"]
    return "\n".join(out) + "\n"
