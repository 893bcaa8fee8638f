"""What is compared step by step between two bakes of the same kitchens: minutes, and what a baker looks for.

A figure is the members' own (M,), so that a change can be taken kitchen by kitchen.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

import numpy as np
from numpy.typing import NDArray

from oventide.dough.fat import thresholds
from oventide.evidence.parameters import load
from oventide.forecast.hot import core_target_c
from oventide.forecast.words import step_words
from oventide.kitchen.model import Kitchen
from oventide.timeline.passage import met_after_s
from oventide.timeline.trace import StepTrace, Trace
from oventide.travel.compared import Measure

Array = NDArray[np.float64]


@dataclass(frozen=True)
class StepMeasures:
    """One step of one bake."""

    index: int
    kind: str
    name: str
    covered: bool
    minutes: Measure
    figures: dict[str, Measure]


def by_step(trace: Trace, kitchen: Kitchen) -> tuple[StepMeasures, ...]:
    """Every step's minutes and figures, in the order of the timeline."""
    return tuple(
        StepMeasures(
            index=step.index,
            kind=step.step.kind,
            name=step_words(step.step).name,
            covered=step.step.covered,
            minutes=Measure("min", step.duration_s / 60.0),
            figures=_figures(step, kitchen),
        )
        for step in trace.steps
    )


def alike(some: Sequence[StepMeasures], others: Sequence[StepMeasures]) -> list[tuple[int | None, int | None]]:
    """Which step stands beside which, by kind and order; None where the other bake has no such step."""
    keys = [[(step.kind, step.covered and step.kind == "bake") for step in steps] for steps in (some, others)]
    pairs: list[tuple[int | None, int | None]] = []
    for what, a, b, c, d in SequenceMatcher(None, keys[0], keys[1], autojunk=False).get_opcodes():
        if what == "equal":
            pairs += zip(range(a, b), range(c, d), strict=True)
        else:
            pairs += [(place, None) for place in range(a, b)]
            pairs += [(None, place) for place in range(c, d)]
    return pairs


def _figures(trace: StepTrace, kitchen: Kitchen) -> dict[str, Measure]:
    kind = trace.step.kind
    if kind == "mix":
        return {"dough temperature": Measure("°C", trace.at_end("mean_c"))}
    if trace.kernel == "hold":
        return _cold(trace)
    if kind == "bake":
        return _baked(trace, core_target_c(kitchen.altitude_m))
    if kind == "glaze":
        return {"crust surface at the first stroke": Measure("°C", trace.at_start("surface_c"))}
    if kind == "cool":
        cut_c = load("timeline").value("reading.cut_below")
        passed = trace.first_passage("centre_c", cut_c, rising=False)
        return {
            "core": Measure("°C", trace.at_end("centre_c")),
            f"minutes until {cut_c:.0f} °C inside": _minutes(trace, passed),
        }
    if trace.kernel == "keep":
        return {
            "softness, fresh is 100": Measure("%", 100.0 * trace.at_end("softness")),
            "weight lost since the oven": Measure("%", 100.0 * trace.at_end("lost")),
        }
    return {}


def _minutes(trace: StepTrace, seconds: Array) -> Measure:
    return Measure("min", seconds / 60.0, float(trace.sample_s[-1]) / 60.0)


def _target(trace: StepTrace) -> dict[str, Measure]:
    """Minutes to the step's own target, where it has one that the kernel shows."""
    met, target = met_after_s(trace), trace.step.target
    if met is None or target is None:
        return {}
    words = {
        "rise": f"minutes to a rise of {target.value:g}",
        "core_c": f"minutes until {target.value:.0f} °C inside",
        "dough_c": f"minutes until the dough has {target.value:.0f} °C",
        "surface_c": f"minutes until the surface has {target.value:.0f} °C",
        "colour": f"minutes until a colour of ΔE {target.value:.0f}",
        "solid_fat": f"minutes until {100 * target.value:.0f} % of the butter is solid",
    }[target.measure]
    return {words: _minutes(trace, met)}


def _cold(trace: StepTrace) -> dict[str, Measure]:
    kind = trace.step.kind
    found: dict[str, Measure] = {}
    if kind == "proof":
        found["rise since shaping"] = Measure("×", trace.at_end("rise") / trace.facts["shaped_rise"])
    elif kind in ("bulk", "retard"):
        found["rise since mixing"] = Measure("×", trace.at_end("rise"))
    if kind in ("retard", "chill", "proof"):
        found["core"] = Measure("°C", trace.at_end("core_c"))
    else:
        found["dough temperature"] = Measure("°C", trace.at_end("mean_c"))
    if kind not in ("bulk", "proof"):
        found["butter that is solid"] = Measure("%", 100.0 * trace.at_end("solid_fat"))
    if kind in ("sheet", "spread", "roll"):
        soft = trace.first_passage("solid_fat", thresholds().too_soft, rising=False)
        found["minutes until too soft"] = _minutes(trace, soft)
    return found | _target(trace)


def _baked(trace: StepTrace, goal_c: float) -> dict[str, Measure]:
    found = {"core": Measure("°C", trace.at_end("core_c"))}
    own = _target(trace)
    found |= own or {f"minutes until {goal_c:.0f} °C inside": _minutes(trace, trace.first_passage("core_c", goal_c))}
    if not trace.step.covered:
        found["colour on top"] = Measure("ΔE", trace.at_end("colour_top"))
        found["colour of the base"] = Measure("ΔE", trace.at_end("colour_base"))
    return found | {"loss so far": Measure("%", 100.0 * trace.at_end("loss"))}
