"""The oven and what follows it: the dough is handed over at the door, the oven's kernel carries it on."""

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import browning_factor
from oventide.dough.state import P_DENSE_ML
from oventide.evidence.parameters import load
from oventide.kitchen.model import Kitchen
from oventide.timeline.before_oven import pieces_of
from oventide.timeline.door import gas_at_door, shares_of_composition
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import OvenStage, advance_oven, oven_parameters, oven_stage, start_oven
from oventide.timeline.oven_parameters import OVEN_OBSERVABLES
from oventide.timeline.passage import (
    OVEN_SAMPLES,
    Passage,
    ended_by_target,
    horizon_s,
    means,
    planned_s,
    samples_to,
    worked_through,
)
from oventide.timeline.procedure import Step
from oventide.timeline.surroundings import Clock, air_history
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

OVEN_CELLS = 24
_LONGEST_BAKE_STEP_S = 15.0
"""Against steps of 1 s: core within 0.3 °C (tests of the oven's kernel), a thirtieth of the usual window."""
_LONGEST_COOL_STEP_S = 60.0


def to_the_door(dough: Passage) -> None:
    """Hand the dough over to the oven's kernel."""
    if dough.body.form != "pieces":
        worked_through(dough)
        dough.body = pieces_of(dough)
    batch, flour_hundreds = dough.batch, dough.batch.dough.flour_g / 100.0
    gas_ml, dissolved = gas_at_door(dough.hold.temperature_c, dough.hold.ferment, dough.p, dough.faces())
    spread_ml = batch.spread_share * batch.made_up.mass_g
    dense_ml = dough.p[:, P_DENSE_ML] * flour_hundreds + spread_ml
    gas = gas_ml * flour_hundreds
    shares = shares_of_composition(batch.made_up)
    dry_kg = (batch.made_up.mass_g - shares.water) / 1000.0
    mean_c, _ = means(dough)
    per_flour = 100.0 / batch.dough.flour_g
    browning = browning_factor(
        dough.draws,
        sugars_per_100_flour=(batch.dough.sugars_g - batch.dough.lactose_g) * per_flour,
        lactose_per_100_flour=batch.dough.lactose_g * per_flour,
        egg_per_100_flour=batch.dough.egg_g * per_flour,
        wash=batch.wash,
    )
    gas_fraction = gas / (gas + dense_ml)
    dough.oven_par = oven_parameters(
        shares,
        dough.draws,
        mean_c,
        gas_fraction,
        dissolved_co2_mol_kg_dry=dissolved * flour_hundreds / 1000.0 / dry_kg,
        browning=browning,
        altitude_m=dough.kitchen.altitude_m,
    )
    mass_area = np.full(dough.members, batch.made_up_piece_g / 1000.0 / dough.footprint_m2)
    faces = graded_faces(OVEN_CELLS)
    temperature_c = on_other_cells(dough.hold.temperature_c, dough.faces(), faces)
    dough.oven = start_oven(temperature_c, shares, gas_fraction, mass_area, faces)


def on_other_cells(values: Array, faces: Array, others: Array) -> Array:
    """Cell means (M, n) on other cells (M, k) of the same body: straight lines through the running integral."""
    running = np.concatenate([np.zeros((values.shape[0], 1)), np.cumsum(values * np.diff(faces), axis=1)], axis=1)
    integral = np.stack([np.interp(others, faces, row) for row in running])
    return np.ascontiguousarray(np.diff(integral, axis=1) / np.diff(others))


def in_oven(dough: Passage, step: Step, index: int, begun: Array, clock: Clock, assumed: list[str]) -> StepTrace:
    """Bake, or stand in the room after the bake."""
    assert dough.oven is not None
    length = planned_s(step, dough.ensemble)
    members = dough.members
    baking = step.kind == "bake"
    horizon = horizon_s(step, length, 600.0)
    sample_s = samples_to(horizon, OVEN_SAMPLES, length)
    facts: dict[str, Array] = {}
    if baking:
        setting = oven_setting(step, dough.kitchen, assumed)
        facts["setting_c"] = np.full(members, setting)
        air_s = np.array([0.0, horizon])
        air_c = np.repeat((setting + dough.ensemble.of("kitchen")["oven_offset"])[:, None], 2, axis=1)
        place: str = dough.kitchen.oven_kind
        vapour: Array | None = None
    else:
        air_s, air_c = air_history(step, dough.kitchen, dough.ensemble, clock, begun, horizon)
        place, vapour = "rack", dough.draws["room.vapour"]

    def stage(end_s: Array) -> OvenStage:
        return oven_stage(
            place, dough.kitchen.tin, step.covered and baking, air_s, air_c, sample_s, end_s, dough.draws,
            in_tin=step.kind != "cool", vapour_pa=vapour, altitude_m=dough.kitchen.altitude_m,
            longest_step_s=_LONGEST_BAKE_STEP_S if baking else _LONGEST_COOL_STEP_S,
        )  # fmt: skip

    run = advance_oven(dough.oven, stage(length), dough.oven_par)
    trace = StepTrace(index, step, "oven", OVEN_OBSERVABLES, begun, run.end_s, sample_s, run.samples, facts)
    ended = ended_by_target(trace, step, dough.shaped_rise)
    if ended is not None:
        run = advance_oven(dough.oven, stage(ended), dough.oven_par)
        trace = StepTrace(index, step, "oven", OVEN_OBSERVABLES, begun, ended, sample_s, run.samples, facts)
    dough.oven = run.end
    return trace


def oven_setting(step: Step, kitchen: Kitchen, assumed: list[str]) -> float:
    """The setting for this kitchen's oven [°C]; a setting that was written for another kind is carried over.

    Fan = static less about 20 °C (common practice, no source; evidence `oven.static_over_fan`). Said in `assumed`.
    """
    if step.air_c is None:
        raise ValueError(f"the bake step {step.name!r} has no setting")
    written, here = step.oven_kind or kitchen.oven_kind, kitchen.oven_kind
    if step.oven_kind is None:
        assumed.append(
            f"The formula does not say for which oven its {step.air_c:.0f} °C is meant: for this one, {here}."
        )
    rule = load("timeline").value("oven.static_over_fan")
    step_c = rule * ((written == "convection") - (here == "convection"))
    if step_c == 0.0:
        return step.air_c
    setting = step.air_c + step_c
    assumed.append(
        f"The formula's {step.air_c:.0f} °C is meant for a {written} oven; here, {here}, it is set to {setting:.0f} °C "
        f"({rule:.0f} °C apart by common practice, 10 to 25)."
    )
    return setting
