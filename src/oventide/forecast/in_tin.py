"""Readings by place in the tin: how far edge and corner pieces are ahead of the centre one."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from oventide.bake.boundary import surroundings
from oventide.bake.doneness import first_crossing
from oventide.bake.position import Walls, core_at_place, through_gap_w_m2k
from oventide.forecast.hot import core_target_c
from oventide.forecast.model import Reading
from oventide.forecast.reading import Reader
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import Geometry, Place
from oventide.makeup.touch import dough_share, meets_at_rise
from oventide.matter.water import air_pressure_pa, boiling_point_c
from oventide.timeline.trace import StepTrace, Trace

Array = NDArray[np.float64]

PLACE_LAW = (
    "A piece by the tin's wall takes heat through the wall too: the centre's lag times what the walls bring, with a "
    "crumb that conducts better the hotter it is."
)
MEET_LAW = "A piece grows sideways with a power of its volume, and meets its neighbour when the gap is used up."
PLACE_SOURCES = ("tin-two-dimensional", "heat-transfer-book")
_HARDLY = 0.05
_METAL = ("light_metal", "dark_metal")


def touching(geometry: Geometry) -> bool:
    """Whether free growth through proof and oven brings neighbours together, so that a tin heats them as one body."""
    return geometry.pieces_per_tin > 1 and 2.0 * geometry.bake_radius_mm >= geometry.pitch_mm


def wall_conductance(kitchen: Kitchen, draws: Mapping[str, Array], gap_m: float) -> Array:
    """From the oven's air through the tin's wall, and a gap of air, to the pieces beside it (M,) [W/m2K].

    A wall has the air of the oven on its outside and no hearth, also in a deck oven.
    """
    kind = "static" if kitchen.oven_kind == "deck" else kitchen.oven_kind
    return through_gap_w_m2k(surroundings(kind, kitchen.tin, dict(draws)).tin, gap_m)


def place_cores(trace: StepTrace, whole: Trace, geometry: Geometry, kitchen: Kitchen) -> dict[str, Array]:
    """Core curves (M, K) [°C] of edge and corner pieces, where the tin has them, by the time in the oven so far."""
    if geometry.tin is None:
        return {}
    ensemble = whole.ensemble
    draws, factor = ensemble.of("bake"), ensemble.of("tin")["position.factor"]
    air = trace.facts["setting_c"] + ensemble.of("kitchen")["oven_offset"]
    first = next(step for step in whole.steps if step.step.kind == "bake")
    before_s = trace.start_s - first.start_s
    boiling = float(boiling_point_c(air_pressure_pa(kitchen.altitude_m)))
    time = before_s[:, None] + trace.sample_s[None, :]
    found = {}
    for position in ("edge", "corner"):
        place = next((place for place in geometry.places if place.position == position), None)
        if place is not None:
            walls = walls_of(place, geometry, kitchen, draws)
            found[position] = core_at_place(trace.curve("core_c"), time, air, boiling, walls, factor)
    return found


def walls_of(place: Place, geometry: Geometry, kitchen: Kitchen, draws: Mapping[str, Array]) -> tuple[Walls, ...]:
    """The walls of a piece. A round tin's wall is taken as the two walls of a tin as wide as it is across."""
    tin = geometry.tin
    assert tin is not None
    middle_x, middle_y = tin.length_mm / 2, tin.width_mm / 2
    if tin.shape == "round":
        reach = float(np.hypot(place.x_mm - middle_x, place.y_mm - middle_y))
        sides = [(tin.length_mm / 2 - reach, tin.length_mm)]
    else:
        sides = [
            (min(place.x_mm, tin.length_mm - place.x_mm), tin.length_mm),
            (min(place.y_mm, tin.width_mm - place.y_mm), tin.width_mm),
        ]
    grown = geometry.bake_radius_mm
    return tuple(
        Walls(
            distance / 1000.0,
            width / 1000.0,
            wall_conductance(kitchen, draws, max(0.0, min(s for s, _ in sides) - grown) / 1000.0),
        )
        for distance, width in sides
    )


def position_readings(
    reader: Reader, trace: StepTrace, whole: Trace, geometry: Geometry, kitchen: Kitchen
) -> list[Reading]:
    """Core and done-time of edge and corner pieces; none where the pieces stand apart and so are alike."""
    if not touching(geometry):
        return []
    wanted_c = core_target_c(kitchen.altitude_m)
    cores = place_cores(trace, whole, geometry, kitchen)
    valid = kitchen.tin in _METAL
    found = []
    for position, curve in cores.items():
        at_end = np.array(
            [np.interp(end, trace.sample_s, row) for end, row in zip(trace.duration_s, curve, strict=True)]
        )
        found.append(reader.read(f"core, {position} piece", "°C", at_end, PLACE_LAW, PLACE_SOURCES, valid=valid))
        done = first_crossing(trace.sample_s, curve, wanted_c)
        found.append(
            reader.read(
                f"minutes until {wanted_c:.0f} °C inside, {position} piece", "min",
                np.where(np.isnan(done), np.inf, done), PLACE_LAW, PLACE_SOURCES,
                horizon=float(trace.sample_s[-1]), scale=1 / 60, valid=valid,
            )
        )  # fmt: skip
    return found


def meeting_readings(reader: Reader, trace: StepTrace, whole: Trace, geometry: Geometry) -> list[Reading]:
    """When neighbours meet, in the proof or in the first stretch of the bake; nothing where hardly any do."""
    proof = next((step for step in reversed(whole.steps) if step.step.kind == "proof"), None)
    if proof is None or geometry.pieces_per_tin < 2:
        return []
    wanted = meets_at_rise(geometry, whole.ensemble.of("tin")["makeup.sideways"])
    shaped = proof.facts["shaped_rise"]
    if trace.step.kind == "proof":
        seconds = proof.first_passage("rise", wanted * shaped)
    else:
        first = next(step for step in whole.steps if step.step.kind == "bake")
        if trace is not first:
            return []
        share = dough_share(geometry)
        at_door = 1.0 + share * (proof.at_end("rise") / shaped - 1.0)
        height = trace.curve("height_mm")
        volume = at_door[:, None] * height / height[:, :1]
        crossed = first_crossing(trace.sample_s, volume, 1.0 + share * (wanted - 1.0))
        seconds = np.where(np.isnan(crossed), np.inf, crossed)
    if np.isfinite(seconds).mean() <= _HARDLY:
        return []
    return [
        reader.read(
            "minutes until the pieces meet", "min", seconds, MEET_LAW, ("practice",),
            horizon=float(trace.sample_s[-1]), scale=1 / 60,
        )
    ]  # fmt: skip
