"""Moist air in the room and in the oven."""

from oventide.compiled import compiled
from oventide.matter.water import saturation_pressure_pa


@compiled
def vapour_pressure_pa(temperature_c: float, relative_humidity: float) -> float:
    """Partial pressure of vapour [Pa] at a relative humidity [0..1]."""
    return relative_humidity * saturation_pressure_pa(temperature_c)


@compiled
def humidity_ratio(vapour_pa: float, pressure_pa: float) -> float:
    """Water per dry air [kg/kg]: 0.621945 p_v/(p - p_v)."""
    return 0.621945 * vapour_pa / max(1.0, pressure_pa - vapour_pa)


@compiled
def dew_point_c(vapour_pa: float) -> float:
    """Temperature [°C] at which air of this vapour pressure is saturated, by bisection over -20 to 150 °C."""
    low, high = -20.0, 150.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        if saturation_pressure_pa(middle) < vapour_pa:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


@compiled
def mass_film_kg_m2spa(heat_film_w_m2k: float, pressure_pa: float) -> float:
    """Film for vapour from the film for heat [kg/(m2·s·Pa)]: 0.622 h/(cp p Le^(2/3)), Le^(2/3) = 0.9 (Chilton-Colburn).

    `heat_film_w_m2k` is the convective part alone: radiation carries no vapour.
    """
    return 0.622 * heat_film_w_m2k / (1010.0 * pressure_pa * 0.9)
