"""What dissolved matter does to yeast: osmotic pressure and the brake on its rate."""

from oventide.compiled import compiled
from oventide.laws.arrhenius import GAS_CONSTANT


@compiled
def osmotic_brake(osmolality: float, half_osmolality: float, steepness: float) -> float:
    """Rate left at an osmolality [osm/kg water], relative [1]: 1/(1 + (m/m50)^h).

    >>> osmotic_brake(3.3, 3.3, 2.5)
    0.5
    """
    return float(1.0 / (1.0 + (max(0.0, osmolality) / half_osmolality) ** steepness))


@compiled
def osmotic_pressure_atm(osmolality: float, temperature_c: float) -> float:
    """Osmotic pressure of an ideal solution [atm]: m R T, a kilogram of water taken as a litre (van 't Hoff).

    >>> round(osmotic_pressure_atm(1.0, 25.0), 1)
    24.5
    """
    return osmolality * 1000.0 * GAS_CONSTANT * (temperature_c + 273.15) / 101325.0
