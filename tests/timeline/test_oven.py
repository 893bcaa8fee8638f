"""The oven's kernel: balances, convergence, directions, ends of stages."""

from dataclasses import replace

import numpy as np
import pytest

from oventide.errors import Refusal
from oventide.evidence.parameters import draw, load
from oventide.timeline import oven_parameters as at
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import (
    OvenRun,
    OvenStage,
    OvenState,
    Shares,
    advance_oven,
    oven_parameters,
    oven_stage,
    start_oven,
)
from oventide.timeline.oven_step import cell_energy

SHARES = Shares(0.36, 0.085, 0.12, 0.405, 0.015, 0.015, milk_fat=0.10)


def plain(members: int = 1) -> dict[str, np.ndarray]:
    return draw([*load("bake").parameters.values(), *load("matter").parameters.values()], members, seed=1)


def piece(
    draws: dict[str, np.ndarray], cells: int = 24, altitude_m: float = 0.0, start_c: float = 28.0, beta: float = 5.0
) -> tuple[OvenState, np.ndarray]:
    """A tin of close-packed enriched buns at the oven's door: 19.1 kg/m2 of dough, 60 % gas."""
    members = draws["film.convection"].shape[0]
    gas = np.full(members, 0.60)
    temperature = np.full((members, cells), start_c)
    par = oven_parameters(
        SHARES, draws, temperature[:, 0], gas, dissolved_co2_mol_kg_dry=0.02, browning=beta, altitude_m=altitude_m
    )
    return start_oven(temperature, SHARES, gas, np.full(members, 19.1), graded_faces(cells)), par


def stage(
    draws: dict[str, np.ndarray], minutes: float, air_c: float = 170.0, covered: bool = False, **more
) -> OvenStage:  # type: ignore[no-untyped-def]
    kind = more.pop("kind", "convection")
    seconds = 60.0 * minutes
    return oven_stage(
        kind, more.pop("tin", "light_metal"), covered, np.array([0.0]), np.array([air_c]),
        np.arange(0.0, seconds + 1.0, 60.0), np.array([seconds]), draws, **more,
    )  # fmt: skip


def bake(minutes: float = 25.0, **more) -> OvenRun:  # type: ignore[no-untyped-def]
    draws = plain()
    for name in [name for name in more if "__" in name]:
        draws[name.replace("__", ".")] = np.array([more.pop(name)])
    of_piece = {name: more.pop(name) for name in ("cells", "altitude_m", "start_c", "beta") if name in more}
    state, par = piece(draws, **of_piece)
    if "altitude_m" in of_piece:
        more["altitude_m"] = of_piece["altitude_m"]
    return advance_oven(state, stage(draws, minutes, **more), par, keep_profiles=1)


def energy(state: OvenState, par: np.ndarray) -> float:
    mass = state.dry_mass_kg_m2[0] * np.diff(state.faces)
    cells = zip(mass, state.temperature_c[0], state.water[0], strict=True)
    return float(sum(m * cell_energy(t, w, par[0]) for m, t, w in cells))


def test_water_and_heat_are_accounted_for() -> None:
    """To 0.1 %: water in the cells plus water gone; heat in less heat out with vapour against the cells' gain."""
    draws = plain()
    state, par = piece(draws)
    for covered, kind, air_c in ((True, "convection", 170.0), (False, "convection", 170.0), (False, "rack", 22.0)):
        before, water_before, gone = energy(state, par), (state.water[0] * np.diff(state.faces)).sum(), state.lost_kg_m2
        run = advance_oven(state, stage(draws, 20.0, air_c, covered, kind=kind), par)
        state = run.end
        gain = energy(state, par) - before
        into, out = run.balance[0, 0], run.balance[0, 1]
        assert gain == pytest.approx(into - out, abs=1e-3 * (abs(into) + abs(out)))
        water_after = (state.water[0] * np.diff(state.faces)).sum()
        went = state.dry_mass_kg_m2[0] * (water_before - water_after)
        assert went == pytest.approx(float((state.lost_kg_m2 - gone)[0]), abs=1e-3 * max(went, 0.01))


def test_steps_and_cells_converge() -> None:
    """A 15 s step is within 0.3 °C of 1 s, and halving it helps; 24 cells within 1 °C and 0.2 points of loss of 96."""
    cores = {step: bake(longest_step_s=step).samples[0, [8, 12, 15], at.OBS_CORE] for step in (1.0, 7.5, 15.0)}
    off = {step: np.abs(cores[step] - cores[1.0]).max() for step in (7.5, 15.0)}
    assert off[15.0] < 0.3
    assert off[7.5] < off[15.0]
    coarse, fine = (bake(cells=n, longest_step_s=2.5).samples[0, [10, 15, 25]] for n in (24, 96))
    assert coarse[:, at.OBS_CORE] == pytest.approx(fine[:, at.OBS_CORE], abs=1.0)
    assert coarse[:, at.OBS_LOSS] == pytest.approx(fine[:, at.OBS_LOSS], abs=0.002)
    assert coarse[:, at.OBS_COLOUR_TOP] == pytest.approx(fine[:, at.OBS_COLOUR_TOP], abs=1.0)


@pytest.mark.parametrize(("altitude_m", "boils_c"), [(0.0, 100.0), (2000.0, 93.3)])
def test_crumb_stops_at_the_boiling_point_of_the_place(altitude_m: float, boils_c: float) -> None:
    run = bake(40.0, altitude_m=altitude_m)
    core = run.samples[0, :, at.OBS_CORE]
    assert core[-1] == pytest.approx(boils_c, abs=1.0)
    wet = run.profiles[0, :, :, 1] > 0.4
    assert run.profiles[0, :, :, 0][wet].max() < boils_c + 0.6  # nothing wet overshoots


def test_directions() -> None:
    """What a baker knows: hotter, darker tin, a cover, sugar, a cold start, a still oven."""
    usual = bake().samples[0, -1]
    assert bake(air_c=190.0).samples[0, -1, at.OBS_COLOUR_TOP] > usual[at.OBS_COLOUR_TOP]
    assert bake(tin="dark_metal").samples[0, -1, at.OBS_COLOUR_BASE] > usual[at.OBS_COLOUR_BASE]
    covered = bake(covered=True).samples[0, -1]
    assert covered[at.OBS_COLOUR_TOP] < 3.0  # a cover leaks, and some skin dries at its edge
    assert covered[at.OBS_LOSS] < usual[at.OBS_LOSS]
    assert bake(beta=1.0).samples[0, -1, at.OBS_COLOUR_TOP] < usual[at.OBS_COLOUR_TOP]
    assert bake(start_c=8.0).samples[0, 12, at.OBS_CORE] < bake().samples[0, 12, at.OBS_CORE] - 5.0
    assert bake(kind="static").samples[0, 12, at.OBS_CORE] < bake().samples[0, 12, at.OBS_CORE]


def test_spring_comes_from_gas_and_ends_with_setting() -> None:
    height = bake().samples[0, :, at.OBS_HEIGHT]
    assert 1.05 < height.max() / height[0] < 1.5
    none = bake(spring__retained=0.0).samples[0, :, at.OBS_HEIGHT]
    assert none.max() <= none[0] + 0.5
    peak = int(height.argmax())
    set_when = int((bake().samples[0, :, at.OBS_SET] > 0.9).argmax())
    assert peak <= set_when + 1


def test_steam_condenses_on_cold_dough() -> None:
    """Oven air with a dew point above the dough's skin: the piece gains weight first."""
    run = bake(5.0, vapour_pa=60000.0, start_c=10.0)
    assert run.samples[0, 1:, at.OBS_LOSS].min() < -1e-4


def test_an_until_ends_each_member_at_its_own_time() -> None:
    draws = plain(8)
    state, par = piece(draws)
    to_90 = replace(stage(draws, 45.0), until=(at.OBS_CORE, 90.0, 1), end_s=np.full(8, 2700.0))
    run = advance_oven(state, to_90, par)
    for m in range(8):
        crossed = np.interp(run.end_s[m], to_90.sample_s, run.samples[m, :, at.OBS_CORE])
        assert crossed == pytest.approx(90.0, abs=1.0)
    assert np.ptp(run.end_s) > 60.0
    assert np.isfinite(run.samples).all()
    # the end state is that of the end, not of the horizon
    assert (run.end.lost_kg_m2 / 19.1 < run.samples[:, -1, at.OBS_LOSS]).all()


def test_a_stage_in_two_parts_is_the_stage() -> None:
    draws = plain()
    state, par = piece(draws)
    whole = advance_oven(state, stage(draws, 20.0, longest_step_s=2.0), par)
    first = advance_oven(state, stage(draws, 10.0, longest_step_s=2.0), par)
    second = advance_oven(first.end, stage(draws, 10.0, longest_step_s=2.0), par)
    keep = [at.OBS_CORE, at.OBS_SURFACE, at.OBS_MEAN, at.OBS_COLOUR_TOP, at.OBS_HEIGHT]
    assert second.samples[0, -1, keep] == pytest.approx(whole.samples[0, -1, keep], abs=0.3)
    assert first.end.temperature_c is not state.temperature_c
    assert state.temperature_c.max() == 28.0  # the state given is left alone


def test_members_do_not_see_each_other() -> None:
    draws = plain(4)
    state, par = piece(draws)
    together = advance_oven(state, stage(draws, 15.0), par).samples
    for m in (0, 3):
        one = {name: values[m : m + 1] for name, values in draws.items()}
        alone_state, alone_par = piece(one)
        alone = advance_oven(alone_state, stage(one, 15.0), alone_par).samples
        assert np.array_equal(alone[0], together[m])


def test_the_whole_prior_runs() -> None:
    """256 plausible ovens, tins and doughs: every one comes through with sane figures."""
    draws = plain(256)
    state, par = piece(draws)
    for covered, kind, air_c, minutes in ((True, "static", 190.0, 15.0), (False, "deck", 210.0, 15.0)):
        run = advance_oven(state, stage(draws, minutes, air_c, covered, kind=kind, tin="glass"), par)
        state = run.end
        assert np.isfinite(run.samples).all()
        assert run.balance[:, 3].max() < 20
    cooled = advance_oven(state, stage(draws, 60.0, 22.0, kind="rack", in_tin=False), par)
    assert np.isfinite(cooled.samples).all()
    core = cooled.samples[:, -1, at.OBS_CENTRE]
    assert (core > 22.0).all()
    assert (core < 60.0).all()
    assert (cooled.samples[:, -1, at.OBS_LOSS] > run.samples[:, -1, at.OBS_LOSS]).all()


def test_unknown_places_are_refused() -> None:
    with pytest.raises(Refusal, match="one of convection"):
        stage(plain(), 10.0, kind="campfire")
    with pytest.raises(Refusal, match="one of light_metal"):
        stage(plain(), 10.0, tin="gold")
