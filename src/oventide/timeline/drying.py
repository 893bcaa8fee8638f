"""Dough that lies open: what evaporation takes from it, and when a skin forms.

Flux of heat at the top: h (T_air - T) - κ h_c (a p_s(T) - p_v), κ = 0.622 L/(c_p P) by the Lewis relation, h_c the
film's convective part. The steam curve is taken as a straight line about the surface's likely temperature, so that the
two make one film to an air that is colder than the room's. A skin stops most of it: once the surface has lost the
water that it can lose before it is leathery, evaporation falls with the root of time.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.matter.water import saturation_pressure_pa
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.procedure import Step

Array = NDArray[np.float64]

_STEFAN = 5.670374e-8
_EMISSIVITY = 0.9
_LATENT = 2.45e6
"""Of water at 20 °C [J/kg]."""
_LEWIS = 0.622 * _LATENT / (1006.0 * 101325.0)
"""κ [K/Pa]."""


@dataclass(frozen=True)
class Drying:
    """Film (M,) [W/(m²·K)] and shift of the air (M,) [K] that stand for heat and evaporation together."""

    film: Array
    shift_k: Array
    flux: Array
    """Water lost at the start [kg/(m²·s)]."""
    skin_s: Array
    """When a skin forms [s]; inf where nothing evaporates."""


def wet_surface(film: Array, air_c: Array, vapour_pa: Array, activity: float, near_c: Array) -> tuple[Array, Array]:
    """Film and shift of the air for a surface that stays wet; the steam curve is a straight line about `near_c`."""
    kelvin = near_c + 273.15
    convective = np.maximum(2.0, film - 4.0 * _EMISSIVITY * _STEFAN * kelvin**3)
    pressure = np.vectorize(saturation_pressure_pa)(near_c)
    slope = np.vectorize(saturation_pressure_pa)(near_c + 0.5) - np.vectorize(saturation_pressure_pa)(near_c - 0.5)
    wet = _LEWIS * convective
    both = film + wet * activity * slope
    shift = wet * (vapour_pa - activity * (pressure + slope * (air_c - near_c))) / both
    return both, shift


def dry(step: Step, film: Array, air_c: Array, dough_c: Array, ensemble: Ensemble, horizon_s: float) -> Drying:
    """Evaporation from the top of open dough in a step, the mean over its length."""
    draws, known = ensemble.of("timeline"), load("timeline")
    activity = known.value("drying.surface_activity")
    vapour = draws["room.vapour"]
    if step.where in ("fridge", "freezer"):
        vapour = draws["fridge.humidity"] * np.vectorize(saturation_pressure_pa)(air_c)
    near = 0.5 * (air_c + dough_c)
    both, shift = wet_surface(film, air_c, vapour, activity, near)
    convective = np.maximum(2.0, film - 4.0 * _EMISSIVITY * _STEFAN * (near + 273.15) ** 3)
    gap = activity * np.vectorize(saturation_pressure_pa)(dough_c) - vapour
    flux = np.maximum(0.0, _LEWIS * convective * gap / _LATENT)
    spent, diffusion = draws["drying.skin_water"], draws["drying.water_diffusion"]
    with np.errstate(divide="ignore", invalid="ignore"):
        # constant flux out of a deep body: its surface falls by 2 j √(t/πD)
        skin = np.where(flux > 0.0, math.pi * diffusion * np.square(spent / (2.0 * flux)), np.inf)
    length = max(horizon_s, 1.0)
    early = np.minimum(skin, length)
    share = (early + 2.0 * np.sqrt(early) * (math.sqrt(length) - np.sqrt(early))) / length
    # less evaporation: the film loses its wet part, the shift what belongs to it
    damped = film + share * (both - film)
    return Drying(damped, share * shift * both / damped, flux, skin)
