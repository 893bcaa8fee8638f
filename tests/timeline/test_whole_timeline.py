"""A whole timeline, bowl to rack, integrated a second time by SciPy: every cell within 0.1 °C after every step."""

import random
from dataclasses import replace

import numpy as np
import pytest

from oventide.dough import state as s
from oventide.kitchen.complete import complete
from oventide.timeline import through_oven
from oventide.timeline.procedure import Procedure, Step
from validation.second import HOLD_STATES, ORDER, Hold, Oven, hold_states, oven_states
from validation.timelines import Case, random_case, run_watched

MADE, CO2 = 1 + ORDER.index(s.CO2_MADE), 1 + ORDER.index(s.CO2)


def _step(kind: str, minutes: float, **more: object) -> Step:
    span = {"low": minutes, "likely": minutes, "high": minutes}
    return Step.model_validate({"kind": kind, "minutes": span, **more})


def replace_air(hold: Hold, air_mmol: float) -> Hold:
    """The same stay with the air that the dough held before it was worked."""
    from copy import copy

    other = copy(hold)
    other.air_mmol = air_mmol
    return other


def _case() -> Case:
    """A rich dough: bulk, a night in the fridge, proof in the tin, covered then open, an hour on the rack."""
    steps = (
        _step("mix", 12),
        _step("bulk", 45, covered=True),
        _step("retard", 600, where="fridge", covered=True),
        _step("proof", 90, covered=True, air_c=28),
        _step("bake", 18, where="oven", air_c=175, covered=True),
        _step("bake", 10, where="oven", air_c=175),
        _step("cool", 40),
    )
    batch = random_case(random.Random(1)).batch
    kitchen = complete({"fridge": 4, "room": 21, "flour": 20, "tap_water": 12, "oven_offset": 0, "friction": 0.5})
    return Case(replace(batch, procedure=Procedure(steps=steps)), kitchen)


@pytest.mark.slow
def test_another_solver_gives_the_same_timeline(monkeypatch: pytest.MonkeyPatch) -> None:
    """LSODA before the oven, BDF in it, equations written anew: 0.1 °C by cell, 0.5 % of the gas, 0.05 points of loss.

    The program runs its oven in steps of a second here; what its usual steps cost is another test (test_oven.py).
    """
    monkeypatch.setattr(through_oven, "_LONGEST_BAKE_STEP_S", 1.0)
    monkeypatch.setattr(through_oven, "_LONGEST_COOL_STEP_S", 5.0)
    case = _case()
    _, seen = run_watched(case, members=1)
    z, weights, air, pressed = None, None, 0.0, 0.0
    off = []
    for (state, stage, physics, p, draws), run in seen.hold:
        hold = Hold(stage, physics, p, draws, float(state.ferment[0, 0, s.AIR]))
        if z is None:
            z = hold_states(state, hold.solid(state.temperature_c[0]))
        elif not np.allclose(np.ptp(state.temperature_c[0]), np.ptp(z[:, 0]), atol=1e-6):
            # worked through: averaged; knocked back where the program did, by the share of bubbles that it took
            z = np.repeat((weights @ z)[None, :], z.shape[0], axis=0)
            gone = float(draws["gas.knocking_back_loss"][0]) if pressed == 0.0 else 0.0
            pressed = gone
            bubbles, _ = replace_air(hold, air).bubbles_and_volume(z[:, 0], z[:, CO2])
            z[:, CO2] -= gone * bubbles
        z = hold.run(z)
        assert z.shape[1] == HOLD_STATES
        weights, air = hold.weights, hold.air_mmol
        off.append(float(np.abs(run.end.temperature_c[0] - z[:, 0]).max()))
        made = run.end.ferment[0, :, s.CO2_MADE]
        assert weights @ made == pytest.approx(weights @ z[:, MADE], rel=5e-3)
    u = None
    for (state, stage, par), run in seen.oven:
        oven = Oven(state, stage, par)
        n = oven.cells
        if u is None:
            hold_faces = np.concatenate([[0.0], np.cumsum(weights)])
            running = np.concatenate([[0.0], np.cumsum(weights * z[:, 0])])
            cells = np.diff(np.interp(state.faces, hold_faces, running)) / np.diff(state.faces)
            u = oven_states(state, cells)
            water = float(oven.mass @ u[n : 2 * n])
        u = oven.run(u)
        off.append(float(np.abs(run.end.temperature_c[0] - u[:n]).max()))
        lost = (water - float(oven.mass @ u[n : 2 * n])) / state.dough_mass_kg_m2[0]
        assert float(run.end.lost_kg_m2[0] / state.dough_mass_kg_m2[0]) == pytest.approx(lost, abs=5e-4)
    print("off by", [round(value, 3) for value in off], "K")
    assert max(off) < 0.1, off
