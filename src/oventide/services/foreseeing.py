"""Foreseeing: the whole timeline as an ensemble with windows. The seed enters here."""

import re
import tomllib
from collections.abc import Callable
from typing import Any

from oventide.errors import refuse
from oventide.forecast.model import Forecast
from oventide.kitchen.complete import complete
from oventide.kitchen.model import Kitchen
from oventide.timeline.procedure import Product
from oventide.units.estimate import Estimate

MEMBERS = 256
SEED = 1
_RANGED = ("room", "fridge", "proof", "tap_water", "flour", "oven_offset", "friction")


def _figure(field: str, value: Any) -> Any:
    """A figure as a kitchen's file writes it: 21, or [19, 21, 23] for low, likely and high."""
    if not isinstance(value, list):
        return value
    if not (len(value) == 3 and all(isinstance(part, int | float) and not isinstance(part, bool) for part in value)):
        raise refuse(
            f"kitchen.{field}", value, "A range is three numbers: low, likely, high.", f"Write {field} = [19, 21, 23]."
        )
    low, likely, high = (float(part) for part in value)
    if not low <= likely <= high:
        raise refuse(
            f"kitchen.{field}", value, "Low, likely and high must rise in this order.", "Put the three in order."
        )
    return Estimate(low=low, likely=likely, high=high)


def read_kitchen(text: str, name: str) -> Kitchen:
    """A kitchen from its TOML; what it leaves open is a prior, named in `assumed`.

    A figure is a number, or [low, likely, high]; the room by hour is a table of hour and °C:

    >>> kitchen = read_kitchen('room = [18, 20, 22]\\nfridge = 4\\n[room_by_hour]\\n6 = 17\\n13 = 23', "kitchen.toml")
    >>> kitchen.room.high, kitchen.fridge.likely, kitchen.room_by_hour[1].celsius
    (22.0, 4.0, 23.0)
    """
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as trouble:
        place = re.search(r"\(at (.+)\)", str(trouble))
        raise refuse(
            "kitchen",
            name,
            f"This TOML breaks off or has a slip ({place[1] if place else 'nested too deep'}).",
            "Mend the line named; `oventide demo DIR` writes a kitchen to start from.",
        ) from trouble
    given: dict[str, object] = {}
    for field, value in table.items():
        if field == "assumed" and not (isinstance(value, list) and all(isinstance(part, str) for part in value)):
            raise refuse("kitchen.assumed", value, "This is a list of sentences.", "Leave it out, or write a list.")
        if field == "room_by_hour" and isinstance(value, dict):
            try:
                given[field] = [[float(hour), celsius] for hour, celsius in value.items()]
            except ValueError as trouble:
                raise refuse(
                    "kitchen.room_by_hour", value, "Each entry is an hour from 0 to 23.5 and a °C.", "Write 6 = 17.5."
                ) from trouble
        else:
            given[field] = _figure(field, value) if field in _RANGED else value
    return complete(given)


def usual_kitchen() -> Kitchen:
    """A kitchen of which nothing is known: priors only, all of them named in `assumed`."""
    return complete({})


def foresee(
    product: Product,
    kitchen: Kitchen,
    ready_by: str | None = None,
    seed: int = SEED,
    members: int = MEMBERS,
    progress: Callable[[float], None] | None = None,
) -> Forecast:
    """The forecast. `ready_by` is HH:MM, 24 h; without it the clock counts from the first step.

    `progress` is called with the share done, 0 to 1.
    """
    raise NotImplementedError
