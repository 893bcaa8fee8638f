"""A forecast's steps and readings as the tide page tells them: names told apart, ranges, reasons, sources by title."""

import re
from dataclasses import dataclass

from oventide.evidence.parameters import sources
from oventide.forecast.model import Forecast, Reading, StepForecast
from oventide.web.figures import Units, minutes, spread

_NOT_REACHED = re.compile(r"In (\d+) of 100 kitchens it is not reached in the time looked at")


@dataclass(frozen=True)
class ReadingShown:
    """One reading with its range in words."""

    name: str
    words: str
    because: str
    sources: tuple[str, ...]
    valid: bool


def source_titles(keys: tuple[str, ...]) -> tuple[str, ...]:
    """Titles of sources, with the key where no title is known."""
    known = sources()
    return tuple(known[key].title if key in known else key for key in keys)


def _words(reading: Reading, units: Units) -> str:
    """The range; where the forecast stopped looking, "over" the time looked at.

    A reading of minutes that part of the kitchens never reach is held at the horizon by the forecast, and its reason
    says for how many: a figure that stands at the horizon is then a bound, not a value.
    """
    found = _NOT_REACHED.search(reading.because)
    if not found or reading.unit != "min":
        return spread(reading.p5, reading.p50, reading.p95, reading.unit, units)
    missed, over = int(found[1]), f"over {minutes(reading.p95)}"
    if missed >= 95:
        return over
    if missed >= 50:
        return f"from {minutes(reading.p5)}, likely {over}"
    return f"{minutes(reading.p5)} to {over}, likely {minutes(reading.p50)}"


def readings_of(step: StepForecast, units: Units) -> tuple[ReadingShown, ...]:
    """The readings of a step."""
    return tuple(
        ReadingShown(r.name, _words(r, units), r.because, source_titles(r.sources), r.valid) for r in step.readings
    )


def step_name(step: StepForecast, forecast: Forecast) -> str:
    """The step's name; where another step has the same, covered and open are told apart.

    "Bake" twice becomes "Bake, covered" and "Bake, open".
    """
    name = step.name or step.kind
    if sum(1 for other in forecast.steps if (other.name or other.kind) == name) > 1:
        return f"{name}, {'covered' if step.covered else 'open'}"
    return name
