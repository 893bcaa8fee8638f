"""The dough on its way through the timeline: its state, the body it lies in, and how long a step is looked at."""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from oventide.dough.gas import degas
from oventide.dough.state import P_FRESH_ML
from oventide.evidence.parameters import load
from oventide.kitchen.model import Kitchen
from oventide.timeline import shape
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.filling import FillingPast
from oventide.timeline.grid import graded_faces
from oventide.timeline.hold import HoldState
from oventide.timeline.kept import Kept
from oventide.timeline.oven import OvenState
from oventide.timeline.procedure import Step
from oventide.timeline.spread_out import Hands
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

HOLD_CELLS = 10
"""Cells of dough outside the oven; three times as many move a temperature by less than 0.1 °C (tests)."""
_FINEST = 0.08
HOLD_SAMPLES = 25
OVEN_SAMPLES = 33
_BY_HAND = ("mix", "sheet", "spread", "roll", "cut", "tin", "glaze")
_TARGET_OBSERVABLE = {
    "rise": ("rise", None),
    "dough_c": ("mean_c", "mean_c"),
    "core_c": ("core_c", "core_c"),
    "surface_c": ("top_c", "surface_c"),
    "colour": (None, "colour_top"),
    "solid_fat": ("solid_fat", None),
}


@dataclass
class Passage:
    """The dough as it travels: one of the two kernels' states, and the body it lies in."""

    batch: Batch
    kitchen: Kitchen
    ensemble: Ensemble
    draws: dict[str, Array]
    p: Array
    body: shape.Body
    hold: HoldState
    oven: OvenState | None = None
    oven_par: Array = field(default_factory=lambda: np.empty((0, 0)))
    shaped_rise: Array = field(default_factory=lambda: np.empty(0))
    """(M,) relative volume when the pieces were last shaped: rise at proof counts from here."""
    assumed: tuple[str, ...] = ()
    """What was assumed before the first step."""
    footprint_m2: float = 0.0
    hands: Hands = field(default_factory=Hands)
    """Who carries the members through the kernels."""
    filling: FillingPast | None = None
    """What the filling has been through; None where it has no sugar."""
    kept: Kept | None = None
    """The baked pieces, once they are kept."""
    rested: bool = False
    """Whether it has stood anywhere since it was mixed."""

    @property
    def members(self) -> int:
        return self.ensemble.members

    def faces(self) -> Array:
        if self.body.shape == "cylinder":
            return graded_faces(HOLD_CELLS, _FINEST, fine_at="top")
        return graded_faces(HOLD_CELLS, _FINEST)

    def fresh_volume_m3(self) -> float:
        """Likely volume of the whole dough at relative volume 1."""
        per_flour = self.batch.dough.flour_g / 100.0
        return float(np.median(self.p[:, P_FRESH_ML])) * per_flour * 1e-6


def planned_s(step: Step, ensemble: Ensemble) -> Array:
    """(M,) planned length [s]: the likely minutes, or for handwork between least and greatest by the baker's pace."""
    minutes = step.minutes
    if minutes is None:
        return np.zeros(ensemble.members)
    if step.kind in _BY_HAND and minutes.low < minutes.high:
        pace = ensemble.of("timeline")["hands.pace"]
        low = minutes.low + (minutes.likely - minutes.low) * np.minimum(1.0, 2.0 * pace)
        return np.asarray(60.0 * (low + (minutes.high - minutes.likely) * np.maximum(0.0, 2.0 * pace - 1.0)))
    return np.full(ensemble.members, 60.0 * minutes.likely)


def means(dough: Passage) -> tuple[Array, Array]:
    """Mass means over cells: temperature (M,), ferment (M, NY)."""
    weights = np.diff(dough.faces())
    return dough.hold.temperature_c @ weights, np.einsum("i,mij->mj", weights, dough.hold.ferment)


def worked_through(dough: Passage, warmer_c: Array | float = 0.0, press_out: Array | None = None) -> None:
    """Average the profiles; press gas out and warm the dough where hands and pin do."""
    temperature, ferment = means(dough)
    if press_out is not None:
        for m in range(dough.members):
            degas(ferment[m], dough.p[m], float(press_out[m]), float(temperature[m]))
    temperature = temperature + warmer_c
    solid = dough.hold.solid_fat
    dough.hold = HoldState(
        np.repeat(temperature[:, None], HOLD_CELLS, axis=1),
        np.ascontiguousarray(np.repeat(ferment[:, None, :], HOLD_CELLS, axis=1)),
        None if solid is None else np.repeat((solid @ np.diff(dough.faces()))[:, None], HOLD_CELLS, axis=1),
    )


def samples_to(horizon_s: float, samples: int, length: Array) -> Array:
    """Sample times [s], closer together at the start, where things change fastest; the planned end is one of them."""
    times = horizon_s * np.linspace(0.0, 1.0, samples) ** 1.3
    return np.unique(np.append(times, np.median(length).clip(0.0, horizon_s)))


def horizon_s(step: Step, length: Array, least_s: float) -> float:
    """How far a step is looked at [s]: past its end where a window is read off it, to its end where none is."""
    longest = max(float(length.max()), 60.0)
    if step.kind in ("cut", "tin", "keep"):
        return longest
    factor = load("timeline").value("horizon.bake" if step.kind == "bake" else "horizon.hold")
    return max(longest * factor, least_s)


def met_after_s(trace: StepTrace, value: float | None = None) -> Array | None:
    """(M,) seconds until each member shows the step's target, or another value of the same measure; infinite where it
    does not in the time looked at, None where the kernel has no such figure."""
    target = trace.step.target
    if target is None or trace.kernel not in ("hold", "oven"):
        return None
    name = _TARGET_OBSERVABLE[target.measure][1 if trace.kernel == "oven" else 0]
    if name is None:
        return None
    threshold: Array | float = target.value if value is None else value
    if name == "rise" and trace.step.kind == "proof":
        threshold = threshold * trace.facts["shaped_rise"]
    if target.measure in ("rise", "colour") or trace.step.kind == "bake":
        rising = True
    else:
        rising = bool(np.median(trace.at_start(name) - threshold) < 0)
    return trace.first_passage(name, threshold, rising)


def ended_by_target(trace: StepTrace, step: Step, shaped_rise: Array) -> Array | None:
    """When each member meets the target that ends the step, at the horizon at the latest; None by the clock."""
    if step.ends_by != "target" or step.target is None:
        return None
    name = _TARGET_OBSERVABLE[step.target.measure][1 if trace.kernel == "oven" else 0]
    if name is None:
        return None
    threshold: Array | float = step.target.value
    if name == "rise" and step.kind == "proof":
        threshold = step.target.value * shaped_rise
    rising = bool(np.median(trace.at_start(name) - threshold) < 0)
    return np.asarray(np.minimum(trace.first_passage(name, threshold, rising), trace.sample_s[-1]))
