"""What both shapes of the tide chart share: the look of a place, what is aimed at, and what lies over the chart."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from markupsafe import escape

from oventide.forecast.model import Forecast, StepForecast
from oventide.timeline.procedure import Product
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.web.levels import Panel
from oventide.web.svg import at, path, text, width_of

PATTERNED = ("fridge", "oven", "prover")


@dataclass(frozen=True)
class Mark:
    """An aim at the end of a step, in the panel's units."""

    minute: float
    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class Ring:
    """A reading that was taken: on the panel of its look, in the panel's units."""

    minute: float
    look: int
    value: float
    words: str


@dataclass(frozen=True)
class Stretch:
    """A step as it was planned, under the quay of how it ran."""

    index: int
    start: float
    end: float


@dataclass(frozen=True)
class Handle:
    """A moment that can be moved: the script makes a slider of it, its number box beside is its other half."""

    name: str
    words: str
    """What is moved, as its label says: "Ready by"."""
    minute: float
    low: float
    high: float
    box: str
    """The id of the box that holds the same figure."""
    origin: float
    """What the box holds where the chart's minute is 0: minute of the day, or minutes in the oven."""
    said: str
    """Where it stands, as its box says it."""


@dataclass(frozen=True)
class Overlay:
    """What lies over a forecast's chart."""

    ghost: Sequence[Panel] = ()
    """The course as it was planned, by panel; drawn thin."""
    rings: Sequence[Ring] = ()
    planned: Sequence[Stretch] = ()
    """A second row of steps under the quay."""
    handles: Sequence[Handle] = field(default=())
    linked: bool = True
    """Whether the steps lead to their own place on the page, #s1 and so on."""

    def ghost_of(self, panel: Panel) -> Panel | None:
        """The ghost of a panel, if there is one."""
        return next((each for each in self.ghost if each.look == panel.look), None)


NOTHING_OVER = Overlay()
HANDLE_HIGH = 44.0


def plate(handle: Handle, x: float, y: float, within: tuple[float, float], knots: str, axis: str) -> str:
    """A handle's plate with its top at y, as near x as the edges `within` allow: words between two arrow heads.

    `knots` are pairs of minute and place on the chart, between which places run straight.
    """
    words = f"{handle.words} {handle.said}"
    wide = width_of(words, 16) + 44
    least_x, most_x = within
    left = min(max(x - wide / 2, least_x), most_x - wide)
    middle = y + HANDLE_HIGH / 2
    arrows = (
        path([(left + 14, middle - 6), (left + 6, middle), (left + 14, middle + 6)])
        + path([(left + wide - 14, middle - 6), (left + wide - 6, middle), (left + wide - 14, middle + 6)])
        if axis == "x"
        else path([(left + 6, middle - 3), (left + 12, middle - 11), (left + 18, middle - 3)])
        + path([(left + 6, middle + 3), (left + 12, middle + 11), (left + 18, middle + 3)])
    )
    told = {
        "handle": handle.name, "axis": axis, "knots": knots, "minute": at(handle.minute), "low": at(handle.low),
        "high": at(handle.high), "origin": at(handle.origin), "box": handle.box,
    }  # fmt: skip
    data = " ".join(f'data-{name}="{escape(value)}"' for name, value in told.items())
    return (
        f'<g class="tc-handle" id="hand-{escape(handle.name)}-{at(most_x)}" {data} aria-label="{escape(handle.words)}">'
        f'<rect class="tc-plate" x="{at(left)}" y="{at(y)}" width="{at(wide)}" height="{at(HANDLE_HIGH)}"/>'
        f'<path class="tc-arrow" d="{arrows}"/>'
        + text(left + (22 if axis == "x" else 26), middle + 6, words, 16, cls="tc-number tc-said")
        + "</g>"
    )


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
