"""Rates that grow with temperature: Arrhenius, the same with loss of activity in cold and heat, and the shorthands."""

import math

from oventide.compiled import compiled

GAS_CONSTANT = 8.314462618
"""R [J/(mol·K)], exact by definition since 2019."""
_ZERO_C_K = 273.15


@compiled
def arrhenius(temperature_c: float, activation_j_mol: float, reference_c: float) -> float:
    """Rate relative to that at `reference_c` [1]: exp[-Ea/R (1/T - 1/Tref)].

    >>> arrhenius(30.0, 50e3, 30.0)
    1.0
    """
    step = 1.0 / (temperature_c + _ZERO_C_K) - 1.0 / (reference_c + _ZERO_C_K)
    return math.exp(-activation_j_mol / GAS_CONSTANT * step)


@compiled
def arrhenius_between(
    temperature_c: float,
    activation_j_mol: float,
    cold_j_mol: float,
    cold_half_c: float,
    heat_j_mol: float,
    heat_half_c: float,
) -> float:
    """Arrhenius rate with reversible loss of activity in the cold and in the heat [1], not normalised.

    exp[-Ea/R (1/T - 1/T30)] / {1 + exp[Hc/R (1/T - 1/Tc)] + exp[-Hh/R (1/T - 1/Th)]}, T in K, T30 = 30 °C.
    At `cold_half_c` (and at `heat_half_c`) half of the enzyme is inactive [°C]. All energies positive [J/mol].
    Form of Sharpe & DeMichele (1977, J Theor Biol 64:649) as rewritten by Schoolfield et al. (1981,
    J Theor Biol 88:719); equation remembered. Divide by its value at the reference temperature.
    """
    inverse = 1.0 / (temperature_c + _ZERO_C_K)
    rate = math.exp(-activation_j_mol / GAS_CONSTANT * (inverse - 1.0 / 303.15))
    cold = math.exp(cold_j_mol / GAS_CONSTANT * (inverse - 1.0 / (cold_half_c + _ZERO_C_K)))
    heat = math.exp(-heat_j_mol / GAS_CONSTANT * (inverse - 1.0 / (heat_half_c + _ZERO_C_K)))
    return rate / (1.0 + cold + heat)


def q10(first_rate: float, second_rate: float, first_c: float, second_c: float) -> float:
    """Factor per 10 K between two rates: (k2/k1)^(10/(T2-T1)).

    >>> round(q10(1.0, 1.1, 20.0, 21.0), 2)
    2.59
    """
    return float((second_rate / first_rate) ** (10.0 / (second_c - first_c)))
