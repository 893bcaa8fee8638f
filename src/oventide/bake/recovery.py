"""The oven's air after the door: it drops, the load drinks heat, the elements bring it back.

Three lumps: air with racks and elements, the inner walls, and the load. A thermostat calls for power by what is
missing; the elements follow late and have a most that they can give. Few figures, wide priors: `oven.*` of bake.toml.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.matter.water import latent_heat_j_kg

Array = NDArray[np.float64]
_STEP_S = 5.0
_FOLLOWED_S = 1500.0
"""After so long the air is taken to stay where it is."""
_SAMPLES_S = np.concatenate(
    [np.arange(0.0, 120.0, 15.0), np.arange(120.0, 600.0, 60.0), [600.0, 900.0, 1200.0, 1500.0]]
)


class Load(NamedTuple):
    """What goes into the oven: its mass with the tins [kg], its plan [m2] and its temperature [°C]."""

    mass_kg: float
    plan_m2: float
    temperature_c: Array


def door_drop(open_s: Array | float, door_time_s: Array | float) -> Array:
    """Share of the way to the room that the air goes while the door is open [1]: 1 - exp(-t/τ).

    >>> round(float(door_drop(30.0, 39.0)), 2)
    0.54
    """
    return np.asarray(1.0 - np.exp(-np.asarray(open_s) / door_time_s))


def air_after_loading(
    oven_kind: str, setting_c: Array, room_c: Array, into: Load, draws: dict[str, Array], steam_kg: float = 0.0
) -> tuple[Array, Array]:
    """Air from the door's closing on: times (A,) [s] and temperatures (M, A) [°C].

    `setting_c` is the oven's true air once it stands, (M,). `steam_kg` is water thrown or injected at loading: its heat
    of evaporation comes out of the inner walls.
    """
    power = draws[f"oven.power_{oven_kind}"]
    exchange = draws[f"oven.wall_exchange_{oven_kind}"]
    air_heat, wall_heat = draws[f"oven.air_heat_{oven_kind}"], draws[f"oven.wall_heat_{oven_kind}"]
    standing, lag = draws[f"oven.standing_loss_{oven_kind}"], draws["oven.element_lag"]
    value = load("bake").value
    drop = door_drop(draws["oven.door_open"], draws["oven.door_time"]) * (setting_c - room_c)
    air = setting_c - drop
    wall = setting_c - draws["oven.wall_share_of_drop"] * drop - steam_kg * latent_heat_j_kg(100.0) / wall_heat
    held = standing * (setting_c - room_c)
    given = held.copy()
    load_c = np.array(into.temperature_c, dtype=np.float64)
    takes = value("oven.load_film") * 2.0 * into.plan_m2
    load_heat = max(1.0, into.mass_kg * value("oven.load_heat"))
    found = np.empty((len(setting_c), len(_SAMPLES_S)))
    found[:, 0] = air
    spot = 1
    for step in range(1, math.ceil(_FOLLOWED_S / _STEP_S) + 1):
        wanted = np.clip(held + value("oven.thermostat_gain") * (setting_c - air), 0.0, power)
        given = given + _STEP_S / lag * (wanted - given)
        to_load = takes * (air - load_c)
        # the air is the quick lump: backward Euler
        air = (air_heat / _STEP_S * air + exchange * wall + standing * room_c + takes * load_c + given) / (
            air_heat / _STEP_S + exchange + standing + takes
        )
        wall = wall + _STEP_S * exchange * (air - wall) / wall_heat
        load_c = np.minimum(100.0, load_c + _STEP_S * to_load / load_heat)
        if spot < len(_SAMPLES_S) and step * _STEP_S >= _SAMPLES_S[spot]:
            found[:, spot] = air
            spot += 1
    return _SAMPLES_S.copy(), np.ascontiguousarray(found)
