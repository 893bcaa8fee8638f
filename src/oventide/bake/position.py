"""Edge and corner buns against the centre bun, for which the oven's kernel is written.

Product rule of conduction in a brick: what the walls bring multiplies what top and base bring.
"""

import math


def slab_theta(position: float, fourier: float, biot: float, terms: int = 8) -> float:
    """(T - T_env)/(T_start - T_env) in a slab at x/L = `position` (0 middle, 1 face).

    Σ C_n exp(-ζ_n² Fo) cos(ζ_n x/L), ζ tan ζ = Bi (Incropera & DeWitt, section 5.5).

    >>> round(slab_theta(0.0, 1.0, 1.0), 4)
    0.5339
    """
    total = 0.0
    for n in range(terms):
        low, high = n * math.pi + 1e-12, (n + 0.5) * math.pi - 1e-12
        for _step in range(80):
            middle = 0.5 * (low + high)
            if middle * math.tan(middle) < biot:
                low = middle
            else:
                high = middle
        zeta = 0.5 * (low + high)
        c = 4.0 * math.sin(zeta) / (2.0 * zeta + math.sin(2.0 * zeta))
        total += c * math.exp(-zeta * zeta * fourier) * math.cos(zeta * position)
    return total


def at_place(
    centre_c: float,
    air_c: float,
    boiling_c: float,
    seconds: float,
    from_wall_x_m: float,
    from_wall_y_m: float,
    width_m: float,
    length_m: float,
    diffusivity_m2_s: float = 2.5e-7,
    wall_conductance_w_m2k: float = 18.0,
    conductivity_w_mk: float = 0.35,
) -> float:
    """Core of a bun at a place in the tin [°C] from the centre bun's: T_air - (T_air - T_centre) θx θy, cut at boiling.

    Distances from the nearest walls and tin sizes in m. A rule of thumb of conduction: no vapour is in it.
    """
    theta = 1.0
    for distance, width in ((from_wall_x_m, width_m), (from_wall_y_m, length_m)):
        half = 0.5 * width
        fourier = diffusivity_m2_s * seconds / half**2
        biot = wall_conductance_w_m2k * half / conductivity_w_mk
        if fourier > 1e-3:
            theta *= slab_theta(1.0 - min(distance, half) / half, fourier, biot)
    return min(boiling_c, air_c - (air_c - centre_c) * theta)
