"""Two forecasts on one clock: the same scale of time and of every level, one chart above the other."""

from dataclasses import dataclass, replace
from datetime import datetime

from markupsafe import Markup

from oventide.forecast.model import Forecast, Window
from oventide.timeline.procedure import Product
from oventide.web.clock import Clock, clock_of
from oventide.web.figures import Units
from oventide.web.levels import Axis, Panel, panels_of
from oventide.web.tide_tall import tall_chart
from oventide.web.tide_wide import wide_chart

MIDDLING = 800.0


@dataclass(frozen=True)
class Charts:
    """One side's chart, for wide screens, tablets and telephones."""

    wide: Markup
    middling: Markup
    tall: Markup


def shifted(forecast: Forecast, by_min: float) -> Forecast:
    """The forecast with its minute 0 earlier on the same clock."""

    def moved(window: Window) -> Window:
        return Window(
            earliest_min=window.earliest_min + by_min,
            likely_min=window.likely_min + by_min,
            latest_min=window.latest_min + by_min,
        )

    if not by_min:
        return forecast
    return forecast.model_copy(
        update={
            "steps": tuple(
                step.model_copy(update={"start": moved(step.start), "end": moved(step.end)}) for step in forecast.steps
            ),
            "tides": tuple(
                tide.model_copy(update={"minutes": tuple(m + by_min for m in tide.minutes)}) for tide in forecast.tides
            ),
        }
    )


def _reach(axis: Axis) -> float:
    return axis.knots[-1][0] - axis.knots[0][0]


def _one_scale(some: tuple[Panel, ...], others: tuple[Panel, ...]) -> tuple[tuple[Panel, ...], tuple[Panel, ...]]:
    """Panels of the same level on the axis that reaches further."""
    known = {(panel.look, panel.name): panel.axis for panel in others}

    def widest(panel: Panel, beside: Axis | None) -> Panel:
        return panel if beside is None or _reach(beside) <= _reach(panel.axis) else replace(panel, axis=beside)

    here = tuple(widest(panel, known.get((panel.look, panel.name))) for panel in some)
    mine = {(panel.look, panel.name): panel.axis for panel in here}
    return here, tuple(widest(panel, mine.get((panel.look, panel.name))) for panel in others)


def one_above_the_other(
    pairs: tuple[tuple[Product, Forecast], tuple[Product, Forecast]], ready_by: str | None, now: datetime, units: Units
) -> tuple[Charts, Charts]:
    """Both charts. With a ready-by time both end at it; without one both begin at nought."""
    clocks = [clock_of(forecast, ready_by, now) for _, forecast in pairs]
    starts = [clock.start_at for clock in clocks]
    offsets = [0.0, 0.0]
    first = clocks[0]
    if starts[0] is not None and starts[1] is not None:
        begin = min(starts[0], starts[1])
        offsets = [(start - begin).total_seconds() / 60.0 for start in starts if start is not None]
        first = clocks[offsets.index(0.0)]
    span = max(clock.span_min + offset for clock, offset in zip(clocks, offsets, strict=True))
    clock: Clock = replace(first, span_min=span)
    forecasts = [shifted(forecast, offset) for (_, forecast), offset in zip(pairs, offsets, strict=True)]
    panels = _one_scale(panels_of(forecasts[0], units), panels_of(forecasts[1], units))
    one, other = (
        Charts(
            wide_chart(forecast, product, own, clock),
            wide_chart(forecast, product, own, clock, MIDDLING),
            tall_chart(forecast, own, clock),
        )
        for (product, _), forecast, own in zip(pairs, forecasts, panels, strict=True)
    )
    return one, other
