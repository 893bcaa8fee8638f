"""Water and steam beside IAPWS-95.

The reference is reckoned by CoolProp, a library of its own. The vapour curve's three figures were fitted to it.
"""

from CoolProp.CoolProp import PropsSI

from oventide.matter.properties import component_property
from oventide.matter.water import latent_heat_j_kg, saturation_pressure_pa, vapour_enthalpy_j_kg
from validation.model import Check

STEAM_C = (20.0, 40.0, 60.0, 80.0, 95.0, 100.0, 105.0, 120.0, 150.0, 180.0)
LATENT_C = (5.0, 25.0, 60.0, 100.0, 130.0)
LIQUID_C = (5.0, 20.0, 40.0, 60.0, 80.0, 95.0)


def _five_digits(value: float) -> float:
    return float(f"{value:.5g}")


def _saturated(what: str, vapour: int, celsius: float) -> float:
    return float(PropsSI(what, "T", celsius + 273.15, "Q", vapour, "Water"))


def _liquid(what: str) -> tuple[float, ...]:
    return tuple(_five_digits(PropsSI(what, "T", celsius + 273.15, "P", 101325, "Water")) for celsius in LIQUID_C)


CHECKS = (
    Check(
        id="water.vapour-pressure",
        room="matter",
        what="vapour pressure over water",
        source="iapws-95",
        where="saturation line",
        published=tuple(_five_digits(_saturated("P", 0, celsius) / 1000) for celsius in STEAM_C),
        ours=lambda: [saturation_pressure_pa(celsius) / 1000 for celsius in STEAM_C],
        unit="kPa",
        tolerance=0.01,
        relative=True,
        blind=False,
        kind="curve",
        x=STEAM_C,
        x_name="temperature [°C]",
    ),
    Check(
        id="water.latent-heat",
        room="matter",
        what="heat of evaporation",
        source="iapws-95",
        where="saturation line",
        published=tuple(
            _five_digits((_saturated("H", 1, celsius) - _saturated("H", 0, celsius)) / 1000) for celsius in LATENT_C
        ),
        ours=lambda: [latent_heat_j_kg(celsius) / 1000 for celsius in LATENT_C],
        unit="kJ/kg",
        tolerance=0.007,
        relative=True,
        blind=False,
        kind="curve",
        x=LATENT_C,
        x_name="temperature [°C]",
        note="Ours is a straight line.",
    ),
    Check(
        id="water.vapour-enthalpy",
        room="matter",
        what="enthalpy of saturated vapour, water at 0 °C being zero",
        source="iapws-95",
        where="saturation line",
        published=tuple(_five_digits(_saturated("H", 1, celsius) / 1000) for celsius in LATENT_C),
        ours=lambda: [vapour_enthalpy_j_kg(celsius) / 1000 for celsius in LATENT_C],
        unit="kJ/kg",
        tolerance=0.005,
        relative=True,
        blind=False,
        kind="curve",
        x=LATENT_C,
        x_name="temperature [°C]",
    ),
    Check(
        id="water.density",
        room="matter",
        what="density of water by the food polynomials",
        source="iapws-95",
        where="liquid at 101 325 Pa",
        published=_liquid("D"),
        ours=lambda: [component_property(0, 3, celsius) for celsius in LIQUID_C],
        unit="kg/m³",
        tolerance=0.01,
        relative=True,
        blind=True,
        kind="curve",
        x=LIQUID_C,
        x_name="temperature [°C]",
    ),
    Check(
        id="water.conductivity",
        room="matter",
        what="conductivity of water by the food polynomials",
        source="iapws-95",
        where="liquid at 101 325 Pa",
        published=_liquid("L"),
        ours=lambda: [component_property(0, 0, celsius) for celsius in LIQUID_C],
        unit="W/(m·K)",
        tolerance=0.025,
        relative=True,
        blind=True,
        kind="curve",
        x=LIQUID_C,
        x_name="temperature [°C]",
    ),
    Check(
        id="water.heat-capacity",
        room="matter",
        what="heat capacity of water by the food polynomials",
        source="iapws-95",
        where="liquid at 101 325 Pa",
        published=_liquid("C"),
        ours=lambda: [1000 * component_property(0, 6, celsius) for celsius in LIQUID_C],
        unit="J/(kg·K)",
        tolerance=0.02,
        relative=True,
        blind=True,
        kind="curve",
        x=LIQUID_C,
        x_name="temperature [°C]",
        note="The paper that gives the polynomials claims a few per cent.",
    ),
)
