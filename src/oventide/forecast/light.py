"""The one figure of a step that a baker looks for, read off without reasons: quick enough to follow a tap."""

import numpy as np
from numpy.typing import NDArray

from oventide.dough.fat import thresholds
from oventide.forecast import cold
from oventide.forecast.drivers import Driver, Drivers
from oventide.forecast.hot import COLOUR_LAW, COOL_LAW, HEAT_LAW, MIX_LAW
from oventide.forecast.kept import STALE_LAW
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]


class NoDrivers(Drivers):
    """No causes are looked for: a reading then costs its quantiles and no more."""

    def __init__(self, ensemble: Ensemble) -> None:
        self.ensemble = ensemble
        self.keys = ()

    def of(self, values: Array, most: int = 3) -> tuple[Driver, ...]:
        """None."""
        return ()


def light_readings(trace: StepTrace, ensemble: Ensemble, weights: Array | None = None) -> tuple[Reading, ...]:
    """The readings of a step that a baker looks for first, at the end of the step as the trace gives it."""
    reader = Reader(NoDrivers(ensemble), weights)
    kind = trace.step.kind
    if kind == "mix":
        return (reader.read("dough temperature", "°C", trace.at_end("mean_c"), MIX_LAW),)
    if trace.kernel == "hold":
        return _cold(reader, trace)
    if kind == "bake":
        core = reader.read("core", "°C", trace.at_end("core_c"), HEAT_LAW)
        if trace.step.covered:
            return (core,)
        return core, reader.read("colour", "ΔE", trace.at_end("colour_top"), COLOUR_LAW)
    if kind == "glaze":
        return (reader.read("crust surface", "°C", trace.at_start("surface_c"), COOL_LAW),)
    if kind == "cool":
        return (reader.read("core", "°C", trace.at_end("centre_c"), COOL_LAW),)
    if trace.kernel == "keep":
        return (reader.read("softness, fresh is 100", "%", trace.at_end("softness"), STALE_LAW, scale=100.0),)
    return ()


def _cold(reader: Reader, trace: StepTrace) -> tuple[Reading, ...]:
    kind = trace.step.kind
    if kind == "bulk":
        return cold.rise(reader, trace), cold.dough_temperature(reader, trace)
    if kind == "retard":
        return cold.core_temperature(reader, trace), cold.rise(reader, trace)
    if kind == "proof":
        shaped = trace.at_end("rise") / trace.facts["shaped_rise"]
        return (
            reader.read("rise since shaping", "×", shaped, cold.GAS_LAW),
            cold.core_temperature(reader, trace),
        )
    if kind == "chill":
        limit = thresholds().getting_soft
        return (
            cold.minutes_until(
                reader, trace, "minutes until the outside is firm", "solid_fat_outer", limit, True, cold.FAT_LAW, ()
            ),
            cold.core_temperature(reader, trace),
        )
    solid = reader.read("butter that is solid", "%", trace.at_end("solid_fat"), cold.FAT_LAW, scale=100.0)
    return cold.dough_temperature(reader, trace), solid
