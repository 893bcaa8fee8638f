"""A glaze on a warm bun: does it coat or soak in, how thick does it stay, when does it set.

Sugar dissolves up to what its water holds at that temperature, the rest stays as crystals; crystals, fat and
other solids thicken the syrup (Krieger & Dougherty). A hot bun dissolves crystals and thins the syrup, so the
same mix soaks in hot and coats warm. What stays on a slope follows Jeffreys' drainage law.
"""

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.matter.air import mass_film_kg_m2spa
from oventide.matter.syrup import (
    SUCROSE_CRYSTAL_KG_M3,
    saturated_sucrose,
    slurry_factor,
    syrup_density_kg_m3,
    syrup_viscosity_pa_s,
    syrup_water_activity,
)
from oventide.matter.water import saturation_pressure_pa

Array = NDArray[np.float64]


class GlazeAt(NamedTuple):
    """A glaze at one temperature: dissolved solids [kg/kg syrup], dispersed volume share [1], viscosity, density."""

    dissolved: float
    dispersed: float
    viscosity_pa_s: float
    density_kg_m3: float


@dataclass(frozen=True)
class Glaze:
    """Grams in a glaze: sugar, water (of milk and butter too), fat, and other solids (milk solids, starch)."""

    sugar_g: float
    water_g: float
    fat_g: float = 0.0
    other_g: float = 0.0

    def __post_init__(self) -> None:
        if self.water_g <= 0.0:
            raise refuse("glaze.water", self.water_g, "A glaze holds some water.", "Give the liquid of the glaze.")
        if min(self.sugar_g, self.fat_g, self.other_g) < 0.0:
            raise refuse("glaze", "", "Weights are not below zero.", "Check the weights of the glaze.")

    @property
    def mass_g(self) -> float:
        """Everything in it [g]."""
        return self.sugar_g + self.water_g + self.fat_g + self.other_g

    def at(self, temperature_c: float) -> GlazeAt:
        """What the glaze is at a temperature [°C].

        >>> warm = Glaze(sugar_g=300, water_g=40).at(60.0)
        >>> round(warm.dissolved, 3)
        0.742
        """
        most = saturated_sucrose(temperature_c)
        dissolved_g = min(self.sugar_g, self.water_g * most / (1.0 - most))
        solids = dissolved_g / (dissolved_g + self.water_g)
        syrup = (dissolved_g + self.water_g) / syrup_density_kg_m3(solids)
        crystals = (self.sugar_g - dissolved_g) / SUCROSE_CRYSTAL_KG_M3
        other = self.fat_g / 915.0 + self.other_g / 1400.0
        volume = syrup + crystals + other
        dispersed = (crystals + other) / volume
        viscosity = syrup_viscosity_pa_s(solids, temperature_c) * slurry_factor(dispersed)
        return GlazeAt(solids, dispersed, viscosity, self.mass_g / volume)


class Coat(NamedTuple):
    """What a glaze does on a surface. `stays_mm` is the film left after a minute, `grams_per_dm2` its weight."""

    word: str
    viscosity_pa_s: float
    stays_mm: float
    grams_per_dm2: float


def drained_film_m(viscosity_pa_s: float, density_kg_m3: float, slope_m: float, seconds: float) -> float:
    """Mean film left on an upright face of height `slope_m` after draining [m]: (2/3) sqrt(η x/(ρ g t)) (Jeffreys).

    >>> round(1000 * drained_film_m(1.0, 1350.0, 0.03, 60.0), 2)
    0.13
    """
    return (2.0 / 3.0) * math.sqrt(viscosity_pa_s * slope_m / (density_kg_m3 * 9.81 * seconds))


def on_surface(glaze: Glaze, surface_c: float, slope_m: float = 0.03, seconds: float = 60.0) -> Coat:
    """Coat or soak at a surface temperature [°C], with the thresholds of bake.toml (`glaze.*`)."""
    state = glaze.at(surface_c)
    thin, stiff = load("bake").value("glaze.soak_below"), load("bake").value("glaze.stiff_above")
    film = drained_film_m(state.viscosity_pa_s, state.density_kg_m3, slope_m, seconds)
    if state.viscosity_pa_s < thin:
        word = "soaks in"
    elif state.viscosity_pa_s < math.sqrt(thin * stiff):
        word = "thin coat"
    elif state.viscosity_pa_s < stiff:
        word = "coat"
    else:
        word = "too stiff to level"
    return Coat(word, state.viscosity_pa_s, 1000.0 * film, film * state.density_kg_m3 * 10.0)


def temperature_at_viscosity(glaze: Glaze, viscosity_pa_s: float) -> float:
    """Surface temperature [°C] at which the glaze has that viscosity, 5-95 °C; the near end outside."""
    low, high = 5.0, 95.0
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
    film_mm: float,
    sample_s: Array,
    surface_c: Array,
    air_film_w_m2k: float,
    room_vapour_pa: float,
    set_pa_s: float = 20.0,
) -> float:
    """Seconds until a film no longer sticks to a finger [s], nan if not within the samples.

    The film dries into the room by its own water activity and cools with the bun (`surface_c` (K,) at `sample_s`);
    it counts as set at `set_pa_s`, our choice. Crystallisation of the syrup itself is not in here, nor is the
    cooling of the film by its own drying: on a hot bun the time is too short.
    """
    per_m2 = film_mm * 1e-3 * glaze.at(float(surface_c[0])).density_kg_m3 / glaze.mass_g
    water = glaze.water_g * per_m2
    film = mass_film_kg_m2spa(air_film_w_m2k, 101325.0)
    for k in range(len(sample_s)):
        left = Glaze(glaze.sugar_g * per_m2, max(1e-9, water), glaze.fat_g * per_m2, glaze.other_g * per_m2)
        state = left.at(float(surface_c[k]))
        if state.viscosity_pa_s >= set_pa_s:
            return float(sample_s[k])
        if k + 1 < len(sample_s):
            drive = syrup_water_activity(state.dissolved) * saturation_pressure_pa(float(surface_c[k]))
            water -= film * max(0.0, drive - room_vapour_pa) * float(sample_s[k + 1] - sample_s[k])
            water = max(1e-9, water)
    return math.nan
