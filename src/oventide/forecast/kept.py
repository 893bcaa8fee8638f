"""Readings of keeping: how soft, how long soft, how much lighter; frozen, thawed, hot inside when."""

import numpy as np

from oventide.bake.staling import clearly_firmer
from oventide.evidence.parameters import load
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.timeline.keep import wrap_of
from oventide.timeline.trace import StepTrace

STALE_LAW = (
    "Crumb firms as its starch sets again, fastest just above freezing and slower when warm; fat and sugar keep it "
    "softer, drying makes it firmer."
)
DRY_LAW = "Water leaves by the open faces, through the wrap and through a crumb that dries from outside in."
CRUST_LAW = "A wrapped crust takes up water from the crumb and softens; open or in paper it stays dry."
FREEZE_LAW = (
    "The bun gives its heat to the freezer's air through its wrap and its own crumb; slow freezing costs softness."
)
THAW_LAW = "Ice in the crumb melts by heat from the air, through the wrap and through thawed crumb, which leads badly."
REHEAT_LAW = "Over 60 °C most of the set starch melts again; after that the bun stales faster than before."
STALE_SOURCES = ("colwell-1969", "cornford-1964")
FROZEN_SOURCES = ("kulp-bechtel-1960", "pence-1955")
DRY_SOURCES = ("tong-lund-1990", "pe-permeance-2017")
FREEZE_SOURCES = ("pham-1986", "hamdami-2004")
_LEAST_SHOWN = 0.05


def keep_readings(reader: Reader, trace: StepTrace) -> list[Reading]:
    """Softness as a share of fresh, time until clearly firmer, loss of weight; what the place adds."""
    if trace.kernel != "keep":
        return []
    mean_c = float(np.median(trace.at_end("mean_c")))
    frozen = mean_c < load("keeping").value("freeze.point")
    sources = STALE_SOURCES + FROZEN_SOURCES if frozen else STALE_SOURCES
    horizon = float(trace.sample_s[-1])
    found = [
        reader.read(
            "softness, fresh is 100", "%", trace.at_end("softness"), STALE_LAW, sources, scale=100.0
        ),
    ]  # fmt: skip
    if trace.step.where != "oven":
        firmer = trace.first_passage("firmness", clearly_firmer())
        found.append(
            reader.read(
                "minutes until clearly firmer", "min", firmer, STALE_LAW, sources, horizon=horizon,
                scale=1 / 60,
            )
        )  # fmt: skip
    loss = trace.at_end("lost")
    found.append(reader.read("weight lost since the oven", "%", loss, DRY_LAW, DRY_SOURCES, scale=100.0))
    return found + _place(reader, trace, horizon)


def _place(reader: Reader, trace: StepTrace, horizon: float) -> list[Reading]:
    found = []
    for fact, words, law, sources in (
        ("frozen_s", "minutes until frozen through", FREEZE_LAW, FREEZE_SOURCES),
        ("thawed_s", "minutes until thawed", THAW_LAW, FREEZE_SOURCES),
        ("hot_s", "minutes until hot inside", REHEAT_LAW, ("staling-endotherm", "nivelle-2017")),
    ):
        if fact in trace.facts and np.isfinite(trace.facts[fact]).mean() > _LEAST_SHOWN:
            found.append(reader.read(words, "min", trace.facts[fact], law, sources, horizon=horizon, scale=1 / 60))
    soft = trace.facts["crust_soft_s"]
    if trace.step.where in ("room", "bench") and wrap_of(trace.step) not in ("open", "paper"):
        found.append(
            reader.read(
                "minutes until the crust is soft", "min", soft, CRUST_LAW, ("stollman-1987",), horizon=horizon,
                scale=1 / 60,
            )
        )  # fmt: skip
    return found
