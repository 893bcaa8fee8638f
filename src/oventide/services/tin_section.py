"""A section through the tin, minute by minute: temperature, water, set and colour by height, from the door on.

How it is meant to be drawn. One picture is one minute of one kitchen: the tin from the side, its floor below. Each cell
is a band from the `top_mm` of the cell beneath it (0 for the first) to its own, as wide as the piece; the sum of the
bands is the height then, so that the spring is seen. Colour the band by temperature, by water or by how far it has set;
the top and the base are lines, drawn in the colour that `colour_top` and `colour_base` stand for (ΔE from pale dough).
Buns at an edge or in a corner stand beside the centre one with the temperatures of `places`, through the bake only;
their water and colour are not known apart from the centre's. A slider of minutes moves through `minutes`; `stays` names
what goes on. Beside it, `core_c` of the centre bun is the coldest bun's, with the same of the low and the high kitchen.
"""

from collections.abc import Callable
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import colour_word
from oventide.bake.doneness import BELOW_BOILING_C
from oventide.formula.model import Frozen
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import Place, Tin
from oventide.matter.water import air_pressure_pa, boiling_point_c
from oventide.services.at_the_door import Door, Doors
from oventide.services.foreseeing import MEMBERS, SEED
from oventide.services.kernel import KERNEL
from oventide.timeline.procedure import Product

Array = NDArray[np.float64]
Curve = tuple[float, ...]
Which = Literal["low", "likely", "high"]
WHICH: tuple[Which, ...] = ("low", "likely", "high")
Field = tuple[Curve, ...]
"""By minute, then by cell from the base up."""


class Stay(Frozen):
    """A step on the slider."""

    name: str
    begins_min: float
    ends_min: float
    covered: bool
    air_c: float | None
    """The oven's setting; None where it is the room."""


class AtPlace(Frozen):
    """A bun by its place in the tin; through the bake, so that there are fewer minutes than in the whole."""

    position: Literal["edge", "corner"]
    temperature_c: Field
    core_c: Curve


class InKitchen(Frozen):
    """The centre bun in one kitchen of the ensemble."""

    which: Which
    height_mm: Curve
    top_mm: Field
    temperature_c: Field
    water_percent: Field
    """Of the mass of the cell."""
    set_percent: Field
    """How far the crumb has set."""
    core_c: Curve
    surface_c: Curve
    base_c: Curve
    wall_c: Curve
    """The tin's wall."""
    colour_top: Curve
    colour_base: Curve
    colour_words: tuple[str, ...]
    """Of the top."""
    loss_percent: Curve
    places: tuple[AtPlace, ...] = ()


class TinSection(Frozen):
    """A section through the tin of one formula in one kitchen, low, likely and high."""

    product: str
    kitchen: str
    minutes: Curve
    """Since the oven's door."""
    stays: tuple[Stay, ...]
    kitchens: tuple[InKitchen, ...]
    """Low, likely, high."""
    tin: Tin | None
    standing: tuple[Place, ...] = ()
    piece_radius_mm: float
    done_c: float
    """Core that counts as done inside here."""
    boiling_c: float
    members: int
    seed: int
    assumed: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()


def tin_section(
    product: Product,
    kitchen: Kitchen,
    ready_by: str | None = None,
    *,
    doors: Doors,
    seed: int = SEED,
    members: int = MEMBERS,
    progress: Callable[[float], None] | None = None,
) -> TinSection:
    """The section. Quick where `doors` knows the run already; else the whole timeline is run first."""
    return _section(product, kitchen, doors.of(product, kitchen, ready_by, seed, members, progress))


def _section(product: Product, kitchen: Kitchen, door: Door) -> TinSection:
    from oventide.forecast.in_section import at_places, low_likely_high
    from oventide.timeline.section import watch

    trace, geometry = door.ahead.trace, door.ahead.batch.geometry
    who = low_likely_high(trace)
    with KERNEL:
        seen = watch(door.mark, who, door.ahead.clock)
    boiling = float(boiling_point_c(air_pressure_pa(kitchen.altitude_m)))
    settings = {step.index: step.facts["setting_c"][0] for step in trace.steps if "setting_c" in step.facts}
    baking = np.array([settings.get(int(step), np.nan) for step in seen.step])
    baking = baking[: int(np.isfinite(baking).sum())]
    offset = trace.ensemble.of("kitchen")["oven_offset"]
    kitchens = []
    for row, which in enumerate(WHICH):
        member = int(who[row])
        places = at_places(seen, row, member, trace.ensemble, geometry, kitchen, baking + offset[member])
        kitchens.append(
            InKitchen(
                which=which,
                height_mm=_curve(seen.top_mm[row, :, -1]),
                top_mm=_field(seen.top_mm[row], 2),
                temperature_c=_field(seen.temperature_c[row]),
                water_percent=_field(100.0 * seen.water[row]),
                set_percent=_field(100.0 * seen.set_share[row], 0),
                core_c=_curve(seen.core_c[row]),
                surface_c=_curve(seen.surface_c[row]),
                base_c=_curve(seen.base_c[row]),
                wall_c=_curve(seen.wall_c[row]),
                colour_top=_curve(seen.colour_top[row]),
                colour_base=_curve(seen.colour_base[row]),
                colour_words=tuple(colour_word(float(value)) for value in seen.colour_top[row]),
                loss_percent=_curve(100.0 * seen.loss[row], 2),
                places=tuple(
                    AtPlace(position=name, temperature_c=_field(rows), core_c=_curve(_core(rows, seen.top_mm[row])))
                    for name, rows in places.items()
                ),
            )
        )
    return TinSection(
        product=product.name,
        kitchen=kitchen.name,
        minutes=_curve(seen.seconds / 60.0, 2),
        stays=_stays(product, seen.step, seen.seconds, settings),
        kitchens=tuple(kitchens),
        tin=geometry.tin,
        standing=geometry.places,
        piece_radius_mm=geometry.bake_radius_mm,
        done_c=round(boiling - BELOW_BOILING_C, 1),
        boiling_c=round(boiling, 1),
        members=trace.ensemble.members,
        seed=trace.ensemble.seed,
        assumed=_assumed(trace.ensemble.members, bool(kitchens[0].places), geometry.pieces_per_tin > 1),
        sources=("zanoni-1993", "baik-1999", "zanoni-1995-browning", "tin-two-dimensional"),
    )


def _curve(values: Array, digits: int = 1) -> Curve:
    return tuple(values.round(digits).tolist())


def _field(values: Array, digits: int = 1) -> Field:
    return tuple(tuple(row) for row in values.round(digits).tolist())


def _core(rows: Array, top_mm: Array) -> Array:
    """(K,) coldest of the middle half of the height, as the kernel takes a core."""
    tops = top_mm[: rows.shape[0]]
    middle = tops - 0.5 * np.diff(tops, axis=1, prepend=0.0)
    height = tops[:, -1:]
    return np.asarray(np.where((middle >= 0.25 * height) & (middle <= 0.75 * height), rows, np.inf).min(axis=1))


def _stays(product: Product, step: NDArray[np.int64], seconds: Array, settings: dict[int, float]) -> tuple[Stay, ...]:
    from oventide.forecast.words import step_words

    found = []
    for index in np.unique(step[1:]):
        inside = np.flatnonzero(step == index)
        begins = seconds[inside[0] - 1] if inside[0] > 0 else 0.0
        written = product.procedure.steps[int(index)]
        found.append(
            Stay(
                name=step_words(written).name,
                begins_min=round(float(begins) / 60.0, 2),
                ends_min=round(float(seconds[inside[-1]]) / 60.0, 2),
                covered=written.kind == "bake" and written.covered,
                air_c=settings.get(int(index)),
            )
        )
    return tuple(found)


def _assumed(members: int, by_place: bool, many: bool) -> tuple[str, ...]:
    said = [
        f"Low and high are the kitchens of {members} with the coldest and the hottest core in twenty when the bake "
        "ends; likely is the one nearest the middle in core, colour and loss.",
        "Every step lasts its likely minutes.",
        "Water, set and colour are reckoned for a bun with no wall near; the colour of the sides is not reckoned.",
    ]
    if by_place:
        said.append("By a wall, heat comes by the rule of places, which holds while the tin is in the oven.")
    elif many:
        said.append("The pieces stand apart, so that all of them bake alike.")
    return tuple(said)
