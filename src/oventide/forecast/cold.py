"""Readings of the steps outside the oven: bulk, retard, temper, sheet, spread, roll, chill, cut, tin, proof."""

import numpy as np
from numpy.typing import NDArray

from oventide.dough.fat import thresholds
from oventide.dough.proof import rise_over_shaped, shaped_target
from oventide.evidence.parameters import load
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

HEAT_LAW = "Heat goes in and out by conduction through the dough and by the air's film."
GAS_LAW = "Yeast makes gas at a rate set by temperature, sugar, salt and fat, and part of it stays in the dough."
FAT_LAW = "Butter softens as its fat melts; how much is solid depends on temperature alone in this model."
HEAT_SOURCES = ("choi-okos",)
GAS_SOURCES = ("rosso-1993", "weiss-1974")
FAT_SOURCES = ("ronholt-2013",)


def dough_temperature(reader: Reader, trace: StepTrace) -> Reading:
    """Mean dough temperature when the step ends."""
    return reader.read("dough temperature", "°C", trace.at_end("mean_c"), HEAT_LAW, HEAT_SOURCES)


def core_temperature(reader: Reader, trace: StepTrace) -> Reading:
    """Slowest point when the step ends."""
    return reader.read("core", "°C", trace.at_end("core_c"), HEAT_LAW, HEAT_SOURCES)


def rise(reader: Reader, trace: StepTrace) -> Reading:
    """Volume over freshly mixed when the step ends."""
    return reader.read("rise since mixing", "×", trace.at_end("rise"), GAS_LAW, GAS_SOURCES)


def minutes_until(
    reader: Reader,
    trace: StepTrace,
    words: str,
    observable: str,
    threshold: float | Array,
    rising: bool,
    law: str,
    sources: tuple[str, ...],
) -> Reading:
    """Minutes from the step's start until an observable passes a threshold."""
    seconds = trace.first_passage(observable, threshold, rising)
    return reader.read(words, "min", seconds, law, sources, horizon=float(trace.sample_s[-1]), scale=1 / 60)


def bulk_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """First rise: how far it has come, and when the target is met."""
    found = [rise(reader, trace), dough_temperature(reader, trace)]
    target = trace.step.target
    if target is not None and target.measure == "rise":
        words = f"minutes to a rise of {target.value:g}"
        found.append(minutes_until(reader, trace, words, "rise", target.value, True, GAS_LAW, GAS_SOURCES))
    return found


def retard_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """The night in the fridge: cold inside when, how risen, how firm, and whether it goes too far."""
    found = [core_temperature(reader, trace), rise(reader, trace)]
    cold_c = load("timeline").value("reading.cold_enough")
    if float(np.median(trace.at_start("core_c"))) > cold_c:
        words = f"minutes until {cold_c:.0f} °C inside"
        found.append(minutes_until(reader, trace, words, "core_c", cold_c, False, HEAT_LAW, HEAT_SOURCES))
    over = trace.first_passage("over_proof", 0.0)
    if np.isfinite(over).mean() > 0.05:
        found.append(
            reader.read(
                "minutes until it begins to lose its gas", "min", over, GAS_LAW, GAS_SOURCES,
                horizon=float(trace.sample_s[-1]), scale=1 / 60,
            )
        )  # fmt: skip
    found.append(_firmness(reader, trace))
    return found


def _firmness(reader: Reader, trace: StepTrace) -> Reading:
    return reader.read("butter that is solid", "%", trace.at_end("solid_fat"), FAT_LAW, FAT_SOURCES, scale=100.0)


def temper_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """Out of the fridge: when the butter gives way enough to be rolled."""
    hard = thresholds().too_hard
    return [
        dough_temperature(reader, trace),
        minutes_until(
            reader, trace, "minutes until it rolls without cracking", "solid_fat", hard, False, FAT_LAW, FAT_SOURCES
        ),
    ]


def bench_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """On the bench: how long until the sheet or log is soft, and too soft."""
    at = thresholds()
    found = [dough_temperature(reader, trace), _firmness(reader, trace)]
    for words, limit in (("minutes until getting soft", at.getting_soft), ("minutes until too soft", at.too_soft)):
        found.append(minutes_until(reader, trace, words, "solid_fat", limit, False, FAT_LAW, FAT_SOURCES))
    return found


def handled_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """While it is cut and set in the tin: how warm and how firm."""
    return [dough_temperature(reader, trace), _firmness(reader, trace)]


def chill_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """A short chill: the outside that knife and hand feel, and the core, which takes far longer."""
    limit = thresholds().getting_soft
    return [
        minutes_until(
            reader, trace, "minutes until the outside is firm", "solid_fat_outer", limit, True, FAT_LAW, FAT_SOURCES
        ),
        minutes_until(
            reader, trace, "minutes until firm to the core", "solid_fat_softest", limit, True, FAT_LAW, FAT_SOURCES
        ),
        core_temperature(reader, trace),
    ]


def proof_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """Final proof: rise since shaping, when ready, when too far, and how cold the core still is."""
    shaped = trace.facts["shaped_rise"]
    usual, target = shaped_target(), trace.step.target
    aimed = target is not None and target.measure == "rise"
    wanted = target.value if target is not None and aimed else usual.likely
    latest = target.high if target is not None and aimed and target.high is not None else max(wanted + 0.1, usual.high)
    rise_now = rise_over_shaped(trace.at_end("rise"), shaped)
    return [
        reader.read("rise since shaping", "×", rise_now, GAS_LAW, GAS_SOURCES),
        minutes_until(
            reader, trace, f"minutes to a rise of {wanted:g}", "rise", wanted * shaped, True, GAS_LAW, GAS_SOURCES
        ),
        minutes_until(
            reader, trace, f"minutes to a rise of {latest:g}", "rise", latest * shaped, True, GAS_LAW, GAS_SOURCES
        ),
        core_temperature(reader, trace),
    ]
