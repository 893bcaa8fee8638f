"""A section through the piece in its tin: the whole state of the oven's column of cells, minute by minute.

The kernel keeps samples of what is observed and no state on its way. Here the same kernel is carried from minute to
minute, and what its cells hold is written down at each of them. Against one run without stops a core differs by less
than 0.1 °C (tests/timeline/test_section.py).
"""

from dataclasses import dataclass, fields, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit

from oventide.timeline import oven_parameters as at
from oventide.timeline.oven import OvenState, advance_oven
from oventide.timeline.passage import Passage
from oventide.timeline.procedure import Procedure, Span, Step
from oventide.timeline.resume import picked
from oventide.timeline.run import Mark
from oventide.timeline.surroundings import Clock
from oventide.timeline.through_oven import Stretch, stretch, to_the_door

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Watched:
    """M members at K moments, n cells from the base up. Bake, glaze and cooling in one.

    `top_mm` is the upper face of each cell above the tin's floor; water is a share of the wet mass; colours are ΔE.
    """

    seconds: Array
    """(K,) since the oven's door [s]."""
    step: NDArray[np.int64]
    """(K,) which step of the procedure is going on."""
    temperature_c: Array
    water: Array
    set_share: Array
    top_mm: Array
    surface_c: Array
    base_c: Array
    core_c: Array
    colour_top: Array
    colour_base: Array
    loss: Array
    wall_c: Array
    """(M, K) the tin's wall [°C]."""


_AT_ONCE = 2
"""Members that one core carries by itself: for so few, waking the others costs more than it saves."""


def watch(mark: Mark, who: NDArray[np.int64], clock: Clock, every_s: float = 60.0) -> Watched:
    """Carry members `who` (m,) of a mark at the oven's door through bake, glaze and cooling; look every `every_s` [s].

    Every member stays in a step for its likely minutes, so that they can be laid beside each other.
    """
    steps = tuple(_likely(step) for step in mark.dough.batch.procedure.steps)
    batch = replace(mark.dough.batch, procedure=Procedure(steps=steps))
    parts = []
    for begin in range(0, who.size, _AT_ONCE):
        some = who[begin : begin + _AT_ONCE]
        dough = replace(picked(mark.dough, some), batch=batch)
        parts.append(_carried(Mark(mark.index, dough, mark.begun_s[some]), clock, every_s))
    shared = ("seconds", "step")
    return Watched(
        **{name: getattr(parts[0], name) for name in shared},
        **{
            field.name: np.concatenate([getattr(part, field.name) for part in parts])
            for field in fields(Watched)
            if field.name not in shared
        },
    )


def _likely(step: Step) -> Step:
    if step.minutes is None:
        return step
    minutes = step.minutes.likely
    return step.model_copy(update={"minutes": Span(low=minutes, likely=minutes, high=minutes)})


def _carried(mark: Mark, clock: Clock, every_s: float) -> Watched:
    dough = replace(mark.dough)
    if dough.oven is None:
        to_the_door(dough)
    assert dough.oven is not None
    rows: list[dict[str, Array]] = [_first(dough)]
    seconds, steps = [0.0], [mark.index]
    begun, assumed = mark.begun_s, list[str]()
    for index in range(mark.index, len(dough.batch.procedure.steps)):
        step = dough.batch.procedure.steps[index]
        if step.kind == "keep":
            break
        around = stretch(dough, step, begun, clock, assumed)
        length = float(around.length_s[0])
        moments = np.unique(np.append(np.arange(0.0, length, every_s), length))
        base = seconds[-1]
        for before, after in pairwise(moments.tolist()):
            rows.append(_minute(dough, around, before, after))
            seconds.append(base + after)
            steps.append(index)
        begun = begun + length
        if step.kind == "cool":
            break
    joined = {name: np.stack([row[name] for row in rows], axis=1) for name in rows[0]}
    return Watched(np.array(seconds), np.array(steps), **joined)


def _minute(dough: Passage, around: Stretch, before: float, after: float) -> dict[str, Array]:
    assert dough.oven is not None
    length = after - before
    end = np.full(dough.members, length)
    run = advance_oven(dough.oven, around.stage(end, np.array([0.0, length]), before), dough.oven_par)
    dough.oven = run.end
    seen = run.samples[:, -1]
    return _state(dough, run.end) | {
        "surface_c": seen[:, at.OBS_SURFACE],
        "base_c": seen[:, at.OBS_BASE],
        "core_c": seen[:, at.OBS_CORE],
        "loss": seen[:, at.OBS_LOSS],
    }


def _first(dough: Passage) -> dict[str, Array]:
    """At the door, before the oven has done anything."""
    assert dough.oven is not None
    state = dough.oven
    middle = slice(state.temperature_c.shape[1] // 4, -(state.temperature_c.shape[1] // 4))
    return _state(dough, state) | {
        "surface_c": state.temperature_c[:, -1].copy(),
        "base_c": state.temperature_c[:, 0].copy(),
        "core_c": state.temperature_c[:, middle].min(axis=1),
        "loss": np.zeros(dough.members),
    }


def _state(dough: Passage, state: OvenState) -> dict[str, Array]:
    """What the cells hold. A cell is as thick as its dry matter, water and gas take room."""
    par = dough.oven_par
    first, dense = par[:, at.FIRST_WATER, None], par[:, at.DRY_VOLUME, None] + 1e-3 * state.water
    # the kernel's own rule (oven_step.coefficients): a cell that dries shrinks to the crust's share of its volume
    dry = expit((0.35 * first - state.water) / (0.03 * first))
    whole = par[:, at.DRY_VOLUME, None] + 1e-3 * first + state.gas_volume
    crust = dry * par[:, at.CRUST_RATIO, None] * whole
    volume = np.maximum(1.05 * dense, (1.0 - dry) * (dense + state.gas_volume) + crust)
    thickness = state.dry_mass_kg_m2[:, None] * np.diff(state.faces) * volume
    return {
        "temperature_c": state.temperature_c.copy(),
        "water": state.water / (1.0 + state.water),
        "set_share": state.set_fraction.copy(),
        "top_mm": 1000.0 * np.cumsum(thickness, axis=1),
        "colour_top": state.colour[:, 0].copy(),
        "colour_base": state.colour[:, 2].copy(),
        "wall_c": state.tin_c.copy(),
    }
