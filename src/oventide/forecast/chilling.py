"""How dough cools in the fridge in what it stands in, and how thin it must lie to be cold in time.

One question asked of the one simulation: the product's dough, mixed to a temperature, put into a container in the
kitchen's fridge. `depth_for` turns it round by trying a few depths.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.forecast import cold
from oventide.forecast.drivers import Drivers
from oventide.forecast.foresee import ensemble_for
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.formula.composition import Composition
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch
from oventide.timeline.procedure import Container, Procedure, Span, Step
from oventide.timeline.run import run_timeline
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

DEPTHS_MM = (15.0, 25.0, 40.0, 60.0, 85.0, 120.0)
"""Depths that are tried."""
_LOOKED_AT_H = 18.0


@dataclass(frozen=True)
class Chilled:
    """Dough in one container. Readings hold 5, 50 and 95 of 100 kitchens."""

    container: Container
    depth_mm: float
    """Of the dough, freshly mixed."""
    hours: float
    minutes_to_cold: Reading
    core: Reading
    """Inside, after `hours` [°C]."""
    rise: Reading
    """Volume over freshly mixed, after `hours`."""
    warmest: Reading
    """The most that the inside comes to [°C]: dough that is blown warms up."""


@dataclass(frozen=True)
class DepthAdvice:
    """How thin dough must lie. A depth is None where not even the thinnest that was tried is cold in time."""

    hours: float
    cold_c: float
    likely_mm: float | None
    """In one kitchen of two."""
    careful_mm: float | None
    """In 19 kitchens of 20."""
    tried: tuple[Chilled, ...]


def chill(
    batch: Batch,
    kitchen: Kitchen,
    container: Container,
    *,
    hours: float = 10.0,
    dough_c: float | None = None,
    dough_kg: float | None = None,
    members: int = 200,
    seed: int = 1,
) -> Chilled:
    """Put a batch's dough into a container and the container into the fridge.

    `dough_c` [°C] is the dough as measured after mixing (else it is reckoned), `dough_kg` its mass (else the
    formula's). Refuses hours beyond two days.
    """
    if not 0.0 < hours <= 48.0:
        raise refuse("hours", f"{hours:g} h", "A stay in the fridge is looked at up to 48 h.", "Give 1 to 48 hours.")
    minutes = 60.0 * max(hours, _LOOKED_AT_H)
    steps = (
        _mixing(batch, dough_c),
        Step(
            kind="retard",
            where="fridge",
            minutes=Span(low=minutes, likely=minutes, high=minutes),
            covered=container.cover != "open",
            container=container,
        ),
    )
    sized = batch if dough_kg is None else replace(batch, dough=_scaled(batch.dough, dough_kg))
    trace = run_timeline(
        replace(sized, procedure=Procedure(steps=steps)), kitchen, ensemble_for(kitchen, members, seed), Clock()
    )
    stay = trace.steps[1]
    reader = Reader(Drivers(trace.ensemble))
    return _read(stay, reader, container, hours)


def _read(stay: StepTrace, reader: Reader, container: Container, hours: float) -> Chilled:
    then = np.full(stay.samples.shape[0], 3600.0 * hours)
    cold_c = load("timeline").value("reading.cold_enough")
    law, sources = cold.HEAT_LAW, cold.HEAT_SOURCES
    return Chilled(
        container=container,
        depth_mm=1000.0 * float(np.median(stay.facts["depth_m"])),
        hours=hours,
        minutes_to_cold=cold.minutes_until(
            reader, stay, f"minutes until {cold_c:.0f} °C inside", "core_c", cold_c, False, law, sources
        ),
        core=reader.read("core", "°C", stay.at("core_c", then), law, sources),
        rise=reader.read("rise since mixing", "×", stay.at("rise", then), cold.GAS_LAW, cold.GAS_SOURCES),
        warmest=reader.read("warmest inside", "°C", stay.curve("core_c").max(axis=1), law, sources),
    )


def depth_for(
    batch: Batch,
    kitchen: Kitchen,
    container: Container,
    *,
    hours: float,
    dough_c: float | None = None,
    dough_kg: float | None = None,
    members: int = 64,
    seed: int = 1,
) -> DepthAdvice:
    """The depth at which dough is cold inside after `hours`, in a container of this kind with a floor to suit.

    A few depths are tried, from the thinnest on, until none of the kitchens looked at is cold in time; between them
    the time goes with a power of the depth.
    """
    tried: list[Chilled] = []
    wanted = 60.0 * hours
    for depth in DEPTHS_MM:
        part = container.model_copy(update={"depth_mm": depth, "length_mm": None, "width_mm": None})
        tried.append(
            chill(
                batch, kitchen, part, hours=hours, dough_c=dough_c, dough_kg=dough_kg, members=members, seed=seed
            )
        )  # fmt: skip
        if tried[-1].minutes_to_cold.p5 > wanted:
            break
    return DepthAdvice(
        hours=hours,
        cold_c=load("timeline").value("reading.cold_enough"),
        likely_mm=_depth_at([each.minutes_to_cold.p50 for each in tried], wanted),
        careful_mm=_depth_at([each.minutes_to_cold.p95 for each in tried], wanted),
        tried=tuple(tried),
    )


def _depth_at(minutes: list[float], wanted: float) -> float | None:
    """Depth [mm] whose time is `wanted`, on straight lines in the logarithms; None where the thinnest takes longer."""
    if minutes[0] > wanted:
        return None
    times = np.maximum.accumulate(np.maximum(np.array(minutes), 1.0))
    depths = np.array(DEPTHS_MM[: len(minutes)])
    return float(np.exp(np.interp(np.log(wanted), np.log(times), np.log(depths))))


def _mixing(batch: Batch, dough_c: float | None) -> Step:
    written = next((step for step in batch.procedure.steps if step.kind == "mix"), None)
    if written is None or written.minutes is None:
        written = Step(kind="mix", minutes=Span(low=10.0, likely=10.0, high=10.0))
    return written.model_copy(update={"dough_c": dough_c if dough_c is not None else written.dough_c})


def _scaled(dough: Composition, kilograms: float) -> Composition:
    """The same dough, more or less of it."""
    if not 0.0 < kilograms <= 1000.0:
        raise refuse("dough", f"{kilograms:g} kg", "Dough weighs from a few grams to 1,000 kg here.", "Give its mass.")
    factor = 1000.0 * kilograms / dough.mass_g
    masses = {name: getattr(dough, name) * factor for name in Composition.model_fields if name.endswith("_g")}
    return dough.model_copy(update=masses)
