"""A kitchen as TOML: short by hand, and the same again when written.

name = "Lantern Quay"
room = 22                 # a figure
fridge = "4-6"            # or a range: low-high, low-likely-high, or [low, likely, high]
oven = "convection"       # convection | static | deck
mixer = "planetary"

[room_by_hour]            # hour of the day = °C
5 = 18
11 = 23

[[room_by_hour]]          # or a table for each hour
hour = 5
celsius = 18
"""

import re
from typing import Any

from pydantic import ValidationError

from oventide.errors import refuse
from oventide.intake.clean import check_size
from oventide.intake.toml_text import estimate, estimate_text, load, number, only, quoted, span, strings, value
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
    if not text.strip("\ufeff \t\r\n"):
        raise refuse(
            "kitchen", "", "There is no kitchen in it.", 'Write at least name = "…"; what is left out is assumed.'
        )
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
            out[_FIGURES[key]] = span(item, field)[1]
        elif key == "room_by_hour":
            out[key] = _hours(item)
        else:
            if not isinstance(item, list):
                raise refuse(field, item, "A list of sentences is expected.", "Delete it, or write a list.")
            out[key] = tuple(str(entry) for entry in item)
    return out


def _by_hour(table: dict[str, object]) -> tuple[RoomHour, ...]:
    """``6 = 17``: hours of the day and °C, in the order of the clock."""
    rows: list[RoomHour] = []
    for key, item in table.items():
        field = f"kitchen.room_by_hour.{key}"
        clock = re.fullmatch(r"(\d{1,2})(?:[:.h](\d{2})?)?", key.strip())
        hour = int(clock[1]) + int(clock[2] or 0) / 60 if clock else -1.0
        if not 0 <= hour < 24 or (clock and int(clock[2] or 0) > 59):
            raise refuse(field, key, "An hour from 0 to below 24 is expected.", 'Write 6 = 17, or "6:30" = 17.5.')
        low, celsius, high = span(item, field)
        if low != high:
            raise refuse(field, item, "One temperature an hour is expected.", "Write 6 = 17.")
        rows.append(RoomHour(hour=hour, celsius=celsius))
    return tuple(sorted(rows, key=lambda row: row.hour))


def _hours(item: object) -> tuple[RoomHour, ...]:
    if isinstance(item, dict):
        return _by_hour(item)
    if not isinstance(item, list):
        raise refuse(
            "kitchen.room_by_hour",
            item,
            "Hours with a temperature each are expected.",
            "Write [room_by_hour] and below it 6 = 17.",
        )
    hours: list[RoomHour] = []
    for at, row in enumerate(item):
        try:
            if isinstance(row, dict) and "celsius" in row:
                span(row["celsius"], f"kitchen.room_by_hour.{at + 1}.celsius")
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
