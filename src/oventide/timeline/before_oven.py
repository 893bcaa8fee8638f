"""Steps before the oven: the make-up changes the dough's body, the hold kernel carries it on."""

import numpy as np
from numpy.typing import NDArray

from oventide.dough.fats import curve_of, setting_fats
from oventide.dough.state import P_DENSE_ML, P_FAT_OFFSET, P_FRESH_ML
from oventide.evidence.parameters import load
from oventide.timeline import shape
from oventide.timeline.container import laid_in, middle_c
from oventide.timeline.door import gas_at_door
from oventide.timeline.hold import HOLD_OBSERVABLES, Bench, DoughPhysics, HoldStage, advance_hold, curve_temperatures_c
from oventide.timeline.passage import (
    HOLD_SAMPLES,
    Passage,
    ended_by_target,
    horizon_s,
    means,
    planned_s,
    samples_to,
    worked_through,
)
from oventide.timeline.procedure import Step
from oventide.timeline.surroundings import Clock, Dough, Surroundings, surround
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]


def make_up(dough: Passage, step: Step) -> None:
    """Change the body where the step does: flattened for the fridge, pinned out, rolled up, cut, set in the tin."""
    geometry, members, form = dough.batch.geometry, dough.members, dough.body.form
    if step.container is not None and form in ("bowl", "block"):
        if dough.body.container != step.container:
            if dough.rested:
                # moved or divided after a rise: knocked back, and its temperature profile is lost with it
                worked_through(dough, press_out=dough.draws["gas.knocking_back_loss"])
            dough.body = laid_in(step.container, dough.fresh_volume_m3(), members)
    elif step.kind == "retard" and form == "bowl":
        # flattening for the fridge knocks the dough back; its temperature profile is lost with it
        worked_through(dough, press_out=dough.draws["gas.knocking_back_loss"])
        dough.body = shape.block(dough.fresh_volume_m3(), dough.draws)
    elif step.kind == "sheet" and form != "sheet":
        room = dough.ensemble.of("kitchen")["room"]
        temperature, _ = means(dough)
        warming = np.where(temperature < room, dough.draws["hands.sheet_work"], 0.0)
        worked_through(dough, warming, dough.draws["gas.sheeting_loss"])
        dough.body = shape.sheet(geometry, members)
    elif step.kind == "roll" and form == "sheet":
        worked_through(dough, _spread_warming(dough))
        dough.body = shape.log(geometry, members)
    elif step.kind in ("cut", "tin", "proof") and form != "pieces":
        worked_through(dough)
        dough.body = pieces_of(dough)
        dough.shaped_rise = _rise_now(dough)


def _rise_now(dough: Passage) -> Array:
    gas, _ = gas_at_door(dough.hold.temperature_c, dough.hold.ferment, dough.p, dough.faces())
    return np.asarray((dough.p[:, P_DENSE_ML] + gas) / dough.p[:, P_FRESH_ML])


def _spread_warming(dough: Passage) -> Array:
    """Temperature step of the log when the spread, at about room temperature, is rolled in [°C]."""
    share = dough.batch.spread_share
    temperature, _ = means(dough)
    spread_c = dough.ensemble.of("kitchen")["room"] + dough.draws["spread.temperature_above_room"]
    return np.asarray(share * (spread_c - temperature))


def pieces_of(dough: Passage) -> shape.Body:
    """The cut pieces as they stand in the tin; sets the footprint that they are reckoned to have."""
    batch = dough.batch
    spread_m3 = batch.spread_share * batch.made_up.mass_g * 1e-6
    volume = (dough.fresh_volume_m3() + spread_m3) / batch.geometry.pieces
    proofed = load("dough").value("proof.shaped_high")
    dough.footprint_m2 = shape.footprint_m2(batch.geometry, proofed, load("timeline").value("tin.most_spread"))
    return shape.pieces(batch.geometry, dough.footprint_m2, volume, dough.draws)


def out_of_oven(dough: Passage, step: Step, index: int, begun: Array, clock: Clock) -> StepTrace:
    """Carry the dough through one step in the room, the fridge or the prover, and look past its end."""
    length = planned_s(step, dough.ensemble)
    horizon = horizon_s(step, length, load("timeline").value("horizon.least"))
    physics = dough.batch.physics
    ones = np.ones(dough.members)
    conductivity = physics.conductivity * dough.draws["dough.conductivity_factor"]
    mean_c, _ = means(dough)
    known = Dough(mean_c, conductivity, dough.batch.dough.mass_g / 1000.0)
    around = surround(step, dough.body, dough.kitchen, dough.ensemble, clock, begun, horizon, known)
    bench = _bench(dough, around.air_c[:, 0]) if around.on_bench else None
    dense = DoughPhysics(
        physics.density * ones,
        physics.heat_capacity * ones,
        conductivity,
        *_setting_fat(dough),
    )
    sample_s = samples_to(horizon, HOLD_SAMPLES, length)

    def stage(end_s: Array) -> HoldStage:
        return HoldStage(
            shape=dough.body.shape,
            faces=dough.faces(),
            thickness_m=np.ascontiguousarray(dough.body.thickness_m),
            h_bottom=around.h_bottom,
            h_top=around.h_top,
            air_s=around.air_s,
            air_c=around.air_c,
            bench=bench,
            rise_free=True,
            sample_s=sample_s,
            end_s=end_s,
            until=None,
            sides_per_m2=around.sides_per_m2,
            top_shift_k=None if around.drying is None else around.drying.shift_k,
        )

    carry = dough.hands.carry
    facts = {"shaped_rise": dough.shaped_rise.copy(), "air_c": around.air_c[:, 0].copy()}
    facts["depth_m"] = dough.body.thickness_m.copy()
    if around.drying is not None:
        facts["skin_s"] = around.drying.skin_s
    run = carry(dough.members, advance_hold, dough.hold, stage(length), dense, dough.p, dough.draws)
    _see_the_middle(dough, around, conductivity, sample_s, run.samples)
    trace = StepTrace(index, step, "hold", HOLD_OBSERVABLES, begun, run.end_s, sample_s, run.samples, facts)
    ended = ended_by_target(trace, step, dough.shaped_rise)
    if ended is not None:
        run = carry(dough.members, advance_hold, dough.hold, stage(ended), dense, dough.p, dough.draws)
        _see_the_middle(dough, around, conductivity, sample_s, run.samples)
        trace = StepTrace(index, step, "hold", HOLD_OBSERVABLES, begun, ended, sample_s, run.samples, facts)
    dough.hold = run.end
    dough.rested = True
    return trace


def _setting_fat(dough: Passage) -> tuple[Array, Array | None]:
    """(M,) fat that can set [kg/kg dough], and its curve where it is not milk fat alone."""
    ones = np.ones(dough.members)
    fats = setting_fats(dough.batch.lines, dough.batch.pantry)
    if not set(fats) - {"milk"}:
        return dough.batch.physics.milk_fat_share * ones, None
    mass_g = sum(line.grams.likely for line in dough.batch.lines if line.grams is not None)
    return sum(fats.values()) / mass_g * ones, curve_of(fats, curve_temperatures_c(), dough.p[:, P_FAT_OFFSET])


def _see_the_middle(dough: Passage, around: Surroundings, conductivity: Array, sample_s: Array, samples: Array) -> None:
    """Put the middle of a body with sides in place of its middle layer's mean, in the samples."""
    if dough.body.half_length_m is None:
        return
    air = np.stack([np.interp(sample_s, around.air_s, row) for row in around.air_c])
    physics = dough.batch.physics
    core = HOLD_OBSERVABLES.index("core_c")
    samples[:, :, core] = middle_c(
        dough.body,
        around.side,
        conductivity,
        physics.density * physics.heat_capacity,
        samples[:, :, core],
        air,
        sample_s,
    )


def _bench(dough: Passage, start_c: Array) -> Bench:
    values = load("timeline")
    kind, ones = dough.kitchen.bench, np.ones(dough.members)
    return Bench(
        conductivity=values.value(f"bench.{kind}.conductivity") * ones,
        volumetric_heat=values.value(f"bench.{kind}.volumetric_heat") * ones,
        thickness_m=np.ascontiguousarray(dough.draws["bench.thickness"]),
        contact_resistance=np.ascontiguousarray(dough.draws["bench.contact_resistance"]),
        start_c=np.ascontiguousarray(start_c),
    )
