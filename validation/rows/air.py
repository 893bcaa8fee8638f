"""Air: the standard atmosphere and moist air.

The moist-air reference is CoolProp's real gas at 101 325 Pa; ours is an ideal gas.
"""

from CoolProp.HumidAirProp import HAPropsSI

from oventide.matter.air import dew_point_c, humidity_ratio, vapour_pressure_pa
from oventide.matter.water import air_pressure_pa
from validation.model import Check

SEA_LEVEL_PA = 101325.0
RATIO_C = (4.0, 10.0, 20.0, 28.0, 38.0, 50.0)
DEW_SHARES = (0.2, 0.4, 0.5, 0.6, 0.8, 0.9)
ALTITUDES_M = (0.0, 500.0, 1000.0, 2000.0, 3000.0)


def _moist(what: str, celsius: float, humidity: float) -> float:
    return float(HAPropsSI(what, "T", celsius + 273.15, "R", humidity, "P", SEA_LEVEL_PA))


CHECKS = (
    Check(
        id="air.standard-atmosphere",
        room="matter",
        what="pressure of the standard atmosphere",
        source="isa-atmosphere",
        where="table by geopotential altitude",
        published=(1013.25, 954.61, 898.746, 794.952, 701.085),
        ours=lambda: [air_pressure_pa(metres) / 100 for metres in ALTITUDES_M],
        unit="hPa",
        tolerance=5e-4,
        relative=True,
        blind=True,
        kind="curve",
        x=ALTITUDES_M,
        x_name="altitude [m]",
    ),
    Check(
        id="air.humidity-ratio",
        room="matter",
        what="water in air of 80 % humidity",
        source="iapws-95",
        where="humid air of CoolProp",
        published=tuple(round(1000 * _moist("W", celsius, 0.8), 3) for celsius in RATIO_C),
        ours=lambda: [1000 * humidity_ratio(vapour_pressure_pa(celsius, 0.8), SEA_LEVEL_PA) for celsius in RATIO_C],
        unit="g/kg dry air",
        tolerance=0.01,
        relative=True,
        blind=True,
        kind="curve",
        x=RATIO_C,
        x_name="temperature [°C]",
    ),
    Check(
        id="air.dew-point",
        room="matter",
        what="dew point of air at 25 °C",
        source="iapws-95",
        where="humid air of CoolProp",
        published=tuple(round(_moist("D", 25.0, share) - 273.15, 2) for share in DEW_SHARES),
        ours=lambda: [dew_point_c(vapour_pressure_pa(25.0, share)) for share in DEW_SHARES],
        unit="°C",
        tolerance=0.1,
        blind=True,
        kind="curve",
        x=DEW_SHARES,
        x_name="relative humidity [1]",
        miss="Our vapour line is fitted over 20-180 °C; below that it drifts, 0.1 °C at a dew point near 0 °C.",
    ),
    Check(
        id="air.chart-dew-point",
        room="matter",
        what="dew point at 25 °C and 50 %",
        source="ashrae-foods",
        where="psychrometric chart of the same publisher, from memory",
        published=(13.9,),
        ours=lambda: dew_point_c(vapour_pressure_pa(25.0, 0.5)),
        unit="°C",
        tolerance=0.1,
        blind=True,
    ),
    Check(
        id="air.chart-ratio",
        room="matter",
        what="water in air at 25 °C and 50 %",
        source="ashrae-foods",
        where="psychrometric chart of the same publisher, from memory",
        published=(9.9,),
        ours=lambda: 1000 * humidity_ratio(vapour_pressure_pa(25.0, 0.5), SEA_LEVEL_PA),
        unit="g/kg dry air",
        tolerance=0.1,
        blind=True,
    ),
)
