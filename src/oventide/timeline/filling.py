"""The filling in the timeline: from the spreading on, how much water its sugar has drawn, read at the end of each step.

Nothing comes back from here to the dough: the water that it loses, a hundredth or two of its weight, is left out of
proof and bake.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oventide.dough.weep import DoughWater, Filling, Layers, Weep, dough_water, travelled_m2, weep
from oventide.evidence.parameters import load
from oventide.timeline.batch import Batch
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]
_LEAST_SUGAR_G = 1.0
_TOLD = ("retard", "chill", "proof")
"""Steps at whose end the syrup is reckoned; elsewhere only the way that water has come is added up."""


@dataclass(frozen=True)
class FillingPast:
    """What the filling has been through: ∫ D dt flat and rolled (M,) [m²]."""

    filling: Filling
    layers: Layers
    water: DoughWater
    flat_m2: Array
    rolled_m2: Array
    spread: bool = False
    rolled: bool = False
    celsius: Array | None = None
    """Dough temperature when last looked at."""
    runs_g: Array | None = None
    """Syrup that runs, each piece, once it is reckoned for how things stand."""


def begin(batch: Batch, draws: Mapping[str, Array]) -> FillingPast | None:
    """The filling before it is spread; None where it has no sugar."""
    filling = batch.filling
    if filling is None or filling.sugars_g < _LEAST_SUGAR_G:
        return None
    geometry, density = batch.geometry, batch.physics.density
    area = geometry.sheet_length_mm * geometry.sheet_width_mm * geometry.sheets / 1e6
    half = 0.5 * batch.dough.mass_g / 1000.0 / density / area
    layers = Layers(area, half, geometry.piece_height_mm / 1000.0, geometry.pieces)
    bound, moisture = draws["flour.bound_water"], load("yeast").value("flour.moisture")
    nothing = np.zeros_like(bound)
    return FillingPast(filling, layers, dough_water(batch.dough, density, bound, moisture), nothing, nothing)


def after(
    past: FillingPast | None, trace: StepTrace, draws: Mapping[str, Array]
) -> tuple[FillingPast | None, StepTrace]:
    """The filling after a step, and the step's trace with the filling's facts, each piece [g]."""
    if past is None:
        return None, trace
    kind = trace.step.kind
    past = replace(past, spread=past.spread or kind == "spread", rolled=past.rolled or kind == "roll")
    pieces = past.layers.pieces
    if trace.kernel == "oven" and kind == "bake" and past.celsius is not None:
        if past.runs_g is None:
            past = replace(past, runs_g=_now(past, past.celsius, draws).runs_g / pieces)
        assert past.runs_g is not None
        return past, _with(trace, {"weep_runs_g": past.runs_g})
    if trace.kernel != "hold" or not (past.spread or past.rolled):
        return past, trace
    way = travelled_m2(trace.sample_s, trace.curve("mean_c"), draws, trace.duration_s)
    rolled = float(past.rolled)
    past = replace(past, flat_m2=past.flat_m2 + (1.0 - rolled) * way, rolled_m2=past.rolled_m2 + rolled * way)
    past = replace(past, celsius=trace.at_end("mean_c"), runs_g=None)
    if kind not in _TOLD:
        return past, trace
    now = _now(past, trace.at_end("mean_c"), draws)
    facts = {
        "weep_drawn_g": now.drawn_g / pieces,
        "weep_syrup_g": now.syrup_g / pieces,
        "weep_runs_g": now.runs_g / pieces,
        "weep_starch_g": now.starch_needed_g,
    }
    return replace(past, runs_g=facts["weep_runs_g"]), _with(trace, facts)


def _now(past: FillingPast, celsius: Array, draws: Mapping[str, Array]) -> Weep:
    return weep(past.filling, past.water, past.layers, past.flat_m2, past.rolled_m2, celsius, draws)


def _with(trace: StepTrace, facts: dict[str, Array]) -> StepTrace:
    return replace(trace, facts={**trace.facts, **facts})
