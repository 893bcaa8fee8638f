"""Poolish, sponge, biga: the same yeast in its own dough, from mixing to ripe and beyond, and how it joins the dough.

The equations are those of dough/fermentation.py; a preferment has its own water and, as a rule, no salt. It is ripe
when it is within 3 % of the highest that it will stand; left longer it falls, as more gas leaves it than yeast makes.
A batter lets its gas go earlier than a stiff dough.
"""

from dataclasses import dataclass

import numba
import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled_over_members
from oventide.dough.fermentation import ferment_for
from oventide.dough.gas import degas, relative_volume
from oventide.dough.state import (
    ADAPTED,
    AIR,
    MALTOSE_READY,
    NY,
    P_CRITICAL,
    READY_TO_GROW,
    YEAST,
    ferment_parameters,
    initial_ferment,
)
from oventide.formula.composition import Composition

Array = NDArray[np.float64]

_STIFF, _BATTER = 65.0, 100.0
"""Added water [% of flour] up to which a preferment keeps its gas as a dough, and from which it does as a batter."""
LOOKED_AHEAD_H = 30.0
_LOOKS = 90
RIPE_SHARE = 0.97


@dataclass(frozen=True)
class Ripened:
    """A preferment when it is used. Each (M,) but the vector (M, NY), per 100 g of its own flour."""

    ferment: Array
    used_h: Array
    rise: Array
    """Volume over freshly mixed when used."""
    ripe_h: Array
    """When it first stands within 3 % of its highest."""
    fallen: Array
    """Share of its highest that it has lost when used; nothing before the top."""


@compiled_over_members
def _watch(y: Array, p: Array, temperature_c: Array, looks_h: Array, rise: Array) -> None:
    """Relative volume of every member at rising times (M, K); `y` is left at the last."""
    for m in numba.prange(y.shape[0]):
        before = 0.0
        for k in range(looks_h.shape[1]):
            ferment_for(y[m], p[m], temperature_c[m], 3600.0 * (looks_h[m, k] - before), 600.0)
            before = looks_h[m, k]
            rise[m, k] = relative_volume(y[m], p[m], temperature_c[m])


def preferment_parameters(composition: Composition, draws: dict[str, Array], altitude_m: float = 0.0) -> Array:
    """Constants (M, NP) of a preferment: as a dough's, but the wetter it is the sooner its gas leaves it."""
    p = ferment_parameters(composition, draws, altitude_m)
    water = 100.0 * composition.added_water_g / composition.flour_g
    batter = min(1.0, max(0.0, (water - _STIFF) / (_BATTER - _STIFF)))
    p[:, P_CRITICAL] += batter * (draws["preferment.critical_batter"] - p[:, P_CRITICAL])
    return p


def ripen(
    composition: Composition,
    draws: dict[str, Array],
    temperature_c: Array,
    hours: Array | None = None,
    altitude_m: float = 0.0,
) -> Ripened:
    """Let a preferment stand at `temperature_c` (M,) [°C] for `hours` (M,), or until it is ripe.

    Freshly mixed, no gas but the mixing air. Members differ in every figure that is not certain.
    """
    p = preferment_parameters(composition, draws, altitude_m)
    first = initial_ferment(composition, draws)
    members = first.shape[0]
    warm = np.ascontiguousarray(np.broadcast_to(temperature_c, (members,)), dtype=np.float64)
    looks = np.repeat((LOOKED_AHEAD_H * np.linspace(0.0, 1.0, _LOOKS + 1)[1:] ** 1.5)[None, :], members, axis=0)
    rise = np.zeros((members, _LOOKS))
    _watch(first.copy(), p, warm, looks, rise)
    ripe = looks[np.arange(members), np.argmax(rise >= RIPE_SHARE * rise.max(axis=1, keepdims=True), axis=1)]
    used = ripe if hours is None else np.broadcast_to(hours, (members,)).astype(np.float64)
    then = np.zeros((members, 1))
    _watch(first, p, warm, np.ascontiguousarray(used[:, None]), then)
    top = np.where(looks <= used[:, None], rise, 0.0).max(axis=1)
    fallen = np.maximum(0.0, 1.0 - then[:, 0] / np.maximum(top, then[:, 0]))
    return Ripened(first, used, then[:, 0], ripe, fallen)


def worked_in(
    whole: Array,
    parts: list[tuple[Composition, Ripened, Array]],
    flour_g: float,
    draws: dict[str, Array],
) -> Array:
    """Ferment vector (M, NY) of the dough when ripe preferments are mixed into it.

    `whole` is the vector as if everything were fresh, `parts` each preferment with its composition, what became of it
    and its parameters, `flour_g` all flour. Every state goes by flour mass: whole + Σ share·(ripe - fresh). Mixing
    presses its gas out as knocking back and sheeting do, the air is that of the new mixing, readiness goes with the
    yeast that brings it.
    """
    dough = whole.copy()
    ready = np.zeros((whole.shape[0], 3))
    states = (ADAPTED, READY_TO_GROW, MALTOSE_READY)
    for composition, ripened, p in parts:
        share = composition.flour_g / flour_g
        ripe = ripened.ferment.copy()
        for m in range(ripe.shape[0]):
            degas(ripe[m], p[m], float(draws["gas.sheeting_loss"][m]), 24.0)
        dough += share * (ripe - initial_ferment(composition, draws))
        for k, state in enumerate(states):
            ready[:, k] += share * ripe[:, YEAST] * ripe[:, state]
    dough = np.maximum(dough, 0.0)
    for k, state in enumerate(states):
        dough[:, state] = np.minimum(1.0, ready[:, k] / np.maximum(dough[:, YEAST], 1e-12))
    dough[:, AIR] = whole[:, AIR]
    return np.ascontiguousarray(dough.reshape(whole.shape[0], NY))
