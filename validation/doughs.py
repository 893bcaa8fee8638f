"""Doughs of the sources as far as they are given, and a cell of such a dough left to ferment."""

import numpy as np
from numpy.typing import NDArray

from oventide.dough import state as s
from oventide.dough.fermentation import ferment_step
from oventide.dough.temperature import LAWS, gas_law, temperature_law
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition

Array = NDArray[np.float64]
LIKELY = draw(s.parameters() + list(load("matter").parameters.values()), 1, 0)
FRESH = 0.30
"""Dry matter of fresh yeast."""


def dough(
    yeast_dm: float, kind: str = "fresh", water: float = 60.0, salt: float = 1.5, sugar: float = 0.0, fat: float = 0.0,
    spice: float = 0.0,
) -> Composition:  # fmt: skip
    """A dough of 100 g flour; `yeast_dm` is dry matter of yeast [g], the rest g per 100 g flour."""
    wet = yeast_dm * (1.0 - FRESH) / FRESH if kind == "fresh" else 0.0
    return Composition(
        mass_g=100 + water + salt + sugar + fat + yeast_dm + wet + spice, flour_g=100, water_g=14 + water + wet,
        added_water_g=water, water_from_liquid_g=water, water_from_egg_g=0, water_from_butter_g=0,
        water_from_dairy_g=0, water_from_other_g=0, fat_g=fat + 1, milk_fat_g=0, sugars_g=sugar, sucrose_g=sugar,
        lactose_g=0, starch_g=70, fibre_g=3, protein_g=11.5, milk_protein_g=0, egg_g=0, salt_g=salt, ash_g=salt + 0.5,
        alcohol_g=0, yeast_dry_matter_g=yeast_dm, yeast_kind=kind, spice_g=spice,
    )  # fmt: skip


def choosing(law: str | None = None, **figures: float) -> dict[str, Array]:
    """The likely kitchen with one temperature law, and figures of yeast.toml set (without their "yeast.")."""
    found = dict(LIKELY)
    if law is not None:
        for name in LAWS:
            found[f"yeast.weight_{name}"] = np.array([float(name == law)])
    return found | {f"yeast.{name}": np.array([value]) for name, value in figures.items()}


def speed(celsius: float, law: str | None = None) -> float:
    """Gas making over that at 30 °C."""
    return float(gas_law(celsius, temperature_law(choosing(law))[0]))


def ferment(composition: Composition, celsius: float, hours: float, draws: dict[str, Array] | None = None) -> Array:
    """States (minutes + 1, NY) of one cell, minute by minute."""
    drawn = draws if draws is not None else LIKELY
    y, p = s.initial_ferment(composition, drawn)[0], s.ferment_parameters(composition, drawn)[0]
    states = [y.copy()]
    for _ in range(round(hours * 60)):
        ferment_step(y, p, celsius, 60.0)
        states.append(y.copy())
    return np.array(states)


def parameters(composition: Composition, draws: dict[str, Array] | None = None) -> Array:
    """The parameter vector that goes with `ferment`."""
    return s.ferment_parameters(composition, draws if draws is not None else LIKELY)[0]


def made(composition: Composition, celsius: float, hours: float, draws: dict[str, Array] | None = None) -> float:
    """CO2 made [mmol per 100 g flour]."""
    return float(ferment(composition, celsius, hours, draws)[-1, s.CO2_MADE])


def growth_percent(composition: Composition, start_h: float, end_h: float, draws: dict[str, Array]) -> float:
    """Growth of the yeast between two times at 27 °C, in % of what was put in."""
    yeast = ferment(composition, 27.0, end_h, draws)[:, s.YEAST]
    return float((yeast[-1] - yeast[round(start_h * 60)]) / yeast[0] * 100.0)


def hours_to(composition: Composition, celsius: float, mmol: float, most_h: float = 24.0) -> float:
    """Hours until so much CO2 is made."""
    gas = ferment(composition, celsius, most_h)[:, s.CO2_MADE]
    return float(np.interp(mmol, gas, np.arange(gas.size))) / 60.0
