"""Readings of the bowl, the oven and what follows it: mix, bake, glaze, cool."""

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import colour_word
from oventide.bake.cooling import sweats_after_s
from oventide.bake.doneness import BELOW_BOILING_C, GOLDEN, doneness
from oventide.evidence.parameters import load
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.matter.water import air_pressure_pa, boiling_point_c
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]

WORK_LAW = "Mixing work over what develops this flour, from the warming that the mixer gives; rest does the remainder."
MIX_LAW = (
    "The bowl's heat balance: every ingredient at its temperature, the mixer's friction, the flour taking up water."
)
LIQUID_LAW = "Liquid temperature that brings this dough to its wanted temperature, by the same heat balance."
ICE_LAW = "Part of the liquid as ice, because the liquid alone can't be poured cold enough."
HEAT_LAW = "Heat comes through the tin and the top, and the water in the crumb holds it near its boiling point."
COLOUR_LAW = "The crust browns with its temperature once it is dry, faster with sugar, milk and egg."
DONE_LAW = "Done is three signs together: hot at the coldest point, its crumb set, and the top golden."
LOSS_LAW = "Vapour leaves by the open top, less through a cover, and goes on leaving while the buns cool."
CARRY_LAW = "The hot outside goes on warming the middle until the outside has cooled to it."
SWEAT_LAW = "A tin's base that has become cooler than the crumb's dew point takes water from it."
COOL_LAW = "The hot bun gives its heat and some steam to the room's air."
_HARDLY_ANY = 0.95
"""Share of the kitchens that do not reach it, above which a reading of it is left out."""
MIX_SOURCES = ("hydration-heat-trade",)
WORK_SOURCES = ("kilborn-tipples-1972", "chin-campbell-2005")
HEAT_SOURCES = ("zanoni-1993", "baik-1999")
COLOUR_SOURCES = ("zanoni-1995-browning",)


def core_target_c(altitude_m: float) -> float:
    """Core temperature that counts as done inside: boiling point at the altitude less 6 °C [°C].

    >>> round(core_target_c(0.0))
    94
    """
    return float(boiling_point_c(air_pressure_pa(altitude_m))) - BELOW_BOILING_C


def mix_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """Dough temperature after mixing, and the liquid that brings it there."""
    facts = trace.facts
    found = [reader.read("dough temperature", "°C", trace.at_end("mean_c"), MIX_LAW, MIX_SOURCES)]
    if "liquid_c" in facts:
        limits = load("mixing")
        coldest, hottest = limits.value("mixing.liquid_coldest"), limits.value("mixing.liquid_hottest")
        # a liquid that would have to be colder than it can be poured counts as not reached, and stands at that limit
        needed = np.where(facts["liquid_c"] < coldest, np.inf, np.minimum(facts["liquid_c"], hottest))
        found.append(reader.read("liquid temperature", "°C", needed, LIQUID_LAW, MIX_SOURCES, horizon=coldest))
    if "ice_g" in facts and float(np.median(facts["ice_g"])) > 0.5:
        found.append(reader.read("ice in place of liquid", "g", facts["ice_g"], ICE_LAW, ("ice-table",)))
    if "work_wh_kg" in facts:
        found.append(
            reader.read("mixing work, of full development", "%", facts["developed"], WORK_LAW, WORK_SOURCES, scale=100)
        )
    return found


def bake_readings(reader: Reader, trace: StepTrace, altitude_m: float) -> list[Reading]:
    """Core, set, colour and loss when the stretch ends, and how long the coldest bun needs."""
    wanted = core_target_c(altitude_m)
    horizon = float(trace.sample_s[-1])
    colour = trace.at_end("colour_top")
    word = colour_word(float(np.median(colour)))
    found = [
        reader.read("core", "°C", trace.at_end("core_c"), HEAT_LAW, HEAT_SOURCES),
        reader.read(
            f"minutes until {wanted:.0f} °C inside", "min", trace.first_passage("core_c", wanted), HEAT_LAW,
            HEAT_SOURCES, horizon=horizon, scale=1 / 60,
        ),
        reader.read("crumb set, coldest point", "%", trace.at_end("set_coldest"), HEAT_LAW, HEAT_SOURCES, scale=100.0),
    ]  # fmt: skip
    if not trace.step.covered:
        found += [
            reader.read(
                f"colour (ΔE, {word})", "ΔE", colour, COLOUR_LAW, COLOUR_SOURCES, valid=_colour_in_range(trace)
            ),
            reader.read("crust surface", "°C", trace.at_end("surface_c"), HEAT_LAW, HEAT_SOURCES),
            *_done_between(reader, trace, wanted),
        ]
    found.append(reader.read("loss so far", "%", trace.at_end("loss"), LOSS_LAW, HEAT_SOURCES, scale=100.0))
    return found


def _done_between(reader: Reader, trace: StepTrace, wanted_c: float) -> list[Reading]:
    """From when all three signs are met (hot, set, golden) until the tops are too dark."""
    signs = doneness(
        trace.sample_s, trace.curve("core_c"), trace.curve("set_coldest"), trace.curve("colour_top"),
        wanted_c + BELOW_BOILING_C, GOLDEN[0], GOLDEN[1],
    )  # fmt: skip
    horizon, valid = float(trace.sample_s[-1]), _colour_in_range(trace)
    return [
        reader.read(
            words, "min", np.where(np.isnan(seconds), np.inf, seconds), law, COLOUR_SOURCES, horizon=horizon,
            scale=1 / 60, valid=valid,
        )
        for words, seconds, law in (
            ("minutes until hot, set and golden", signs.done, DONE_LAW),
            ("minutes until too dark", signs.too_dark, COLOUR_LAW),
        )
    ]  # fmt: skip


def _colour_in_range(trace: StepTrace) -> bool:
    """Browning with sugar was measured from 105 °C on; below it is drawn on, and marked."""
    return float(np.median(trace.at_end("surface_c"))) >= load("bake").value("browning.valid_from")


def out_of_the_oven(reader: Reader, trace: StepTrace, whole: Trace) -> list[Reading]:
    """In the first step after the bake: how high the core still comes, and when the base begins to sweat in its tin."""
    if trace.index == 0 or whole.steps[trace.index - 1].step.kind != "bake":
        return []
    core = trace.curve("core_c")
    found = [reader.read("core at its highest after the oven", "°C", core.max(axis=1), CARRY_LAW, HEAT_SOURCES)]
    if trace.step.kind != "cool":  # on the rack it stands out of the tin
        seconds = sweats_after_s(trace.sample_s, trace.curve("base_c"), core)
        if np.isnan(seconds).mean() > _HARDLY_ANY:
            return found
        found.append(
            reader.read(
                "minutes until the base sweats in the tin", "min", np.where(np.isnan(seconds), np.inf, seconds),
                SWEAT_LAW, HEAT_SOURCES, horizon=float(trace.sample_s[-1]), scale=1 / 60,
            )
        )  # fmt: skip
    return found


def cool_readings(reader: Reader, trace: StepTrace, whole: Trace) -> list[Reading]:
    """Cooling: the very middle, loss, and when it is cool enough to cut: cooling, the middle is the warmest."""
    cut_c = load("timeline").value("reading.cut_below")
    return [
        reader.read("core", "°C", trace.at_end("centre_c"), COOL_LAW, HEAT_SOURCES),
        *out_of_the_oven(reader, trace, whole),
        reader.read(
            f"minutes until {cut_c:.0f} °C inside", "min", trace.first_passage("centre_c", cut_c, False), COOL_LAW,
            HEAT_SOURCES, horizon=float(trace.sample_s[-1]), scale=1 / 60,
        ),
        reader.read("loss, bake and cooling", "%", trace.at_end("loss"), LOSS_LAW, HEAT_SOURCES, scale=100.0),
    ]  # fmt: skip
