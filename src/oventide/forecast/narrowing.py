"""A reading at the bench narrows the forecast: kitchens that would have shown it count more, others less.

Nothing is simulated again. The trace holds what every kitchen of the ensemble would have shown at that moment; its
weight is how well that agrees with what was read (importance weighting of the prior, Gaussian in the reading's error).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import log_ndtr

from oventide.errors import refuse
from oventide.forecast.quantiles import alike
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]

LEAST_LEFT = 30
"""With fewer kitchens alike than this, quantiles at 5 and 95 % are chance: the reading is then taken less sharply."""
_FAR = 3.0

QUANTITIES: dict[str, tuple[tuple[str, ...], float, str]] = {
    "core": (("core_c",), 1.0, "°C"),
    "dough temperature": (("mean_c",), 1.0, "°C"),
    "surface": (("surface_c", "top_c"), 1.0, "°C"),
    "base": (("base_c", "bottom_c"), 1.0, "°C"),
    "rise since mixing": (("rise",), 1.0, "×"),
    "rise since shaping": (("rise",), 1.0, "×"),
    "jar height": (("rise",), 1.0, "×"),
    "solid butter": (("solid_fat",), 100.0, "%"),
    "colour": (("colour_top",), 1.0, "ΔE"),
    "loss": (("loss",), 100.0, "%"),
}
"""What can be read at the bench: observables of the kernels, scale to the reading's unit, unit."""


@dataclass(frozen=True)
class Measured:
    """One reading: step by its index, minutes since that step began, what was read, its value and its error.

    `error` is the standard error in the quantity's own unit (two readings in three lie within it): the instrument, and
    how well the right spot was met.
    """

    step: int
    at_min: float
    quantity: str
    value: float
    error: float
    bound: Literal["at", "below", "above"] = "at"
    since: tuple[int, float] | None = None


@dataclass(frozen=True)
class Narrowed:
    """Weights (M,) that sum to 1, how many kitchens of equal weight fit the readings, and what to say about it."""

    weights: Array
    left: float
    """Before any flattening; `weights` stand for at least `LEAST_LEFT` kitchens where the ensemble has as many."""
    warnings: tuple[str, ...] = ()


def narrow(trace: Trace, measured: Sequence[Measured]) -> Narrowed:
    """Weights of the ensemble's kitchens after readings at the bench.

    w ∝ exp(-½ Σ((x - value)/error)²) with x what each kitchen shows at that minute of its own step, linear between
    samples; where only a bound is known, Φ((value - x)/error) below it, the other way round above it. Where fewer than
    `LEAST_LEFT` kitchens would be left, every error is widened alike until that many are, and `warnings` says so. Hand
    `weights` on to `Reader`, `quantiles` or `foresee.read_off`; no kernel runs.
    Refuses a step, a quantity or a minute that the trace does not hold.
    """
    members = trace.ensemble.members
    misfit = np.zeros(members)
    warnings = []
    for one in measured:
        shown = expected(trace, one)
        away = (shown - one.value) / one.error
        if one.bound != "at":
            misfit -= log_ndtr(-away if one.bound == "below" else away)
            away = np.maximum(away if one.bound == "below" else -away, 0.0)
        else:
            misfit += 0.5 * np.square(away)
        nearest = float(np.abs(away).min())
        if nearest > _FAR:
            low, high = float(shown.min()), float(shown.max())
            unit = QUANTITIES[one.quantity][2]
            warnings.append(
                f"The reading {one.quantity} {one.value:g} {unit} lies outside what was foreseen "
                f"({low:.3g} to {high:.3g} {unit}): read it once more, and look at the kitchen's figures."
            )
    weights = _weights(misfit)
    left = alike(weights)
    enough = min(LEAST_LEFT, members / 2.0)
    if measured and left < enough:
        weights = _flattened(misfit, enough)
        warnings.append(
            f"Only about {max(1, round(left))} of {members} kitchens fit the reading: the windows are kept as wide as "
            f"the nearest {round(enough)} give."
        )
    return Narrowed(weights, left, tuple(warnings))


def expected(trace: Trace, one: Measured) -> Array:
    """What every kitchen (M,) would show at the moment of a reading, in the reading's unit."""
    field = "reading.quantity"
    if one.quantity not in QUANTITIES:
        raise refuse(field, one.quantity, "This can't be compared.", f"Read one of: {', '.join(QUANTITIES)}.")
    if not 0 <= one.step < len(trace.steps):
        raise refuse(
            "reading.step", str(one.step), "There is no such step.", f"Count from 0 to {len(trace.steps) - 1}."
        )
    if not np.isfinite(one.value) or not np.isfinite(one.error) or one.error <= 0.0:
        raise refuse(
            "reading.value", f"{one.value:g} ± {one.error:g}", "A reading is a number with an error above 0.",
            "Give the value as read, and how far it may be off.",
        )  # fmt: skip
    step = trace.steps[one.step]
    names, scale, _ = QUANTITIES[one.quantity]
    name = next((name for name in names if name in step.names), None)
    if name is None or (one.quantity == "rise since shaping" and "shaped_rise" not in step.facts):
        raise refuse(field, one.quantity, f"The step {step.step.kind} has no such figure.", "Choose another reading.")
    horizon_min = float(step.sample_s[-1]) / 60.0
    if not 0.0 <= one.at_min <= horizon_min + 1e-9:
        raise refuse(
            "reading.at_min", f"{one.at_min:g} min", f"This step was looked at for {horizon_min:.0f} minutes.",
            "Count the minutes from the step's beginning.",
        )  # fmt: skip
    if one.quantity == "jar height":
        return _grown(trace, one)
    return _shown(step, name, one) * scale


def _grown(trace: Trace, one: Measured) -> Array:
    """How much higher a jar of the dough stands than when it was first read: the ratio of the two rises."""
    since = one.since or (one.step, 0.0)
    first = trace.steps[since[0]]
    if "rise" not in first.names:
        raise refuse("reading.since", str(since[0]), f"The step {first.step.kind} has no rise.", "Read the jar anew.")
    then = first.at("rise", np.full(first.start_s.size, 60.0 * since[1]))
    return trace.steps[one.step].at("rise", np.full(first.start_s.size, 60.0 * one.at_min)) / then


def _shown(step: StepTrace, name: str, one: Measured) -> Array:
    values = step.at(name, np.full(step.start_s.size, 60.0 * one.at_min))
    return values / step.facts["shaped_rise"] if one.quantity == "rise since shaping" else values


def _weights(misfit: Array) -> Array:
    raw = np.exp(-(misfit - misfit.min()))
    return np.asarray(raw / raw.sum())


def _flattened(misfit: Array, enough: float) -> Array:
    """The sharpest weights exp(-t·misfit), t in [0, 1], that leave `enough` kitchens alike."""
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if alike(_weights(middle * misfit)) >= enough else (low, middle)
    return _weights(low * misfit)
