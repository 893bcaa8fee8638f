"""What both shapes of the tide chart share: patterns, the look of a place, and the readings that stand as marks."""

from dataclasses import dataclass

from oventide.forecast.model import Forecast, StepForecast
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.web.levels import Panel

PATTERNED = ("fridge", "oven", "prover")


@dataclass(frozen=True)
class Mark:
    """A reading at the end of a step, in the panel's units."""

    minute: float
    low: float
    middle: float
    high: float


def place_class(step: StepForecast) -> tuple[str, str]:
    """Class and pattern of the place where a step happens."""
    place = {"freezer": "fridge"}.get(step.where, step.where) or ("oven" if step.kind == "bake" else "room")
    return f"tc-{place}", f"lane-{place}" if place in PATTERNED else ""


def marks_of(forecast: Forecast, panel: Panel) -> tuple[Mark, ...]:
    """Readings at the ends of steps that tell the panel's own figure; one a step at most."""
    marks = []
    wanted = panel.name.casefold()
    unit = {"°F": "°C"}.get(panel.unit, panel.unit)
    for step in forecast.steps:
        for reading in step.readings:
            name = reading.name.casefold()
            same_unit = reading.unit == unit or (unit == "×" and reading.unit in ("x", "1")) or (
                unit == "%" and reading.unit == "share"
            )
            if not same_unit or not reading.valid or not (name in wanted or wanted in name):
                continue
            factor = 100.0 if unit == "%" and reading.unit == "share" else 1.0
            figures = [value * factor for value in (reading.p5, reading.p50, reading.p95)]
            if panel.unit == "°F":
                figures = [fahrenheit_from_celsius(value) for value in figures]
            marks.append(Mark(step.end.likely_min, *figures))
            break
    return tuple(marks)
