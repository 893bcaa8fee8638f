"""What a section through the tin says at one minute: bands, figures, which bun is last. No drawing here."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from oventide.services.tin_section import Curve, Field, InKitchen, TinSection
from oventide.web.figures import Units, plain, temperature
from oventide.web.section_cut import Position

VIEWS = (("temperature", "temperature"), ("water", "water"), ("set", "crumb set"))
KITCHENS = (("likely", "the likely kitchen"), ("low", "the coldest in twenty"), ("high", "the hottest in twenty"))
PLACES: tuple[Position, ...] = ("centre", "edge", "corner")


@dataclass(frozen=True)
class Scale:
    """How a figure is laid into bands: the edges between them, coldest or driest first, and how an edge is told."""

    edges: tuple[float, ...]
    unit: str

    def band(self, value: float) -> int:
        """Which band a value lies in."""
        return sum(1 for edge in self.edges if value >= edge)

    def told(self, edge: float, units: Units) -> str:
        """An edge with its unit."""
        return temperature(edge, units) if self.unit == "°C" else f"{plain(edge)}\u202f%"

    def names(self, units: Units) -> tuple[str, ...]:
        """Each band in words, from the lowest."""
        told = [self.told(edge, units) for edge in self.edges]
        between = [f"{low} to {high}" for low, high in itertools.pairwise(told)]
        return (f"below {told[0]}", *between, f"above {told[-1]}")


def scale_of(section: TinSection, view: str) -> Scale:
    """The bands of a view. Temperatures: yeast's end, starch, what counts as done, the boiling point."""
    if view == "water":
        return Scale((10.0, 20.0, 30.0, 36.0), "%")
    if view == "set":
        return Scale((10.0, 50.0, 90.0), "%")
    return Scale((40.0, 60.0, 80.0, section.done_c, section.boiling_c + 2.0), "°C")


def kitchen_of(section: TinSection, which: str) -> InKitchen:
    """The kitchen that is looked at."""
    return next((k for k in section.kitchens if k.which == which), section.kitchens[len(section.kitchens) // 2])


def moment_of(section: TinSection, minute: float) -> int:
    """The number of the moment nearest a minute."""
    return min(range(len(section.minutes)), key=lambda k: abs(section.minutes[k] - minute))


def core_of(kitchen: InKitchen, position: Position) -> Curve:
    """The core of a bun by its place; as the centre's where no place is known apart."""
    return next((place.core_c for place in kitchen.places if place.position == position), kitchen.core_c)


def field_of(kitchen: InKitchen, position: Position, view: str) -> Field:
    """The cells of a bun; water and set are the centre's in every bun."""
    if view == "water":
        return kitchen.water_percent
    if view == "set":
        return kitchen.set_percent
    return next((place.temperature_c for place in kitchen.places if place.position == position), kitchen.temperature_c)


def coldest(kitchen: InKitchen) -> Curve:
    """The core of the coldest bun at each moment."""
    curves = [kitchen.core_c, *(place.core_c for place in kitchen.places)]
    return tuple(min(curve[k] for curve in curves if k < len(curve)) for k in range(len(kitchen.core_c)))


def passes(minutes: Sequence[float], core: Curve, wanted_c: float) -> float | None:
    """The minute when a core first reaches a temperature, straight between moments; None where it does not.

    >>> passes((0.0, 10.0, 20.0), (20.0, 60.0, 100.0), 80.0)
    15.0
    """
    for k in range(1, len(core)):
        if core[k] >= wanted_c:
            rise = core[k] - core[k - 1]
            share = 1.0 if rise <= 0 else min(max((wanted_c - core[k - 1]) / rise, 0.0), 1.0)
            return minutes[k - 1] + share * (minutes[k] - minutes[k - 1])
    return None


def out_min(section: TinSection) -> float:
    """When it comes out of the oven."""
    return max((stay.ends_min for stay in section.stays if stay.air_c is not None), default=section.minutes[-1])


def last_words(section: TinSection, units: Units) -> str:
    """Which bun is last, and when its core passes what counts as done."""
    likely = kitchen_of(section, "likely")
    wanted = temperature(section.done_c, units)
    here = [
        position for position in PLACES if position == "centre" or any(p.position == position for p in likely.places)
    ]
    when = {position: passes(section.minutes, core_of(likely, position), section.done_c) for position in here}
    never = [position for position in here if when[position] is None]
    if never:
        most = max(core_of(likely, never[0]))
        return f"Last is the {never[0]} bun: it does not come to {wanted} inside; at most {temperature(most, units)}."
    last = max(here, key=lambda position: when[position] or 0.0)
    times = [passes(section.minutes, coldest(kitchen), section.done_c) for kitchen in section.kitchens]
    known = sorted(t for t in times if t is not None)
    span = f"{plain(known[0])} to {plain(known[-1])}" if known and known[-1] - known[0] >= 1 else plain(when[last] or 0)
    late = "; in the coldest kitchens it does not" if None in times else ""
    first = min(here, key=lambda position: when[position] or 0.0)
    lead = (when[last] or 0.0) - (when[first] or 0.0)
    ahead = f" The {first} bun is there {plain(lead)}\u202fmin before." if lead >= 1 else ""
    who = f"Last is the {last} bun: it passes" if len(here) > 1 else "All buns bake alike here: they pass"
    return f"{who} {wanted} inside after {span}\u202fmin, likely {plain(when[last] or 0)}{late}.{ahead}"


@dataclass(frozen=True)
class Place:
    """One bun's figures at a minute."""

    name: str
    core: str
    done: str


def places_at(section: TinSection, kitchen: InKitchen, k: int, units: Units) -> tuple[Place, ...]:
    """Core of each bun at a moment, and whether it has passed what counts as done."""
    rows = []
    for position in PLACES:
        known = position == "centre" or any(p.position == position for p in kitchen.places)
        if not known:
            continue
        core = core_of(kitchen, position)
        if k >= len(core):
            rows.append(Place(position, "not reckoned out of the oven", ""))
            continue
        when = passes(section.minutes, core, section.done_c)
        passed = when is not None and when <= section.minutes[k]
        rows.append(Place(position, temperature(core[k], units), "passed" if passed else "not yet"))
    return tuple(rows)


def stay_words(section: TinSection, minute: float) -> str:
    """What goes on at a minute."""
    for stay in section.stays:
        if minute < stay.ends_min or stay is section.stays[-1]:
            return stay.name.lower()
    return ""


def said_of(section: TinSection, kitchen: InKitchen, k: int, units: Units) -> str:
    """The minute in one sentence; the slider says it too."""
    minute, core = section.minutes[k], temperature(coldest(kitchen)[k], units)
    return (
        f"{plain(minute)}\u202fmin, {stay_words(section, minute)}: coldest core {core}, "
        f"crust {temperature(kitchen.surface_c[k], units)} and {kitchen.colour_words[k]}, "
        f"{plain(kitchen.height_mm[k])}\u202fmm high, {plain(kitchen.loss_percent[k], 1)}\u202f% lost"
    )


def moments_of(section: TinSection) -> tuple[tuple[str, int], ...]:
    """Five moments that tell the bake, each by what it is; in a bake without a cover its quarters."""
    oven = [stay for stay in section.stays if stay.air_c is not None]
    out, end = out_min(section), section.minutes[-1]
    open_from = next((stay.begins_min for stay in oven if not stay.covered), 0.0)
    wanted = [("a quarter of the bake", out / 4), ("half of the bake", out / 2), ("three quarters", 3 * out / 4)]
    if 0 < open_from < out:
        wanted = [("half of the covered bake", open_from / 2), ("the cover comes off", open_from),
                  ("half of the open bake", (open_from + out) / 2)]  # fmt: skip
    wanted += [("out of the oven", out), ("10\u202fmin later", min(out + 10, end))]
    return tuple((name, moment_of(section, minute)) for name, minute in wanted)
