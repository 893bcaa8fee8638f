"""What surrounds the dough in a step: the air and its history, the films, the cover, the wall or bench beneath."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.kitchen.model import Kitchen
from oventide.kitchen.room import room_at
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.procedure import Step
from oventide.timeline.shape import Body

Array = NDArray[np.float64]

_HOURLY_S = 900.0


@dataclass(frozen=True)
class Surroundings:
    """Air history (A,) s from the step's start and (M, A) °C; film with cover over the body, (M,) W/(m²·K) each."""

    air_s: Array
    air_c: Array
    h_top: Array
    h_bottom: Array
    on_bench: bool


@dataclass(frozen=True)
class Clock:
    """Where the first step stands on the clock. `start_h` is its hour of the day, None where nothing is planned."""

    start_h: float | None = None


def _series(film: Array, *resistances: Array) -> Array:
    total = 1.0 / film
    for resistance in resistances:
        total = total + resistance
    return np.asarray(1.0 / total)


def air_history(
    step: Step, kitchen: Kitchen, ensemble: Ensemble, clock: Clock, start_s: Array, horizon_s: float
) -> tuple[Array, Array]:
    """Air that the dough feels during a step outside the oven: (A,) s and (M, A) °C.

    A step's own `air_c` is taken as the likely air, with the spread of the kitchen's figure for that place. The
    room follows its hourly figures where the kitchen has them and the clock is known, shifted for each member by
    how far that member's room lies from the likely one.
    """
    own = ensemble.of("kitchen")
    flat = np.array([0.0, max(horizon_s, 1.0)])

    def steady(celsius: Array) -> tuple[Array, Array]:
        return flat, np.ascontiguousarray(np.repeat(celsius[:, None], 2, axis=1))

    if step.where == "freezer":
        return steady(
            np.full(ensemble.members, load("timeline").value("place.freezer") if step.air_c is None else step.air_c)
        )
    if step.where == "fridge":
        colder = 0.0 if step.air_c is None else step.air_c - kitchen.fridge.likely
        return steady(own["fridge"] + colder)
    if step.where == "prover" or (step.kind == "proof" and kitchen.proof is not None and step.air_c is None):
        base, likely = (own["proof"], kitchen.proof.likely) if kitchen.proof else (own["room"], kitchen.room.likely)
        return steady(base + (0.0 if step.air_c is None else step.air_c - likely))
    if step.air_c is not None:
        return steady(own["room"] + step.air_c - kitchen.room.likely)
    if kitchen.room_by_hour and clock.start_h is not None:
        count = max(2, int(np.ceil(horizon_s / _HOURLY_S)) + 1)
        air_s = np.linspace(0.0, max(horizon_s, 1.0), count)
        hours = clock.start_h + (float(np.median(start_s)) + air_s) / 3600.0
        profile = room_at(kitchen, hours)
        shift = own["room"] - kitchen.room.likely
        return air_s, np.ascontiguousarray(profile[None, :] + shift[:, None])
    return steady(own["room"])


def surround(
    step: Step, body: Body, kitchen: Kitchen, ensemble: Ensemble, clock: Clock, start_s: Array, horizon_s: float
) -> Surroundings:
    """Films, covers and air of a step outside the oven."""
    draws = ensemble.of("timeline")
    air_s, air_c = air_history(step, kitchen, ensemble, clock, start_s, horizon_s)
    film = _film(step, kitchen, draws)
    top = _series(film, draws["cover.resistance"]) if step.covered else film
    top = top * body.top_factor
    on_bench = body.form == "sheet" and step.where in ("room", "bench")
    bottom = draws["tin.base_film"] if body.form == "pieces" else _series(film, draws["container.wall_resistance"])
    bottom = bottom * body.bottom_factor
    return Surroundings(air_s, air_c, np.ascontiguousarray(top), np.ascontiguousarray(bottom), on_bench)


def _film(step: Step, kitchen: Kitchen, draws: Mapping[str, Array]) -> Array:
    if step.where in ("fridge", "freezer"):
        return draws["film.fridge_fan" if kitchen.fridge_kind == "fan" else "film.fridge_still"]
    return draws["film.prover" if step.where == "prover" else "film.room_air"]
