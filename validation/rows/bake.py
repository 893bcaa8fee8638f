"""The oven beside what was published: front, crust, browning, setting, loss, tins, fan and still oven, door, steam."""

import math

import numpy as np

from oventide.bake.colour import browning_rate_1_s, lysine_of, sugar_path_rate_1_s
from oventide.bake.crumb import boiling_with_solutes_c, setting_rate_1_s
from oventide.bake.crust import pore_conductivity_w_mk, vapour_conductance
from oventide.bake.recovery import door_drop
from oventide.evidence.parameters import load
from oventide.matter.properties import conductivity_bounds_w_mk, porous_conductivity_w_mk, shares_of
from oventide.matter.water import latent_heat_j_kg, saturation_pressure_pa, saturation_slope
from validation.bakes import COVERED_20_OPEN_10, LEAN, OPEN_25, bake, bun_core, like, minutes_to_five_logs
from validation.model import Check

_V = load("bake").value
_K0, _E = _V("browning.k0"), _V("browning.energy")
_POROSITIES = (60.0, 65.0, 70.0, 75.0, 80.0)


def _crust(porosity: float) -> float:
    dry = sum(conductivity_bounds_w_mk(shares_of(0.0, *LEAN[1:6]), 70.0)) / 2
    bare = porous_conductivity_w_mk(dry, pore_conductivity_w_mk(130.0, _V("crust.pore")), porosity / 100)
    return float(bare * _V("crust.conductivity_factor"))


def _steam_w_mk(celsius: float, porosity: float) -> float:
    """Heat that condensing vapour moves in wet crumb [W/(m·K)]."""
    p = saturation_pressure_pa(celsius)
    g = vapour_conductance(celsius, p, 101325.0, porosity * _V("crumb.open_pores"))
    steam = g * latent_heat_j_kg(celsius) * p * saturation_slope(celsius)
    ceiling = _V("crumb.conduction_ceiling")
    return float((1.0 - _V("crumb.go_share")) * steam * ceiling / (steam + ceiling))


def _plain_w_mk(celsius: float, porosity: float) -> float:
    wet = sum(conductivity_bounds_w_mk(shares_of(*LEAN[:6]), celsius)) / 2
    return float(porous_conductivity_w_mk(wet, pore_conductivity_w_mk(celsius, _V("crust.pore")), porosity))


def _share_of_steam() -> float:
    steam, plain = _steam_w_mk(70.0, 0.6), _plain_w_mk(70.0, 0.6)
    return 100.0 * steam / (steam + plain)


def _set_at(share: float) -> float:
    """Temperature at which the share has set, heated at 4 °C a minute, without sugar."""
    done, celsius = 0.0, 40.0
    while done < share:
        done += (1 - done) * (1 - math.exp(-setting_rate_1_s(celsius, _V("setting.k0"), _V("setting.energy"))))
        celsius += 4.0 / 60.0
    return celsius


def _milk_minutes(celsius: float) -> float:
    rate = _V("browning.milk_rate") * sugar_path_rate_1_s(celsius, _V("browning.sugar_energy"), _E)
    return -math.log(1.0 - 35.0 / _V("browning.asymptote")) / rate / 60.0


def _q10_of_sugar() -> float:
    warm, cool = (sugar_path_rate_1_s(c, _V("browning.sugar_energy"), _E) for c in (125.0, 115.0))
    return float(warm / cool)


def _lean_from_milk() -> float:
    """Rate of lean crumb at 165 °C from condensed milk's at 120 °C, by sugar times lysine and our own law [1/s]."""
    brake = 1.0 - (1.0 - _V("browning.wet_share")) * (_V("browning.milk_activity") - 0.7) / 0.3
    of_milk = _V("browning.disaccharide_share") * _V("browning.milk_lactose") * _V("browning.milk_lysine")
    lysine = lysine_of(12.0) / 90.0
    lean = (1.5 + _V("browning.disaccharide_share") * 1.5) / 90.0 * lysine
    here = _V("browning.milk_rate") / brake * lean / of_milk
    return float(here * sugar_path_rate_1_s(165.0, _V("browning.sugar_energy"), _E))


def _sweet_step() -> float:
    """How much cooler than lean at 225 °C, 20 min, the enriched dough comes out in the same colour, same time [K]."""
    lean = bake(((False, 225.0, 20.0),), lean=True)["colour"]
    steps = (160.0, 170.0, 180.0, 190.0, 200.0)
    return 225.0 - float(np.interp(lean, [bake(((False, c, 20.0),))["colour"] for c in steps], steps))


def _sugar_boils(*per_cent: float) -> tuple[float, ...]:
    return tuple(boiling_with_solutes_c(101325.0, p / (100.0 - p) / 0.3423) for p in per_cent)


def _bun_at_98() -> float:
    minutes, core = bun_core()
    return float(minutes[np.argmax(core >= 98.0)])


def _steam_colour() -> tuple[float, ...]:
    return tuple(
        bake(((False, 230.0, 20.0),), kind="deck", lean=True, in_tin=False, steam_kg=kg)["colour"]
        for kg in (0.1, 0.2, 0.4)
    )


_FALLING = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0)
_LOWER = (-35.0, -30.0, -25.0, -20.0, -15.0, -10.0, -5.0, 0.0)
_ROLL = ((False, 190.0, 15.0),)

CHECKS = (
    Check(
        "bake.front", "bake", "evaporation front under the crust, open tin", "zanoni-1993", "abstract", (100.0,),
        lambda: bake(OPEN_25, cells=96)["front"], "°C", 4.0, blind=False, slow=True,
        note="The crust's vapour passage was chosen by it.",
    ),
    Check(
        "bake.crumb-end", "bake", "what the crumb tends to, 40 min at 200 °C", "zanoni-1993", "abstract", (100.0,),
        lambda: bake(((False, 200.0, 40.0),))["core"], "°C", 1.5, blind=True,
        note="Enriched dough: its sugar and salt raise the boiling point by about 1 °C.",
    ),
    Check(
        "bake.crust-conductivity", "bake", "conductivity of crust by porosity", "zanoni-1995-diffusivity",
        "abstract: diffusivity and density by porosity; heat capacity 1700 J/kgK is ours",
        tuple(math.exp(0.0062 * e - 15.30) * (895 - 9.0 * e) * 1700.0 for e in _POROSITIES),
        lambda: [_crust(e) for e in _POROSITIES], "W/(m·K)", 0.25, blind=False, kind="curve", relative=True,
        x=_POROSITIES, x_name="porosity [%]", note="The factor 1.35 was chosen at 75 %; the other points follow.",
    ),
    Check(
        "bake.crumb-conductivity", "bake", "conductivity of crumb by porosity, at 60 °C", "zanoni-1995-diffusivity",
        "abstract: diffusivity and density by porosity; heat capacity 2700 J/kgK is ours",
        tuple(math.exp(0.01 * e - 15.25) * (979 - 9.9 * e) * 2700.0 for e in _POROSITIES),
        lambda: [_plain_w_mk(60.0, e / 100) + _steam_w_mk(60.0, e / 100) for e in _POROSITIES],
        "W/(m·K)", 0.5, blind=True, kind="curve", relative=True, x=_POROSITIES, x_name="porosity [%]",
        note="The abstract gives no temperature; ours climbs threefold from 25 to 70 °C.",
    ),
    Check(
        "bake.steam-share", "bake", "heat carried by condensing steam in crumb", "zhang-2025", "abstract", (60.0,),
        _share_of_steam, "%", 20.0, blind=True,
    ),
    Check(
        "bake.pores-open", "bake", "crumb half set, heated 4 °C a minute", "zhang-2025", "abstract: pores open",
        (71.0, 81.0), lambda: _set_at(0.5), "°C", 0.0, blind=True, kind="range",
    ),
    Check(
        "bake.starch-set", "bake", "wheat starch has gelatinised (98 %), heated 4 °C a minute", "bread-chart", "chart",
        (80.0, 90.0), lambda: _set_at(0.98), "°C", 0.0, blind=True, kind="range",
        miss="1.5 °C late: the law's last per cents take long; 90 % has set at 87.5 °C.",
    ),
    Check(
        "bake.set-times", "bake", "minutes to 98 % set", "zanoni-1995-browning", "companion kinetics, from memory",
        (33.0, 8.4, 2.3, 1.2),
        lambda: [
            -math.log(0.02) / setting_rate_1_s(c, _V("setting.k0"), _V("setting.energy")) / 60.0
            for c in (70.0, 80.0, 90.0, 95.0)
        ],
        "min", 0.05, blind=False, kind="curve", relative=True, x=(70.0, 80.0, 90.0, 95.0), x_name="temperature [°C]",
        note="By construction: the law is theirs.",
    ),
    Check(
        "bake.browning-half-times", "bake", "seconds half way to burnt, dried lean crumb", "zanoni-1995-browning",
        "abstract: k0 and E; times reckoned from them by hand", (2128.0, 1369.0, 733.0, 339.0, 142.0, 64.0, 42.0),
        lambda: [
            math.log(2) / browning_rate_1_s(c, _K0, _E) for c in (140.0, 150.0, 165.0, 185.0, 210.0, 235.0, 250.0)
        ],
        "s", 0.02, blind=False, kind="curve", relative=True, x=(140.0, 150.0, 165.0, 185.0, 210.0, 235.0, 250.0),
        x_name="temperature [°C]", note="By construction: the law is theirs.",
    ),
    Check(
        "bake.sugar-q10", "bake", "Q10 of browning by sugars, about 120 °C", "milk-sucrose-browning", "abstract",
        (1.8, 3.8), _q10_of_sugar, "1", 0.0, blind=False, kind="range",
        note="The activation energy was chosen inside the range of the same abstract.",
    ),
    Check(
        "bake.caramel-q10", "bake", "Q10 of browning, glucose with glycine, 60-140 °C", "caramel-browning", "abstract",
        (1.68, 2.85), _q10_of_sugar, "1", 0.0, blind=False, kind="range",
        note="The activation energy lies between this abstract's 105 and 145 kJ/mol, at its lower end.",
    ),
    Check(
        "bake.condensed-milk-100", "bake", "condensed milk in boiling water, light to dark brown", "condensed-milk",
        "2 to 4 h, less half an hour to warm the tin", (90.0, 210.0), lambda: _milk_minutes(100.0), "min", 0.0,
        blind=False, kind="range", note="The rate was chosen by it.",
    ),
    Check(
        "bake.condensed-milk-120", "bake", "condensed milk in a pressure cooker", "condensed-milk",
        "15-20, 25, 40, 40-50 min", (15.0, 50.0), lambda: _milk_minutes(119.0), "min", 0.0, blind=False, kind="range",
        note="The rate was chosen by both.",
    ),
    Check(
        "bake.lean-from-milk", "bake", "rate of lean crumb at 165 °C, carried over from condensed milk",
        "zanoni-1995-browning", "abstract: k0 and E", (9.4e-4,), _lean_from_milk, "1/s", 0.5, blind=True,
        relative=True, note="By sugar times lysine; sugars of lean crumb (1.5 g hexose, 1.5 g maltose) are guessed.",
    ),
    Check(
        "bake.lean-golden", "bake", "lean rolls, fan 225 °C, 20 min: golden", "common-practice", "", (20.0, 38.0),
        lambda: bake(((False, 225.0, 20.0),), lean=True)["colour"], "ΔE", 0.0, blind=True, kind="range",
    ),
    Check(
        "bake.lean-lightness", "bake", "crust of commercial loaves, L*", "jusoh-2008", "abstract: below 66",
        (40.0, 66.0), lambda: bake(((False, 225.0, 20.0),), lean=True)["lightness"], "L*", 0.0, blind=True,
        kind="range", note="The lower end is ours: dark brown.",
        miss="0.4 too light: lean bread at its palest golden.",
    ),
    Check(
        "bake.sweet-cooler", "bake", "how much cooler sweet dough bakes for like colour and time", "common-practice",
        "", (40.0,), _sweet_step, "K", 15.0, blind=True,
        miss="57 K: the rate carried over from condensed milk is half as much again too fast here; its prior spans "
        "more than that, and covered buns ask for the opposite.",
    ),
    Check(
        "bake.open-golden", "bake", "enriched buns, open tin, fan 170 °C, 25 min: golden", "common-practice", "",
        (20.0, 38.0), lambda: bake(OPEN_25)["colour"], "ΔE", 0.0, blind=True, kind="range",
    ),
    Check(
        "bake.covered-golden", "bake", "enriched buns, fan 170 °C, 20 min covered, 10 open: golden", "common-practice",
        "", (20.0, 38.0), lambda: bake(COVERED_20_OPEN_10)["colour"], "ΔE", 0.0, blind=True, kind="range",
        miss="The skin is at 73 °C when the cover comes off and at 122 °C ten minutes later; how far a cover leaks "
        "and how near it lies to the tops decides (ΔE 22 with three times the leak).",
    ),
    Check(
        "bake.open-loss", "bake", "enriched buns in a 20 cm tin, open, loss with cooling", "common-practice",
        "remembered", (6.0, 10.0), lambda: bake(OPEN_25, sides=1.0)["loss_cooled"], "%", 0.0, blind=True, kind="range",
    ),
    Check(
        "bake.covered-loss", "bake", "the same, 20 min covered and 10 open", "common-practice", "remembered",
        (6.0, 10.0), lambda: bake(COVERED_20_OPEN_10, sides=1.0)["loss_cooled"], "%", 0.0, blind=True, kind="range",
        miss="0.2 points short: a cool wet skin, as for its colour.",
    ),
    Check(
        "bake.roll-loss", "bake", "one 84 g roll on a sheet, fan 190 °C, 15 min, loss with cooling", "bun-loss-forum",
        "84 g to 75 g", (10.7,), lambda: bake(_ROLL, kg_m2=9.8, dome=1.5)["loss_cooled"], "%", 2.0, blind=True,
        note="Shape guessed: half a spheroid of 230 mL, 52 mm in radius, 0.7 as high; the oven is not given.",
    ),
    Check(
        "bake.roll-loss-dictionary", "bake", "the same roll", "bake-out-dictionary", "entry", (9.8, 11.5),
        lambda: bake(_ROLL, kg_m2=9.8, dome=1.5)["loss_cooled"], "%", 1.5, blind=True, kind="range",
        note="The entry is for bread pieces of every size.",
    ),
    Check(
        "bake.small-loaf-loss", "bake", "a 314 g loaf, free, fan 200 °C, 30 min, loss with cooling",
        "sourdough-forum-2007", "314 g to 267 g", (15.0,),
        lambda: bake(((False, 200.0, 30.0),), lean=True, kg_m2=15.2, dome=1.5)["loss_cooled"], "%", 3.0, blind=True,
        note="Shape, oven and minutes are guessed.",
    ),
    Check(
        "bake.fan-colour", "bake", "how much higher a still oven is set for like colour", "fan-rule",
        "14 °C; 20 by common practice", (14.0, 20.0),
        lambda: like("colour", bake(OPEN_25)["colour"], _FALLING, "static", "light_metal"), "K", 0.0, blind=False,
        kind="range", miss="2 °C low: walls that radiate colour a skin more than they cook.",
        note="Looked at while the walls' 20 K and the floor's 30 K were assumed.",
    ),
    Check(
        "bake.fan-core", "bake", "the same for a like core", "fan-rule", "14 °C; 20 by common practice", (14.0, 20.0),
        lambda: like("core", bake(OPEN_25)["core"], _FALLING, "static", "light_metal"), "K", 0.0, blind=False,
        kind="range", miss="4 °C high: the middle of colour and core is the rule's.",
    ),
    Check(
        "bake.dark-tin", "bake", "how much lower a dark tin is set for a like base", "dark-tin-rule", "25 °F", (14.0,),
        lambda: -like("colour_base", bake(OPEN_25)["colour_base"], _LOWER, "convection", "dark_metal"), "K", 8.0,
        blind=True, note="Fan oven, 25 min; the rule is for any oven.",
    ),
    Check(
        "bake.glass-tin", "bake", "how much lower a glass dish is set for a like base", "dark-tin-rule", "25 °F",
        (14.0,), lambda: -like("colour_base", bake(OPEN_25)["colour_base"], _LOWER, "convection", "glass"), "K", 8.0,
        blind=True, note="Fan oven, 25 min; the rule is for any oven.",
    ),
    Check(
        "bake.coldest-point", "bake", "where a tin loaf is coldest, still oven, half way", "tin-loaf-conference",
        "a little below the centre", (0.40, 0.50),
        lambda: bake(((False, 180.0, 25.0),), kind="static", cells=48)["coldest_at"], "of the height", 0.0, blind=True,
        kind="range", note="'A little' is read as up to a tenth of the height.",
    ),
    Check(
        "bake.late-surface", "bake", "surface of a loaf at the end, deck falling from 260 to 190 °C",
        "deck-surface", "not above 160 °C", (110.0, 160.0),
        lambda: bake(((False, 260.0, 40.0),), kind="deck", lean=True, kg_m2=30.0, in_tin=False, fall_c=70.0)["surface"],
        "°C", 0.0, blind=True, kind="range", note="Loaf and minutes are guessed; the lower end is ours.",
    ),
    Check(
        "bake.door-30-s", "bake", "air lost in 30 s with the door open, from 177 °C", "oven-door", "150 °F and more",
        (83.0,), lambda: 155.0 * float(door_drop(30.0, _V("oven.door_time"))), "K", 5.0, blind=False,
        note="The door's time was chosen by it.",
    ),
    Check(
        "bake.door-quick", "bake", "air lost when the door is opened for 10 s", "oven-door", "50-100 °F", (28.0, 55.0),
        lambda: 155.0 * float(door_drop(10.0, _V("oven.door_time"))), "K", 0.0, blind=True, kind="range",
    ),
    Check(
        "bake.steam-colour", "bake", "colour lost from 100 to 400 mL of steam, lean, deck 230 °C, 20 min",
        "altamirano-2012", "abstract: less colour with more steam", (0.05, 15.0),
        lambda: _steam_colour()[0] - _steam_colour()[2], "ΔE", 0.0, blind=True, kind="range",
        note="Only the sign is published; ours comes from the heat that steam takes out of the oven.",
    ),
    Check(
        "bake.sugar-boiling", "bake", "boiling point of sugar syrup", "food-tables", "from memory",
        (100.1, 100.3, 100.6, 101.0, 101.8, 103.0), lambda: _sugar_boils(10, 20, 30, 40, 50, 60), "°C", 1.0,
        blind=True, kind="curve", x=(10, 20, 30, 40, 50, 60), x_name="sucrose [% of the syrup]",
    ),
    Check(
        "bake.bun-reaches-100", "bake", "hamburger bun, 218 °C: minutes until the crumb is about 100 °C", "bun-bake",
        "abstract: about 100 °C during the first 8 min", (8.0,), _bun_at_98, "min", 1.5, blind=True,
        note="Size, pan and flour are guessed; 'about 100' is read as 98.",
    ),
    Check(
        "bake.bun-plateau", "bake", "the same bun: crumb from then on", "bun-bake",
        "abstract: about 100 °C until taken out at 13 min", (100.0,) * 6,
        lambda: list(np.interp((8, 9, 10, 11, 12, 13), *bun_core())), "°C", 1.5, blind=True, kind="curve",
        x=(8, 9, 10, 11, 12, 13), x_name="time [min]",
    ),
    Check(
        "bake.bun-salmonella", "bake", "the same bun: minutes to five decades of Salmonella at the core", "bun-bake",
        "abstract: 6.0 min; D 3.14 min at 61 °C, z 6.58 °C", (6.0,), lambda: minutes_to_five_logs(3.14, 6.58), "min",
        1.5, blind=True, note="Their germ times are of the whole bun, ours of its coldest point.",
    ),
    Check(
        "bake.bun-faecium", "bake", "the same bun: minutes to five decades of Enterococcus faecium", "bun-bake",
        "abstract: 7.75 min; D 14.72 min at 61 °C, z 6.25 °C", (7.75,), lambda: minutes_to_five_logs(14.72, 6.25),
        "min", 1.5, blind=True,
        miss="5.3 min: ours runs from 75 to 95 °C in two minutes, so that a germ five times as tough lives a quarter "
        "of a minute longer, theirs 1.75 min.",
    ),
    Check(
        "bake.english-muffin", "bake", "English muffin, 204 °C, 18 min: highest crumb temperature", "muffin-bake",
        "abstract: 99 °C", (99.0,),
        lambda: bake(((False, 204.4, 18.0),), lean=True, kg_m2=9.4, altitude_m=230.0)["core"], "°C", 1.0, blind=True,
        note="60 g on 90 mm, guessed; 230 m up, where the authors' university is.",
    ),
)  # fmt: skip
