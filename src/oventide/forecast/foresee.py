"""The forecast: one run of the timeline over the ensemble, read off step by step."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from oventide.dough.state import parameters as dough_parameters
from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.forecast import cold, filling, glazing, hot, in_tin, kept
from oventide.forecast.clock import clock_words
from oventide.forecast.drivers import Drivers
from oventide.forecast.model import Forecast, Reading, StepForecast, Window
from oventide.forecast.narrowing import Measured, narrow
from oventide.forecast.quantiles import quantiles
from oventide.forecast.reading import Reader
from oventide.forecast.tides import tides
from oventide.forecast.validity import SINCE, Ranges
from oventide.forecast.words import step_words
from oventide.kitchen.model import Kitchen
from oventide.kitchen.unknowns import unknowns
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble, draw_ensemble, joined
from oventide.timeline.procedure import Procedure
from oventide.timeline.run import Mark, run_timeline
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]
Progress = Callable[[float], None]

SCOUTS = 16
_ASIDE = 7919
"""Added to the seed of the figures that are drawn by themselves."""
READY_QUANTILE = 0.95
"""The start is planned so that this share of the kitchens is ready by the time asked."""

_COLD = {
    "bulk": cold.bulk_readings,
    "retard": cold.retard_readings,
    "temper": cold.temper_readings,
    "sheet": cold.bench_readings,
    "spread": cold.bench_readings,
    "roll": cold.bench_readings,
    "cut": cold.handled_readings,
    "tin": cold.handled_readings,
    "chill": cold.chill_readings,
    "proof": cold.proof_readings,
}


def ensemble_for(kitchen: Kitchen, members: int, seed: int) -> Ensemble:
    """Every uncertain figure of the models and of the kitchen, drawn together."""
    rooms = {
        "kitchen": unknowns(kitchen),
        "timeline": list(load("timeline").parameters.values()),
        "dough": dough_parameters(),
        "matter": list(load("matter").parameters.values()),
        "bake": list(load("bake").parameters.values()),
        "tin": list(load("tin").parameters.values()),
    }
    aside = {room: list(load(room).parameters.values()) for room in ("weep", "keeping")}
    # drawn by themselves: what the filling or a day in a bag hangs on moves no figure of dough and oven
    return joined(draw_ensemble(rooms, members, seed), draw_ensemble(aside, members, seed + _ASIDE))


def check_procedure(procedure: Procedure) -> None:
    """Refuse what cannot be simulated: no steps, a step without length, a bake without a setting, cold after hot."""
    if not procedure.steps:
        raise refuse("procedure", "no steps", "There is nothing to forecast.", "Give the steps, or paste the method.")
    baked = False
    for number, step in enumerate(procedure.steps, start=1):
        field = f"procedure.step.{number}"
        if step.minutes is None:
            raise refuse(field, step.kind, "This step has no length.", "Give its minutes.")
        if step.kind == "bake" and step.air_c is None:
            raise refuse(field, "bake", "The oven has no setting.", "Give the oven's setting in °C or °F.")
        if baked and step.kind not in ("bake", "glaze", "cool", "keep"):
            raise refuse(
                field,
                step.kind,
                "After the bake only glazing, cooling and keeping can follow.",
                "Put the steps in order.",
            )
        baked = baked or step.kind == "bake"


@dataclass(frozen=True)
class Ahead:
    """A timeline that was run, to be read off as often as there is something new to compare it with."""

    trace: Trace
    batch: Batch
    kitchen: Kitchen
    product: str
    start_min: float | None
    """Minute of the day when the first step begins; below 0 the day before."""
    clock: Clock = field(default_factory=Clock)
    """What the room's air was taken by."""


def foresee(
    batch: Batch,
    kitchen: Kitchen,
    *,
    product: str,
    ready_by_min: float | None = None,
    members: int = 200,
    seed: int = 1,
    progress: Progress | None = None,
) -> Forecast:
    """Forecast a batch in a kitchen. `ready_by_min` is the minute of the day when it is to be ready."""
    return read_off(
        look_ahead(
            batch, kitchen, product=product, ready_by_min=ready_by_min, members=members, seed=seed, progress=progress
        )
    )


def look_ahead(
    batch: Batch,
    kitchen: Kitchen,
    *,
    product: str,
    ready_by_min: float | None = None,
    members: int = 200,
    seed: int = 1,
    progress: Progress | None = None,
    marks: dict[int, Mark] | None = None,
) -> Ahead:
    """Run the timeline over the ensemble. `marks` is filled with the dough as each step found it.

    Where the room's temperature follows the clock, the clock hangs on the timeline's own length: a few kitchens are
    then sent ahead to find that length.
    """
    check_procedure(batch.procedure)
    ensemble = ensemble_for(kitchen, members, seed)
    total_min = _planned_min(batch.procedure)
    if ready_by_min is not None and kitchen.room_by_hour:
        scouts = ensemble_for(kitchen, min(members, SCOUTS), seed)
        clock = _clock(ready_by_min, _planned_min(batch.procedure))
        total_min = _total_min(run_timeline(batch, kitchen, scouts, clock))
    clock = _clock(ready_by_min, total_min)
    trace = run_timeline(batch, kitchen, ensemble, clock, progress, marks=marks)
    start_min = None if ready_by_min is None else ready_by_min - _total_min(trace)
    return Ahead(trace, batch, kitchen, product, start_min, clock)


def _clock(ready_by_min: float | None, total_min: float) -> Clock:
    return Clock(None if ready_by_min is None else ((ready_by_min - total_min) / 60.0) % 24.0)


def _total_min(trace: Trace) -> float:
    """Minutes from the first step to being ready, in the share of the kitchens that the plan is made for."""
    return float(np.quantile(_ready_s(trace), READY_QUANTILE)) / 60.0


def _planned_min(procedure: Procedure) -> float:
    return sum(step.minutes.likely for step in procedure.steps if step.minutes is not None and step.kind != "keep")


def _ready_s(trace: Trace) -> Array:
    """(M,) when the buns are ready: the end of the last step that is not keeping."""
    steps = [step for step in trace.steps if step.step.kind != "keep"]
    return steps[-1].start_s + steps[-1].duration_s


def _window(seconds: Array, weights: Array | None) -> Window:
    earliest, likely, latest = (float(value) / 60.0 for value in quantiles(seconds, weights=weights))
    return Window(earliest_min=earliest, likely_min=likely, latest_min=latest)


def readings_of(reader: Reader, trace: StepTrace, whole: Trace, batch: Batch, kitchen: Kitchen) -> list[Reading]:
    """Every reading of one step of the `whole`, made by `reader`."""
    found = _of_the_step(reader, trace, whole, batch, kitchen)
    return found + filling.weep_readings(reader, trace, batch)


def _of_the_step(reader: Reader, trace: StepTrace, whole: Trace, batch: Batch, kitchen: Kitchen) -> list[Reading]:
    kind = trace.step.kind
    if kind == "mix":
        return hot.mix_readings(reader, trace)
    if trace.kernel == "hold":
        found = _COLD[kind](reader, trace) if kind in _COLD else []
        return found + (in_tin.meeting_readings(reader, trace, whole, batch.geometry) if kind == "proof" else [])
    if kind == "bake":
        found = hot.bake_readings(reader, trace, kitchen.altitude_m)
        found += in_tin.position_readings(reader, trace, whole, batch.geometry, kitchen)
        return found + in_tin.meeting_readings(reader, trace, whole, batch.geometry)
    if kind == "glaze":
        return glazing.glaze_readings(reader, trace, whole, batch.glaze, batch.geometry)
    if kind == "keep":
        return kept.keep_readings(reader, trace)
    return hot.cool_readings(reader, trace, whole) if kind == "cool" else []


def read_off(ahead: Ahead, measured: Sequence[Measured] = ()) -> Forecast:
    """The forecast of a timeline that was run; with readings at the bench, of the kitchens that agree with them.

    No kernel runs: this is the forecast from now on, as often as a probe is read.
    """
    trace, batch, kitchen, start_min = ahead.trace, ahead.batch, ahead.kitchen, ahead.start_min
    narrowed = narrow(trace, measured) if measured else None
    weights = narrowed.weights if narrowed is not None else None
    reader = Reader(Drivers(trace.ensemble, weights), weights)
    ranges = Ranges(batch, kitchen, trace.ensemble)
    steps: list[StepForecast] = []
    beyond: dict[str, int] = {}
    for step in trace.steps:
        reader.enter(ranges.of_step(step))
        readings = tuple(readings_of(reader, step, trace, batch, kitchen))
        for sentence in reader.beyond:
            beyond.setdefault(sentence, step.index)
        setting = float(np.median(step.facts["setting_c"])) if "setting_c" in step.facts else None
        words = step_words(step.step, setting)
        start, end = _window(step.start_s, weights), _window(step.start_s + step.duration_s, weights)
        steps.append(
            StepForecast(
                index=step.index,
                kind=step.step.kind,
                name=words.name,
                start=start,
                end=end,
                start_clock="" if start_min is None else clock_words(start_min + start.likely_min),
                end_clock="" if start_min is None else clock_words(start_min + end.likely_min),
                where=step.step.where,
                air_c=setting if setting is not None else step.step.air_c,
                covered=step.step.covered,
                readings=readings,
                action=words.action,
                target=words.target,
                outside=f"{words.outside} {filling.advice(reader, step)}".strip(),
                cautions=words.cautions,
                assumed=(*step.step.assumed, *reader.beyond),
            )
        )
    levels = tides(trace, weights)
    assumed = [*kitchen.assumed, *batch.assumed, *batch.geometry.assumed, *trace.assumed]
    assumed += [f"{steps[index].name}: {said}" for said, index in beyond.items() if not said.startswith(SINCE)]
    if narrowed is not None:
        assumed += narrowed.warnings
    if start_min is not None:
        assumed.append(
            f"The start is planned so that {READY_QUANTILE:.0%} of the kitchens are ready by the time asked."
        )
    return Forecast(
        product=ahead.product,
        kitchen=kitchen.name,
        members=trace.ensemble.members,
        seed=trace.ensemble.seed,
        steps=tuple(steps),
        tides=levels,
        assumed=tuple(dict.fromkeys(assumed)),
        sources=_sources(steps),
    )


def _sources(steps: Iterable[StepForecast]) -> tuple[str, ...]:
    return tuple(sorted({source for step in steps for reading in step.readings for source in reading.sources}))
