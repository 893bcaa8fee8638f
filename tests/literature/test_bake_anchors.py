"""Published anchors of baking beside ours. Rows marked MISS pin the size of a miss, so that a change of it is seen.

Sources are keys of evidence/data/sources-bake.toml; how each was seen stands there. "Common practice" has no source.
"""

import math
from functools import cache

import numpy as np
import pytest

from oventide.bake.colour import (
    browning_factor,
    browning_rate_1_s,
    darkening_rate_1_s,
    lysine_of,
    sugar_browning_1_s,
    sugar_path_rate_1_s,
)
from oventide.bake.crumb import setting_rate_1_s
from oventide.bake.crust import pore_conductivity_w_mk, vapour_conductance
from oventide.evidence.parameters import draw, load
from oventide.matter.milk_fat import solid_fat
from oventide.matter.properties import conductivity_bounds_w_mk, porous_conductivity_w_mk, shares_of
from oventide.matter.water import latent_heat_j_kg, saturation_pressure_pa, saturation_slope
from oventide.timeline import oven_parameters as at
from oventide.timeline.grid import graded_faces
from oventide.timeline.oven import Shares, advance_oven, oven_parameters, oven_stage, start_oven

VALUE = load("bake").value
ENRICHED = Shares(0.36, 0.085, 0.12, 0.405, 0.015, 0.015, milk_fat=0.10)
Reading = dict[str, float]


@cache
def bake(
    stages: tuple[tuple[bool, float, int], ...],
    kind: str = "convection",
    tin: str = "light_metal",
    lean: bool = False,
    kg_m2: float = 19.1,
    vapour_pa: float = 4000.0,
    cells: int = 24,
    sides: float = 0.0,
    dome: float | None = None,
) -> Reading:
    """The likely kitchen. Stages (covered, air °C, minutes), then an hour on the rack in the tin at 22 °C."""
    draws = draw([*load("bake").parameters.values(), *load("matter").parameters.values()], 1, seed=1)
    # per 100 g flour: 14 g of sugars split, 2.5 g of lactose, 20 g of egg
    sugar = 0.0 if lean else sugar_browning_1_s(draws, 14.0, 2.5, lysine_of(11.0, 1.75, 2.5), 108.0)
    gas = np.array([0.60])
    par = oven_parameters(
        ENRICHED, draws, np.array([28.0]), gas, 0.02, 0.0, browning_factor(draws), sugar_browning=sugar,
        osmoles_mol_kg_dry=0.5 if lean else 1.2, sugar_of_solution=0.03 if lean else 0.17, ethanol_kg_kg_dry=0.015,
    )  # fmt: skip
    state = start_oven(np.full((1, cells), 28.0), ENRICHED, gas, np.array([kg_m2]), graded_faces(cells))
    for covered, air_c, minutes in stages:
        seconds = 60.0 * minutes
        stage = oven_stage(
            kind, tin, covered, np.array([0.0]), np.array([air_c]), np.arange(0.0, seconds + 1, 60.0),
            np.array([seconds]), draws, vapour_pa=vapour_pa, sides_over_plan=sides,
        )  # fmt: skip
        if dome is not None:
            stage.conductances[:, at.S_DOME] = dome
        run = advance_oven(state, stage, par, keep_profiles=1)
        state = run.end
    rack = oven_stage(
        "rack", tin, False, np.array([0.0]), np.array([22.0]), np.array([0.0, 3600.0]), np.array([3600.0]), draws
    )
    cooled = advance_oven(state, rack, par)
    t, w = run.profiles[0, -1, :, 0], run.profiles[0, -1, :, 1]
    above = int(
        np.argmax(w[::-1] > 0.35 * ENRICHED.first_water)
    )  # cells of dry crust on top; the front is the next one
    wet = len(w) - 1 - above
    middles = 0.5 * (state.faces[1:] + state.faces[:-1])
    inner = (middles > 0.2) & (middles < 0.8)
    last = run.samples[0, -1]
    return {
        "core": last[at.OBS_CORE], "surface": last[at.OBS_SURFACE], "base": last[at.OBS_BASE],
        "loss": 100 * last[at.OBS_LOSS], "loss_cooled": 100 * cooled.samples[0, -1, at.OBS_LOSS],
        "colour": last[at.OBS_COLOUR_TOP], "lightness": last[at.OBS_LIGHTNESS_TOP], "set": last[at.OBS_SET],
        "front": t[wet],
        "coldest_at": float(middles[inner][np.argmin(t[inner])]),
        "spring": last[at.OBS_HEIGHT] / 1000.0 / (run.samples[0, 0, at.OBS_HEIGHT] / 1000.0),
    }  # fmt: skip


OPEN_25 = ((False, 170.0, 25),)
TIN_SIDES = 1.0  # a 20 cm square tin filled 5 cm high has as much wall as floor
COVERED_20_OPEN_10 = ((True, 170.0, 20), (False, 170.0, 10))


def test_browning_half_times() -> None:
    """zanoni-1995-browning: half way to ΔE 52 in 142 s at 210 °C and 733 s at 165 °C, from its k0 and E (read)."""
    for celsius, seconds in ((210.0, 142.0), (165.0, 733.0)):
        rate = browning_rate_1_s(celsius, VALUE("browning.k0"), VALUE("browning.energy"))
        assert math.log(2) / rate == pytest.approx(seconds, rel=0.01)
    assert VALUE("browning.asymptote") == 52.0


def test_two_browning_laws_agree_on_lean_bread() -> None:
    """zanoni-1995-browning against purlis-2009 (memory) at 180 °C, 10 min, dry: ΔE at least the fall of lightness."""
    k = browning_rate_1_s(180.0, VALUE("browning.k0"), VALUE("browning.energy"))
    delta_e = 52.0 * (1 - math.exp(-600 * k))
    fall = 85.0 * (1 - math.exp(-600 * darkening_rate_1_s(180.0, 0.3)))
    assert delta_e == pytest.approx(fall, rel=0.5)


def test_temperature_dependence_lies_in_the_published_range() -> None:
    """milk-sucrose-browning (abstract read): Q10 1.8-3.8 about 120 °C. The sugar path's is 2.3; lean bread's own 1.65.

    The path's energy, 105 kJ/mol, was chosen inside the same abstract's range: met by construction.
    """
    sugar = [sugar_path_rate_1_s(c, VALUE("browning.sugar_energy"), VALUE("browning.energy")) for c in (115.0, 125.0)]
    assert 1.8 <= sugar[1] / sugar[0] <= 3.8
    lean = [browning_rate_1_s(c, VALUE("browning.k0"), VALUE("browning.energy")) for c in (115.0, 125.0)]
    assert lean[1] / lean[0] == pytest.approx(1.65, abs=0.05)


def test_gelatinisation_times() -> None:
    """Zanoni et al. 1995 (memory): 98 % in 33, 8.4, 2.3 and 1.2 min at 70, 80, 90 and 95 °C."""
    for celsius, minutes in ((70.0, 33.0), (80.0, 8.4), (90.0, 2.3), (95.0, 1.2)):
        rate = setting_rate_1_s(celsius, VALUE("setting.k0"), VALUE("setting.energy"))
        assert -math.log(0.02) / rate / 60.0 == pytest.approx(minutes, rel=0.05)


def test_crumb_sets_where_pores_open() -> None:
    """zhang-2025 (abstract read): pores open at 71-81 °C. Heated 4 °C a minute ours is half set within that range."""
    done, celsius = 0.0, 40.0
    while done < 0.5:
        rate = setting_rate_1_s(celsius, VALUE("setting.k0"), VALUE("setting.energy"))
        done += (1 - done) * (1 - math.exp(-rate))
        celsius += 4.0 / 60.0
    assert 71.0 <= celsius <= 81.0


def test_share_of_heat_that_steam_carries() -> None:
    """zhang-2025 (abstract read): about 60 % of the crumb's conduction; within 20 points at 60-70 °C."""
    for celsius in (60.0, 70.0):
        p = saturation_pressure_pa(celsius)
        g = vapour_conductance(celsius, p, 101325.0, 0.6 * VALUE("crumb.open_pores"))
        steam = g * latent_heat_j_kg(celsius) * p * saturation_slope(celsius)
        ceiling = VALUE("crumb.conduction_ceiling")
        steam = 0.9 * steam * ceiling / (steam + ceiling)
        wet = sum(conductivity_bounds_w_mk(shares_of(*ENRICHED[:6]), 70.0)) / 2
        plain = porous_conductivity_w_mk(wet, pore_conductivity_w_mk(celsius, VALUE("crust.pore")), 0.6)
        assert steam / (steam + plain) == pytest.approx(0.60, abs=0.20)


def test_crust_conductivity() -> None:
    """zanoni-1995-diffusivity (abstract read): crust, porosity 75 %: α exp(0.0062·75-15.30), 220 kg/m3: 0.135 W/mK.

    The crust factor 1.35 was fitted to this row; without it the pores' radiation alone brings 0.10 (sheet: 0.074).
    """
    published = math.exp(0.0062 * 75 - 15.30) * (895 - 9.0 * 75) * 1700.0
    dry = sum(conductivity_bounds_w_mk(shares_of(0.0, *ENRICHED[1:6]), 70.0)) / 2
    bare = porous_conductivity_w_mk(dry, pore_conductivity_w_mk(130.0, VALUE("crust.pore")), 0.75)
    assert bare * VALUE("crust.conductivity_factor") == pytest.approx(published, rel=0.15)
    assert bare == pytest.approx(0.10, abs=0.015)


def test_front_stands_near_the_boiling_point() -> None:
    """zanoni-1993 (abstract read): evaporation front at 100 °C. crust.open_pores was chosen by it."""
    assert bake(OPEN_25, cells=96)["front"] == pytest.approx(100.0, abs=4.0)


def test_crumb_tends_to_100_and_surface_to_the_oven() -> None:
    """zanoni-1993 (abstract read): crumb tends to 100 °C; the surface has no plateau and tends to the oven's."""
    long = bake(((False, 200.0, 40),))
    assert long["core"] == pytest.approx(100.0, abs=1.0)
    assert 150.0 < long["surface"] < 200.0


def test_coldest_point_of_a_tin_loaf() -> None:
    """tin-loaf-conference (excerpt read): coldest a little below the centre. Still oven, open tin, on the way up."""
    at_height = bake(((False, 180.0, 25),), kind="static")["coldest_at"]
    assert 0.38 < at_height < 0.58


def test_fan_against_static() -> None:
    """fan-rule (read): 14 °C; common practice 20 °C. A still oven 12 °C higher colours alike, 24 °C cooks alike.

    The middle of the two is the rule's; colour alone is 2 °C below it and the core alone 4 °C above.
    """
    steps = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0)
    fan, still = bake(OPEN_25), [bake(((False, 170.0 + step, 25),), kind="static") for step in steps]
    colour, core = (float(np.interp(fan[name], [s[name] for s in still], steps)) for name in ("colour", "core"))
    assert colour == pytest.approx(12.0, abs=1.5)
    assert core == pytest.approx(24.0, abs=2.0)
    assert 14.0 <= 0.5 * (colour + core) <= 20.0


def test_lean_bread_browns_as_lean_bread_does() -> None:
    """Common practice: lean rolls, 220-230 °C, about 20 min, golden. jusoh-2008 (abstract read): crust L* below 66."""
    lean = bake(((False, 225.0, 20),), lean=True)
    assert 20.0 <= lean["colour"] <= 38.0
    assert lean["lightness"] < 66.0


def test_open_tin_of_enriched_buns() -> None:
    """Common practice: enriched buns, fan 170 °C, open, about 25 min: done and golden, 6-10 % lost with cooling.

    With the tin's sides, 6.5 %: inside. The slab alone, its sides tight, loses 5.6 %.
    """
    buns = bake(OPEN_25, sides=TIN_SIDES)
    assert buns["core"] > 94.0
    assert buns["set"] > 0.98
    assert 20.0 <= buns["colour"] <= 38.0
    assert 6.0 <= buns["loss_cooled"] <= 10.0
    assert bake(OPEN_25)["loss_cooled"] == pytest.approx(5.6, abs=0.2)


def test_covered_then_open_is_done_but_too_pale() -> None:
    """Common practice: nine 85 g buns, 20 cm tin, fan 170 °C, 20 min covered, 10 open: done, golden, 6-10 %.

    Done: yes. MISS in colour: ΔE 16 (light golden) where golden begins at 20. MISS in loss: 5.8 %, 0.2 points short.
    """
    buns = bake(COVERED_20_OPEN_10, sides=TIN_SIDES)
    assert buns["core"] > 94.0
    assert buns["set"] > 0.98
    assert buns["colour"] == pytest.approx(16.0, abs=0.7)
    assert buns["loss_cooled"] == pytest.approx(5.8, abs=0.15)
    assert buns["base"] < 120.0  # the tried formulation had 134 °C and a bone-dry base


def test_loss_of_a_single_bun() -> None:
    """bun-loss-forum (read): 84 g to 75 g, 10.7 %; bake-out-dictionary (read): 9.8-11.5 % with cooling.

    One bun on a sheet, fan 190 °C, 15 min: half a spheroid of 230 mL, 52 mm in radius, 0.7 as high, so 9.8 kg/m2 and
    1.5 times its plan. 12.1 %: 0.6 points above the dictionary. As a slab of 12 kg/m2 without sides it was 8.5 %.
    """
    bun = bake(((False, 190.0, 15),), kg_m2=9.8, dome=1.5)["loss_cooled"]
    assert bun == pytest.approx(10.7, abs=2.0)
    assert bun == pytest.approx(12.1, abs=0.3)


def test_steam_in_the_air_alone_does_not_pale() -> None:
    """altamirano-2012 (abstract read): more steam, less colour. Vapour in the air alone moves ours by +0.2 ΔE.

    It warms the skin early. The sign comes from the heat that steam takes from the oven (validation/rows/bake.py).
    """
    wetter = bake(OPEN_25, vapour_pa=15000.0)["colour"] - bake(OPEN_25)["colour"]
    assert wetter == pytest.approx(0.2, abs=0.25)


def test_spring() -> None:
    """Common practice: tin bread and buns spring by some 10-40 % of their height in the oven."""
    assert 1.10 <= bake(OPEN_25)["spring"] <= 1.40


def test_butter_is_liquid_long_before_the_crumb_sets() -> None:
    """guelph-milk-lipids (read): all melted at 37 °C; setting begins above 60 °C."""
    assert solid_fat(38.0, 0.05) == 0.0
    assert setting_rate_1_s(60.0, VALUE("setting.k0"), VALUE("setting.energy")) < 1e-3
