"""How heat kills: a tenth left after a time that falls tenfold every few kelvins."""

import math

from oventide.compiled import compiled
from oventide.lanes.members import all_of, choose


@compiled
def death_per_h(temperature_c: float, d50_min: float, z_k: float, harmless_c: float) -> float:
    """First-order death rate [1/h]: ln 10/D, D = D50·10^((50 - T)/z) [min] (Bigelow's law), nothing up to `harmless_c`.

    The straight line of the logarithm would kill yeast at proof temperatures too, where it lives for days; what it
    gives at `harmless_c` is therefore taken off.

    >>> round(death_per_h(55.0, 1.0, 5.0, 43.0)), death_per_h(40.0, 1.0, 5.0, 43.0)
    (1376, 0.0)
    """
    hot = 10.0 ** min((temperature_c - 50.0) / z_k, 4.0)
    rate = 60.0 * math.log(10.0) / d50_min * (hot - 10.0 ** ((harmless_c - 50.0) / z_k))
    return float(choose(temperature_c <= harmless_c, 0.0, rate))


@compiled
def kept(x: float) -> float:
    """exp(-x) for x ≥ 0, without calling it where x is small: within 3e-7 below 0.05, 2e-6 below 0.25.

    >>> kept(0.0), round(kept(0.2), 5), kept(1.0) == math.exp(-1.0)
    (1.0, 0.81873, True)
    """
    quarter = x * x / 12.0
    small = choose(
        x < 0.05,
        1.0 - x * (1.0 - x * (0.5 - x * (1.0 / 6.0))),
        (1.0 - 0.5 * x + quarter) / (1.0 + 0.5 * x + quarter),
    )
    if all_of(x < 0.25):
        return small
    return choose(x < 0.25, small, math.exp(-x))
