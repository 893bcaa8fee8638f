"""A glaze on a hot crust: coat or soak, how much stays, and what makes it coat."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from oventide.bake.glaze import WORDS, Glaze, likely_draws, on_bun
from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.forecast.glazing import GLAZE_SOURCES, glaze_of, glaze_question
from oventide.formula.composition import Composition
from oventide.travel.model import Figure, Told, figure_of_members

Array = NDArray[np.float64]

_STIFF_PA_S = 100.0


def glazed(composition: Composition, surface_c: float, members: int = 400, seed: int = 1) -> Told:
    """A glaze of room warmth on crusts of `surface_c` [°C]: what it does in a minute, and what would change it."""
    if composition.water_g <= 0.0 or composition.sugars_g <= 0.0:
        raise refuse(
            "glaze", f"{composition.mass_g:.0f} g", "A glaze is some sugar and something wet.",
            "Give its lines, like '300 g icing sugar' and '45 g milk'.",
        )  # fmt: skip
    if not 10.0 <= surface_c <= 160.0:
        raise refuse("surface", f"{surface_c:g} °C", "A crust is between 10 and 160 °C.", "Measure the top of a bun.")
    glaze = glaze_of(composition)
    draws = likely_draws(members, seed)
    coat = on_bun(glaze, np.full(members, surface_c), draws)
    word, because = glaze_question(glaze, surface_c, members, seed)
    stiff_c, soaks_c = coats_between_c(glaze, draws)
    valid = surface_c <= 95.0
    share = 100.0 * composition.water_g / composition.mass_g
    figures = [
        figure_of_members("thickness on the bun", "Pa·s", np.minimum(coat.viscosity_pa_s, _STIFF_PA_S)),
        Figure(name="crust on which it coats", unit="°C", low=stiff_c, likely=0.5 * (stiff_c + soaks_c), high=soaks_c),
    ]
    levels = coat.does < len(WORDS) - 1
    if levels.mean() > 0.5:  # a paste stays as it was put on
        figures.insert(1, figure_of_members("stays on 10 × 10 cm after a minute", "g", coat.grams_per_dm2[levels]))
    return Told(
        asked=f"{composition.mass_g:.0f} g glaze, {share:.0f} % water, on a crust of {surface_c:.0f} °C: {word}",
        figures=tuple(each.model_copy(update={"valid": valid}) for each in figures),
        because=(because,),
        do=_advice(word, liquid_to_coat_g(glaze, surface_c, draws), stiff_c, soaks_c),
        cautions=("Hot sugar burns skin and sticks: keep it away from children and wet hands.",),
        assumed=(
            "The glaze has room warmth and goes on with one stroke.",
            "Crusts above 95 °C lie beyond the figures for sugar." if not valid else "",
        ),
        sources=GLAZE_SOURCES,
    )


def coats_between_c(glaze: Glaze, draws: dict[str, Array]) -> tuple[float, float]:
    """Crusts [°C] on which it coats in most kitchens: too stiff below, soaking in above; equal where it never does."""
    tried = np.arange(10.0, 96.0, 2.5)
    members = next(iter(draws.values())).shape[0]
    does = np.array([np.median(on_bun(glaze, np.full(members, celsius), draws).does) for celsius in tried])
    coats = tried[(does >= 1.0) & (does < len(WORDS) - 1)]
    if coats.size:
        return float(coats[0]), float(coats[-1])
    end = float(tried[0] if does[0] < 1.0 else tried[-1])
    return end, end


def liquid_to_coat_g(glaze: Glaze, surface_c: float, draws: dict[str, Array]) -> float:
    """Water to add (below 0: to leave out) for a coat on a crust of this temperature in the middle kitchen [g]."""
    known = load("bake")
    goal = np.sqrt(known.value("glaze.soak_below") * known.value("glaze.stiff_above"))
    crust = np.full(next(iter(draws.values())).shape[0], surface_c)
    low, high = 0.02 * glaze.sugar_g, 2.0 * glaze.sugar_g
    for _ in range(30):
        middle = 0.5 * (low + high)
        if float(np.median(on_bun(replace(glaze, water_g=middle), crust, draws).viscosity_pa_s)) > goal:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high) - glaze.water_g


def _advice(word: str, water: float, stiff_c: float, soaks_c: float) -> tuple[str, ...]:
    more = f"{abs(water):.0f} g" if abs(water) >= 1.0 else "a drop"
    if word == WORDS[0]:
        return (
            f"For a coat wait until the crust has about {soaks_c:.0f} °C, or use {more} less liquid.",
            "For a soak it is right as it is: two thin goes sink in better than one thick.",
        )
    if word == WORDS[-1]:
        return (
            f"Stir in {more} more liquid for this crust, or put it on hotter: it coats from about {stiff_c:.0f} °C on.",
            "Or pipe it: too stiff to level is what a line or a swirl wants.",
        )
    return (
        "Put it on now, with one stroke, and leave it alone while it sets.",
        f"Below about {max(stiff_c, 20.0):.0f} °C it gets too stiff; above about {soaks_c:.0f} °C it soaks in.",
    )
