"""What a forecast step says first: its main reading and its end, in words for paper and terminal."""

import re

from oventide.forecast.clock import clock_words
from oventide.forecast.model import Forecast, Reading, StepForecast, Window
from oventide.services.wording import elapsed_words, figure_words

_FIRST: dict[str, tuple[str, ...]] = {
    "mix": ("dough temperature",),
    "bulk": ("rise since mixing",),
    "retard": ("rise since mixing", "core"),
    "chill": ("minutes until the outside is firm",),
    "proof": ("rise since shaping", "rise since mixing"),
    "bake": ("core",),
    "glaze": ("crust surface at the first stroke",),
    "cool": ("core",),
    "sheet": ("dough temperature",),
    "spread": ("butter that is solid",),
    "roll": ("butter that is solid",),
    "keep": ("softness, fresh is 100",),
}
"""Which reading a baker looks for first, by the kind of step; names as the forecast gives them."""


def main_reading(step: StepForecast) -> Reading | None:
    """The reading to show first, or None where hands do the step; one inside its law's range where there is one."""
    for usable in (True, False):
        for name in _FIRST.get(step.kind, ()):
            for reading in step.readings:
                if reading.name == name and reading.valid is usable:
                    return reading
    return None


_AIMS = {"dough ": "dough temperature", "core ": "core", "risen ": "rise"}


def is_aimed_at(step: StepForecast, reading: Reading) -> bool:
    """Whether the step's target speaks of this very reading, so that its name need not be said twice."""
    return any(step.target.startswith(aim) and reading.name.startswith(name) for aim, name in _AIMS.items())


def span_words(reading: Reading, named: bool = True) -> str:
    """A reading's range, with its name before it; marked where a law was used outside its range.

    >>> rise = Reading(name="rise since shaping", unit="×", p5=1.53, p50=1.72, p95=1.95, because="")
    >>> span_words(rise)
    'rise since shaping ×1.5 to ×1.9'
    >>> span_words(Reading(name="core", unit="°C", p5=91.2, p50=94, p95=96.1, because=""))
    'core 91 to 96 °C'
    >>> span_words(Reading(name="core", unit="°C", p5=91.2, p50=94, p95=96.1, because="", valid=False))
    'core 91 to 96 °C, beyond the tested range'
    """
    return _span(reading, named) + ("" if reading.valid else ", beyond the tested range")


def _span(reading: Reading, named: bool) -> str:
    low, high = figure_words(reading.p5, reading.unit), figure_words(reading.p95, reading.unit)
    name = reading.name
    if reading.unit == "min" and name.startswith("minutes "):
        name = name.removeprefix("minutes ")
    lead = f"{name} " if named else ""
    if low == high:
        return f"{lead}{low}"
    tail = f" {reading.unit}"
    if low.endswith(tail) and high.endswith(tail):
        low = low.removesuffix(tail)
    return f"{lead}{low} to {high}"


def _start_of_day(forecast: Forecast) -> float | None:
    """Minute of the day of being ready at which the first step likely begins, or None without a clock."""
    first = forecast.steps[0] if forecast.steps else None
    if first is None or not first.start_clock:
        return None
    match = re.match(r"(\d\d):(\d\d)(?: the day (before|after)|, (\d+) days (before|after))?", first.start_clock)
    if match is None:
        return None
    days = int(match[4]) if match[4] else 1 if match[3] else 0
    sign = -1 if "before" in (match[3], match[5]) else 1
    return int(match[1]) * 60 + int(match[2]) + sign * days * 1440 - first.start.likely_min


def moment_words(forecast: Forecast, minutes: float) -> str:
    """A moment of a forecast: the time of day (days left out), or the time since the start."""
    start = _start_of_day(forecast)
    if start is None:
        return elapsed_words(minutes)
    return clock_words((start + minutes) % 1440)


def window_words(forecast: Forecast, window: Window) -> str:
    """Earliest to latest moment, or one moment where they are the same minute."""
    early, late = moment_words(forecast, window.earliest_min), moment_words(forecast, window.latest_min)
    return early if early == late else f"{early} to {late}"
