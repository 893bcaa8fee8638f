"""Questions about a stay in the fridge: how cold and how risen dough is in its box, and whether a filling weeps."""

import numpy as np

from oventide.dough.weep import Layers, dough_water
from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.forecast.chilling import DepthAdvice, chill, depth_for
from oventide.forecast.filling import WEEP_LAW, weep_answer
from oventide.forecast.model import Reading
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch
from oventide.timeline.procedure import Container
from oventide.travel.model import Figure, Told, once

_DEPTH_STEP_MM = 5.0
DEEPEST_MM = 300.0
"""Walls of a box whose floor alone was given, and the deepest that dough may stand on a floor."""


def figure_of_reading(reading: Reading) -> Figure:
    """A reading of the forecast as a figure."""
    return Figure(
        name=reading.name, unit=reading.unit, low=reading.p5, likely=reading.p50, high=reading.p95,
        reached=reading.reached, valid=reading.valid,
    )  # fmt: skip


def chilled(
    batch: Batch,
    kitchen: Kitchen,
    container: Container,
    *,
    hours: float,
    dough_c: float | None,
    dough_kg: float | None,
    members: int = 200,
    seed: int = 1,
) -> Told:
    """Dough into the fridge in `container`: cold inside when, how risen after `hours`, and how thin it should lie."""
    mass = dough_kg if dough_kg is not None else batch.dough.mass_g / 1000.0
    _check_floor(container, mass / batch.physics.density)
    found = chill(
        batch, kitchen, container, hours=hours, dough_c=dough_c, dough_kg=dough_kg, members=members, seed=seed
    )
    thin = depth_for(
        batch, kitchen, container, hours=hours, dough_c=dough_c, dough_kg=dough_kg, members=min(members, 64), seed=seed
    )
    parts = "one piece" if container.pieces == 1 else f"{container.pieces} pieces"
    readings = (found.minutes_to_cold, found.core, found.rise, found.warmest)
    figures = [figure_of_reading(reading) for reading in readings]
    figures[1] = figures[1].model_copy(update={"name": f"inside after {hours:g} h"})
    figures[2] = figures[2].model_copy(update={"name": f"risen since mixing after {hours:g} h"})
    return Told(
        asked=f"{mass:.2f} kg dough in {parts}, {found.depth_mm / 10:.1f} cm deep, {hours:g} h in the fridge",
        figures=tuple(figures),
        because=once((found.minutes_to_cold.because, found.rise.because)),
        do=_thinner(thin, found.depth_mm, hours),
        cautions=(
            "Dough with egg and milk is perishable: the hours that it may be above fridge temperature are for your "
            "local "
            "food code.",
        ),
        assumed=kitchen.assumed,
        sources=once((*found.minutes_to_cold.sources, *found.rise.sources)),
    )


def _check_floor(container: Container, dough_m3: float) -> None:
    """Refuse a floor on which the dough would stand deeper than any box."""
    if container.length_mm is None or container.width_mm is None:
        return
    deep_mm = 1e9 * dough_m3 / container.pieces / (container.length_mm * container.width_mm)
    if deep_mm > DEEPEST_MM:
        raise refuse(
            "floor", f"{container.width_mm / 10:g} x {container.length_mm / 10:g} cm",
            f"The dough would stand {deep_mm / 10:.0f} cm deep on it; no box is deeper than {DEEPEST_MM / 10:g} cm.",
            "Check the sizes and their unit, or divide the dough with --pieces.",
        )  # fmt: skip


def _thinner(thin: DepthAdvice, depth_mm: float, hours: float) -> tuple[str, ...]:
    """How thin the dough should lie, in half centimetres."""

    def centimetres(depth: float) -> str:
        return f"{max(1, int(depth / _DEPTH_STEP_MM)) * _DEPTH_STEP_MM / 10:g} cm"

    if thin.likely_mm is None:
        return (
            f"No depth that was tried is at {thin.cold_c:.0f} °C inside within {hours:g} h: mix it colder, divide "
            "it, or use a "
            "colder or moving fridge.",
        )
    careful = (
        f"; {centimetres(thin.careful_mm)} is thin enough in 19 kitchens of 20"
        if thin.careful_mm is not None
        else "; in one kitchen of 20 no depth is thin enough, because its fridge is too warm: measure yours"
    )
    if thin.likely_mm >= depth_mm:
        return (f"As it lies it is cold in time, likely{careful}.", "Put it where the air reaches it from all sides.")
    return (
        f"Spread it to {centimetres(thin.likely_mm)} or thinner to have it at {thin.cold_c:.0f} °C inside within "
        f"{hours:g} h{careful}.",
        "Leave the lid off for the first half hour, then cover it; press it flat again after an hour if it has domed.",
        "Mix it colder: every degree less when it leaves the mixer is a head start that lasts all night.",
    )


def weeping(batch: Batch, hours: float, celsius: float, members: int = 1000, seed: int = 1) -> Told:
    """The batch's spread and filling rolled up for `hours` at `celsius`: how much syrup, does it run, what to do."""
    if batch.filling is None or batch.filling.sugars_g < 1.0:
        raise refuse(
            "spread", "no sugar", "There is no sugar in the spread to draw water.", "Name what is spread on it."
        )
    if not 0.0 < hours <= 96.0:
        raise refuse("hours", f"{hours:g} h", "A roll is looked at up to four days.", "Give 1 to 96 hours.")
    geometry = batch.geometry
    area = geometry.sheet_length_mm * geometry.sheet_width_mm * geometry.sheets / 1e6
    density = batch.physics.density
    layers = Layers(area, 0.5 * batch.dough.mass_g / 1000.0 / density / area, geometry.piece_height_mm / 1000.0,
                    geometry.pieces)  # fmt: skip
    yeast = load("yeast")
    water = dough_water(
        batch.dough, density, np.full(members, yeast.value("flour.bound_water")), yeast.value("flour.moisture")
    )
    found = weep_answer(batch.filling, water, layers, hours, celsius, members, seed)
    filling = batch.filling
    return Told(
        asked=f"{filling.sugars_g:.0f} g sugar and {filling.fat_g:.0f} g fat on {10_000 * area:.0f} cm² of dough, "
        f"{hours:g} h at {celsius:g} °C",
        figures=tuple(figure_of_reading(reading) for reading in found.readings),
        because=once(
            (found.readings[0].because, *(each.because.removeprefix(WEEP_LAW).strip() for each in found.readings[3:4]))
        ),
        do=found.to_do or ("Nothing need be done: the filling holds what it draws.",),
        cautions=("Syrup that runs out is as hot as the tin in the oven: it burns skin, and it sticks.",),
        assumed=(
            "The sugar is strewn on the butter." if filling.layered else "Sugar and butter are creamed together.",
            "Rolled up at once; the temperature stays the same.",
        ),
        sources=once(key for reading in found.readings for key in reading.sources),
    )
