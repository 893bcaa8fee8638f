"""A truth that the forecast does not know: finer cells, shorter steps, and laws of another form.

Kept apart from the forecast on purpose. What differs:

- twice the cells, the outermost half as thick; a third of the step's length; twice the samples;
- yeast: half of the kitchens keep to the law of Briere et al. (1999; form remembered), which the forecast does not
  hold; the other half to one of its own;
- the fridge's and the prover's air swings with its thermostat, the room's over the day;
- the oven's air swings with its thermostat, and comes back after loading faster or slower than the law says.
"""

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from typing import Any
from unittest.mock import patch

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from oventide.dough import temperature as yeast
from oventide.laws.arrhenius import arrhenius_between
from oventide.timeline import before_oven, hold, passage, run, surroundings, through_oven
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.grid import graded_faces
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import Trace

Array = NDArray[np.float64]

_MEASURED_C = np.linspace(2.0, 42.0, 41)


def briere_law(celsius: Array, least_c: float, most_c: float) -> Array:
    """k ∝ T (T - Tmin) √(Tmax - T), T in °C, relative to 30 °C; nothing outside Tmin to Tmax."""

    def rate(at: Array) -> Array:
        return np.asarray(np.maximum(at, 0.0) * np.maximum(at - least_c, 0.0) * np.sqrt(np.maximum(most_c - at, 0.0)))

    return rate(celsius) / rate(np.array([30.0]))


def as_constants(curve: Array) -> tuple[float, float, float, float, float, float]:
    """Constants of the kernel's losses-in-cold-and-heat form that draw `curve` at 2 to 42 °C, and how far off [1].

    Five free constants draw Briere's law within 0.1 of its rate at 30 °C, 0.03 below 20 °C: the kernel needs no new
    law, and what it runs is a law of its own, near Briere's.
    """

    def drawn(x: Array) -> Array:
        at = np.array([arrhenius_between(t, 1e3 * x[0], 1e3 * x[1], x[2], 1e3 * x[3], x[4]) for t in _MEASURED_C])
        return at / arrhenius_between(30.0, 1e3 * x[0], 1e3 * x[1], x[2], 1e3 * x[3], x[4])

    def away(x: Array) -> Array:
        return np.asarray((drawn(x) - curve) / (curve + 0.03))

    start = np.array([60.0, 150.0, 6.0, 280.0, 40.5])
    lowest, highest = [15.0, 10.0, -60.0, 60.0, 30.0], [140.0, 600.0, 40.0, 900.0, 50.0]
    found = least_squares(away, start, bounds=(lowest, highest), max_nfev=120).x
    off = float(np.abs(drawn(found) - curve).max())
    return found[0] * 1e3, found[1] * 1e3, found[2], found[3] * 1e3, found[4], off


def _kept_laws(p: Array, seed: int) -> Array:
    """Parameter vectors of which every other one draws Briere's law, through the constants of the steeper law."""
    rng = np.random.default_rng(seed)
    p = p.copy()
    shapes = []
    for _ in range(12):
        least, most = rng.normal(2.0, 1.8), rng.normal(44.5, 0.8)
        shapes.append(as_constants(briere_law(_MEASURED_C, least, most)))
    for member in np.flatnonzero(rng.permutation(np.arange(p.shape[0]) % 2)):
        ea, cold, cold_half, heat, heat_half, _ = shapes[rng.integers(len(shapes))]
        row = p[member]
        row[yeast.L_LAW] = yeast.STEEP
        row[yeast.L_EA], row[yeast.L_COLD], row[yeast.L_COLD_HALF] = ea, cold, cold_half
        row[yeast.L_HEAT], row[yeast.L_HEAT_HALF] = heat, heat_half
        row[yeast.L_AT_30] = arrhenius_between(30.0, ea, cold, cold_half, heat, heat_half)
        row[yeast.L_AT_26] = yeast.gas_law(26.0, row)
    return np.ascontiguousarray(p)


def _swinging(air_s: Array, air_c: Array, period_s: float, swing_k: float, rng: np.random.Generator) -> Any:
    """The same air with a swing of its own for each kitchen, its phase by chance."""
    end, members = float(air_s[-1]), air_c.shape[0]
    at = np.unique(np.concatenate([air_s, np.linspace(0.0, end, max(3, min(400, int(8 * end / period_s))))]))
    calm = np.stack([np.interp(at, air_s, row) for row in air_c])
    size = rng.uniform(0.0, swing_k, members)[:, None]
    wave = np.sin(2.0 * np.pi * (at[None, :] / period_s + rng.uniform(0.0, 1.0, members)[:, None]))
    return at, np.ascontiguousarray(calm + size * wave)


@contextmanager
def another_truth(seed: int) -> Iterator[None]:
    """Within it, `run_timeline` runs the finer grid and the other laws."""
    rng = np.random.default_rng(seed)
    plain_air, plain_stage, plain_p = surroundings.air_history, through_oven.oven_stage, run.ferment_parameters

    def air(step: Any, *rest: Any) -> Any:
        air_s, air_c = plain_air(step, *rest)
        period = {"fridge": 1500.0, "freezer": 1500.0, "prover": 900.0}.get(step.where, 86400.0)
        return _swinging(air_s, air_c, period, 1.5, rng)

    def stage(place: str, tin: str, covered: bool, air_s: Array, air_c: Array, *rest: Any, **more: Any) -> Any:
        if place != "rack":
            wide = np.broadcast_to(np.atleast_2d(air_c), (rest[2]["oven.vapour"].size, air_s.size))
            air_s, air_c = _swinging(air_s, np.array(wide), 360.0, 8.0, rng)
            sag = rng.uniform(-10.0, 10.0, air_c.shape[0])[:, None] * np.exp(-air_s[None, :] / 150.0)
            air_c = np.ascontiguousarray(air_c - sag)
        return plain_stage(place, tin, covered, air_s, air_c, *rest, **more)

    def constants(*given: Any) -> Array:
        return _kept_laws(plain_p(*given), seed)

    with ExitStack() as changed:
        for module, name, value in (
            (passage, "HOLD_CELLS", 2 * passage.HOLD_CELLS),
            (passage, "_FINEST", 0.5 * passage._FINEST),
            (before_oven, "HOLD_SAMPLES", 2 * passage.HOLD_SAMPLES),
            (hold, "FIRST_STEP_S", hold.FIRST_STEP_S / 3.0),
            (hold, "LONGEST_STEP_S", hold.LONGEST_STEP_S / 3.0),
            (hold, "LONGEST_QUIET_STEP_S", hold.LONGEST_QUIET_STEP_S / 3.0),
            (through_oven, "OVEN_CELLS", 2 * through_oven.OVEN_CELLS),
            (through_oven, "OVEN_SAMPLES", 2 * passage.OVEN_SAMPLES),
            (through_oven, "_LONGEST_BAKE_STEP_S", through_oven._LONGEST_BAKE_STEP_S / 3.0),
            (through_oven, "_LONGEST_COOL_STEP_S", through_oven._LONGEST_COOL_STEP_S / 3.0),
            (through_oven, "graded_faces", lambda cells: graded_faces(cells, 0.003)),
            (surroundings, "air_history", air),
            (through_oven, "air_history", air),
            (through_oven, "oven_stage", stage),
            (run, "ferment_parameters", constants),
        ):
            changed.enter_context(patch.object(module, name, value))
        yield


def true_timeline(batch: Batch, kitchen: Any, ensemble: Ensemble, seed: int) -> Trace:
    """Every kitchen of the ensemble run as the truth."""
    with another_truth(seed):
        return run.run_timeline(batch, kitchen, ensemble, Clock())
