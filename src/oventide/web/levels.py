"""The water levels of the tide chart: which figures, on which axis, in the units switched to."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace

from oventide.forecast.model import Forecast, Tide
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.web.figures import Units, plain
from oventide.web.readings import step_name

WARM_C = 40.0
"""Below it the dough lives, above it the oven works: the temperature axis changes its scale here."""
WARM_SHARE = 0.62
MOST_POINTS = 240


@dataclass(frozen=True)
class Axis:
    """A scale in one or two straight pieces: `knots` are (value, share of the height)."""

    knots: tuple[tuple[float, float], ...]
    ticks: tuple[float, ...]

    def share(self, value: float) -> float:
        """Where a value lies on the axis, 0 (bottom) to 1 (top), clipped.

        >>> Axis(((0, 0), (40, 0.5), (100, 1)), ()).share(70)
        0.75
        """
        values = [knot[0] for knot in self.knots]
        if value <= values[0]:
            return 0.0
        if value >= values[-1]:
            return 1.0
        at = bisect_left(values, value)
        (low, low_share), (high, high_share) = self.knots[at - 1], self.knots[at]
        return low_share + (high_share - low_share) * (value - low) / (high - low)

    @property
    def bend(self) -> tuple[float, float] | None:
        """Value and share where the scale changes, if it does."""
        return self.knots[1] if len(self.knots) == 3 else None


@dataclass(frozen=True)
class Beside:
    """A second figure on a panel: its likely course."""

    name: str
    minutes: tuple[float, ...]
    middle: tuple[float, ...]


@dataclass(frozen=True)
class Panel:
    """One water level, in the units shown."""

    look: int
    name: str
    unit: str
    minutes: tuple[float, ...]
    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]
    axis: Axis
    decimals: int
    beside: tuple[Beside, ...] = ()
    """Other figures in the same unit, drawn as a thin line."""

    def figure(self, value: float) -> str:
        """A value with its unit."""
        text = plain(value, self.decimals)
        if self.unit == "×":
            return f"×{text}"
        return f"{text}\u202f{self.unit}" if self.unit else text

    def at(self, minutes: float) -> tuple[float, float, float]:
        """Low, middle and high at a moment (straight between the samples)."""
        return tuple(_between(self.minutes, each, minutes) for each in (self.low, self.middle, self.high))  # type: ignore[return-value]


@dataclass(frozen=True)
class LevelRow:
    """The levels at the end of one step, as texts."""

    number: int
    name: str
    end_min: float
    figures: tuple[str, ...]


def _between(at: Sequence[float], values: Sequence[float], x: float) -> float:
    if x <= at[0]:
        return values[0]
    if x >= at[-1]:
        return values[-1]
    index = bisect_left(at, x)
    share = (x - at[index - 1]) / (at[index] - at[index - 1])
    return values[index - 1] + share * (values[index] - values[index - 1])


def nice_step(span: float, most: int) -> float:
    """A round step that divides a span into at most `most` parts.

    >>> nice_step(37, 5), nice_step(1.3, 4)
    (10.0, 0.5)
    """
    raw = max(span, 1e-9) / most
    power = 10.0 ** math.floor(math.log10(raw))
    return next(power * factor for factor in (1, 2, 5, 10) if power * factor >= raw * 0.999)


def _plain_axis(low: float, high: float, most: int = 4) -> Axis:
    step = nice_step(high - low, most)
    bottom, top = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
    if top <= bottom:
        top = bottom + step
    count = round((top - bottom) / step)
    return Axis(((bottom, 0.0), (top, 1.0)), tuple(round(bottom + step * i, 9) for i in range(count + 1)))


def _temperature_axis(low: float, high: float, units: Units) -> Axis:
    warm = fahrenheit_from_celsius(WARM_C) if units.temperature == "f" else WARM_C
    if high < warm * 1.5 or low >= warm:
        return _plain_axis(low, high)
    cold_step = 20.0 if units.temperature == "f" else 10.0
    bottom = math.floor(low / cold_step) * cold_step
    hot_step = nice_step(high - warm, 3)
    top = math.ceil(high / hot_step) * hot_step
    cold = [bottom + cold_step * i for i in range(int((warm - bottom) / cold_step) + 1)]
    if cold[-1] < warm - cold_step / 2:
        cold.append(warm)
    hot = [v for v in (hot_step * i for i in range(1, 30)) if warm + hot_step * 0.5 < v <= top]
    return Axis(((bottom, 0.0), (warm, WARM_SHARE), (top, 1.0)), tuple(cold + hot))


def _thinned(tide: Tide) -> tuple[int, ...]:
    count = len(tide.minutes)
    if count <= MOST_POINTS:
        return tuple(range(count))
    step = count / MOST_POINTS
    return tuple(sorted({int(i * step) for i in range(MOST_POINTS)} | {count - 1}))


def _unit_of(tide: Tide) -> tuple[str, float]:
    """The unit that is shown, and the factor to it."""
    if tide.unit == "share" or (tide.unit in ("1", "") and max(tide.p95, default=0.0) <= 1.0):
        return "%", 100.0
    if tide.unit in ("1", "", "x"):
        return "×", 1.0
    return tide.unit, 1.0


def _taken(values: Sequence[float], keep: Sequence[int], factor: float, fahrenheit: bool) -> tuple[float, ...]:
    picked = (values[i] * factor for i in keep)
    return tuple(fahrenheit_from_celsius(v) if fahrenheit else v for v in picked)


def _axis(unit: str, low: float, high: float, units: Units) -> Axis:
    if unit == "°C":
        return _temperature_axis(low, high, units)
    if unit == "%" and high > 40:
        return Axis(((0.0, 0.0), (100.0, 1.0)), (0.0, 25.0, 50.0, 75.0, 100.0))
    floor = 0.0 if unit == "%" else 1.0 if low > 0.9 else low  # mixing air may hold a rise a hair under ×1
    return _plain_axis(floor, high)


def _panel(tide: Tide, others: Sequence[Tide], units: Units) -> Panel:
    keep = _thinned(tide)
    unit, factor = _unit_of(tide)
    fahrenheit = unit == "°C" and units.temperature == "f"
    low, middle, high = (_taken(each, keep, factor, fahrenheit) for each in (tide.p5, tide.p50, tide.p95))
    beside = tuple(
        Beside(
            other.name,
            tuple(other.minutes[i] for i in _thinned(other)),
            _taken(other.p50, _thinned(other), factor, fahrenheit),
        )
        for other in others
    )
    lines = (low, high, *(other.middle for other in beside))
    return Panel(
        look={"°C": 0, "×": 1}.get(unit, 2),
        name=tide.name[:1].upper() + tide.name[1:],
        unit=units.degree if unit == "°C" else unit,
        minutes=tuple(tide.minutes[i] for i in keep),
        low=low,
        middle=middle,
        high=high,
        axis=_axis(unit, min(map(min, lines)), max(map(max, lines)), units),
        decimals=1 if unit == "×" else 0,
        beside=beside,
    )


def panels_of(forecast: Forecast, units: Units) -> tuple[Panel, ...]:
    """A panel for each unit among the tides that hold samples; the first tide of a unit is the panel's own."""
    by_unit: dict[str, list[Tide]] = {}
    for tide in forecast.tides:
        if len(tide.minutes) > 1:
            by_unit.setdefault(_unit_of(tide)[0], []).append(tide)
    return tuple(_panel(first, others, units) for first, *others in by_unit.values())


def panel_between(tides: Sequence[Tide], begin_min: float, end_min: float, units: Units) -> Panel | None:
    """The temperatures of a stretch of the clock, sample by sample, on a scale of one piece."""
    cut = []
    for tide in tides:
        if tide.unit != "°C" or len(tide.minutes) < 2 or tide.minutes[-1] <= begin_min or tide.minutes[0] >= end_min:
            continue
        first, last = max(begin_min, tide.minutes[0]), min(end_min, tide.minutes[-1])
        at = (first, *(m for m in tide.minutes if first < m < last), last)
        taken = {
            name: tuple(_between(tide.minutes, getattr(tide, name), m) for m in at) for name in ("p5", "p50", "p95")
        }
        cut.append(tide.model_copy(update={"minutes": at, **taken}))
    if not cut:
        return None
    panel = _panel(cut[0], cut[1:], units)
    lines = (panel.low, panel.high, *(other.middle for other in panel.beside))
    return replace(panel, axis=_plain_axis(min(map(min, lines)), max(map(max, lines)), 5))


def level_rows(forecast: Forecast, panels: Sequence[Panel]) -> tuple[LevelRow, ...]:
    """The levels at the likely end of each step."""
    rows = []
    for step in forecast.steps:
        figures = []
        for panel in panels:
            if not panel.minutes[0] <= step.end.likely_min <= panel.minutes[-1] + 0.5:
                figures.append("–")
                continue
            low, middle, high = panel.at(step.end.likely_min)
            shown = [plain(v, panel.decimals) for v in (low, middle, high)]
            sign, unit = ("×", "") if panel.unit == "×" else ("", f"\u202f{panel.unit}")
            figures.append(
                f"{sign}{shown[1]}{unit}"
                if shown[0] == shown[2]
                else f"{sign}{shown[0]}–{shown[2]}{unit}, likely {sign}{shown[1]}{unit}"
            )
        rows.append(LevelRow(step.index + 1, step_name(step, forecast), step.end.likely_min, tuple(figures)))
    return tuple(rows)
