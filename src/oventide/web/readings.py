"""A forecast's steps and readings as the tide page tells them: names told apart, ranges, reasons, sources."""

from dataclasses import dataclass

from oventide.evidence.parameters import Source, sources
from oventide.forecast.model import Forecast, Reading, StepForecast
from oventide.web.figures import DASH, Units, minutes, spread

AT_ONCE_MIN = 0.5


@dataclass(frozen=True)
class ReadingShown:
    """One reading with its range in words."""

    name: str
    words: str
    because: str
    sources: tuple[Source, ...]
    valid: bool


def sources_of(keys: tuple[str, ...]) -> tuple[Source, ...]:
    """The sources by key, each once; a key that is not known stands for itself."""
    known = sources()
    return tuple(known.get(key) or Source(key=key, title=key) for key in dict.fromkeys(keys) if key)


def _span(value: float) -> str:
    return "at once" if value < AT_ONCE_MIN else minutes(value)


def _words(reading: Reading, units: Units) -> str:
    """The range. A quantile beyond the share that reaches it was held at the time looked at: a bound, not a value."""
    if reading.unit != "min":
        return spread(reading.p5, reading.p50, reading.p95, reading.unit, units)
    over = f"over {minutes(reading.p95)}"
    if reading.reached < 0.05:
        return over
    first = _span(reading.p5)
    if reading.reached < 0.5:
        begin = f"{first} to {over}" if first == "at once" else f"from {first}"
        return f"{begin}, likely {over}"
    likely = _span(reading.p50)
    if reading.reached < 0.95:
        return f"{first} to {over}, likely {likely}"
    last = _span(reading.p95)
    if first == last:
        return likely
    return f"{first}{' to ' if first == 'at once' else DASH}{last}, likely {likely}"


def readings_of(step: StepForecast, units: Units) -> tuple[ReadingShown, ...]:
    """The readings of a step."""
    return tuple(
        ReadingShown(r.name, _words(r, units), r.because, sources_of(r.sources), r.valid) for r in step.readings
    )


def step_name(step: StepForecast, forecast: Forecast) -> str:
    """The step's name; where another step has the same, covered and open are told apart.

    "Bake" twice becomes "Bake, covered" and "Bake, open".
    """
    name = step.name or step.kind
    if sum(1 for other in forecast.steps if (other.name or other.kind) == name) > 1:
        return f"{name}, {'covered' if step.covered else 'open'}"
    return name
