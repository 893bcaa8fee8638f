"""The oven and what follows it: the dough is handed over at the door, the oven's kernel carries it on."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import browning_factor, lysine_of, sugar_browning_1_s
from oventide.bake.recovery import Load, air_after_loading
from oventide.dough.state import (
    AIR,
    CO2,
    ETHANOL,
    ETHANOL_MOLAR_G,
    HEXOSE,
    HEXOSE_MOLAR_G,
    LACTOSE_MOLAR_G,
    MALTOSE,
    SALT_MOLAR_G,
)
from oventide.evidence.parameters import load
from oventide.kitchen.model import Kitchen
from oventide.timeline.before_oven import pieces_of
from oventide.timeline.door import gas_at_door, shares_of_composition
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import (
    OvenStage,
    advance_oven,
    gas_fraction_of,
    oven_parameters,
    oven_stage,
    start_oven,
)
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
from oventide.timeline.roll import along_the_roll
from oventide.timeline.shape import tin_area_m2
from oventide.timeline.surroundings import Clock, air_history
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

OVEN_CELLS = 32
_LONGEST_BAKE_STEP_S = 15.0
"""Against steps of 1 s: core within 0.3 °C (tests of the oven's kernel), a thirtieth of the usual window."""
_LONGEST_COOL_STEP_S = 20.0


def to_the_door(dough: Passage) -> None:
    """Hand the dough over to the oven's kernel."""
    if dough.body.form != "pieces":
        worked_through(dough)
        dough.body = pieces_of(dough)
    batch, flour_hundreds = dough.batch, dough.batch.dough.flour_g / 100.0
    _, dissolved = gas_at_door(dough.hold.temperature_c, dough.hold.ferment, dough.p, dough.faces())
    shares = shares_of_composition(batch.made_up)
    dry_kg = (batch.made_up.mass_g - shares.water) / 1000.0
    mean_c, ferment = means(dough)
    skin = _skin(dough)
    free = (ferment[:, CO2] + ferment[:, AIR] - dissolved) * flour_hundreds / 1000.0 / dry_kg
    gas_fraction = gas_fraction_of(free, mean_c, shares, dough.kitchen.altitude_m)
    dough.oven_par = oven_parameters(
        shares,
        along_the_roll(batch, gas_fraction, dough.draws),
        mean_c,
        gas_fraction,
        dissolved_co2_mol_kg_dry=dissolved * flour_hundreds / 1000.0 / dry_kg,
        browning=browning_factor(dough.draws, batch.wash),
        altitude_m=dough.kitchen.altitude_m,
        sugar_browning=skin.sugar_browning,
        osmoles_mol_kg_dry=skin.osmoles_mol_kg_dry,
        sugar_of_solution=skin.sugar_of_solution,
        ethanol_kg_kg_dry=skin.ethanol_g / 1000.0 / dry_kg,
    )
    mass_area = np.full(dough.members, batch.made_up_piece_g / 1000.0 / dough.footprint_m2)
    faces = graded_faces(OVEN_CELLS)
    temperature_c = on_other_cells(dough.hold.temperature_c, dough.faces(), faces)
    dough.oven = start_oven(temperature_c, shares, gas_fraction, mass_area, faces)


class _Skin(NamedTuple):
    """What the dough brings to crust and crumb, (M,) or a figure."""

    sugar_browning: Array
    osmoles_mol_kg_dry: Array
    sugar_of_solution: Array
    ethanol_g: Array


def _skin(dough: Passage) -> _Skin:
    """Sugars that the yeast has left, amino groups and salt of the dough, without spread and filling."""
    made, flour_hundreds = dough.batch.dough, dough.batch.dough.flour_g / 100.0
    left = np.tensordot(dough.hold.ferment, np.diff(dough.faces()), axes=([1], [0])) * flour_hundreds
    hexose, maltose, ethanol = left[:, HEXOSE], left[:, MALTOSE], left[:, ETHANOL] * ETHANOL_MOLAR_G / 1000.0
    egg_protein = made.egg_g * load("bake").value("egg.protein")
    flour_protein = max(0.0, made.protein_g - made.milk_protein_g - egg_protein)
    dry_g = made.mass_g - made.water_g - made.alcohol_g
    sugars = hexose + maltose + made.lactose_g
    osmoles = hexose / HEXOSE_MOLAR_G + (maltose + made.lactose_g) / LACTOSE_MOLAR_G + 2.0 * made.salt_g / SALT_MOLAR_G
    return _Skin(
        sugar_browning=sugar_browning_1_s(
            dough.draws,
            hexose,
            maltose + made.lactose_g,
            lysine_of(flour_protein, made.milk_protein_g, egg_protein),
            dry_g - made.fat_g,
        ),
        osmoles_mol_kg_dry=osmoles / dry_g * 1000.0,
        sugar_of_solution=sugars / (sugars + made.water_g),
        ethanol_g=ethanol,
    )


def on_other_cells(values: Array, faces: Array, others: Array) -> Array:
    """Cell means (M, n) on other cells (M, k) of the same body: straight lines through the running integral."""
    running = np.concatenate([np.zeros((values.shape[0], 1)), np.cumsum(values * np.diff(faces), axis=1)], axis=1)
    integral = np.stack([np.interp(others, faces, row) for row in running])
    return np.ascontiguousarray(np.diff(integral, axis=1) / np.diff(others))


@dataclass(frozen=True)
class Stretch:
    """One step in the oven or on the rack, ready to be run: what surrounds the pieces, and for how long."""

    dough: Passage
    step: Step
    length_s: Array
    horizon_s: float
    air_s: Array
    air_c: Array
    place: str
    vapour_pa: Array | None
    facts: dict[str, Array]

    @property
    def is_bake(self) -> bool:
        return self.step.kind == "bake"

    def stage(self, end_s: Array, sample_s: Array, after_s: float = 0.0) -> OvenStage:
        """The kernel's stage, sampled at `sample_s`; it begins `after_s` after the step did."""
        dough, step = self.dough, self.step
        return oven_stage(
            self.place, dough.kitchen.tin, step.covered and self.is_bake, self.air_s - after_s, self.air_c, sample_s,
            end_s, dough.draws, in_tin=step.kind != "cool", sides_over_plan=side_walls(dough),
            vapour_pa=self.vapour_pa, altitude_m=dough.kitchen.altitude_m,
            longest_step_s=_LONGEST_BAKE_STEP_S if self.is_bake else _LONGEST_COOL_STEP_S,
        )  # fmt: skip


def stretch(dough: Passage, step: Step, begun: Array, clock: Clock, assumed: list[str]) -> Stretch:
    """What surrounds the pieces in a step that bakes, or stands in the room after the bake."""
    assert dough.oven is not None
    length = planned_s(step, dough.ensemble)
    horizon = horizon_s(step, length, 600.0)
    facts: dict[str, Array] = {}
    vapour: Array | None = None
    if step.kind == "bake":
        setting = oven_setting(step, dough.kitchen, assumed)
        facts["setting_c"] = np.full(dough.members, setting)
        own, geometry = dough.ensemble.of("kitchen"), dough.batch.geometry
        # every bake step begins with an open door: to load, or to take the cover off
        load_in = Load(
            geometry.pieces * dough.batch.made_up_piece_g / 1000.0,
            geometry.pieces * dough.footprint_m2,
            dough.oven.temperature_c.mean(axis=1),
        )
        air_s, air_c = air_after_loading(
            dough.kitchen.oven_kind, setting + own["oven_offset"], own["room"], load_in, dough.draws
        )
        place: str = dough.kitchen.oven_kind
    else:
        air_s, air_c = air_history(step, dough.kitchen, dough.ensemble, clock, begun, horizon)
        place, vapour = "rack", dough.draws["room.vapour"]
    return Stretch(dough, step, length, horizon, air_s, air_c, place, vapour, facts)


def in_oven(dough: Passage, step: Step, index: int, begun: Array, clock: Clock, assumed: list[str]) -> StepTrace:
    """Bake, or stand in the room after the bake."""
    assert dough.oven is not None
    members, carry = dough.members, dough.hands.carry
    around = stretch(dough, step, begun, clock, assumed)
    sample_s = samples_to(around.horizon_s, OVEN_SAMPLES, around.length_s)
    run = carry(members, advance_oven, dough.oven, around.stage(around.length_s, sample_s), dough.oven_par)
    trace = StepTrace(index, step, "oven", OVEN_OBSERVABLES, begun, run.end_s, sample_s, run.samples, around.facts)
    ended = ended_by_target(trace, step, dough.shaped_rise)
    if ended is not None:
        run = carry(members, advance_oven, dough.oven, around.stage(ended, sample_s), dough.oven_par)
        trace = StepTrace(index, step, "oven", OVEN_OBSERVABLES, begun, ended, sample_s, run.samples, around.facts)
    dough.oven = run.end
    return trace


def side_walls(dough: Passage) -> Array:
    """Side wall that the pieces touch over the floor they stand on, (M,); 0 where they stand free.

    A free piece's open sides are already in its widened footprint (`shape.footprint_m2`).
    """
    geometry = dough.batch.geometry
    assert dough.oven is not None
    none = np.zeros(dough.members)
    if geometry.tin is None:
        return none
    floor = tin_area_m2(geometry.tin)
    if dough.footprint_m2 < 0.999 * floor * geometry.tins / geometry.pieces:
        return none
    length, width = geometry.tin.length_mm / 1000.0, geometry.tin.width_mm / 1000.0
    around = np.pi * length if geometry.tin.shape == "round" else 2.0 * (length + width)
    return np.asarray(around / floor * np.minimum(dough.oven.height_m, geometry.tin.depth_mm / 1000.0))


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
