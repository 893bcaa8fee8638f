"""Whom to look at in a section through the tin, and what the rule of places says of every height of a piece."""

import numpy as np
from numpy.typing import NDArray

from oventide.bake.position import core_at_place
from oventide.forecast.in_tin import touching, walls_of
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import Geometry
from oventide.matter.water import air_pressure_pa, boiling_point_c
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.section import Watched
from oventide.timeline.trace import Trace

Array = NDArray[np.float64]


def low_likely_high(trace: Trace) -> NDArray[np.int64]:
    """Three kitchens of a trace: the coldest in twenty, the one nearest the middle, the hottest in twenty.

    Near is by rank in core, colour of the top and loss when the bake ends; the outer two go by the core alone.
    """
    last = [step for step in trace.steps if step.step.kind == "bake"][-1]
    members = trace.ensemble.members

    def rank(values: Array) -> Array:
        return np.asarray(np.argsort(np.argsort(values)) / max(1, members - 1))

    core, colour, loss = (rank(last.at_end(name)) for name in ("core_c", "colour_top", "loss"))
    middle = np.abs(core - 0.5) + np.abs(colour - 0.5) + np.abs(loss - 0.5)
    return np.array([np.argmin(np.abs(core - 0.05)), np.argmin(middle), np.argmin(np.abs(core - 0.95))])


def at_places(
    watched: Watched, member: int, who: int, ensemble: Ensemble, geometry: Geometry, kitchen: Kitchen, air_c: Array
) -> dict[str, Array]:
    """Temperature of every cell (K, n) [°C] of edge and corner pieces, through the bake, for one watched member.

    The product rule holds at every height: what the walls bring multiplies what comes from above and below there.
    `member` is its row in `watched`, `who` its place in the ensemble, `air_c` (K,) the oven's air [°C].
    """
    if geometry.tin is None or not touching(geometry):
        return {}
    draws = {name: values[who : who + 1] for name, values in ensemble.of("bake").items()}
    factor = float(ensemble.of("tin")["position.factor"][who])
    boiling = float(boiling_point_c(air_pressure_pa(kitchen.altitude_m)))
    centre = watched.temperature_c[member, : air_c.size]
    cells = centre.shape[1]
    found = {}
    for position in ("edge", "corner"):
        place = next((place for place in geometry.places if place.position == position), None)
        if place is None:
            continue
        walls = tuple(
            wall._replace(conductance_w_m2k=np.repeat(wall.conductance_w_m2k, cells))
            for wall in walls_of(place, geometry, kitchen, draws)
        )
        rows = centre.copy()
        for air in np.unique(air_c):
            now = air_c == air
            seconds = np.repeat(watched.seconds[: air_c.size][now][None, :], cells, axis=0)
            rows[now] = core_at_place(
                np.ascontiguousarray(centre[now].T), seconds, np.full(cells, air), boiling, walls, factor
            ).T
        found[position] = rows
    return found
