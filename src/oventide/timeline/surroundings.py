"""What surrounds the dough in a step: the air and its history, the films, the cover, the wall or bench beneath."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.kitchen.model import Kitchen
from oventide.kitchen.room import room_at
from oventide.timeline.container import Films, films, sides
from oventide.timeline.drying import Drying, dry
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
    sides_per_m2: Array
    """(M,) what the sides add, see `container.sides`."""
    side: Array
    """(M,) film and wall beside it [W/(m²·K)]."""
    drying: Drying | None = None
    """Where the top lies open."""


@dataclass(frozen=True)
class Dough:
    """What the surroundings must know of the dough: (M,) its mean [°C] and conductivity [W/(m·K)], its mass."""

    mean_c: Array
    conductivity: Array
    mass_kg: float


@dataclass(frozen=True)
class Clock:
    """Where the first step stands on the clock. `start_h` is its hour of the day, None where nothing is planned."""

    start_h: float | None = None


def air_history(
    step: Step,
    kitchen: Kitchen,
    ensemble: Ensemble,
    clock: Clock,
    start_s: Array,
    horizon_s: float,
    load_k_kg: Array | None = None,
) -> tuple[Array, Array]:
    """Air that the dough feels during a step outside the oven: (A,) s and (M, A) °C.

    A step's own `air_c` is taken as the likely air, with the spread of the kitchen's figure for that place. The
    room follows its hourly figures where the kitchen has them and the clock is known, shifted for each member by
    how far that member's room lies from the likely one. Warm dough warms a fridge for a while: `load_k_kg` (M,) is its
    mass times how much warmer it is than the fridge [K·kg].
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
        return _loaded(own["fridge"] + colder, kitchen, ensemble, load_k_kg, horizon_s)
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


def _loaded(
    celsius: Array, kitchen: Kitchen, ensemble: Ensemble, load_k_kg: Array | None, horizon_s: float
) -> tuple[Array, Array]:
    """The fridge's air after warm dough was put in: up at once, back with the fridge's own time constant."""
    draws = ensemble.of("timeline")
    steady = np.array([0.0, max(horizon_s, 1.0)])
    if load_k_kg is None or float(np.max(load_k_kg)) < 1.0:
        return steady, np.ascontiguousarray(np.repeat(celsius[:, None], 2, axis=1))
    slower = 1.0 if kitchen.fridge_kind == "still" else load("timeline").value("fridge.fan_share")
    most = load("timeline").value("fridge.most_rise")
    up = np.minimum(most, np.maximum(load_k_kg, 0.0) * draws["fridge.rise_per_load"] * slower)
    back_s = 60.0 * draws["fridge.recovery"]
    knots = float(np.median(back_s)) * np.array([0.0, 0.35, 0.8, 1.5, 2.7, 5.0])
    air_s = np.unique(np.append(knots[knots < horizon_s], max(horizon_s, 1.0)))
    return air_s, np.ascontiguousarray(celsius[:, None] + up[:, None] * np.exp(-air_s[None, :] / back_s[:, None]))


def surround(
    step: Step,
    body: Body,
    kitchen: Kitchen,
    ensemble: Ensemble,
    clock: Clock,
    start_s: Array,
    horizon_s: float,
    dough: Dough,
) -> Surroundings:
    """Films, covers and air of a step outside the oven."""
    draws = ensemble.of("timeline")
    load_k_kg = dough.mass_kg * np.maximum(0.0, dough.mean_c - ensemble.of("kitchen")["fridge"])
    air_s, air_c = air_history(step, kitchen, ensemble, clock, start_s, horizon_s, load_k_kg)
    film = _film(step, kitchen, draws)
    open_top = not step.covered if body.container is None else body.container.cover == "open"
    if body.container is not None:
        over = films(body.container, film, draws)
    else:
        wall = 1.0 / (1.0 / film + draws["container.wall_resistance"])
        bottom = draws["tin.base_film"] if body.form == "pieces" else wall
        over = Films(1.0 / (1.0 / film + draws["cover.resistance"]) if step.covered else film, bottom, wall)
    drying = None
    if open_top and step.where != "prover" and step.kind != "spread":
        drying = dry(step, film, air_c[:, 0], dough.mean_c, ensemble, horizon_s)
        over = Films(drying.film, over.bottom, over.side)
    side = np.asarray(draws["container.side_share"] * over.side)
    beside = sides(body, side, dough.conductivity)
    top, under = over.top * body.top_factor, over.bottom * body.bottom_factor
    on_bench = body.form == "sheet" and step.where in ("room", "bench")
    return Surroundings(
        air_s, air_c, np.ascontiguousarray(top), np.ascontiguousarray(under), on_bench, beside, side, drying
    )


def _film(step: Step, kitchen: Kitchen, draws: Mapping[str, Array]) -> Array:
    if step.where in ("fridge", "freezer"):
        return draws["film.fridge_fan" if kitchen.fridge_kind == "fan" else "film.fridge_still"]
    return draws["film.prover" if step.where == "prover" else "film.room_air"]
