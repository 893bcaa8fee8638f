"""A glaze on a warm bun: does it coat or soak in, how thick does it stay, when does it set.

Sugar dissolves up to what its water holds at that temperature, the rest stays as crystals; crystals, milk's protein
with the water it binds, fat and starch thicken the syrup (Krieger & Dougherty). A hot bun dissolves crystals and thins
the syrup, so the same mix soaks in hot and coats warm. What stays on a slope follows Jeffreys' drainage law.
Everything takes arrays with the ensemble as their axis.
"""

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.bake.glaze_film import Film, dry
from oventide.errors import refuse
from oventide.evidence.parameters import draw, load
from oventide.matter.syrup import (
    SUCROSE_CRYSTAL_KG_M3,
    Values,
    saturated_sucrose,
    slurry_factor,
    syrup_density_kg_m3,
    syrup_viscosity_pa_s,
)

Array = NDArray[np.float64]

_TIN = load("tin")
WORDS = ("soaks in", "thin coat", "coat", "too stiff to level")
FROM_C, TO_C = 5.0, 95.0
"""Sugar's figures reach so far; a wet glaze holds the crust below boiling anyway."""


class GlazeAt(NamedTuple):
    """A glaze at one temperature: dissolved solids [kg/kg syrup], dispersed volume share [1], viscosity, density."""

    dissolved: Values
    dispersed: Values
    viscosity_pa_s: Values
    density_kg_m3: Values


@dataclass(frozen=True)
class Glaze:
    """Grams in a glaze: sugar, water (of milk and butter too), fat, protein of milk, other solids (starch).

    `lactose_g` is part of `sugar_g`: at these amounts it dissolves beside the sucrose, and takes water like it.
    """

    sugar_g: float
    water_g: float
    fat_g: float = 0.0
    other_g: float = 0.0
    protein_g: float = 0.0
    lactose_g: float = 0.0

    def __post_init__(self) -> None:
        if self.water_g <= 0.0:
            raise refuse("glaze.water", self.water_g, "A glaze holds some water.", "Give the liquid of the glaze.")
        parts = (self.sugar_g, self.fat_g, self.other_g, self.protein_g, self.lactose_g)
        if min(parts) < 0.0 or self.lactose_g > self.sugar_g:
            raise refuse("glaze", "", "Weights are not below zero.", "Check the weights of the glaze.")

    @property
    def mass_g(self) -> float:
        """Everything in it [g]."""
        return self.sugar_g + self.water_g + self.fat_g + self.other_g + self.protein_g

    def at(self, temperature_c: Values, draws: dict[str, Array] | None = None, dissolves: Values = 1.0) -> GlazeAt:
        """What the glaze is at a temperature [°C], a number or an array; `draws` of tin.toml, likely values without.

        `dissolves` is how much of what the warmth lets dissolve beyond 20 °C has done so.

        >>> warm = Glaze(sugar_g=300, water_g=40).at(60.0)
        >>> round(warm.dissolved, 3)
        0.742
        """
        known = {name: draws[name] if draws else _TIN.value(name) for name in _USED}
        most = saturated_sucrose(temperature_c)
        cold = np.minimum(most, saturated_sucrose(20.0))
        held = cold / (1.0 - cold) + dissolves * (most / (1.0 - most) - cold / (1.0 - cold))
        dissolved_g = np.minimum(self.sugar_g, self.water_g * held)
        solids = dissolved_g / (dissolved_g + self.water_g)
        syrup = (dissolved_g + self.water_g) / syrup_density_kg_m3(solids)
        crystals = (self.sugar_g - dissolved_g) / SUCROSE_CRYSTAL_KG_M3
        # protein swells in its water; fat is droplets
        other = self.fat_g / 915.0 + self.other_g / 1400.0 + 1e-3 * known["glaze.protein_volume"] * self.protein_g
        volume = syrup + crystals + self.fat_g / 915.0 + (self.other_g + self.protein_g) / 1400.0
        dispersed = (crystals + other) / volume
        viscosity = (
            syrup_viscosity_pa_s(solids, temperature_c)
            * slurry_factor(dispersed, known["glaze.packed"])
            * known["glaze.viscosity_factor"]
        )
        return GlazeAt(_plain(solids), _plain(dispersed), _plain(viscosity), _plain(self.mass_g / volume))


_USED = ("glaze.packed", "glaze.protein_volume", "glaze.viscosity_factor")


def _plain(value: Values) -> Values:
    return value if np.ndim(value) else float(value)


class Coat(NamedTuple):
    """What a glaze does on a surface. `stays_mm` is the film left after a minute, `grams_per_dm2` its weight."""

    word: str
    viscosity_pa_s: float
    stays_mm: float
    grams_per_dm2: float


def drained_film_m(viscosity_pa_s: Values, density_kg_m3: Values, slope_m: float, seconds: float) -> Values:
    """Mean film left on an upright face of height `slope_m` after draining [m]: (2/3) sqrt(η x/(ρ g t)) (Jeffreys).

    >>> round(1000 * drained_film_m(1.0, 1350.0, 0.03, 60.0), 2)
    0.13
    """
    return _plain((2.0 / 3.0) * np.sqrt(viscosity_pa_s * slope_m / (density_kg_m3 * 9.81 * seconds)))


def on_surface(glaze: Glaze, surface_c: float, slope_m: float = 0.03, seconds: float = 60.0) -> Coat:
    """Coat or soak at a surface temperature [°C], with the thresholds of bake.toml (`glaze.*`)."""
    state = glaze.at(surface_c)
    thin, stiff = load("bake").value("glaze.soak_below"), load("bake").value("glaze.stiff_above")
    film = drained_film_m(state.viscosity_pa_s, state.density_kg_m3, slope_m, seconds)
    word = WORDS[int(does(np.array([state.viscosity_pa_s]), np.array([thin]), np.array([stiff]))[0])]
    return Coat(word, state.viscosity_pa_s, 1000.0 * film, film * state.density_kg_m3 * 10.0)


def does(viscosity_pa_s: Array, thin: Array, stiff: Array) -> Array:
    """Index into `WORDS` (M,): below `thin` it soaks in, above `stiff` it no longer levels, the middle is halved."""
    return np.asarray(
        (viscosity_pa_s >= thin).astype(int)
        + (viscosity_pa_s >= np.sqrt(thin * stiff)).astype(int)
        + (viscosity_pa_s >= stiff).astype(int)
    )


class OnBun(NamedTuple):
    """What a glaze does on the crusts of an ensemble, (M,) each: viscosity, index into WORDS, film after a minute."""

    viscosity_pa_s: Array
    does: Array
    grams_per_dm2: Array

    def shares(self) -> dict[str, float]:
        """In which share of the kitchens it does what, by word."""
        return {word: float(np.mean(self.does == index)) for index, word in enumerate(WORDS)}


def on_bun(glaze: Glaze, surface_c: Array, draws: dict[str, Array]) -> OnBun:
    """The first minute on crusts of `surface_c` (M,) [°C]; draws of bake.toml and tin.toml.

    A glaze of room warmth cools the crust that it lands on: the film is taken at `glaze.contact` of the way from the
    room's 21 °C to the bare crust's temperature, and `glaze.dissolves` of what can dissolve there has dissolved.
    """
    film_c = np.clip(21.0 + draws["glaze.contact"] * (surface_c - 21.0), FROM_C, TO_C)
    state = glaze.at(film_c, draws, draws["glaze.dissolves"])
    word = does(state.viscosity_pa_s, draws["glaze.soak_below"], draws["glaze.stiff_above"])
    # gravity pulls along the dome's slope, not straight down
    film = drained_film_m(state.viscosity_pa_s, state.density_kg_m3 * _TIN.value("glaze.slope"), 0.03, 60.0)
    return OnBun(state.viscosity_pa_s, word, 10.0 * film * state.density_kg_m3)


def likely_draws(members: int = 256, seed: int = 1) -> dict[str, Array]:
    """Draws of the glaze's own figures, where there is no forecast whose ensemble could be used."""
    own = [p for room in ("bake", "tin") for name, p in load(room).parameters.items() if name.startswith("glaze.")]
    return draw(own, members, seed)


def temperature_at_viscosity(glaze: Glaze, viscosity_pa_s: float) -> float:
    """Surface temperature [°C] at which the glaze has that viscosity, 5-95 °C; the near end outside."""
    low, high = FROM_C, TO_C
    for _ in range(50):
        middle = 0.5 * (low + high)
        if glaze.at(middle).viscosity_pa_s > viscosity_pa_s:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def coating_window_c(glaze: Glaze, draws: dict[str, Array] | None = None) -> tuple[float, float]:
    """Surface temperatures [°C] between which the glaze coats: (too stiff below, soaks in above)."""
    if draws is None:
        thin, stiff = load("bake").value("glaze.soak_below"), load("bake").value("glaze.stiff_above")
    else:
        thin, stiff = float(np.median(draws["glaze.soak_below"])), float(np.median(draws["glaze.stiff_above"]))
    return temperature_at_viscosity(glaze, stiff), temperature_at_viscosity(glaze, thin)


def sets_after_s(
    glaze: Glaze,
    film_mm: Array | float,
    sample_s: Array,
    surface_c: Array,
    air_film_w_m2k: Array | float,
    room_vapour_pa: Array | float,
    room_c: Array | float = 21.0,
    draws: dict[str, Array] | None = None,
) -> Array:
    """Seconds until a film no longer sticks to a finger (M,), nan if not within the samples.

    `surface_c` (M, K) is the bare crust's temperature at `sample_s`. The film dries into the room by its own water
    activity and is cooled by it (`glaze_film`), and sugar beyond what the water holds crystallises at a rate that is
    known badly (`glaze.crystallises`). Set is `glaze.set_at`, our choice.
    """
    bare = np.atleast_2d(surface_c)
    members = bare.shape[0]
    known = {name: draws[name] if draws else np.full(members, _TIN.value(name)) for name in _SETTING}
    start = glaze.at(bare[:, 0].clip(FROM_C, TO_C), draws)
    per_m2 = np.broadcast_to(np.asarray(film_mm) * 1e-3 * start.density_kg_m3 / glaze.mass_g, (members,))
    film = Film(
        water_kg_m2=glaze.water_g * per_m2,
        sugar_kg_m2=glaze.sugar_g * per_m2,
        other_kg_m2=(glaze.mass_g - glaze.water_g - glaze.sugar_g) * per_m2,
        swollen_m3_m2=(
            glaze.fat_g / 915.0 + glaze.other_g / 1400.0 + 1e-3 * known["glaze.protein_volume"] * glaze.protein_g
        )
        * per_m2,
    )
    set_s = dry(film, sample_s, bare, air_film_w_m2k, room_vapour_pa, room_c, known)
    return set_s if np.ndim(surface_c) > 1 else np.asarray(set_s[0])


_SETTING = (
    "glaze.packed", "glaze.protein_volume", "glaze.viscosity_factor", "glaze.crystallises", "glaze.set_at",
    "glaze.crust_conductance",
)  # fmt: skip


def milk(grams: float) -> dict[str, float]:
    """What `grams` of whole milk bring to a glaze [g]: water 87.7, fat 3.5, protein 3.3, lactose 4.8 % (common tables).

    >>> round(milk(45.0)["water_g"], 1)
    39.5
    """
    shares = {"water_g": 0.877, "fat_g": 0.035, "protein_g": 0.033, "lactose_g": 0.048}
    return {name: share * grams for name, share in shares.items()}


def of_icing_sugar_and_milk(icing_sugar_g: float, milk_g: float) -> Glaze:
    """A glaze of icing sugar (3 % starch, usual) and whole milk."""
    if not (math.isfinite(icing_sugar_g) and icing_sugar_g >= 0.0 and milk_g > 0.0):
        raise refuse("glaze", f"{icing_sugar_g} g, {milk_g} g", "A glaze is some sugar and some milk.", "Give both.")
    parts = milk(milk_g)
    return Glaze(
        sugar_g=0.97 * icing_sugar_g + parts["lactose_g"],
        water_g=parts["water_g"],
        fat_g=parts["fat_g"],
        other_g=0.03 * icing_sugar_g,
        protein_g=parts["protein_g"],
        lactose_g=parts["lactose_g"],
    )
