"""Readings of the glaze: the hot crust that takes it, what it does there, how much stays, when it has set."""

import numpy as np
from numpy.typing import NDArray

from oventide.bake.glaze import WORDS, Glaze, coating_window_c, on_bun, sets_after_s
from oventide.evidence.parameters import load
from oventide.forecast.hot import COOL_LAW, HEAT_SOURCES, out_of_the_oven
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.formula.composition import Composition
from oventide.makeup.model import Geometry
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]

GLAZE_LAW = "A glaze thins with heat and dissolves more of its sugar; thin it soaks in, thicker it coats."
STAYS_LAW = "What does not run off the shoulder of a bun within a minute stays: thicker glaze, thicker film."
SET_LAW = (
    "The film dries into the room, is cooled by that and by the bun's own cooling, and its sugar crystallises at a "
    "rate that is known badly."
)
GLAZE_SOURCES = ("sucrose-viscosity", "sucrose-solubility")
_STIFF_PA_S = 100.0
"""Thicker than this a glaze is a paste, and its figure says no more."""
_CRUST_END_C = 95.0
_LOOKED_AT_S = 5400.0
_SHOULDER = 1.5
"""Glazed surface of a bun over its plan: top and shoulder."""


def glaze_readings(
    reader: Reader, trace: StepTrace, whole: Trace, composition: Composition | None, geometry: Geometry
) -> list[Reading]:
    """The hot surface that takes the glaze, and what this glaze does on it."""
    surface = trace.at_start("surface_c")
    found = [
        reader.read("crust surface at the first stroke", "°C", surface, COOL_LAW, HEAT_SOURCES),
        reader.read("crust surface at the last stroke", "°C", trace.at_end("surface_c"), COOL_LAW, HEAT_SOURCES),
    ]
    if composition is not None and composition.water_g > 0.0:
        found += _on_the_crust(reader, trace, whole, glaze_of(composition), surface, geometry)
    found.append(reader.read("core", "°C", trace.at_end("core_c"), COOL_LAW, HEAT_SOURCES))
    return found + out_of_the_oven(reader, trace, whole)


def glaze_of(composition: Composition) -> Glaze:
    """A formula's glaze as its masses."""
    return Glaze(
        sugar_g=composition.sugars_g,
        water_g=composition.water_g,
        fat_g=composition.fat_g,
        other_g=composition.starch_g + composition.fibre_g,
        protein_g=composition.protein_g,
        lactose_g=min(composition.lactose_g, composition.sugars_g),
    )


def shares_in_words(shares: dict[str, float]) -> str:
    """What it does in how many kitchens, the commonest first.

    >>> shares_in_words({"soaks in": 0.0, "thin coat": 0.3, "coat": 0.7, "too stiff to level": 0.004})
    'In 70 of 100 kitchens: coat; in 30: thin coat.'
    """
    told = sorted(((share, word) for word, share in shares.items() if share >= 0.01), reverse=True)
    parts = [f"{100 * share:.0f}: {word}" for share, word in told]
    first, *rest = parts
    return "In " + first.replace(":", " of 100 kitchens:", 1) + "".join(f"; in {part}" for part in rest) + "."


def _on_the_crust(
    reader: Reader, trace: StepTrace, whole: Trace, glaze: Glaze, surface: Array, geometry: Geometry
) -> list[Reading]:
    """How thick the glaze is on the hot crust, how much stays, when it stops soaking in, when it is set."""
    draws = {**whole.ensemble.of("bake"), **whole.ensemble.of("tin")}
    coat = on_bun(glaze, surface, draws)
    word = WORDS[int(np.median(coat.does))]
    valid = float(np.median(surface)) <= _CRUST_END_C
    plan_dm2 = np.pi * geometry.bake_radius_mm**2 / 1e4
    stays = np.minimum(coat.grams_per_dm2 * _SHOULDER * plan_dm2, glaze.mass_g / geometry.pieces)
    first = reader.read(
        f"glaze at the first stroke ({word})", "Pa·s", np.minimum(coat.viscosity_pa_s, _STIFF_PA_S), GLAZE_LAW,
        GLAZE_SOURCES, valid=valid,
    )  # fmt: skip
    found = [
        first.model_copy(update={"because": f"{shares_in_words(coat.shares())} {first.because}"}),
        reader.read("glaze that stays as a film on a piece", "g", stays, STAYS_LAW, ("jeffreys-1930",), valid=valid),
    ]  # fmt: skip
    stiff_c, soaks_c = coating_window_c(glaze)
    for words, celsius in (
        ("minutes until it coats and no longer soaks in", soaks_c),
        ("minutes until it is too stiff", stiff_c),
    ):
        if 20.0 < celsius < _CRUST_END_C - 1.0:
            seconds = trace.first_passage("surface_c", celsius, rising=False)
            horizon = float(trace.sample_s[-1])
            found.append(reader.read(words, "min", seconds, GLAZE_LAW, GLAZE_SOURCES, horizon=horizon, scale=1 / 60))
    seconds, crust = _cooling_crust(trace, whole)
    film_mm = stays / (_SHOULDER * plan_dm2) / glaze.at(21.0).density_kg_m3 * 100.0
    room = np.clip(np.asarray(whole.ensemble.of("kitchen")["room"]), 5.0, 45.0)
    vapour = whole.ensemble.of("timeline")["room.vapour"]
    set_s = sets_after_s(glaze, film_mm, seconds, crust, draws["film.rack"], vapour, room, draws)
    found.append(
        reader.read(
            "minutes until the glaze is set", "min", np.where(np.isnan(set_s), np.inf, set_s), SET_LAW,
            (*GLAZE_SOURCES, "chilton-colburn"), horizon=float(seconds[-1]), scale=1 / 60,
        )
    )  # fmt: skip
    return found


def _cooling_crust(trace: StepTrace, whole: Trace) -> tuple[Array, Array]:
    """Times (K,) [s] and the bare crust (M, K) [°C] from the first stroke through the cooling that follows.

    Where nothing follows, or it ends early, the last temperature is held.
    """
    later = [step for step in whole.steps if step.index >= trace.index and step.kernel == "oven"]
    end = float(np.median(later[-1].start_s + later[-1].sample_s[-1] - trace.start_s))
    seconds = min(_LOOKED_AT_S, end) * np.linspace(0.0, 1.0, 41) ** 1.5
    crust = np.empty((trace.start_s.size, seconds.size))
    for k, moment in enumerate(seconds):
        now = trace.start_s + moment
        crust[:, k] = later[0].at("surface_c", now - later[0].start_s)
        for step in later[1:]:
            crust[:, k] = np.where(now >= step.start_s, step.at("surface_c", now - step.start_s), crust[:, k])
    return seconds, crust


def glaze_question(glaze: Glaze, surface_c: float, members: int = 256, seed: int = 1) -> tuple[str, str]:
    """For a glaze and a surface temperature, without a forecast: what it does, and the reason with its range.

    >>> from oventide.bake.glaze import of_icing_sugar_and_milk
    >>> glaze_question(of_icing_sugar_and_milk(300.0, 75.0), 60.0)[0]
    'thin coat'
    """
    from oventide.bake.glaze import likely_draws

    draws = likely_draws(members, seed)
    coat = on_bun(glaze, np.full(members, surface_c), draws)
    low, likely, high = np.quantile(np.minimum(coat.viscosity_pa_s, _STIFF_PA_S), (0.05, 0.5, 0.95))
    state = glaze.at(min(_CRUST_END_C, surface_c))
    water = 100.0 * glaze.water_g / glaze.mass_g
    word = WORDS[int(np.median(coat.does))]
    most, upper = (f"{x:.2g}" if x < _STIFF_PA_S else f"more than {_STIFF_PA_S:.0f}" for x in (likely, high))
    thin, stiff = load("bake").value("glaze.soak_below"), load("bake").value("glaze.stiff_above")
    because = (
        f"{shares_in_words(coat.shares())} With {water:.0f} % water it holds {100 * state.dissolved:.0f} % of sugar in "
        f"its syrup at {surface_c:.0f} °C, and {100 * state.dispersed:.0f} % of its volume stays as grains. On the bun "
        f"it is {most} Pa·s ({low:.2g} to {upper}); under some {thin:g} it soaks in, over some {stiff:g} it does "
        "not level."
    )
    return word, because
