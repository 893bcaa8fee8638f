"""Glaze: syrups against measured and standard curves, drying films, drainage.

How a glaze behaves on a bun was compared with no measurement: none was found. These rows try its parts.
"""

import math

import numpy as np
from scipy.optimize import brentq

from oventide.bake.glaze import Glaze, drained_film_m, of_icing_sugar_and_milk, sets_after_s
from oventide.matter.air import mass_film_kg_m2spa
from oventide.matter.syrup import saturated_sucrose, slurry_factor, syrup_viscosity_pa_s
from oventide.matter.water import latent_heat_j_kg, saturation_pressure_pa
from validation.model import Check

_BJ_40_C = (10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 90.0)
_BJ_60_C = (20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 90.0)
_ANTOKOLSKAYA_C = tuple(float(t) for t in range(0, 101, 5))
_ANTOKOLSKAYA_G = (
    179.2, 184.7, 190.5, 197.0, 203.9, 211.4, 219.9, 228.4, 238.1, 248.7, 260.4, 273.1, 287.3, 302.9, 320.5, 339.9, 362.1,
    386.8, 415.7, 448.6, 487.2,
)  # fmt: skip
_HUMIDITY = (20.0, 35.0, 50.0, 65.0, 80.0)


def _bingham_40(celsius: float) -> float:
    """mPa·s from the printed equation of fluidity f [1/P]: t = 0.597 (f + 20) - 1438.6/(f + 20) + 38.24."""
    return 100.0 / float(brentq(lambda f: 0.597 * (f + 20.0) - 1438.6 / (f + 20.0) + 38.24 - celsius, 0.1, 500.0))


def _bingham_60(celsius: float) -> float:
    """mPa·s from t = 1.472 (f + 5) - 323.2/(f + 5) + 58.62."""
    return 100.0 / float(brentq(lambda f: 1.472 * (f + 5.0) - 323.2 / (f + 5.0) + 58.62 - celsius, 0.01, 200.0))


def _stull(celsius: float, humidity: float) -> float:
    """Wet bulb [°C] from temperature and relative humidity [%], Stull 2011."""
    return (
        celsius * math.atan(0.151977 * math.sqrt(humidity + 8.313659))
        + math.atan(celsius + humidity)
        - math.atan(humidity - 1.676331)
        + 0.00391838 * humidity**1.5 * math.atan(0.023101 * humidity)
        - 4.686035
    )


def _wet(celsius: float, humidity: float) -> float:
    """A wet surface that only convection warms, by the law by which a film of glaze dries [°C]."""
    room = humidity / 100.0 * saturation_pressure_pa(celsius)
    vapour = mass_film_kg_m2spa(40.0, 101325.0)

    def gain(t: float) -> float:
        return 40.0 * (celsius - t) - latent_heat_j_kg(t) * vapour * (saturation_pressure_pa(t) - room)

    return float(brentq(gain, -5.0, celsius))


def _einstein(share: float) -> float:
    return (slurry_factor(share) - 1.0) / share


def _hot_bun_set_min() -> float:
    seconds = np.linspace(0.0, 7200.0, 81)
    crust = 22.0 + 50.0 * np.exp(-seconds / 1500.0)
    return float(sets_after_s(of_icing_sugar_and_milk(300.0, 75.0), 0.6, seconds, crust, 4.5, 1200.0, 22.0)) / 60.0


CHECKS = (
    Check(
        id="glaze.solubility-21-points",
        room="glaze",
        what="sucrose in its saturated solution, 0 to 100 °C",
        source="mohos-2010",
        where="table A2.2 (Antokolskaya 1964), g per 100 g of water",
        published=tuple(100.0 * grams / (100.0 + grams) for grams in _ANTOKOLSKAYA_G),
        ours=lambda: tuple(100.0 * saturated_sucrose(t) for t in _ANTOKOLSKAYA_C),
        unit="%",
        tolerance=0.6,
        blind=True,
        kind="curve",
        x=_ANTOKOLSKAYA_C,
        x_name="°C",
    ),
    Check(
        id="glaze.solubility-russian",
        room="glaze",
        what="sucrose in its saturated solution, 0 to 100 °C",
        source="sucrose-russian-table",
        where="second column",
        published=(64.44, 66.74, 70.22, 74.32, 78.74, 82.89),
        ours=lambda: tuple(100.0 * saturated_sucrose(t) for t in (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)),
        unit="%",
        tolerance=0.5,
        blind=True,
        kind="curve",
        x=(0.0, 20.0, 40.0, 60.0, 80.0, 100.0),
        x_name="°C",
    ),
    Check(
        id="glaze.viscosity-40",
        room="glaze",
        what="viscosity of 39.99 % sucrose, 10 to 90 °C",
        source="bingham-jackson-1918",
        where="equation of fluidity in the abstract, solved for the temperature",
        published=tuple(_bingham_40(t) for t in _BJ_40_C),
        ours=lambda: tuple(1000.0 * syrup_viscosity_pa_s(0.3999, t) for t in _BJ_40_C),
        unit="mPa·s",
        tolerance=0.06,
        relative=True,
        blind=True,
        kind="curve",
        x=_BJ_40_C,
        x_name="°C",
    ),
    Check(
        id="glaze.viscosity-60",
        room="glaze",
        what="viscosity of 59.96 % sucrose, 20 to 90 °C",
        source="bingham-jackson-1918",
        where="equation of fluidity in the abstract, solved for the temperature",
        published=tuple(_bingham_60(t) for t in _BJ_60_C),
        ours=lambda: tuple(1000.0 * syrup_viscosity_pa_s(0.5996, t) for t in _BJ_60_C),
        unit="mPa·s",
        tolerance=0.06,
        relative=True,
        blind=True,
        kind="curve",
        x=_BJ_60_C,
        x_name="°C",
    ),
    Check(
        id="glaze.viscosity-60-cold",
        room="glaze",
        what="viscosity of 59.96 % sucrose at 10 °C",
        source="bingham-jackson-1918",
        where="equation of fluidity in the abstract",
        published=(_bingham_60(10.0),),
        ours=lambda: 1000.0 * syrup_viscosity_pa_s(0.5996, 10.0),
        unit="mPa·s",
        tolerance=0.1,
        relative=True,
        blind=True,
        miss="Our table begins at 20 °C and is drawn on straight in 1/T, where syrup thickens faster; no glaze goes there.",
    ),
    Check(
        id="glaze.wet-bulb-20",
        room="glaze",
        what="a wet surface in air of 20 °C, convection only: wet bulb by humidity",
        source="stull-2011",
        where="formula, 20 to 80 % relative humidity",
        published=tuple(_stull(20.0, humidity) for humidity in _HUMIDITY),
        ours=lambda: tuple(_wet(20.0, humidity) for humidity in _HUMIDITY),
        unit="°C",
        tolerance=1.0,
        blind=True,
        kind="curve",
        x=_HUMIDITY,
        x_name="relative humidity [%]",
        note="Chilton and Colburn with Le^(2/3) = 0.9, the law by which the film of glaze dries.",
    ),
    Check(
        id="glaze.wet-bulb-example",
        room="glaze",
        what="wet bulb at 20 °C and 50 %",
        source="stull-2011",
        where="worked example",
        published=(13.7,),
        ours=lambda: _wet(20.0, 50.0),
        unit="°C",
        tolerance=0.5,
        blind=True,
    ),
    Check(
        id="glaze.suspension-dilute",
        room="glaze",
        what="(η/η0 - 1)/φ of dilute grains: Einstein's 2.5",
        source="heat-transfer-book",
        where="any book of suspensions, remembered",
        published=(2.5,) * 5,
        ours=lambda: tuple(_einstein(share) for share in (1e-4, 5e-4, 1e-3, 5e-3, 1e-2)),
        unit="1",
        tolerance=0.08,
        blind=True,
        kind="curve",
        x=(1e-4, 5e-4, 1e-3, 5e-3, 1e-2),
        x_name="volume share",
    ),
    Check(
        id="glaze.drainage",
        room="glaze",
        what="mean film on an upright plate, 1 Pa·s, 1350 kg/m3, 30 mm, 15 to 240 s",
        source="jeffreys-1930",
        where="mean over the height of sqrt(η x/(ρ g t)), summed in 2000 strips",
        published=tuple(
            1000.0 * float(np.mean(np.sqrt((np.arange(2000) + 0.5) / 2000 * 0.03 / (1350.0 * 9.81 * t))))
            for t in (15.0, 30.0, 60.0, 120.0, 240.0)
        ),
        ours=lambda: tuple(1000.0 * drained_film_m(1.0, 1350.0, 0.03, t) for t in (15.0, 30.0, 60.0, 120.0, 240.0)),
        unit="mm",
        tolerance=1e-3,
        blind=True,
        kind="curve",
        x=(15.0, 30.0, 60.0, 120.0, 240.0),
        x_name="s",
    ),
    Check(
        id="glaze.stiff-at-room",
        room="glaze",
        what="300 g of icing sugar with 45 g of milk in the bowl is a thick paste",
        source="common-practice",
        where="no source",
        published=(3.0, 1e9),
        ours=lambda: of_icing_sugar_and_milk(300.0, 45.0).at(22.0).viscosity_pa_s,
        unit="Pa·s",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="glaze.drizzle",
        room="glaze",
        what="300 g of icing sugar with 75 g of milk pours in a ribbon at room warmth, like honey or thinner",
        source="common-practice",
        where="no source; honey 2 to 10 Pa·s, thin cream 0.1",
        published=(0.1, 10.0),
        ours=lambda: of_icing_sugar_and_milk(300.0, 75.0).at(22.0).viscosity_pa_s,
        unit="Pa·s",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="glaze.sets-warm",
        room="glaze",
        what="300 g of icing sugar with 75 g of milk on a bun of 72 °C, 0.6 mm: minutes until it has set",
        source="common-practice",
        where="no source: some minutes to half an hour on a warm bun; a page says two hours for a cold cake",
        published=(4.0, 40.0),
        ours=_hot_bun_set_min,
        unit="min",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
    Check(
        id="glaze.syrup-soaks",
        room="glaze",
        what="a syrup of 100 g of sugar and 80 g of water at 70 °C is thin enough to soak in (below 0.1 Pa·s)",
        source="common-practice",
        where="no source: bakers brush such a syrup to soak cakes",
        published=(0.0, 0.1),
        ours=lambda: Glaze(sugar_g=100.0, water_g=80.0).at(70.0).viscosity_pa_s,
        unit="Pa·s",
        tolerance=0.0,
        blind=True,
        kind="range",
    ),
)
