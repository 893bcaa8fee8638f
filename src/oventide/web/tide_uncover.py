"""The moment to uncover, tried out: the bake's chart with the written course behind it, and what changes by figures."""

from dataclasses import dataclass, replace

from markupsafe import Markup

from oventide.forecast.model import Forecast, Reading
from oventide.services.cover import LEAST_MIN, Cover
from oventide.services.uncovering import Uncovering
from oventide.timeline.procedure import Product
from oventide.travel.model import Figure
from oventide.web.clock import Clock
from oventide.web.figures import DASH, Units, decimals_for, plain, spread
from oventide.web.levels import panel_between
from oventide.web.tide_cut import Bake, cut_chart
from oventide.web.tide_marks import Handle, aims_of

WIDE, MIDDLING, NARROW = 1080.0, 740.0, 372.0
LEAST_SHARE = 0.05
"""A figure that fewer of the kitchens come to is not told."""
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
    middling: Markup
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


def changed(quick: Uncovering, units: Units) -> tuple[Compared, ...]:
    """What the bake run again says: each figure on both sides, and the change kitchen by kitchen."""
    rows = []
    for row in quick.rows:
        before, after = (_range(figure, units) for figure in (row.before, row.after))
        if row.name == "colour on top":
            before, after = f"{before}, {quick.written_colour_word}", f"{after}, {quick.colour_word}"
        rows.append(Compared(f"{row.name[:1].upper()}{row.name[1:]}", before, after, _by(row.change, units)))
    return tuple(rows)


def _range(figure: Figure, units: Units) -> str:
    if figure.reached < LEAST_SHARE:
        return "not in this bake"
    if figure.unit == "min":
        low, likely, high = (plain(value) for value in (figure.low, figure.likely, figure.high))
        return f"{low}{DASH}{high}\u202fmin, likely {likely}\u202fmin"
    return spread(figure.low, figure.likely, figure.high, figure.unit, units)


def _by(change: Figure, units: Units) -> str:
    """A change with its sign and its range: it is a difference, so degrees have no zero to be told from."""
    factor, unit = (1.8, "°F") if change.unit == "K" and units.temperature == "f" else (1.0, change.unit)
    unit = "°C" if unit == "K" else unit
    figures = [factor * value for value in (change.low, change.likely, change.high)]
    places = decimals_for(figures[2] - figures[0])
    low, likely, high = (_signed(value, places) for value in figures)
    if low == high:
        return "the same" if likely == "0" else f"{likely}\u202f{unit}"
    return f"{likely}\u202f{unit} ({low} to {high})"


def _signed(value: float, places: int) -> str:
    text = plain(value, places)
    return f"+{text}" if value > 0 and text != "0" else text


def uncover_of(
    product: Product,
    cover: Cover,
    forecast: Forecast,
    written: Forecast | None,
    clock: Clock,
    units: Units,
    at_min: float | None = None,
    quick: Uncovering | None = None,
) -> Uncover | None:
    """The bake's chart for the forecast of what is tried; `written` is the forecast of the formula as it stands.

    While only the written one is there, the handle stands at the tried moment `at_min` over the written course.
    """
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
    length = uncover - begin if at_min is None else at_min
    handle = Handle("uncover", "Uncover after", begin + length, begin + LEAST_MIN, end - LEAST_MIN, "f-uncover", -begin,
                    f"{plain(length)}\u202fmin")  # fmt: skip
    bake = Bake(begin, uncover, end, panel, ghost, ghost_at, aims_of(product, forecast, panel), handle)
    rows: tuple[Compared, ...] = ()
    if quick is not None:
        rows = changed(quick, units)
    elif written is not None and tried:
        rows = compared(written, forecast, cover.open, units)
    return Uncover(
        written_min=plain(cover.covered_min, 1),
        least=plain(LEAST_MIN),
        most=plain(cover.most_min, 1),
        tried=at_min is not None,
        wide=cut_chart(bake, clock, WIDE),
        middling=cut_chart(bake, clock, MIDDLING),
        narrow=cut_chart(bake, clock, NARROW),
        rows=rows,
    )
