"""A piece in the oven, and on the rack afterwards: state, stage and run of the ensemble (docs/models/bake.md)."""

from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.bake.boundary import surroundings
from oventide.bake.crumb import held_back_water, setting_shift_k
from oventide.evidence.parameters import load
from oventide.matter.air import mass_film_kg_m2spa
from oventide.matter.properties import conductivity_bounds_w_mk, density_kg_m3, heat_capacity_j_kgk, shares_of
from oventide.matter.water import GAS_CONSTANT, air_pressure_pa, boiling_point_c, saturation_pressure_pa
from oventide.timeline import oven_parameters as at
from oventide.timeline.oven_march import march

Array = NDArray[np.float64]
_REFERENCE_C = 70.0  # dough's properties are taken here: the middle of the way through the oven


class Shares(NamedTuple):
    """Mass shares of the dough at the oven's door; any mass unit. `milk_fat` is part of `fat`."""

    water: float
    protein: float
    fat: float
    carbohydrate: float
    fibre: float
    ash: float
    milk_fat: float = 0.0

    @property
    def first_water(self) -> float:
        """Water per dry matter [kg/kg]."""
        return self.water / (self.protein + self.fat + self.carbohydrate + self.fibre + self.ash)


@dataclass
class OvenState:
    """M members, n cells. Mass areas are per plan area that the piece stands on.

    `colour` (M, 3): ΔE top, L* top, ΔE base. `gas_volume` [m3/kg dry], `reached` the largest gas ratio so far,
    `yeast_moles` made in the oven [mol/kg dry], `door_volume` the gas volume at the oven's door. `lost_kg_m2` is water;
    `tin_c` the temperature of the tin's wall, `side_lost_kg_m2` the water that left at the tin's sides besides.
    """

    faces: Array
    temperature_c: Array
    water: Array
    set_fraction: Array
    colour: Array
    gas_volume: Array
    reached: Array
    yeast_moles: Array
    door_volume: Array
    dry_mass_kg_m2: Array
    dough_mass_kg_m2: Array
    lost_kg_m2: Array
    height_m: Array
    tin_c: Array
    side_lost_kg_m2: Array

    def copy(self) -> "OvenState":
        """A state of its own arrays."""
        return OvenState(**{name: np.array(value, order="C") for name, value in self.__dict__.items()})


@dataclass(frozen=True)
class OvenStage:
    """One stretch in one surroundings. `conductances` (M, NSTAGE) by the S_ constants of oven_parameters."""

    conductances: Array
    air_s: Array
    air_c: Array
    sample_s: Array
    end_s: Array
    until: tuple[int, float, int] | None = None
    longest_step_s: float = 15.0


@dataclass(frozen=True)
class OvenRun:
    """Samples (M, K, NOBS) by OBS_ constants, end of each member, its state then; profiles (M', K, n, 2) of T and W.

    `balance` (M, 4): heat in, heat carried out by vapour [J/m2], Newton iterations, steps taken again shorter.
    """

    samples: Array
    end_s: Array
    end: OvenState
    profiles: Array
    balance: Array = field(repr=False)


def oven_parameters(
    shares: Shares,
    draws: dict[str, Array],
    start_c: Array,
    gas_fraction: Array,
    dissolved_co2_mol_kg_dry: Array | float = 0.0,
    gas_rate_mol_kg_dry_s: Array | float = 0.0,
    browning: Array | float = 1.0,
    altitude_m: float = 0.0,
    sugar_browning: Array | float = 0.0,
    osmoles_mol_kg_dry: Array | float = 0.0,
    sugar_of_solution: Array | float = 0.0,
    ethanol_kg_kg_dry: Array | float = 0.0,
) -> Array:
    """The constants of every member, (M, NPAR), from the dough's shares and the draws of bake.toml and matter.toml.

    `start_c` mean dough temperature and `gas_fraction` gas over dough volume at the oven's door, (M,).
    `browning` is `bake.colour.browning_factor`, `sugar_browning` is `bake.colour.sugar_browning_1_s`;
    `osmoles_mol_kg_dry` of sugars and salt raise the boiling point; `sugar_of_solution` is sugar over sugar and water
    [1], which lets starch set later; ethanol leaves with the first water.
    """
    members = gas_fraction.shape[0]
    wet = shares_of(*shares[:6])
    dry = shares_of(0.0, *shares[1:6])
    fixed = load("bake").value
    k_wet = 0.5 * sum(conductivity_bounds_w_mk(wet, _REFERENCE_C))
    k_dry = 0.5 * sum(conductivity_bounds_w_mk(dry, _REFERENCE_C))
    pressure = air_pressure_pa(altitude_m)
    first = shares.first_water
    par = np.zeros((members, at.NPAR))
    par[:, at.DRY_HEAT] = heat_capacity_j_kgk(dry, _REFERENCE_C)
    par[:, at.DRY_VOLUME] = 1.0 / density_kg_m3(dry, 20.0)
    par[:, at.K_WET] = k_wet * draws["dough.conductivity_factor"]
    par[:, at.K_DRY] = k_dry * draws["dough.conductivity_factor"]
    par[:, at.FIRST_WATER] = first
    par[:, at.FAT] = shares.milk_fat / (sum(shares[:6]) - shares.water)
    par[:, at.FAT_OFFSET] = draws["milk_fat.solid_offset"]
    par[:, at.FUSION] = draws["milk_fat.fusion_heat"]
    par[:, at.PRESSURE] = pressure
    par[:, at.BOILING] = boiling_point_c(pressure)
    par[:, at.OPEN_CRUMB] = draws["crumb.open_pores"]
    par[:, at.OPEN_CRUST] = draws["crust.open_pores"]
    par[:, at.GO_SHARE] = draws["crumb.go_share"]
    par[:, at.K_CEILING] = draws["crumb.conduction_ceiling"]
    par[:, at.LIQUID_D] = draws["crumb.liquid_diffusion"]
    # steam at 100 °C: 0.6 kg/m3 over 1.2e-5 Pa·s
    par[:, at.DARCY] = draws["crumb.permeability"] * 0.6 / 1.2e-5
    par[:, at.CRUST_RATIO] = np.clip(draws["crust.density_ratio"], 0.3, 0.95)
    par[:, at.PORE] = draws["crust.pore"]
    par[:, at.CRUST_K] = draws["crust.conductivity_factor"]
    par[:, at.SORB_HALF] = fixed("water.half_activity")
    par[:, at.SORB_N] = fixed("water.sorption_exponent")
    par[:, at.SORB_SHIFT] = fixed("water.sorption_shift")
    par[:, at.SET_K0] = draws["setting.k0"]
    par[:, at.SET_E] = fixed("setting.energy")
    par[:, at.BROWN_K0] = fixed("browning.k0")
    par[:, at.BROWN_E] = fixed("browning.energy")
    par[:, at.BROWN_END] = fixed("browning.asymptote")
    par[:, at.BROWN_WET] = draws["browning.wet_share"]
    par[:, at.BROWN_FACTOR] = browning
    par[:, at.BROWN_SUGAR] = sugar_browning
    par[:, at.BROWN_SUGAR_E] = draws["browning.sugar_energy"]
    par[:, at.SOLUTE] = held_back_water(osmoles_mol_kg_dry)
    par[:, at.SET_SHIFT] = setting_shift_k(draws["setting.by_sugar"], sugar_of_solution)
    par[:, at.ETHANOL] = ethanol_kg_kg_dry
    par[:, at.RETAINED] = draws["spring.retained"]
    par[:, at.START_C] = start_c
    gas = gas_fraction / (1.0 - gas_fraction) * (par[:, at.DRY_VOLUME] + 1e-3 * first)
    dry_gas_pa = pressure - np.array([saturation_pressure_pa(float(c)) for c in start_c])
    par[:, at.START_MOLES] = dry_gas_pa * gas / (GAS_CONSTANT * (start_c + 273.15))
    par[:, at.DISSOLVED] = dissolved_co2_mol_kg_dry
    par[:, at.GAS_RATE] = gas_rate_mol_kg_dry_s
    return par


def gas_fraction_of(free_mol_kg_dry: Array, start_c: Array, shares: Shares, altitude_m: float) -> Array:
    """Gas over dough volume at the oven's door [1], (M,), from the moles of gas in bubbles [mol/kg dry].

    By the ideal gas law at the air's pressure less the vapour's, in dough as dense as the oven reckons it: so the moles
    come through the door as they are.
    """
    dry_gas_pa = air_pressure_pa(altitude_m) - np.array([saturation_pressure_pa(float(c)) for c in start_c])
    gas = free_mol_kg_dry * GAS_CONSTANT * (start_c + 273.15) / dry_gas_pa
    dense = 1.0 / density_kg_m3(shares_of(0.0, *shares[1:6]), 20.0) + 1e-3 * shares.first_water
    return np.asarray(gas / (gas + dense))


def start_oven(
    temperature_c: Array,
    shares: Shares,
    gas_fraction: Array,
    mass_area_kg_m2: Array,
    faces: Array,
) -> OvenState:
    """A piece at the oven's door: temperatures (M, n) by cell, gas over dough volume (M,), dough per plan area (M,)."""
    members, cells = temperature_c.shape
    first = shares.first_water
    dry_volume = 1.0 / density_kg_m3(shares_of(0.0, *shares[1:6]), 20.0)
    gas = gas_fraction / (1.0 - gas_fraction) * (dry_volume + 1e-3 * first)
    dry_mass = mass_area_kg_m2 / (1.0 + first)
    lightness = load("bake").value("browning.first_lightness")
    gas_cells = np.repeat(gas[:, None], cells, axis=1)
    return OvenState(
        faces=np.asarray(faces, dtype=np.float64),
        temperature_c=np.array(temperature_c, dtype=np.float64),
        water=np.full((members, cells), first),
        set_fraction=np.zeros((members, cells)),
        colour=np.tile(np.array([0.0, lightness, 0.0]), (members, 1)),
        gas_volume=gas_cells,
        reached=np.ones((members, cells)),
        yeast_moles=np.zeros((members, cells)),
        door_volume=gas_cells.copy(),
        dry_mass_kg_m2=dry_mass,
        dough_mass_kg_m2=np.array(mass_area_kg_m2, dtype=np.float64),
        lost_kg_m2=np.zeros(members),
        height_m=dry_mass * (dry_volume + 1e-3 * first + gas),
        tin_c=np.array(temperature_c.mean(axis=1), dtype=np.float64),
        side_lost_kg_m2=np.zeros(members),
    )


def oven_stage(
    oven_kind: str,
    tin: str,
    covered: bool,
    air_s: Array,
    air_c: Array,
    sample_s: Array,
    end_s: Array,
    draws: dict[str, Array],
    *,
    in_tin: bool = True,
    sides_over_plan: Array | float = 0.0,
    vapour_pa: Array | float | None = None,
    altitude_m: float = 0.0,
    until: tuple[int, float, int] | None = None,
    longest_step_s: float | None = None,
) -> OvenStage:
    """A stage from what a kitchen says. `oven_kind="rack"` is the room, for cooling, in the tin or out of it.

    `air_c` (A,) or (M, A) [°C] at `air_s` [s]; `vapour_pa` of the air, the prior of a loaded oven where None
    (a room should give its own, about 1200 Pa). `sides_over_plan` is the tin's side wall that the dough touches over
    its floor: what dries there gets out along the wall.
    """
    around = surroundings(oven_kind, tin, draws, in_tin)
    members = around.film.shape[0]
    pressure = air_pressure_pa(altitude_m)
    if vapour_pa is None:
        vapour_pa = draws["oven.vapour"] if oven_kind != "rack" else 1200.0
    mass_film = mass_film_kg_m2spa(1.0, pressure) * around.film
    box = np.zeros((members, at.NSTAGE))
    box[:, at.S_FILM] = around.film
    box[:, at.S_EMISSIVITY] = around.emissivity
    box[:, at.S_WALL_STEP] = around.wall_step_c
    box[:, at.S_COVER] = around.cover if covered else -1.0
    box[:, at.S_LEAK] = around.leak
    box[:, at.S_VENT] = load("bake").value("cover.vent")
    box[:, at.S_MASS_TOP] = mass_film
    box[:, at.S_TIN] = around.tin
    box[:, at.S_CONTACT] = around.contact
    box[:, at.S_TIN_HEAT] = around.tin_heat
    box[:, at.S_FLOOR_STEP] = around.floor_step_c
    box[:, at.S_MASS_BASE] = around.base_open * mass_film
    box[:, at.S_VAPOUR] = vapour_pa
    box[:, at.S_DOME] = around.dome
    box[:, at.S_SIDES] = sides_over_plan * draws["tin.side_escape"]
    if longest_step_s is None:
        longest_step_s = 15.0 if oven_kind != "rack" else 60.0
    return OvenStage(
        conductances=box,
        air_s=np.asarray(air_s, dtype=np.float64),
        air_c=np.array(np.broadcast_to(np.asarray(air_c, dtype=np.float64), (members, len(air_s))), order="C"),
        sample_s=np.asarray(sample_s, dtype=np.float64),
        end_s=np.array(np.broadcast_to(np.asarray(end_s, dtype=np.float64), (members,))),
        until=until,
        longest_step_s=longest_step_s,
    )


def advance_oven(state: OvenState, stage: OvenStage, par: Array, keep_profiles: int = 0) -> OvenRun:
    """Advance every member through the stage. `state` is not changed; samples run to the stage's horizon."""
    end = state.copy()
    members, cells = end.temperature_c.shape
    mass = np.ascontiguousarray(end.dry_mass_kg_m2[:, None] * np.diff(end.faces)[None, :])
    count = len(stage.sample_s)
    samples = np.empty((members, count, at.NOBS))
    ended = np.array(stage.end_s)
    profiles = np.full((keep_profiles, count, cells, 2), np.nan)
    balance = np.zeros((members, 4))
    index, value, sign = stage.until if stage.until is not None else (-1, 0.0, 1)
    by_cell = (
        end.temperature_c, end.water, end.set_fraction, end.gas_volume, end.reached, end.yeast_moles, end.door_volume,
    )  # fmt: skip
    by_piece = (end.lost_kg_m2, end.tin_c, end.side_lost_kg_m2)
    all_cells, piece = np.stack(by_cell, axis=1), np.column_stack((end.colour, *by_piece))
    march(
        all_cells, piece, mass, end.dough_mass_kg_m2, stage.air_s, stage.air_c, par, stage.conductances, stage.sample_s,
        stage.end_s, index, value, sign, stage.longest_step_s, keep_profiles, samples, ended, profiles, balance,
    )  # fmt: skip
    for row, array in enumerate(by_cell):
        array[:] = all_cells[:, row]
    end.colour[:] = piece[:, :3]
    for column, array in enumerate(by_piece, start=3):
        array[:] = piece[:, column]
    # the samples' height runs to the horizon; the end state's is read off at the member's own end
    for m in range(members):
        end.height_m[m] = np.interp(ended[m], stage.sample_s, samples[m, :, at.OBS_HEIGHT]) / 1000.0
    return OvenRun(samples=samples, end_s=ended, end=end, profiles=profiles, balance=balance)
