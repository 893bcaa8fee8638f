"""Readings of the filling: water drawn, syrup made, whether it runs, and whether it burns under the buns."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.dough.weep import VALID_C, DoughWater, Filling, Layers, burnt_share, leak_word, weep_after
from oventide.evidence.parameters import load
from oventide.forecast.drivers import Drivers
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.timeline.batch import Batch
from oventide.timeline.ensemble import draw_ensemble
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

WEEP_LAW = (
    "Sugar draws water out of the dough through every face that it touches; butter shuts one face off, cold slows it; "
    "spice, crystals and the closeness of the roll hold the syrup."
)
BURN_LAW = "Syrup that ran under the buns before the oven lies on the hot base and darkens there first."
WEEP_SOURCES = ("norrish-1966", "guillard-2003", "tong-lund-1990")
WHAT_TO_DO = (
    "Butter over the whole sheet first, then the sugar.",
    "Cream the sugar into the butter: coated crystals draw less.",
    "Roll tighter, without air between the turns.",
    "Spread in the morning, or roll and bake on one day: most of the water comes in the first cold hours.",
    "Starch, 3 to 5 % of the sugar, thickens the syrup in the oven; cold it holds about its own weight and no more.",
    "Stand the buns on paper, and take them out of the tin while the syrup is fluid. It burns skin: mind your hands.",
)
_SHOWN = ("retard", "chill", "proof")
_RUNS = 3
"""Place of the syrup that runs among the readings of an answer."""
_SELDOM, _LIKELY = 0.05, 1 / 3


def weep_readings(reader: Reader, trace: StepTrace, batch: Batch) -> list[Reading]:
    """Readings of a step after the spreading: syrup per bun and whether it runs, or burns."""
    facts = trace.facts
    if "weep_syrup_g" in facts and trace.step.kind in _SHOWN:
        return [
            reader.read("syrup in the filling, each bun", "g", facts["weep_syrup_g"], WEEP_LAW, WEEP_SOURCES),
            _runs(reader, facts["weep_runs_g"]),
        ]
    if "weep_runs_g" in facts and trace.kernel == "oven" and batch.filling is not None:
        return _burns(reader, trace, batch.filling)
    return []


def _runs(reader: Reader, runs_g: Array) -> Reading:
    share = _share(reader, runs_g > load("weep").value("leak.least"))
    found = reader.read(f"syrup that runs ({leak_word(share)})", "g", runs_g, WEEP_LAW, WEEP_SOURCES)
    return _saying(found, WEEP_LAW, f"It runs in {_in_hundred(share)} of 100 kitchens.")


def _saying(reading: Reading, law: str, more: str) -> Reading:
    """A reading whose reason has another sentence after its law's."""
    return reading.model_copy(update={"because": reading.because.replace(law, f"{law} {more}", 1)})


def _share(reader: Reader, happens: Array | NDArray[np.bool_]) -> float:
    """Share of the kitchens, each as much as it counts."""
    return float(np.average(happens, weights=reader.weights))


def _in_hundred(share: float) -> str:
    return "none" if share == 0.0 else "all" if share == 1.0 else f"{min(99, max(1, round(100 * share)))}"


def _burns(reader: Reader, trace: StepTrace, filling: Filling) -> list[Reading]:
    """Share of the kitchens where syrup under the buns turns dark; nothing where hardly any of them has syrup there."""
    runs = trace.facts["weep_runs_g"]
    if _share(reader, runs > load("weep").value("leak.least")) < _SELDOM:
        return []
    invert = filling.invert_g / max(filling.sugars_g, 1e-9)
    base = trace.at_end("base_c")
    dark = burnt_share(runs, 1, base, invert, reader.drivers.ensemble.of("weep"))
    found = reader.read("base under the syrup", "°C", base, BURN_LAW, ("sugar-handbook",))
    return [_saying(found, BURN_LAW, f"It turns dark in {_in_hundred(_share(reader, dark))} of 100 kitchens.")]


class WeepAnswer(NamedTuple):
    """What one question about a filling comes to: readings for the whole batch, and what to do where it may run."""

    readings: tuple[Reading, ...]
    to_do: tuple[str, ...]


def advice(reader: Reader, trace: StepTrace) -> str:
    """What to do where syrup runs in a third of the kitchens or more; nothing elsewhere."""
    runs = trace.facts.get("weep_runs_g")
    if runs is None or trace.step.kind not in _SHOWN:
        return ""
    if _share(reader, runs > load("weep").value("leak.least")) < _LIKELY:
        return ""
    return "Syrup under the rolls: next time butter over the whole sheet first, roll tighter, or spread in the morning."


def weep_answer(
    filling: Filling,
    dough: DoughWater,
    layers: Layers,
    hours: float,
    celsius: Array | float,
    members: int = 1000,
    seed: int = 1,
) -> WeepAnswer:
    """One question by itself: this filling on this sheet, rolled up for `hours` at `celsius`; whole batch, grams.

    `dough` comes from `dough_water`, with one value of bound water or one for each member; `celsius` alike.
    """
    ensemble = draw_ensemble({"weep": list(load("weep").parameters.values())}, members, seed)
    reader, draws = Reader(Drivers(ensemble)), ensemble.of("weep")
    cold = np.broadcast_to(np.asarray(celsius, dtype=np.float64), (members,))
    found = weep_after(filling, dough, layers, np.full(members, hours), cold, draws)
    share = float((found.runs_g / layers.pieces > load("weep").value("leak.least")).mean())
    told = f"It runs in {_in_hundred(share)} of 100 kitchens."
    dry = 100.0 * found.crystals_g / max(filling.sucrose_g, 1e-9)
    inside = VALID_C[0] <= float(np.median(cold)) <= VALID_C[1]
    rows = (
        ("water drawn from the dough", "g", found.drawn_g),
        ("syrup", "g", found.syrup_g),
        ("sugar still dry", "%", dry),
        (f"syrup that runs ({leak_word(share)})", "g", found.runs_g),
        ("raw starch that would hold it cold", "g", found.starch_needed_g),
    )
    readings = [reader.read(name, unit, values, WEEP_LAW, WEEP_SOURCES, valid=inside) for name, unit, values in rows]
    readings[_RUNS] = _saying(readings[_RUNS], WEEP_LAW, told)
    return WeepAnswer(tuple(readings), WHAT_TO_DO if share >= _SELDOM else ())
