"""Edge and corner pieces against the centre piece, for which the oven's kernel is written.

Product rule of conduction: what the tin's walls bring multiplies what top and base bring. With constant properties it
is exact (Incropera & DeWitt, section 5.8). A crumb conducts better the hotter it is, and its steam runs ahead, so that
the rule with one diffusivity leaves an edge piece up to 17 K too cold. Here the diffusivity follows the temperature
that the place has reached: found from two-dimensional runs of the kernel's own equations (docs/models/position.md).
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load

Array = NDArray[np.float64]

_KNOWN = load("tin")
_AT_50_M2_S = _KNOWN.value("position.diffusivity_50c")
_SLOPE_1_K = _KNOWN.value("position.diffusivity_slope")
_WALL_POWER = _KNOWN.value("position.wall_power")
_CONDUCTIVITY_W_MK = _KNOWN.value("position.conductivity")
_WALL_W_M2K = 18.0
_STEFAN_BOLTZMANN = 5.670374419e-8
_TERMS = 8


def slab_roots(biot: Array, terms: int = _TERMS) -> Array:
    """The first roots of ζ tan ζ = Bi, (…, terms), by halving.

    >>> [round(float(z), 4) for z in slab_roots(np.array([0.1, 1.0, 10.0]), terms=1)[:, 0]]
    [0.3111, 0.8603, 1.4289]
    """
    n = np.arange(terms)
    low = np.broadcast_to(n * math.pi + 1e-12, (*np.shape(biot), terms)).copy()
    high = low + 0.5 * math.pi - 2e-12
    for _ in range(45):
        middle = 0.5 * (low + high)
        below = middle * np.tan(middle) < np.asarray(biot)[..., None]
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.asarray(0.5 * (low + high))


def slab_series(position: float, fourier: Array, zeta: Array) -> Array:
    """(T - T_env)/(T_start - T_env) at x/L = `position` (0 middle, 1 face): Σ C_n exp(-ζ_n² Fo) cos(ζ_n x/L).

    `fourier` (…) and `zeta` (…, terms) broadcast.
    """
    c = 4.0 * np.sin(zeta) / (2.0 * zeta + np.sin(2.0 * zeta))
    return np.asarray((c * np.exp(-np.square(zeta) * fourier[..., None]) * np.cos(zeta * position)).sum(axis=-1))


def slab_theta(position: float, fourier: float, biot: float, terms: int = _TERMS) -> float:
    """The same for one place, time and Biot number.

    >>> round(slab_theta(0.0, 1.0, 1.0), 4)
    0.5339
    """
    return float(slab_series(position, np.array(fourier), slab_roots(np.array(biot), terms)))


class Walls(NamedTuple):
    """Two opposite walls of a tin: a place's distance from the nearer one, the tin's width between them [m], and the
    conductance from the oven's air through the wall to the dough, (M,) [W/m2K]."""

    from_wall_m: float
    width_m: float
    conductance_w_m2k: Array


def core_at_place(
    centre_c: Array,
    seconds: Array,
    air_c: Array,
    boiling_c: float,
    walls: tuple[Walls, ...],
    factor: Array | float = 1.0,
) -> Array:
    """Core of a piece at a place in the tin, (M, K) [°C], from that of a piece with no wall near.

    T = T_air - (T_air - T_centre) Π θ(x, Fo, Bi), Fo = a t/L², a = a50 exp(s (T - 50)) (U/18)^g with the T looked for
    (fixed point), cut at the boiling point and never below the centre's. `seconds` (M, K) in the oven so far, `air_c`
    (M,), `factor` (M,) on the diffusivity (`position.factor`). Range: walls of metal, 8-30 W/m2K, 10-60 mm from a
    wall, air of 160-200 °C, pieces that touch.
    """
    air = np.asarray(air_c, dtype=np.float64)[:, None]
    time = np.maximum(np.asarray(seconds, dtype=np.float64), 1.0)
    spread = np.broadcast_to(np.asarray(factor, dtype=np.float64), (centre_c.shape[0],))[:, None]
    prepared = []
    for wall in walls:
        half = 0.5 * wall.width_m
        near = min(wall.from_wall_m, half) / half
        zeta = slab_roots(wall.conductance_w_m2k * half / _CONDUCTIVITY_W_MK)[:, None, :]
        faster = (wall.conductance_w_m2k[:, None] / _WALL_W_M2K) ** _WALL_POWER
        prepared.append((near, zeta, spread * _AT_50_M2_S * faster * time / half**2))
    found = centre_c
    for _ in range(6):
        hotter = np.exp(_SLOPE_1_K * (np.minimum(found, 95.0) - 50.0))
        theta = np.ones_like(found)
        for near, zeta, fourier in prepared:
            so_far = fourier * hotter
            # before a wall's heat has come so far, nothing has changed there, and the series would need many terms
            arrived = so_far > 0.05 * near**2
            theta = theta * np.where(arrived, np.minimum(1.0, slab_series(1.0 - near, so_far, zeta)), 1.0)
        found = np.maximum(centre_c, np.minimum(boiling_c, air - (air - centre_c) * theta))
    return found


def through_gap_w_m2k(conductance_w_m2k: Array, gap_m: float, mean_c: float = 100.0) -> Array:
    """A wall's conductance with a gap of still air before the piece: conduction and radiation beside each other.

    >>> float(np.round(through_gap_w_m2k(np.array([18.0]), 0.005), 1)[0])
    8.5
    """
    if gap_m <= 0.0:
        return np.asarray(conductance_w_m2k)
    kelvin = mean_c + 273.15
    film = (0.024 + 7e-5 * mean_c) / gap_m + 0.85 * 4.0 * _STEFAN_BOLTZMANN * kelvin**3
    return np.asarray(1.0 / (1.0 / conductance_w_m2k + 1.0 / film))
