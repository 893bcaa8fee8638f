"""Two bakes in the same kitchens, side by side: what the other tin, oven or dairy does to the timeline.

Both timelines are run with the same seed, so that member by member the kitchens are the same ones and the change of a
figure has a range of its own, narrower than the figure's.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.forecast.foresee import check_procedure, ensemble_for
from oventide.forecast.hot import core_target_c
from oventide.kitchen.model import Kitchen
from oventide.timeline.batch import Batch
from oventide.timeline.run import run_timeline
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import StepTrace, Trace
from oventide.travel.model import Figure, figure_of_members

Array = NDArray[np.float64]
Progress = Callable[[float], None]


@dataclass(frozen=True)
class Measure:
    """One figure of a timeline, by member (M,); infinite where it is not reached by `horizon`."""

    unit: str
    values: Array
    horizon: float | None = None


def measures(trace: Trace, kitchen: Kitchen) -> dict[str, Measure]:
    """The figures that a baker compares: the night's rise, the proof, core, colours, loss, minutes to done."""
    found: dict[str, Measure] = {}
    for step in trace.steps:
        if step.step.kind == "mix":
            found["dough after mixing"] = Measure("°C", step.at_end("mean_c"))
        if step.step.kind in ("bulk", "retard") and step.kernel == "hold":
            found[f"rise at the end of the {'night' if step.step.kind == 'retard' else 'first rise'}"] = Measure(
                "×", step.at_end("rise")
            )
        if step.step.kind == "proof" and step.kernel == "hold":
            found["rise at the end of proof, since shaping"] = Measure(
                "×", step.at_end("rise") / step.facts["shaped_rise"]
            )
    baked = [step for step in trace.steps if step.step.kind == "bake"]
    if baked:
        last = baked[-1]
        found["core at the end of the bake"] = Measure("°C", last.at_end("core_c"))
        found["minutes in the oven until the core is done"] = _done(baked, core_target_c(kitchen.altitude_m))
        found["colour on top"] = Measure("ΔE", last.at_end("colour_top"))
        found["colour of the base"] = Measure("ΔE", last.at_end("colour_base"))
        found["bake loss"] = Measure("%", 100.0 * last.at_end("loss"))
    return found


def _done(baked: list[StepTrace], goal_c: float) -> Measure:
    """Minutes from the oven's door until the core reaches `goal_c`, looked for in every stretch of the bake."""
    members = baked[0].start_s.shape[0]
    minutes, before = np.full(members, np.inf), np.zeros(members)
    for place, step in enumerate(baked):
        seconds = step.first_passage("core_c", goal_c)
        last = place == len(baked) - 1
        here = np.isfinite(seconds) & (last | (seconds <= step.duration_s)) & ~np.isfinite(minutes)
        minutes = np.where(here, (before + seconds) / 60.0, minutes)
        before = before + step.duration_s
    horizon = float(np.median(before - baked[-1].duration_s) + baked[-1].sample_s[-1]) / 60.0
    return Measure("min", minutes, horizon)


def run(batch: Batch, kitchen: Kitchen, members: int, seed: int, progress: Progress | None = None) -> Trace:
    """The timeline of a batch in a kitchen, without a clock on the wall."""
    check_procedure(batch.procedure)
    return run_timeline(batch, kitchen, ensemble_for(kitchen, members, seed), Clock(), progress)


def beside(
    before: tuple[Batch, Kitchen],
    after: tuple[Batch, Kitchen],
    members: int,
    seed: int,
    progress: Progress | None = None,
) -> tuple[tuple[str, Figure, Figure, Figure], ...]:
    """What is measured, before, after, and the change kitchen by kitchen. Rows in the order of the timeline."""

    def half(start: float) -> Progress | None:
        return None if progress is None else lambda share: progress(start + 0.5 * share)

    one = measures(run(*before, members, seed, half(0.0)), before[1])
    other = measures(run(*after, members, seed, half(0.5)), after[1])
    rows = []
    for name, here in one.items():
        there = other.get(name)
        if there is None:
            continue
        both = np.isfinite(here.values) & np.isfinite(there.values)
        change = there.values[both] - here.values[both] if both.any() else np.zeros(1)
        rows.append(
            (
                name,
                figure_of_members(name, here.unit, here.values, here.horizon),
                figure_of_members(name, there.unit, there.values, there.horizon),
                figure_of_members(name, "K" if here.unit == "°C" else here.unit, change),
            )
        )
    return tuple(rows)
