"""Yeast at work in one cell of dough over one time step.

    dG/dt = q30·γ(T)·f_osm·f_fat·f_spice·f_eth·X·a·[s + (1 - s)·m·r·0.75],  s = S/(S + 0.15), r = M/(M + 0.30)

G CO2 made, X living yeast, a its adaptation, S hexose, M maltose from damaged starch, m readiness for maltose.
CO2, sugar and yeast balances close to rounding: what is made is what was taken up; living, dead and what may still
grow add up to what was there. Decays over a step are taken by `laws.death.kept`, which spares the exponential.
"""

import math

import numpy as np
from numpy.typing import NDArray

from oventide.compiled import compiled
from oventide.dough.gas import bubbles_from, co2_held_mmol, gas_pressure_kpa
from oventide.dough.state import (
    ADAPTED,
    AIR,
    CO2,
    CO2_LOST,
    CO2_MADE,
    DEAD,
    ETHANOL,
    GAS_KPA_ML_PER_MMOL_K,
    GROWTH_LEFT,
    HEXOSE,
    HEXOSE_MOLAR_G,
    MALTOSE,
    MALTOSE_READY,
    P_AMYLASE,
    P_AMYLASE_EA,
    P_CRITICAL,
    P_CROWDING,
    P_DENSE_ML,
    P_DOUGH_KG,
    P_FRESH_ML,
    P_GROWTH,
    P_GROWTH_ALLOWANCE,
    P_GROWTH_LAG,
    P_GROWTH_PER_HALF_OSM,
    P_HEAT,
    P_HEXOSE_HALF,
    P_INDUCTION,
    P_LAG,
    P_LEAK_OVER,
    P_LEAK_QUIET,
    P_MALTOSE_HALF,
    P_MALTOSE_SPEED,
    P_OSM_STEEP,
    P_OSMOLES,
    P_PER_ETHANOL_STOP,
    P_PER_HALF_OSM,
    P_RATE,
    P_SOLVENT,
    P_STATIC,
    P_SUGAR_PER_CO2,
    P_WIDTH,
    READY_TO_GROW,
    STARCH_SUGAR,
    YEAST,
)
from oventide.dough.temperature import L_AT_26, death_law, gas_law, growth_law
from oventide.lanes.members import all_of, any_of, choose
from oventide.laws.arrhenius import arrhenius
from oventide.laws.death import kept
from oventide.laws.uptake import left_after_uptake

Array = NDArray[np.float64]

SPEEDS = 6
"""Figures that depend on temperature alone: see `speeds_at`."""


@compiled
def osmolality(y: Array, p: Array) -> float:
    """What the dough water's solutes are worth to the yeast [osm/kg]: salt, lactose, hexose, maltose.

    Each kind by its osmotic coefficient: salt's pairs of ions pull less than their number says, sugars crowd and
    pull more, by 2.3 % for every mole in a kilogram of water.
    """
    sugars = 1000.0 * (y[HEXOSE] / HEXOSE_MOLAR_G + y[MALTOSE] / (2.0 * HEXOSE_MOLAR_G)) / p[P_SOLVENT]
    return float(p[P_OSMOLES] / p[P_SOLVENT] + sugars * (1.0 + p[P_CROWDING] * sugars))


@compiled
def leak_per_h(p: Array, volume: float) -> float:
    """Share of the gas in bubbles that is lost per hour at a relative volume."""
    over = (volume - p[P_CRITICAL]) / p[P_WIDTH]
    return float(p[P_LEAK_QUIET] + p[P_LEAK_OVER] / (1.0 + math.exp(-max(-100.0, over))))


@compiled
def _leak(y: Array, p: Array, held: float, per_mmol: float, made: float, h: float) -> float:
    """CO2 lost over `h` hours while `made` is being made [mmol]; `y` is left as it is.

    Taken at half time; where the dough begins to let its gas go, in parts of eighty seconds, because the leak then
    grows within minutes.
    """
    bubbles = bubbles_from(y[CO2] + made, y[AIR], held)
    quiet = (p[P_DENSE_ML] + (bubbles + y[AIR]) * per_mmol) / p[P_FRESH_ML] <= p[P_CRITICAL] - 5.0 * p[P_WIDTH]
    # quiet dough: half of what is made stays in bubbles as far as the rest did at the end
    half = max(0.0, bubbles - 0.5 * made)
    little = half * (1.0 - kept(p[P_LEAK_QUIET] * h))
    if all_of(quiet):
        return float(little)
    parts = max(1, math.ceil(45.0 * h))
    co2, lost = y[CO2], 0.0
    for _ in range(parts):
        bubbles = bubbles_from(co2 + 0.5 * made / parts, y[AIR], held)
        volume = (p[P_DENSE_ML] + (bubbles + y[AIR]) * per_mmol) / p[P_FRESH_ML]
        out = bubbles * (1.0 - math.exp(-leak_per_h(p, volume) * h / parts))
        co2 += made / parts - out
        lost += out
    return float(choose(quiet, little, min(lost, y[CO2] + made)))


@compiled
def _grow(y: Array, p: Array, osm: float, growth: float, h: float) -> float:
    """Grow yeast over `h` hours, in place; returns the yeast grown [g].

    dX/dt = r b⁴ X N/N0, dN = -dX: with X + N constant a logistic, taken exactly; b is readiness at half time.
    r falls with the solutes by 1/(1 + (m/m50)⁵).
    """
    half = kept(0.5 * p[P_GROWTH_LAG] * growth * h)
    unready = 1.0 - y[READY_TO_GROW]
    ready2 = (1.0 - unready * half) ** 2
    y[READY_TO_GROW] = 1.0 - unready * half * half
    left = y[GROWTH_LEFT]
    over = osm * p[P_GROWTH_PER_HALF_OSM]
    over2 = over * over
    rate = p[P_GROWTH] * growth * ready2 * ready2 / (1.0 + over2 * over2 * over)
    both = y[YEAST] + left
    shrink = kept(rate * both / p[P_GROWTH_ALLOWANCE] * h)
    after = left - both * left * shrink / max(1e-300, y[YEAST] + left * shrink)
    grown = choose((left < 1e-9) | (y[YEAST] <= 0.0) | (growth <= 0.0), 0.0, after)
    y[YEAST] += grown
    y[GROWTH_LEFT] -= grown
    return float(grown)


@compiled
def ferment_step(y: Array, p: Array, temperature_c: float, dt_s: float) -> float:
    """Advance a cell's ferment vector (NY,) in place by `dt_s` [s, up to 300] at `temperature_c` [°C].

    Returns its heat [W per kg dough], the mean over the step. Readiness and starch are taken exactly over the
    step, sugar uptake backward in time, growth and leak by their means over the step.
    """
    speeds = np.empty(SPEEDS)
    speeds_at(p, temperature_c, speeds)
    return ferment_at(y, p, speeds, dt_s)


@compiled
def speeds_at(p: Array, temperature_c: float, speeds: Array) -> None:
    """Fill everything that depends on temperature alone, so that a kernel can keep it in a table.

    Gas law, growth law, amylase relative to 30 °C, CO2 held by the liquids [mmol], volume of a mmol of gas [mL], death
    of yeast [1/h].
    """
    pressure = gas_pressure_kpa(p, temperature_c)
    speeds[0] = gas_law(temperature_c, p)
    speeds[1] = growth_law(temperature_c, p)
    speeds[2] = arrhenius(temperature_c, p[P_AMYLASE_EA], 30.0)
    speeds[3] = co2_held_mmol(p, temperature_c, pressure)
    speeds[4] = GAS_KPA_ML_PER_MMOL_K * (temperature_c + 273.15) / pressure
    speeds[5] = death_law(temperature_c, p)


@compiled
def ferment_at(y: Array, p: Array, speeds: Array, dt_s: float) -> float:
    """`ferment_step` with what depends on temperature given by `speeds_at`."""
    h = dt_s / 3600.0
    gas_rate = speeds[0]

    # readiness: 1 - a falls exponentially; the mean over the step is what counts
    unadapted = 1.0 - y[ADAPTED]
    adapted = 1.0
    if any_of(unadapted > 1e-6):
        adapting = gas_rate / p[L_AT_26] / p[P_LAG] * h
        stays = kept(adapting)
        mean = choose(adapting > 1e-6, (1.0 - stays) / max(1e-6, adapting), 1.0)
        adapted = choose(unadapted > 1e-6, 1.0 - unadapted * mean, 1.0)
        y[ADAPTED] = choose(unadapted > 1e-6, 1.0 - unadapted * stays, y[ADAPTED])

    osm = osmolality(y, p)
    grow = _grow(y, p, osm, speeds[1], h)
    yeast = y[YEAST] - 0.5 * grow
    if any_of(speeds[5] > 0.0):
        dying = speeds[5] * h
        stays = kept(dying)
        # the mean over the step of what still lives
        yeast *= choose(dying > 1e-6, (1.0 - stays) / max(1e-6, dying), 1.0)
        y[DEAD] += y[YEAST] * (1.0 - stays)
        y[YEAST] *= stays

    drunk = max(0.0, 1.0 - y[ETHANOL] * p[P_PER_ETHANOL_STOP])
    # 1/(1 + (m/m50)^h)
    brake = p[P_STATIC] * drunk / (1.0 + math.exp(p[P_OSM_STEEP] * math.log(max(1e-9, osm) * p[P_PER_HALF_OSM])))
    demand = p[P_RATE] * gas_rate * brake * yeast * adapted * h * p[P_SUGAR_PER_CO2]

    hexose = left_after_uptake(y[HEXOSE], demand, p[P_HEXOSE_HALF])
    used = y[HEXOSE] - hexose
    sated = choose(demand > 1e-15, used / max(1e-15, demand), y[HEXOSE] / (y[HEXOSE] + p[P_HEXOSE_HALF]))
    y[HEXOSE] = hexose

    freed = y[STARCH_SUGAR] * (1.0 - kept(p[P_AMYLASE] * speeds[2] * h))
    y[STARCH_SUGAR] -= freed
    maltose = y[MALTOSE] + freed
    hungry = max(0.0, 1.0 - sated)
    half = kept(0.5 * hungry / p[P_INDUCTION] * gas_rate * h)
    unready = 1.0 - y[MALTOSE_READY]
    left = left_after_uptake(maltose, demand * hungry * (1.0 - unready * half) * p[P_MALTOSE_SPEED], p[P_MALTOSE_HALF])
    y[MALTOSE_READY] = 1.0 - unready * half * half
    used += maltose - left
    y[MALTOSE] = left

    made = used / p[P_SUGAR_PER_CO2]
    y[CO2_MADE] += made
    y[ETHANOL] += made
    lost = _leak(y, p, speeds[3], speeds[4], made, h)
    y[CO2] += made - lost
    y[CO2_LOST] += lost
    return float(made * p[P_HEAT] / p[P_DOUGH_KG] / dt_s)


@compiled
def ferment_for(y: Array, p: Array, temperature_c: float, seconds: float, step_s: float) -> None:
    """Advance one cell in place for a time at one temperature, in steps of at most `step_s` [s]."""
    steps = max(1, math.ceil(seconds / step_s))
    for _ in range(steps):
        ferment_step(y, p, temperature_c, seconds / steps)
