"""The oven's air after the door: it drops, the load drinks heat, the elements bring it back.

Three lumps: air with racks and elements, the inner walls, and the load. A thermostat calls for power by what is
missing; the elements follow late and have a most that they can give. Few figures, wide priors: `oven.*` of bake.toml.
"""

import math
from typing import NamedTuple

import numba
import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled_over_members
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


@compiled_over_members
def _follow(figures: Array, samples_s: Array, found: Array) -> None:
    """Air of every member's oven (M, A) [°C] at `samples_s`, from the figures (M, 14) that stand in the first line."""
    for m in numba.prange(figures.shape[0]):
        setting, room, air, wall, load_c = figures[m, 0], figures[m, 1], figures[m, 2], figures[m, 3], figures[m, 4]
        power, exchange, air_heat, wall_heat = figures[m, 5], figures[m, 6], figures[m, 7], figures[m, 8]
        standing, lag, takes, load_heat, gain = (
            figures[m, 9], figures[m, 10], figures[m, 11], figures[m, 12], figures[m, 13],
        )  # fmt: skip
        held = standing * (setting - room)
        given = held
        found[m, 0] = air
        spot = 1
        for step in range(1, math.ceil(_FOLLOWED_S / _STEP_S) + 1):
            wanted = min(power, max(0.0, held + gain * (setting - air)))
            given += _STEP_S / lag * (wanted - given)
            to_load = takes * (air - load_c)
            # the air is the quick lump: backward Euler
            air = (air_heat / _STEP_S * air + exchange * wall + standing * room + takes * load_c + given) / (
                air_heat / _STEP_S + exchange + standing + takes
            )
            wall += _STEP_S * exchange * (air - wall) / wall_heat
            load_c = min(100.0, load_c + _STEP_S * to_load / load_heat)
            if spot < samples_s.shape[0] and step * _STEP_S >= samples_s[spot]:
                found[m, spot] = air
                spot += 1


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
    ones = np.ones_like(air)
    figures = np.stack(
        [
            ones * each
            for each in (
                setting_c, room_c, air, wall, into.temperature_c, power, exchange, air_heat, wall_heat, standing, lag,
                value("oven.load_film") * 2.0 * into.plan_m2, max(1.0, into.mass_kg * value("oven.load_heat")),
                value("oven.thermostat_gain"),
            )
        ],
        axis=1,
    )  # fmt: skip
    found = np.empty((len(setting_c), len(_SAMPLES_S)))
    _follow(figures, _SAMPLES_S, found)
    return _SAMPLES_S.copy(), np.ascontiguousarray(found)
