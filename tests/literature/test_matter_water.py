"""Water, steam and air against IAPWS-95, the standard atmosphere and boiling points by altitude."""

import pytest
from CoolProp.CoolProp import PropsSI

from oventide.matter.air import dew_point_c, humidity_ratio, vapour_pressure_pa
from oventide.matter.water import (
    air_pressure_pa,
    boiling_point_c,
    latent_heat_j_kg,
    saturation_pressure_pa,
    vapour_enthalpy_j_kg,
)


@pytest.mark.parametrize("celsius", [20.0, 40.0, 60.0, 80.0, 95.0, 100.0, 105.0, 120.0, 150.0, 180.0])
def test_vapour_pressure_is_iapws(celsius: float) -> None:
    """IAPWS-95 through CoolProp; within 1 % over 20-180 °C."""
    assert saturation_pressure_pa(celsius) == pytest.approx(
        PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water"), rel=0.01
    )


@pytest.mark.parametrize("celsius", [5.0, 25.0, 60.0, 100.0, 130.0])
def test_heat_of_evaporation_is_iapws(celsius: float) -> None:
    """IAPWS-95 through CoolProp; straight line in temperature, within 0.7 % to 130 °C."""
    kelvin = celsius + 273.15
    printed = PropsSI("H", "T", kelvin, "Q", 1, "Water") - PropsSI("H", "T", kelvin, "Q", 0, "Water")
    assert latent_heat_j_kg(celsius) == pytest.approx(printed, rel=0.007)
    assert vapour_enthalpy_j_kg(celsius) == pytest.approx(PropsSI("H", "T", kelvin, "Q", 1, "Water"), rel=0.005)


@pytest.mark.parametrize(
    ("altitude_m", "pascal"),
    [(0, 101325.0), (500, 95461.0), (1000, 89874.6), (2000, 79495.2), (3000, 70108.5)],
)
def test_standard_atmosphere(altitude_m: float, pascal: float) -> None:
    """ISO 2533 / ICAO standard atmosphere, table by geopotential altitude (from memory, high confidence)."""
    assert air_pressure_pa(altitude_m) == pytest.approx(pascal, rel=5e-4)


@pytest.mark.parametrize(
    ("altitude_m", "celsius", "source"),
    [
        (300, 99.1, "altitude-table"), (600, 98.1, "altitude-table"), (1000, 96.8, "altitude-table"),
        (2000, 93.3, "altitude-table"), (1524, 95.0, "altitude-wiki"), (1829, 94.0, "altitude-wiki"),
        (2438, 91.9, "altitude-wiki"), (3048, 89.8, "altitude-wiki"),
    ],
)  # fmt: skip
def test_boiling_point_by_altitude(altitude_m: float, celsius: float, source: str) -> None:
    """High-altitude cooking tables (read); `source` is the key in sources-matter.toml. Tables are rounded to 0.1-1."""
    assert boiling_point_c(air_pressure_pa(altitude_m)) == pytest.approx(celsius, abs=0.2), source


def test_moist_air() -> None:
    """ASHRAE psychrometrics, 25 °C and 50 %: dew point 13.9 °C, 9.9 g/kg (chart values, from memory)."""
    vapour = vapour_pressure_pa(25.0, 0.5)
    assert dew_point_c(vapour) == pytest.approx(13.9, abs=0.1)
    assert 1000 * humidity_ratio(vapour, 101325.0) == pytest.approx(9.9, abs=0.1)


@pytest.mark.parametrize(
    ("celsius", "humidity", "ratio"), [(4, 0.80, 0.004037), (28, 0.75, 0.017997), (38, 0.85, 0.036827)]
)
def test_fridge_room_and_prover_air(celsius: float, humidity: float, ratio: float) -> None:
    """CoolProp's humid air (real gas) at 101325 Pa; an ideal gas is within 1 %."""
    assert humidity_ratio(vapour_pressure_pa(celsius, humidity), 101325.0) == pytest.approx(ratio, rel=0.01)
