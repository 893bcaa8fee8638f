"""The film of a glaze on a cooling bun: its own warmth, its drying, and the sugar that crystallises in it.

    C dT/dt = U (T_in - T) - h (T - T_room) - L J        J = k_v (a_w p_sat(T) - p_room)

U is the conductance of the crust under the film, T_in the temperature beneath it: the one that would give the bare
crust's temperature without a film. k_v follows from the convective part of h by Chilton & Colburn. Drying cools the
film: on a hot bun by 10 to 20 K. Implicit Euler for T, the water's loss taken at the new temperature.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import load
from oventide.matter.air import mass_film_kg_m2spa
from oventide.matter.syrup import (
    SUCROSE_CRYSTAL_KG_M3,
    Values,
    saturated_sucrose,
    slurry_factor,
    syrup_density_kg_m3,
    syrup_viscosity_pa_s,
    syrup_water_activity,
)
from oventide.matter.water import latent_heat_j_kg, saturation_pressure_pa

Array = NDArray[np.float64]

_RADIATION_W_M2K = 5.9
"""ε 4 σ T³ at 35 °C with ε 0.9: what a warm surface radiates to the room."""
_SEED_SHARE, _UNSEEDED = load("tin").value("glaze.seed_share"), load("tin").value("glaze.unseeded")
_LONGEST_STEP_S = 90.0
_TABLE_C = np.linspace(-20.0, 120.0, 1401)
_TABLE_LN_PA = np.log([saturation_pressure_pa(float(t)) for t in _TABLE_C])


def _saturation(temperature_c: Array) -> Array:
    """Saturation pressure [Pa] of an array, off a table of 0.1 K: ln p by straight lines is good to 1e-5."""
    return np.asarray(np.exp(np.interp(temperature_c, _TABLE_C, _TABLE_LN_PA)))


@dataclass
class Film:
    """What lies on a square metre of crust, (M,) each; `swollen_m3_m2` is the volume of fat, starch and protein."""

    water_kg_m2: Array
    sugar_kg_m2: Array
    other_kg_m2: Array
    swollen_m3_m2: Array


def dry(
    film: Film, sample_s: Array, bare_c: Array, air_film_w_m2k: Values, room_vapour_pa: Values, room_c: Values,
    known: dict[str, Array],
) -> Array:  # fmt: skip
    """Seconds until the film has set (M,), nan where it has not. `bare_c` (M, K) is the crust's without a film."""
    members = bare_c.shape[0]
    convection = np.broadcast_to(np.asarray(air_film_w_m2k, dtype=float), (members,))
    vapour = np.broadcast_to(np.asarray(room_vapour_pa, dtype=float), (members,))
    room = np.broadcast_to(np.asarray(room_c, dtype=float), (members,))
    vapour_film = mass_film_kg_m2spa(1.0, 101325.0) * convection
    outside, crust = convection + _RADIATION_W_M2K, known["glaze.crust_conductance"]
    water = film.water_kg_m2.copy()
    crystals = _beyond(film.sugar_kg_m2, water, bare_c[:, 0])
    t = np.minimum(bare_c[:, 0], 95.0)
    done = np.full(members, np.nan)
    now = 0.0
    for k in range(len(sample_s)):
        while True:
            dissolved = film.sugar_kg_m2 - crystals
            solids = np.clip(dissolved / np.maximum(1e-12, dissolved + water), 0.0, 0.95)
            volume = (dissolved + water) / syrup_density_kg_m3(solids) + film.swollen_m3_m2
            thick = crystals / SUCROSE_CRYSTAL_KG_M3
            viscosity = (
                syrup_viscosity_pa_s(solids, t)
                * slurry_factor((thick + film.swollen_m3_m2) / (volume + thick), known["glaze.packed"])
                * known["glaze.viscosity_factor"]
            )
            done = np.where(np.isnan(done) & (viscosity >= known["glaze.set_at"]), now, done)
            if not np.isnan(done).any():
                return done
            if now >= sample_s[k] - 1e-9:
                break
            step = min(_LONGEST_STEP_S, max(4.0, now / 8.0), float(sample_s[k]) - now)
            now += step
            share = (now - sample_s[k - 1]) / (sample_s[k] - sample_s[k - 1])
            bare = bare_c[:, k - 1] + share * (bare_c[:, k] - bare_c[:, k - 1])
            beneath = bare + outside / crust * (bare - room)
            activity = np.asarray(syrup_water_activity(solids))
            heat = 4190.0 * water + 1250.0 * film.sugar_kg_m2 + 1900.0 * film.other_kg_m2
            # implicit: drying's slope with temperature is part of the conductance
            p = _saturation(t)
            slope = vapour_film * activity * p * 0.05
            evaporating = vapour_film * (activity * p - vapour)
            latent = latent_heat_j_kg(50.0)
            gain = crust * (beneath - t) - outside * (t - room) - latent * evaporating
            change = gain / (heat / step + crust + outside + latent * slope)
            t = np.clip(t + change, 1.0, 95.0)
            lost = step * np.maximum(0.0, evaporating + slope * change)
            water = np.maximum(1e-6, water - np.minimum(lost, 0.3 * water))
            aim = _beyond(film.sugar_kg_m2, water, t)
            rate = (
                known["glaze.crystallises"] / 60.0 * np.where(crystals > _SEED_SHARE * film.sugar_kg_m2, 1.0, _UNSEEDED)
            )
            crystals = np.where(aim > crystals, aim - (aim - crystals) * np.exp(-rate * step), aim)
    return done


def _beyond(sugar: Array, water: Array, temperature_c: Array) -> Array:
    """Sugar that the water can't hold [kg/m2]."""
    most = saturated_sucrose(temperature_c)
    return np.asarray(np.maximum(0.0, sugar - water * most / (1.0 - most)))
