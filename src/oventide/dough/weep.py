"""Sugar weep: water that the filling's sugar draws from the dough, the syrup that it makes, and what holds it.

Sugar keeps the dough's face at the water activity of its syrup (Norrish); the dough's own solution is wetter. Water
comes to the face by diffusion through half a turn of dough (plane sheet, Crank), from the bare underside of the next
turn and through the gaps in the butter. It dissolves sugar as far as solubility goes. Dry spice, fibre and starch
drink first; then crystals, binder, faces and the gap between the turns hold syrup; what is more runs out.

Arrays are over members (M,); masses are grams for the whole sheet.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.formula.composition import Composition
from oventide.matter.syrup import SUCROSE_CRYSTAL_KG_M3, saturated_sucrose, syrup_density_kg_m3

Array = NDArray[np.float64]

_P = load("weep")
_K_SUCROSE, _K_INVERT = _P.value("norrish.sucrose"), _P.value("norrish.invert")
_ONE_LAYER, _COVERING = _P.value("contact.one_layer"), _P.value("butter.covering")
_COATING, _HOLD_BUTTER = _P.value("butter.coating"), _P.value("hold.butter")
_BOUND_DRY, _BOUND_FIBRE = _P.value("bound.dry"), _P.value("bound.fibre")
_HOLD_PROTEIN, _HOLD_FIBRE = _P.value("hold.protein"), _P.value("hold.fibre")
_PORES = _P.value("hold.crystal_pores")
_TENSION, _WETTING = _P.value("syrup.surface_tension"), _P.value("syrup.wetting")
_WATER_MOLAR_G, _SUCROSE_MOLAR_G, _HEXOSE_MOLAR_G, _SALT_MOLAR_G = 18.015, 342.3, 180.16, 58.44
_GRID_C = np.arange(0.0, 101.0)
_SOLUBLE = np.array([saturated_sucrose(float(t)) for t in _GRID_C])
_SYRUP_KG_M3 = syrup_density_kg_m3(0.65)
_SPICE_FIBRE = _P.value("bound.spice_fibre")
_ROUNDS, _NEAR_G = 14, 1e-7
VALID_C = (0.0, 40.0)
"""Dough temperatures for which the diffusion law is meant."""


@dataclass(frozen=True)
class Filling:
    """What is spread on one batch's sheets [g]. `layered`: sugar strewn on butter, not creamed with it."""

    fat_g: float
    butter_water_g: float
    water_g: float
    """Other water: milk, honey, the moisture of brown sugar."""
    sucrose_g: float
    invert_g: float
    starch_g: float
    protein_g: float
    fibre_g: float
    spice_g: float
    layered: bool = True

    @property
    def sugars_g(self) -> float:
        return self.sucrose_g + self.invert_g


@dataclass(frozen=True)
class Layers:
    """The rolled dough: sheet area [m²], half a turn of dense dough [m], height of a piece [m], pieces."""

    area_m2: float
    half_turn_m: float
    piece_height_m: float
    pieces: int


@dataclass(frozen=True)
class DoughWater:
    """The dough's own solution: water free to dissolve things and what is dissolved, per m³ of dense dough."""

    free_kg_m3: Array
    osmol_m3: float


@dataclass(frozen=True)
class Weep:
    """After a time, grams for the whole batch (M,), and shares."""

    drawn_g: Array
    """Water that left the dough."""
    bound_g: Array
    """Water taken up by spice, starch and fibre."""
    syrup_g: Array
    """Water, dissolved sugar and invert."""
    syrup_share: Array
    """Dissolved solids over syrup [kg/kg]."""
    crystals_g: Array
    """Sucrose still undissolved."""
    held_g: Array
    """Syrup that crystals, binder, faces and gap can hold."""
    runs_g: Array
    """Syrup beyond that."""
    starch_needed_g: Array
    """Raw starch that would hold what runs, as long as it is cold."""
    activity: Array
    """Water activity of the syrup."""


def filling_of(composition: Composition, layered: bool) -> Filling:
    """A filling from its composition; sugar that is neither sucrose nor lactose counts as invert."""
    invert = max(0.0, composition.sugars_g - composition.sucrose_g - composition.lactose_g)
    return Filling(
        fat_g=composition.fat_g,
        butter_water_g=composition.water_from_butter_g,
        water_g=max(0.0, composition.water_g - composition.water_from_butter_g),
        sucrose_g=composition.sucrose_g,
        invert_g=invert,
        starch_g=composition.starch_g,
        protein_g=composition.protein_g,
        fibre_g=max(0.0, composition.fibre_g - _SPICE_FIBRE * composition.spice_g),
        spice_g=composition.spice_g,
        layered=layered,
    )


def dough_water(composition: Composition, density_kg_m3: float, bound_per_dry: Array, moisture: float) -> DoughWater:
    """The dough's solution. Yeast has inverted its sucrose; salt counts two; flour binds `bound_per_dry` [g/g]."""
    litres = composition.mass_g / density_kg_m3  # g/(kg/m³) = dm³
    bound = bound_per_dry * composition.flour_g * (1.0 - moisture)
    free = np.maximum(composition.water_g - bound, composition.water_g / 6.0)
    sugar = composition.sucrose_g * 2.0 * _HEXOSE_MOLAR_G / _SUCROSE_MOLAR_G
    sugar += max(0.0, composition.sugars_g - composition.sucrose_g - composition.lactose_g)
    osmoles = sugar / _HEXOSE_MOLAR_G + composition.lactose_g / _SUCROSE_MOLAR_G
    osmoles += 2.0 * composition.salt_g / _SALT_MOLAR_G
    return DoughWater(np.asarray(free / litres), 1000.0 * osmoles / litres)


def dough_activity(dough: DoughWater, coefficient: Array) -> Array:
    """Water activity of the dough [1]: exp(-φ m M), m in osmoles per kg of free water."""
    return np.asarray(np.exp(-coefficient * dough.osmol_m3 / dough.free_kg_m3 * _WATER_MOLAR_G / 1000.0))


def syrup_activity(sucrose_g: Array, invert_g: Array | float, water_g: Array) -> Array:
    """Water activity of a syrup of sucrose and invert (Norrish, mixed): x_w exp(-(Σ √K x)²).

    >>> float(np.round(syrup_activity(np.array([66.7]), 0.0, np.array([33.3])), 2)[0])
    0.85
    """
    water = np.maximum(water_g, 1e-12) / _WATER_MOLAR_G
    sucrose, hexose = sucrose_g / _SUCROSE_MOLAR_G, np.asarray(invert_g) / _HEXOSE_MOLAR_G
    total = water + sucrose + hexose
    root = (np.sqrt(_K_SUCROSE) * sucrose + np.sqrt(_K_INVERT) * hexose) / total
    return np.asarray(water / total * np.exp(-np.square(root)))


def diffusion_m2_s(celsius: Array, draws: Mapping[str, Array]) -> Array:
    """Diffusion of water in dough [m²/s] at temperatures (M, K) or (M,): Arrhenius about 20 °C."""
    at_20, activation = draws["dough.diffusion"], draws["dough.diffusion_activation"]
    if celsius.ndim == 2:
        at_20, activation = at_20[:, None], activation[:, None]
    return np.asarray(at_20 * np.exp(-activation / 8.314462618 * (1.0 / (celsius + 273.15) - 1.0 / 293.15)))


def travelled_m2(seconds: Array, celsius: Array, draws: Mapping[str, Array], until_s: Array) -> Array:
    """∫ D dt (M,) [m²] over samples (K,), (M, K), from the first sample to each member's own end."""
    diffusion = diffusion_m2_s(celsius, draws)
    steps = 0.5 * (diffusion[:, 1:] + diffusion[:, :-1])
    span = np.clip(until_s[:, None] - seconds[None, :-1], 0.0, np.diff(seconds)[None, :])
    return np.asarray((steps * span).sum(axis=1))


def plane_sheet_uptake(fourier: Array) -> Array:
    """Share of the final exchange of a plane sheet whose faces are held (Crank), Fourier number on the half thickness.

    Short times 2 √(Fo/π), from 0.2 on three terms of the series; within 0.001 of the whole series.

    >>> [float(share) for share in np.round(plane_sheet_uptake(np.array([0.01, 0.197, 1.0])), 2)]
    [0.11, 0.5, 0.93]
    """
    fo = np.asarray(fourier, dtype=np.float64)
    late = sum(np.exp(-((2 * n + 1) ** 2) * np.pi**2 * fo / 4.0) / (2 * n + 1) ** 2 for n in range(3))
    return np.asarray(np.where(fo < 0.2, 2.0 * np.sqrt(fo / np.pi), 1.0 - 8.0 / np.pi**2 * late))


def _contacts(filling: Filling, layers: Layers, draws: Mapping[str, Array]) -> tuple[Array, Array]:
    """Share of the dough's face that the sugar touches: the bare underside of the next turn, and the buttered face."""
    ones = np.ones_like(draws["contact.bare"])
    per_cm2 = filling.sugars_g / max(layers.area_m2, 1e-9) / 1e4
    covered = 1.0 - np.exp(-per_cm2 / _ONE_LAYER)
    bare = draws["contact.bare"] * covered
    if filling.layered:
        butter = filling.fat_g / 0.82 / max(layers.area_m2, 1e-9) / 1e4
        gaps = draws["butter.gaps"]
        return bare, covered * (gaps + (1.0 - gaps) * np.exp(-butter / _COVERING))
    free = np.exp(-filling.fat_g / max(filling.sugars_g, 1e-9) / _COATING)
    gaps = draws["butter.gaps"] + (1.0 - draws["butter.gaps"]) * free
    return bare * gaps, covered * gaps * ones


def _held(filling: Filling, layers: Layers, crystals_g: Array, draws: Mapping[str, Array]) -> Array:
    """Syrup that stays where it is [g]."""
    density = _SYRUP_KG_M3 / 1000.0
    pores = _PORES * crystals_g / SUCROSE_CRYSTAL_KG_M3 * 1000.0 * density
    binder = draws["hold.starch_cold"] * filling.starch_g + draws["hold.spice"] * filling.spice_g
    binder = binder + _HOLD_PROTEIN * filling.protein_g + _HOLD_FIBRE * filling.fibre_g
    if not filling.layered:
        binder = binder + _HOLD_BUTTER * filling.fat_g
    gap_m = draws["roll.gap"] / 1000.0
    rises_m = 2.0 * _TENSION * _WETTING / (_SYRUP_KG_M3 * 9.81 * gap_m)
    gap = gap_m * _SYRUP_KG_M3 * 1000.0 * np.minimum(1.0, rises_m / layers.piece_height_m)
    return np.asarray(pores + binder + layers.area_m2 * (2.0 * draws["hold.film"] + gap))


def weep(
    filling: Filling,
    dough: DoughWater,
    layers: Layers,
    flat_m2: Array,
    rolled_m2: Array,
    celsius: Array,
    draws: Mapping[str, Array],
) -> Weep:
    """Syrup after the dough has lain with its filling.

    `flat_m2`, `rolled_m2` (M,): ∫ D dt while the sheet lay flat, when only the buttered face is touched, and since it
    was rolled up; `celsius` (M,) is the dough's temperature now, which sets the solubility. The face's water activity
    is that of the syrup as it now stands; it is a little too wet for the time before, so that where
    all the sugar dissolves the draught is a little too small.
    """
    bare, buttered = _contacts(filling, layers, draws)
    half = layers.half_turn_m
    reach = bare * plane_sheet_uptake(rolled_m2 / half**2) + buttered * plane_sheet_uptake(
        (flat_m2 + rolled_m2) / half**2
    )
    volume_m3 = half * layers.area_m2
    own = filling.water_g + draws["butter.water_released"] * filling.butter_water_g
    thirst = _BOUND_DRY * (filling.starch_g + filling.protein_g) + _BOUND_FIBRE * (filling.fibre_g + filling.spice_g)
    soluble = np.interp(celsius, _GRID_C, _SOLUBLE)
    per_water = soluble / (1.0 - soluble)
    into_dough, coefficient = draws["sugar.into_dough"], draws["dough.osmotic_coefficient"]

    def state(drawn: Array) -> tuple[Array, Array, Array, Array]:
        """Liquid water, dissolved and undissolved sucrose [g], and the syrup's water activity."""
        liquid = np.maximum(own + drawn - thirst, 0.0)
        sucrose = np.maximum(filling.sucrose_g - into_dough * drawn, 0.0)
        dissolved = np.minimum(sucrose, per_water * liquid)
        activity = syrup_activity(per_water, 0.0, np.ones_like(liquid))
        wet = liquid > 0.0
        if filling.sugars_g > 0.0:
            activity = np.where(wet, syrup_activity(dissolved, filling.invert_g, liquid), activity)
        else:
            activity = np.ones_like(liquid)
        return liquid, dissolved, sucrose - dissolved, activity

    def asked(drawn: Array) -> Array:
        """Water that the dough would have given up by now to a face at that activity [g]."""
        activity = np.minimum(state(drawn)[3], 1.0 - 1e-9)
        kept = coefficient * dough.osmol_m3 * _WATER_MOLAR_G / 1000.0 / -np.log(activity)
        return np.asarray(np.maximum(dough.free_kg_m3 - kept, 0.0) * 1000.0 * volume_m3 * reach)

    drawn = _meeting(asked, np.zeros_like(reach))
    liquid, dissolved, crystals, activity = state(drawn)
    invert = filling.invert_g * (liquid > 0.0)
    syrup = liquid + dissolved + invert
    held = _held(filling, layers, crystals, draws)
    runs = np.maximum(syrup - held, 0.0)
    share = np.divide(dissolved + invert, syrup, out=np.zeros_like(syrup), where=syrup > 0.0)
    return Weep(
        drawn, np.minimum(thirst, own + drawn), syrup, share, crystals, held, runs, runs / draws["hold.starch_cold"],
        activity,
    )  # fmt: skip


def _meeting(asked: Callable[[Array], Array], nothing: Array) -> Array:
    """Where a falling function meets its argument (M,), by false position that halves the stale side (Illinois).

    It lies between nothing and what is asked at nothing; where that is asked all the way, it is the answer.
    """
    low, high = nothing, asked(nothing)
    over, under = high.copy(), asked(high) - high
    middle, side = high, np.zeros_like(nothing)
    for _ in range(_ROUNDS):
        if np.minimum(over, -under).max() <= _NEAR_G:
            break
        step = over - under
        middle = np.where(step > 0.0, (high * over - low * under) / np.where(step > 0.0, step, 1.0), high)
        off = asked(middle) - middle
        rising = off > 0.0
        under = np.where(rising, np.where(side > 0.0, 0.5 * under, under), off)
        over = np.where(rising, off, np.where(side < 0.0, 0.5 * over, over))
        low, high = np.where(rising, middle, low), np.where(rising, high, middle)
        side = np.where(rising, 1.0, -1.0)
    return middle


def weep_after(
    filling: Filling,
    dough: DoughWater,
    layers: Layers,
    hours: Array,
    celsius: Array,
    draws: Mapping[str, Array],
    flat_min: float = 10.0,
) -> Weep:
    """The same at one temperature (M,): `hours` (M,) rolled up, after `flat_min` minutes spread out."""
    diffusion = diffusion_m2_s(celsius, draws)
    return weep(filling, dough, layers, diffusion * flat_min * 60.0, diffusion * hours * 3600.0, celsius, draws)


def leak_word(share: float) -> str:
    """In words how many kitchens of an ensemble see syrup run: no, in some, likely, yes."""
    if share < 0.05:
        return "no"
    return "in some kitchens" if share < 1 / 3 else "likely" if share < 2 / 3 else "yes"


def burnt_share(runs_g: Array, pieces: int, base_c: Array, invert_share: float, draws: Mapping[str, Array]) -> Array:
    """(M,) 1 where syrup lies under the pieces and the base gets hot enough to turn it dark, else 0."""
    mixed = (1.0 - invert_share) * draws["burn.sucrose"] + invert_share * _P.value("burn.invert")
    return np.asarray((runs_g / pieces > _P.value("leak.least")) & (base_c > mixed), dtype=np.float64)
