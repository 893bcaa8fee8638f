"""What a kept piece loses to the air, and how its crust softens: open, in paper, in a bag, in a box.

Vapour meets the wrap, the air's film, and crumb that dries from outside in. The first two stand; the last grows with
the square root of time (half space). Their sum is integrated in closed form.
"""

from collections.abc import Mapping
from functools import cache
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.matter.air import mass_film_kg_m2spa
from oventide.matter.water import saturation_pressure_pa

Array = NDArray[np.float64]
Wrap = Literal["open", "paper", "bag", "box"]
WRAPS: tuple[Wrap, ...] = get_args(Wrap)

_P = load("keeping")
_CRUMB_ACTIVITY = _P.value("drying.crumb_activity")
_WATER_SHARE = _P.value("drying.water_share")
_FILM_W = _P.value("drying.film")
_FRESH, _SOFT = _P.value("crust.activity_fresh"), _P.value("crust.activity_soft")
_TYPICAL_STEP_PA = 1050.0
"""Vapour pressure of a fresh pore over a room at half humidity, 21 °C: the step over which `_WATER_SHARE` leaves."""


def wrap_resistance(wrap: Wrap, leakiness: Array) -> Array:
    """Resistance of the wrap to vapour [m²·s·Pa/kg], per surface of the piece; 0 where there is none."""
    if wrap == "open":
        return np.zeros_like(leakiness)
    return np.asarray(1.0 / (_P.value(f"wrap.{wrap}") * leakiness))


@cache
def _ln_saturated() -> tuple[Array, Array]:
    celsius = np.arange(-40.0, 161.0)
    return celsius, np.log([saturation_pressure_pa(float(t)) for t in celsius])


def saturated_pa(celsius: Array) -> Array:
    """Vapour pressure over water [Pa] of any shape, -40 to 160 °C: ln by straight lines, within 0.01 %."""
    return np.asarray(np.exp(np.interp(celsius, *_ln_saturated())))


def drying_step_pa(crumb_c: Array, vapour_pa: Array) -> Array:
    """Vapour pressure of the crumb over the air's [Pa], never below 0."""
    return np.asarray(np.maximum(_CRUMB_ACTIVITY * saturated_pa(crumb_c) - vapour_pa, 0.0))


def lost_kg_m2(
    seconds: Array,
    step_pa: Array,
    wrap: Wrap,
    dry_kg_m3: Array,
    draws: Mapping[str, Array],
    pressure_pa: float = 101325.0,
) -> Array:
    """Water lost (M, K) [kg/m²] at times (K,): ∫ Δp/(R0 + a √t) dt = 2 Δp/a² (a √t - R0 ln(1 + a √t/R0)).

    R0 is the wrap and the film, a = √(π/D)/C with C the water held per volume and pascal.
    """
    film = 1.0 / mass_film_kg_m2spa(_FILM_W, pressure_pa)
    fixed = (film + wrap_resistance(wrap, draws["wrap.leakiness"]))[:, None]
    held = _WATER_SHARE * dry_kg_m3 / _TYPICAL_STEP_PA
    slope = (np.sqrt(np.pi / draws["drying.diffusion"]) / held)[:, None]
    grown = slope * np.sqrt(np.maximum(seconds, 0.0))[None, :]
    return np.asarray(2.0 * step_pa[:, None] / np.square(slope) * (grown - fixed * np.log1p(grown / fixed)))


def crust_soft_s(wrap: Wrap, draws: Mapping[str, Array]) -> Array:
    """Seconds until a wrapped crust is soft (M,): it goes to the crumb's water activity by one time constant.

    Open and in paper it dries as fast as it is fed: inf.
    """
    if wrap in ("open", "paper"):
        return np.full_like(draws["crust.softening_h"], np.inf)
    share = np.log((_CRUMB_ACTIVITY - _FRESH) / (_CRUMB_ACTIVITY - _SOFT))
    return np.asarray(3600.0 * draws["crust.softening_h"] * share)
