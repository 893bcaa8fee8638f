"""How long a baked piece takes to cool, freeze, thaw and warm through.

Plank's equation is the textbook law; Pham's adds what Plank leaves out, the cooling before and after freezing.
Thawing is Plank from the other side, with thawed conductivity. Where nothing freezes, the slowest term of the
conduction series.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Number = Array | float

SLAB, CYLINDER, SPHERE = (0.5, 0.125), (0.25, 0.0625), (1 / 6, 1 / 24)
"""Plank's P and R: on the thickness of a slab, the diameter of a long cylinder and of a sphere."""


def plank_s(
    density: Number,
    heat_j_kg: Number,
    step_k: Number,
    across_m: Number,
    film_w_m2k: Number,
    conductivity: Number,
    shape: tuple[float, float] = SLAB,
) -> Array:
    """Plank: seconds to freeze (or thaw) right through, all at one temperature.

    t = ρ ΔH/ΔT (P a/h + R a²/k); `step_k` is the distance of the air from the freezing point.

    >>> round(float(plank_s(1057, 251.2e3, 26.1, 0.0635, 17.0, 1.038)) / 3600, 2)
    6.65
    """
    p, r = shape
    way = p * np.asarray(across_m) / film_w_m2k + r * np.square(across_m) / conductivity
    return np.asarray(density * heat_j_kg / step_k * way)


def pham_s(
    density: Number,
    cooling_j_kg: Number,
    freezing_j_kg: Number,
    start_c: Number,
    end_c: Number,
    air_c: Number,
    across_m: Number,
    film_w_m2k: Number,
    conductivity: Number,
    dimensionality: Number = 1.0,
    lower_k: Number = 0.0,
) -> Array:
    """Pham (1986): seconds until the middle reaches `end_c`, from `start_c`, in air at `air_c`.

    Above the mean freezing temperature t_m = 1.8 + 0.263 t_end + 0.105 t_air the food gives up `cooling_j_kg`, below it
    `freezing_j_kg`: t = ρ d/(E h) (ΔH1/ΔT1 + ΔH2/ΔT2)(1 + Bi/2), d half the thickness, Bi = h d/k.
    Meant for foods that freeze near -1.5 °C; `lower_k` moves t_m down for a sweet crumb, which freezes lower (ours).
    """
    middle = mean_freezing_c(end_c, air_c) - lower_k
    half = 0.5 * np.asarray(across_m)
    first = cooling_j_kg / np.maximum(0.5 * (np.asarray(start_c) + middle) - air_c, 1e-6)
    second = freezing_j_kg / np.maximum(middle - air_c, 1e-6)
    biot = film_w_m2k * half / conductivity
    return np.asarray(density * half / (dimensionality * film_w_m2k) * (first + second) * (1.0 + 0.5 * biot))


def mean_freezing_c(end_c: Number, air_c: Number) -> Array:
    """Pham's mean freezing temperature [°C]."""
    return np.asarray(1.8 + 0.263 * np.asarray(end_c) + 0.105 * np.asarray(air_c))


def time_constant_s(
    density: Number,
    heat_capacity: Number,
    across_m: Number,
    film_w_m2k: Number,
    conductivity: Number,
    dimensionality: Number = 1.0,
) -> Array:
    """Slowest time constant of a body that warms or cools by a film [s]: ρ c d (1/h + 4 d/(π² k))/E.

    Exact for thin and for thick slabs, 3 % off between; other shapes by their dimensionality E.
    """
    half = 0.5 * np.asarray(across_m)
    way = 1.0 / np.asarray(film_w_m2k) + 4.0 * half / (np.pi**2 * np.asarray(conductivity))
    return np.asarray(density * heat_capacity * half * way / dimensionality)


def until_s(time_constant: Array, start_c: Number, air_c: Number, goal_c: Number, lag: Number = 1.1) -> Array:
    """Seconds until the middle passes `goal_c` on its way to the air's temperature; inf where the air stops short.

    The middle lags: its course is `lag` times the exponential, so it starts a little late.
    """
    left = (np.asarray(goal_c) - air_c) / np.where(
        np.abs(np.asarray(start_c) - air_c) < 1e-9, 1e-9, start_c - np.asarray(air_c)
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        found = np.where(left > 0.0, -np.log(np.minimum(left / lag, 1.0)), np.inf)
    return np.asarray(time_constant * np.where(left >= 1.0, 0.0, found))
