"""Heat and vapour through pores: the same laws for wet crumb and dry crust, with a smooth passage between them.

Vapour diffuses through the pores; where it fills them (near the boiling point) nothing is left to diffuse
through and pressure drives it (Darcy). In wet crumb most of the vapour condenses again on the cold side of its
own pore and the liquid creeps back: heat moves, water hardly does.
"""

import math

from oventide.compiled import compiled
from oventide.lanes.members import choose
from oventide.matter.water import GAS_CONSTANT, WATER_MOLAR_KG, vapour_diffusion_m2_s

_STEFAN_BOLTZMANN = 5.670374419e-8


@compiled
def smooth_step(x: float) -> float:
    """Logistic 0..1, cut off at ±16."""
    inner = 1.0 / (1.0 + math.exp(-min(16.0, max(-16.0, x))))
    return choose(x > 16.0, 1.0, choose(x < -16.0, 0.0, inner))


@compiled
def soft_excess(x: float, width: float) -> tuple[float, float]:
    """max(0, x) with a rounded corner of the width given, and its slope."""
    s = x / width
    e = math.exp(min(16.0, max(-16.0, s)))
    over, under = s > 16.0, s < -16.0
    excess = choose(over, x, choose(under, 0.0, width * math.log1p(e)))
    return excess, choose(over, 1.0, choose(under, 0.0, e / (1.0 + e)))


@compiled
def dryness(water: float, first_water: float) -> float:
    """0 for crumb, 1 for crust: a smooth step at 35 % of the dough's first water."""
    return smooth_step((0.35 * first_water - water) / (0.03 * first_water))


@compiled
def vapour_conductance(temperature_c: float, vapour_pa: float, pressure_pa: float, open_pores: float) -> float:
    """Diffusion of vapour through pores [kg/(m·s·Pa)] with the Stefan flow.

    open_pores·D M/(R T)/S, S = 1 - p_v/P rounded off at 0.08 and not below 0.03; `open_pores` is porosity over
    tortuosity.
    """
    air_left, _ = soft_excess(1.0 - vapour_pa / pressure_pa, 0.08)
    return (
        open_pores
        * vapour_diffusion_m2_s(temperature_c, pressure_pa)
        * WATER_MOLAR_KG
        / (GAS_CONSTANT * (temperature_c + 273.15))
        / max(0.03, air_left)
    )


@compiled
def pore_conductivity_w_mk(temperature_c: float, pore_m: float) -> float:
    """What a pore conducts [W/(m·K)]: its gas, and radiation from wall to wall, 4 σ T³ d."""
    kelvin = temperature_c + 273.15
    return 0.026 + 6e-5 * temperature_c + 4.0 * _STEFAN_BOLTZMANN * kelvin * kelvin * kelvin * pore_m
