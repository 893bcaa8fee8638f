"""The coupling: every step of the procedure in turn, every member at once. The one place where time is advanced.

Before the oven the dough is a slab or a cylinder of cells, each with its temperature and its ferment vector
(hold.py); from the oven's door on it is a column of cells in the tin with water, gas, set and colour (oven.py).
When the make-up changes the body, profiles are carried over or, where the dough is worked through, averaged.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import browning_factor
from oventide.dough.gas import degas
from oventide.dough.state import P_DENSE_ML, P_FRESH_ML, ferment_parameters, initial_ferment
from oventide.evidence.parameters import load
from oventide.kitchen.model import Kitchen
from oventide.timeline import shape
from oventide.timeline.batch import Batch
from oventide.timeline.door import gas_at_door, shares_of_composition
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.grid import graded_faces
from oventide.timeline.hold import HOLD_OBSERVABLES, Bench, DoughPhysics, HoldStage, HoldState, advance_hold
from oventide.timeline.mixing import mix
from oventide.timeline.oven import OvenStage, OvenState, advance_oven, oven_parameters, oven_stage, start_oven
from oventide.timeline.oven_parameters import OVEN_OBSERVABLES
from oventide.timeline.procedure import Step
from oventide.timeline.surroundings import Clock, air_history, surround
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]
Progress = Callable[[float], None]

CELLS = 24
_SAMPLES = 61
_BY_HAND = ("mix", "sheet", "spread", "roll", "cut", "tin", "glaze")
_OVEN_STEPS = ("bake", "glaze", "cool")
_TARGET_OBSERVABLE = {
    "rise": ("rise", None),
    "dough_c": ("mean_c", "mean_c"),
    "core_c": ("core_c", "core_c"),
    "surface_c": ("top_c", "surface_c"),
    "colour": (None, "colour_top"),
    "solid_fat": ("solid_fat", None),
}


@dataclass
class _Dough:
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
    footprint_m2: float = 0.0

    @property
    def members(self) -> int:
        return self.ensemble.members

    def faces(self) -> Array:
        if self.body.shape == "cylinder":
            return graded_faces(CELLS, fine_at="top")
        return graded_faces(CELLS)

    def fresh_volume_m3(self) -> float:
        """Likely volume of the whole dough at relative volume 1."""
        per_flour = self.batch.dough.flour_g / 100.0
        return float(np.median(self.p[:, P_FRESH_ML])) * per_flour * 1e-6


def run_timeline(
    batch: Batch, kitchen: Kitchen, ensemble: Ensemble, clock: Clock, progress: Progress | None = None
) -> Trace:
    """Run every step. Members (M,) differ in every figure that is not certain; `clock` says where the day stands.

    Steps without a stated length are refused by the caller, not guessed here.
    """
    draws: dict[str, Array] = {}
    for room in ("matter", "dough", "bake", "timeline"):
        draws |= ensemble.of(room)
    p = ferment_parameters(batch.dough, draws, kitchen.altitude_m)
    first = initial_ferment(batch.dough, draws)
    start = HoldState(
        np.repeat(np.asarray(ensemble.of("kitchen")["room"])[:, None], CELLS, axis=1),
        np.ascontiguousarray(np.repeat(first[:, None, :], CELLS, axis=1)),
    )
    dough = _Dough(batch, kitchen, ensemble, draws, p, shape.bowl(1e-3, draws), start)
    dough.body = shape.bowl(dough.fresh_volume_m3(), draws)
    dough.shaped_rise = np.ones(ensemble.members)
    begun = np.zeros(ensemble.members)
    traces: list[StepTrace] = []
    assumed: list[str] = []
    steps = batch.procedure.steps
    for index, step in enumerate(steps):
        if progress is not None:
            progress(index / len(steps))
        trace = _advance(dough, step, index, begun, clock, assumed)
        traces.append(trace)
        begun = begun + trace.duration_s
    if progress is not None:
        progress(1.0)
    return Trace(ensemble=ensemble, steps=tuple(traces), assumed=tuple(dict.fromkeys(assumed)))


def _advance(dough: _Dough, step: Step, index: int, begun: Array, clock: Clock, assumed: list[str]) -> StepTrace:
    if step.kind == "mix":
        return _mix(dough, step, index, begun, assumed)
    if step.kind == "bake" and dough.oven is None:
        _to_the_door(dough)
    if dough.oven is not None:
        return _in_oven(dough, step, index, begun, clock, assumed)
    _make_up(dough, step)
    return _out_of_oven(dough, step, index, begun, clock)


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


def _mix(dough: _Dough, step: Step, index: int, begun: Array, assumed: list[str]) -> StepTrace:
    """Mixing is one heat balance: the dough leaves the bowl at one temperature throughout."""
    mixed = mix(dough.batch, step, dough.kitchen, dough.ensemble)
    assumed.extend(mixed.assumed)
    dough.hold.temperature_c[:] = mixed.dough_c[:, None]
    length = planned_s(step, dough.ensemble)
    horizon = max(float(length.max()), 60.0)
    rise = np.ones(dough.members)
    samples = np.stack([np.stack([mixed.start_c, rise], axis=1), np.stack([mixed.dough_c, rise], axis=1)], axis=1)
    return StepTrace(
        index, step, "mix", ("mean_c", "rise"), begun, length, np.array([0.0, horizon]), samples, mixed.facts
    )


def _means(dough: _Dough) -> tuple[Array, Array]:
    """Mass means over cells: temperature (M,), ferment (M, NY)."""
    weights = np.diff(dough.faces())
    return dough.hold.temperature_c @ weights, np.einsum("i,mij->mj", weights, dough.hold.ferment)


def _worked_through(dough: _Dough, warmer_c: Array | float = 0.0, press_out: Array | None = None) -> None:
    """Average the profiles; press gas out and warm the dough where hands and pin do."""
    temperature, ferment = _means(dough)
    if press_out is not None:
        for m in range(dough.members):
            degas(ferment[m], dough.p[m], float(press_out[m]), float(temperature[m]))
    temperature = temperature + warmer_c
    dough.hold = HoldState(
        np.repeat(temperature[:, None], CELLS, axis=1),
        np.ascontiguousarray(np.repeat(ferment[:, None, :], CELLS, axis=1)),
    )


def _make_up(dough: _Dough, step: Step) -> None:
    """Change the body where the step does: flattened for the fridge, pinned out, rolled up, cut, set in the tin."""
    geometry, members, form = dough.batch.geometry, dough.members, dough.body.form
    if step.kind == "retard" and form == "bowl":
        dough.body = shape.block(dough.fresh_volume_m3(), dough.draws)
    elif step.kind == "sheet" and form != "sheet":
        room = dough.ensemble.of("kitchen")["room"]
        temperature, _ = _means(dough)
        warming = np.where(temperature < room, dough.draws["hands.sheet_work"], 0.0)
        _worked_through(dough, warming, dough.draws["gas.sheeting_loss"])
        dough.body = shape.sheet(geometry, members)
    elif step.kind == "roll" and form == "sheet":
        _worked_through(dough, _spread_warming(dough))
        dough.body = shape.log(geometry, members)
    elif step.kind in ("cut", "tin", "proof") and form != "pieces":
        _worked_through(dough)
        dough.body = _pieces(dough)
        dough.shaped_rise = _rise_now(dough)


def _rise_now(dough: _Dough) -> Array:
    gas, _ = gas_at_door(dough.hold.temperature_c, dough.hold.ferment, dough.p, dough.faces())
    return np.asarray((dough.p[:, P_DENSE_ML] + gas) / dough.p[:, P_FRESH_ML])


def _spread_warming(dough: _Dough) -> Array:
    """Temperature step of the log when the spread, at about room temperature, is rolled in [°C]."""
    share = dough.batch.spread_share
    temperature, _ = _means(dough)
    spread_c = dough.ensemble.of("kitchen")["room"] + dough.draws["spread.temperature_above_room"]
    return np.asarray(share * (spread_c - temperature))


def _pieces(dough: _Dough) -> shape.Body:
    batch = dough.batch
    spread_m3 = batch.spread_share * batch.made_up.mass_g * 1e-6
    volume = (dough.fresh_volume_m3() + spread_m3) / batch.geometry.pieces
    proofed = load("dough").value("proof.shaped_high")
    dough.footprint_m2 = shape.footprint_m2(batch.geometry, proofed, load("timeline").value("tin.most_spread"))
    return shape.pieces(batch.geometry, dough.footprint_m2, volume, dough.draws)


def _samples_to(horizon_s: float) -> Array:
    """Sample times [s], closer together at the start, where things change fastest."""
    return np.asarray(horizon_s * np.linspace(0.0, 1.0, _SAMPLES) ** 1.4)


def _horizon(step: Step, length: Array, least_s: float) -> float:
    factor = load("timeline").value("horizon.bake" if step.kind == "bake" else "horizon.hold")
    return max(float(length.max()) * factor, least_s)


def _out_of_oven(dough: _Dough, step: Step, index: int, begun: Array, clock: Clock) -> StepTrace:
    length = planned_s(step, dough.ensemble)
    horizon = _horizon(step, length, load("timeline").value("horizon.least"))
    around = surround(step, dough.body, dough.kitchen, dough.ensemble, clock, begun, horizon)
    bench = _bench(dough, around.air_c[:, 0]) if around.on_bench else None
    physics = dough.batch.physics
    ones = np.ones(dough.members)
    dense = DoughPhysics(
        physics.density * ones,
        physics.heat_capacity * ones,
        physics.conductivity * dough.draws["dough.conductivity_factor"],
        physics.milk_fat_share * ones,
    )
    sample_s = _samples_to(horizon)

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
        )

    facts = {"shaped_rise": dough.shaped_rise.copy(), "air_c": around.air_c[:, 0].copy()}
    run = advance_hold(dough.hold, stage(length), dense, dough.p, dough.draws)
    trace = StepTrace(index, step, "hold", HOLD_OBSERVABLES, begun, run.end_s, sample_s, run.samples, facts)
    ended = _ended_by_target(trace, step, dough.shaped_rise)
    if ended is not None:
        run = advance_hold(dough.hold, stage(ended), dense, dough.p, dough.draws)
        trace = StepTrace(index, step, "hold", HOLD_OBSERVABLES, begun, ended, sample_s, run.samples, facts)
    dough.hold = run.end
    return trace


def _ended_by_target(trace: StepTrace, step: Step, shaped_rise: Array) -> Array | None:
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


def _bench(dough: _Dough, start_c: Array) -> Bench:
    values = load("timeline")
    kind, ones = dough.kitchen.bench, np.ones(dough.members)
    return Bench(
        conductivity=values.value(f"bench.{kind}.conductivity") * ones,
        volumetric_heat=values.value(f"bench.{kind}.volumetric_heat") * ones,
        thickness_m=np.ascontiguousarray(dough.draws["bench.thickness"]),
        contact_resistance=np.ascontiguousarray(dough.draws["bench.contact_resistance"]),
        start_c=np.ascontiguousarray(start_c),
    )


def _to_the_door(dough: _Dough) -> None:
    """Hand the dough over to the oven's kernel."""
    if dough.body.form != "pieces":
        _worked_through(dough)
        dough.body = _pieces(dough)
    batch, flour_hundreds = dough.batch, dough.batch.dough.flour_g / 100.0
    faces = graded_faces(CELLS)
    gas_ml, dissolved = gas_at_door(dough.hold.temperature_c, dough.hold.ferment, dough.p, faces)
    spread_ml = batch.spread_share * batch.made_up.mass_g
    dense_ml = dough.p[:, P_DENSE_ML] * flour_hundreds + spread_ml
    gas = gas_ml * flour_hundreds
    shares = shares_of_composition(batch.made_up)
    dry_kg = (batch.made_up.mass_g - shares.water) / 1000.0
    mean_c, _ = _means(dough)
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
    dough.oven = start_oven(dough.hold.temperature_c, shares, gas_fraction, mass_area, faces)


def _in_oven(dough: _Dough, step: Step, index: int, begun: Array, clock: Clock, assumed: list[str]) -> StepTrace:
    """Bake, or stand in the room after the bake."""
    assert dough.oven is not None
    length = planned_s(step, dough.ensemble)
    members = dough.members
    baking = step.kind == "bake"
    horizon = _horizon(step, length, 600.0)
    sample_s = _samples_to(horizon)
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
        )  # fmt: skip

    run = advance_oven(dough.oven, stage(length), dough.oven_par)
    trace = StepTrace(index, step, "oven", OVEN_OBSERVABLES, begun, run.end_s, sample_s, run.samples, facts)
    ended = _ended_by_target(trace, step, dough.shaped_rise)
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
