"""What a forecast says: steps with windows, readings with reasons, tides for the chart."""

from oventide.formula.model import Frozen


class Reading(Frozen):
    """A quantity of the ensemble: 5, 50 and 95 % of the members [unit]."""

    name: str
    unit: str
    p5: float
    p50: float
    p95: float
    because: str
    """A sentence: what drives the figure, and which measurement would narrow it."""
    sources: tuple[str, ...] = ()
    reached: float = 1.0
    """Share of the kitchens in which it happens in the time looked at; below 1 a quantile may be "this or later"."""
    valid: bool = True
    """False where a law was used outside its range; the faces grey it."""


class Window(Frozen):
    """Minutes since the first step began: earliest and latest sensible moment, and the likely one."""

    earliest_min: float
    likely_min: float
    latest_min: float


class StepForecast(Frozen):
    """One step as forecast. `action` is what to do, `outside` what to do outside the window."""

    index: int
    kind: str
    name: str
    start: Window
    end: Window
    start_clock: str = ""
    """HH:MM of the likely start (with +1 for the next day), where a ready-by time was given."""
    end_clock: str = ""
    where: str = ""
    air_c: float | None = None
    covered: bool = False
    readings: tuple[Reading, ...] = ()
    """Readings at the end of the step, and windows such as "minutes until too soft"."""
    action: str = ""
    target: str = ""
    outside: str = ""
    cautions: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()


class Tide(Frozen):
    """One water level of the tide chart: quantiles over the clock."""

    name: str
    unit: str
    minutes: tuple[float, ...]
    p5: tuple[float, ...]
    p50: tuple[float, ...]
    p95: tuple[float, ...]


class Forecast(Frozen):
    """The whole timeline as forecast."""

    product: str
    kitchen: str
    members: int
    seed: int
    steps: tuple[StepForecast, ...]
    tides: tuple[Tide, ...]
    assumed: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    """"This answer rests on": keys of evidence sources."""
