"""What both shapes of the tide chart share: the look of a place, and what the baker aims at as marks."""

from dataclasses import dataclass

from oventide.forecast.model import Forecast, StepForecast
from oventide.timeline.procedure import Product
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.web.levels import Panel

PATTERNED = ("fridge", "oven", "prover")


@dataclass(frozen=True)
class Mark:
    """An aim at the end of a step, in the panel's units."""

    minute: float
    low: float
    middle: float
    high: float


def place_class(step: StepForecast) -> tuple[str, str]:
    """Class and pattern of the place where a step happens."""
    place = {"freezer": "fridge"}.get(step.where, step.where) or ("oven" if step.kind == "bake" else "room")
    return f"tc-{place}", f"lane-{place}" if place in PATTERNED else ""


def aims_of(product: Product, forecast: Forecast, panel: Panel) -> tuple[Mark, ...]:
    """Temperatures that steps aim at, on the temperature panel.

    A rise is aimed at since shaping and the panel tells it since mixing, so it is told in the step's words only.
    """
    if panel.look != 0:
        return ()
    marks = []
    for step in forecast.steps:
        if not 0 <= step.index < len(product.procedure.steps):
            continue
        target = product.procedure.steps[step.index].target
        if target is None or target.measure not in ("core_c", "dough_c"):
            continue
        low = target.value if target.low is None else target.low
        high = target.value if target.high is None else target.high
        figures = [fahrenheit_from_celsius(v) if panel.unit == "°F" else v for v in (low, target.value, high)]
        marks.append(Mark(step.end.likely_min, *figures))
    return tuple(marks)
