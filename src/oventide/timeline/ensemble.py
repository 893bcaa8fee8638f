"""The ensemble: plausible kitchens, drawn once for the whole timeline.

Every uncertain figure, from the yeast's vigour to the oven's offset, is one axis of a single Latin
hypercube whose accidental correlations are taken out; the same seed gives the same kitchens.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import Parameter, draw

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Ensemble:
    """`members` kitchens: values (M,) by room of evidence and parameter name, and the parameters themselves."""

    members: int
    seed: int
    values: Mapping[str, Mapping[str, Array]]
    parameters: Mapping[str, Parameter]
    """By "room:name"."""

    def of(self, room: str) -> Mapping[str, Array]:
        """Draws of one room, by parameter name."""
        return self.values[room]

    def axes(self) -> dict[str, Array]:
        """Every figure that differs between members, by "room:name"."""
        return {
            key: self.values[key.partition(":")[0]][key.partition(":")[2]]
            for key, parameter in self.parameters.items()
            if parameter.spread != "fixed" and parameter.low < parameter.high
        }


def draw_ensemble(rooms: Mapping[str, list[Parameter]], members: int, seed: int) -> Ensemble:
    """Draw every room's parameters on one hypercube. `members` = 1 gives the likely kitchen."""
    joined = {
        f"{room}:{parameter.name}": replace(parameter, name=f"{room}:{parameter.name}")
        for room, parameters in rooms.items()
        for parameter in parameters
    }
    flat = draw(list(joined.values()), members, seed)
    values: dict[str, dict[str, Array]] = {room: {} for room in rooms}
    for key, drawn in flat.items():
        room, _, name = key.partition(":")
        values[room][name] = drawn
    return Ensemble(members=members, seed=seed, values=values, parameters=joined)


def joined(ensemble: Ensemble, other: Ensemble) -> Ensemble:
    """Two ensembles of as many members and of different rooms as one; the seed is the first one's."""
    if ensemble.members != other.members or set(ensemble.values) & set(other.values):
        raise ValueError("only ensembles of the same members and of different rooms can be joined")
    return replace(
        ensemble, values={**ensemble.values, **other.values}, parameters={**ensemble.parameters, **other.parameters}
    )
