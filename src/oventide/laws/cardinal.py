"""Rates between cardinal temperatures or acidities: nothing below a least, best at an optimum, nothing above a most."""

import math

from oventide.compiled import compiled
from oventide.lanes.members import choose


@compiled
def cardinal_temperature(temperature_c: float, least_c: float, best_c: float, most_c: float) -> float:
    """Cardinal temperature model with inflection: relative rate [1], 1 at `best_c`, 0 outside (least, most) [°C].

    γ(T) = (T-Tmax)(T-Tmin)² / {(Topt-Tmin)[(Topt-Tmin)(T-Topt) - (Topt-Tmax)(Topt+Tmin-2T)]}
    (Rosso, Lobry, Bajard, Flandrois 1993, J Theor Biol 162:447; equation remembered). Valid where
    Topt > (Tmin+Tmax)/2; near Tmin it behaves as the square-root law.

    >>> cardinal_temperature(36.0, -1.0, 36.0, 46.0), cardinal_temperature(-1.0, -1.0, 36.0, 46.0)
    (1.0, 0.0)
    """
    span = best_c - least_c
    above = (temperature_c - most_c) * (temperature_c - least_c) ** 2
    below = span * (span * (temperature_c - best_c) - (best_c - most_c) * (best_c + least_c - 2.0 * temperature_c))
    return choose((temperature_c <= least_c) | (temperature_c >= most_c), 0.0, above / below)


@compiled
def square_root_temperature(temperature_c: float, least_c: float, curve: float, most_c: float) -> float:
    """Square-root law over its whole range [1], not normalised: {(T-Tmin)(1 - exp[c(T-Tmax)])}², 0 outside [°C].

    Ratkowsky, Lowry, McMeekin, Stokes, Chandler (1983, J Bacteriol 154:1222; equation remembered). Cold, the square
    root of the rate is a straight line through the notional least temperature; `curve` [1/K] says how sharply the
    heat ends it. Divide by its value at the reference temperature.

    >>> square_root_temperature(2.0, 2.0, 0.25, 46.0), square_root_temperature(46.0, 2.0, 0.25, 46.0)
    (0.0, 0.0)
    """
    root = (temperature_c - least_c) * (1.0 - math.exp(curve * (temperature_c - most_c)))
    return choose((temperature_c <= least_c) | (temperature_c >= most_c), 0.0, root * root)


@compiled
def cardinal_acidity(ph: float, least: float, best: float, most: float) -> float:
    """Cardinal pH model: relative rate [1], 1 at `best`, 0 outside (least, most).

    (pH-min)(pH-max) / [(pH-min)(pH-max) - (pH-opt)²] (Rosso et al. 1995, Appl Environ Microbiol 61:610;
    equation remembered).

    >>> round(cardinal_acidity(4.5, 3.9, 5.3, 6.7), 2)
    0.67
    """
    if ph <= least or ph >= most:
        return 0.0
    product = (ph - least) * (ph - most)
    return product / (product - (ph - best) ** 2)
