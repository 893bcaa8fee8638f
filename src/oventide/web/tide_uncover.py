"""The moment to uncover, tried out: the bake's chart with the written course behind it, and what changes by figures."""

from dataclasses import dataclass, replace

from markupsafe import Markup

from oventide.forecast.model import Forecast, Reading
from oventide.services.cover import LEAST_MIN, Cover
from oventide.timeline.procedure import Product
from oventide.web.clock import Clock
from oventide.web.figures import Units, decimals_for, plain, spread
from oventide.web.levels import panel_between
from oventide.web.tide_cut import Bake, cut_chart
from oventide.web.tide_marks import Handle, aims_of

WIDE, NARROW = 1080.0, 372.0
COMPARED = ("core", "colour", "crust surface", "loss so far", "minutes until too dark", "core, edge piece",
            "core, corner piece")  # fmt: skip


@dataclass(frozen=True)
class Compared:
    """One figure at the end of the bake: as written, and with the moment that is tried."""

    name: str
    written: str
    tried: str
    difference: str


@dataclass(frozen=True)
class Uncover:
    """What the page shows of the moment to uncover."""

    written_min: str
    """Minutes covered, as the formula has them."""
    least: str
    most: str
    tried: bool
    """Whether another moment than the written one is shown."""
    wide: Markup
    narrow: Markup
    rows: tuple[Compared, ...]


def bare_name(reading: Reading) -> str:
    """A reading's name without the word that its own value gives it: "colour (ΔE, golden)" is "colour"."""
    return reading.name.split(" (")[0]


def _difference(written: Reading, tried: Reading, units: Units) -> str:
    by = tried.p50 - written.p50
    unit = written.unit
    if unit == "°C" and units.temperature == "f":
        by, unit = by * 1.8, "°F"
    text = plain(by, max(decimals_for(abs(by) * 4), 0))
    if text == "0":
        return "the same"
    return f"{'+' if by > 0 else ''}{text}\u202f{unit}"


def compared(written: Forecast, tried: Forecast, index: int, units: Units) -> tuple[Compared, ...]:
    """The figures at the end of step `index`, those that both have."""
    before = {bare_name(reading): reading for reading in written.steps[index].readings}
    after = {bare_name(reading): reading for reading in tried.steps[index].readings}
    rows = []
    for name in COMPARED:
        if name not in before or name not in after:
            continue
        one, other = before[name], after[name]
        words = [
            spread(r.p5, r.p50, r.p95, r.unit, units) + (f", {r.name.split(', ')[-1][:-1]}" if name == "colour" else "")
            for r in (one, other)
        ]
        rows.append(Compared(f"{name[:1].upper()}{name[1:]}", words[0], words[1], _difference(one, other, units)))
    return tuple(rows)


def uncover_of(
    product: Product, cover: Cover, forecast: Forecast, written: Forecast | None, clock: Clock, units: Units
) -> Uncover | None:
    """The bake's chart for the forecast of what is tried; `written` is the forecast of the formula as it stands."""
    begin = forecast.steps[cover.covered].start.likely_min
    uncover = forecast.steps[cover.covered].end.likely_min
    end = forecast.steps[cover.open].end.likely_min
    panel = panel_between(forecast.tides, begin, end, units)
    if panel is None:
        return None
    tried = written is not None and written is not forecast
    ghost, ghost_at = None, None
    if written is not None and tried:
        ghost = panel_between(written.tides, begin, end, units)
        ghost_at = written.steps[cover.covered].end.likely_min
        if ghost is not None and ghost.axis.knots[-1][0] > panel.axis.knots[-1][0]:
            panel = replace(panel, axis=ghost.axis)
    length = uncover - begin
    handle = Handle("uncover", "Uncover after", uncover, begin + LEAST_MIN, end - LEAST_MIN, "f-uncover", -begin,
                    f"{plain(length)}\u202fmin")  # fmt: skip
    bake = Bake(begin, uncover, end, panel, ghost, ghost_at, aims_of(product, forecast, panel), handle)
    rows = compared(written, forecast, cover.open, units) if written is not None and tried else ()
    return Uncover(
        written_min=plain(cover.covered_min, 1),
        least=plain(LEAST_MIN),
        most=plain(cover.most_min, 1),
        tried=tried,
        wide=cut_chart(bake, clock, WIDE),
        narrow=cut_chart(bake, clock, NARROW),
        rows=rows,
    )
