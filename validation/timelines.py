"""Random timelines, and what must balance over each: sugar, CO2, water and heat, hand-overs and oven door included.

A timeline is run as the program runs it. The states that its kernels are given and give back are looked at on the
way; nothing in the kernels knows of it.
"""

import random
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any
from unittest.mock import patch

import numpy as np
from numpy.typing import NDArray

from oventide.bake.loss import ethanol_gone
from oventide.dough import state as s
from oventide.errors import Refusal
from oventide.forecast.foresee import ensemble_for
from oventide.formula.model import Component, Formula, Line
from oventide.kitchen.complete import complete
from oventide.kitchen.model import Kitchen
from oventide.makeup.model import MakeUp, Tin
from oventide.matter.milk_fat import milk_fat_curves
from oventide.timeline import before_oven, through_oven
from oventide.timeline import oven_parameters as at
from oventide.timeline.batch import Batch, batch_of
from oventide.timeline.door import gas_at_door, shares_of_composition
from oventide.timeline.hold import (
    OBS_BOTTOM_C,
    OBS_RISE,
    OBS_TOP_C,
    advance_hold,
    curve_temperatures_c,
    solid_in_balance,
)
from oventide.timeline.oven import advance_oven
from oventide.timeline.oven_step import cell_energy
from oventide.timeline.procedure import Procedure, Product, Span, Step
from oventide.timeline.run import run_timeline
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import Trace
from oventide.units.estimate import Estimate

Array = NDArray[np.float64]
KNOWN_OPEN: dict[str, tuple[float, str]] = {}
"""Balances that do not close to 0.1 %: how far they may be open, and why."""


@dataclass(frozen=True)
class Case:
    """One timeline to run."""

    batch: Batch
    kitchen: Kitchen

    def told(self) -> str:
        """What it is, in a line, for a failing test."""
        steps = ", ".join(
            f"{step.kind} {step.minutes.likely if step.minutes else 0:g}" for step in self.batch.procedure.steps
        )
        return f"{self.batch.dough.mass_g:.0f} g; {self.kitchen.room.likely:g} °C room; {steps}"


# --- a random timeline -------------------------------------------------------------------------------------------


def _line(grams: float, ingredient: str) -> Line:
    return Line(text=ingredient, name=ingredient, ingredient=ingredient, grams=Estimate.certain(grams))


def _formula(pick: random.Random) -> Formula:
    flour = pick.uniform(280, 420)
    yeast, share = pick.choice([("yeast_instant_dry", 0.012), ("yeast_active_dry", 0.015), ("yeast_fresh", 0.035)])
    lines = [
        _line(flour, "flour_bread_unenriched"),
        _line(flour * pick.uniform(0.25, 0.4), pick.choice(["milk_whole_unfort", "water_tap"])),
        _line(flour * pick.uniform(0.02, 0.2), "egg_whole"),
        _line(flour * pick.uniform(0.01, 0.22), "sugar_granulated"),
        _line(flour * pick.uniform(0.012, 0.022), "salt_table"),
        _line(flour * share * pick.uniform(0.2, 1.6), yeast),
        _line(flour * pick.uniform(0.01, 0.35), "butter_unsalted"),
    ]
    parts = [Component(kind="dough", name="Dough", lines=tuple(lines))]
    if pick.random() < 0.6:
        inside = (_line(flour * pick.uniform(0.05, 0.2), "butter_unsalted"), _line(flour * 0.2, "sugar_brown"))
        parts.append(Component(kind="spread", name="Spread", lines=inside))
    return Formula(name="random", components=tuple(parts))


def _step(kind: str, minutes: float, **more: object) -> Step:
    span = Span(low=minutes, likely=minutes, high=minutes)
    return Step.model_validate({"kind": kind, "minutes": span, **more})


def _steps(pick: random.Random) -> tuple[Step, ...]:
    """Mixing, some of what a baker may do, and a bake that may begin too early or last too long."""
    steps = [_step("mix", pick.uniform(6, 20))]
    if pick.random() < 0.8:
        steps.append(_step("bulk", pick.uniform(10, 180), covered=pick.random() < 0.7))
    if pick.random() < 0.6:
        steps.append(_step("retard", pick.uniform(60, 1200), where="fridge", covered=True))
    if pick.random() < 0.3:
        steps.append(_step("temper", pick.uniform(10, 90)))
    if pick.random() < 0.8:
        steps.append(_step("sheet", pick.uniform(4, 20), where="bench"))
        if pick.random() < 0.7:
            steps.append(_step("spread", pick.uniform(2, 10), where="bench"))
        steps.append(_step("roll", pick.uniform(2, 10)))
        if pick.random() < 0.5:
            steps.append(_step("chill", pick.uniform(5, 40), where="fridge", covered=True))
        steps.append(_step("cut", pick.uniform(2, 8)))
    steps.append(_step("tin", pick.uniform(1, 8)))
    if pick.random() < 0.85:
        steps.append(_step("proof", pick.uniform(10, 200), covered=pick.random() < 0.8, air_c=pick.uniform(18, 38)))
    setting = pick.uniform(150, 220)
    if pick.random() < 0.5:
        steps.append(_step("bake", pick.uniform(5, 25), where="oven", air_c=setting, covered=True))
    steps.append(_step("bake", pick.uniform(5, 30), where="oven", air_c=setting))
    if pick.random() < 0.5:
        steps.append(_step("glaze", pick.uniform(1, 5)))
    if pick.random() < 0.8:
        steps.append(_step("cool", pick.uniform(5, 90)))
    return tuple(steps)


def random_case(pick: random.Random) -> Case:
    """A dough, a kitchen and a procedure. May be refused (`oventide.errors.Refusal`): a sheet too thin, say."""
    product = Product(
        name="random",
        formula=_formula(pick),
        makeup=MakeUp(
            sheet_length_mm=pick.uniform(250, 350),
            sheet_width_mm=300,
            pieces=9,
            tin=Tin(shape="rectangle", length_mm=pick.uniform(200, 240), width_mm=220),
        ),
        procedure=Procedure(steps=_steps(pick)),
    )
    kitchen = complete(
        {
            "fridge": pick.uniform(2, 8),
            "room": pick.uniform(16, 32),
            "flour": pick.uniform(16, 30),
            "tap_water": pick.uniform(5, 30),
            "oven_offset": pick.uniform(-15, 15),
            "friction": pick.uniform(0.1, 1.0),
            "altitude_m": pick.choice([0.0, 0.0, 800.0, 2200.0]),
            "bench": pick.choice(["wood", "granite", "steel"]),
            "tin": pick.choice(["light_metal", "dark_metal", "glass"]),
            "oven_kind": pick.choice(["convection", "static", "deck"]),
        }
    )
    return Case(batch_of(product), kitchen)


# --- what the kernels were given -----------------------------------------------------------------------------------


@dataclass
class Seen:
    """Calls of the two kernels, in order: what each was given, and its run."""

    hold: list[tuple[tuple[Any, ...], Any]] = field(default_factory=list)
    oven: list[tuple[tuple[Any, ...], Any]] = field(default_factory=list)


@contextmanager
def watched() -> Iterator[Seen]:
    """Look on while a timeline is run."""
    seen = Seen()
    hold, oven = before_oven.advance_hold, through_oven.advance_oven

    def hold_seen(*given: Any, **named: Any) -> Any:
        run = hold(*given, **named)
        seen.hold.append((given, run))
        return run

    def oven_seen(*given: Any, **named: Any) -> Any:
        run = oven(*given, **named)
        seen.oven.append((given, run))
        return run

    with patch.object(before_oven, "advance_hold", hold_seen), patch.object(through_oven, "advance_oven", oven_seen):
        yield seen


def run_watched(case: Case, members: int = 3, seed: int = 1) -> tuple[Trace, Seen]:
    """Run a timeline for a few kitchens and keep what its kernels were given."""
    ensemble = ensemble_for(case.kitchen, members, seed)
    with watched() as seen:
        trace = run_timeline(case.batch, case.kitchen, ensemble, Clock())
    return trace, seen


# --- balances ------------------------------------------------------------------------------------------------------


def _over_flour(values: Array, faces: Array) -> Array:
    """Mean over cells (M, n) -> (M,)."""
    return np.asarray(values @ np.diff(faces))


def _sugar(ferment: Array, p: Array, faces: Array) -> Array:
    """Sugar left, and that which the CO2 took [g per 100 g flour]."""
    left = ferment[..., s.HEXOSE] + ferment[..., s.MALTOSE] + ferment[..., s.STARCH_SUGAR]
    return _over_flour(left + ferment[..., s.CO2_MADE] * p[:, None, s.P_SUGAR_PER_CO2], faces)


def _gas(ferment: Array, faces: Array) -> Array:
    """CO2 in the dough and lost, less what was made [mmol per 100 g flour]; the same from first to last."""
    return _over_flour(ferment[..., s.CO2] + ferment[..., s.CO2_LOST] - ferment[..., s.CO2_MADE], faces)


def _worst(ours: Array, wanted: Array, scale: Array | float) -> float:
    return float(np.max(np.abs(ours - wanted) / scale))


def _outside(seen: Seen) -> dict[str, float]:
    """Sugar and CO2 from the bowl to the oven's door, through every step and hand-over."""
    first, stage, _, p, _ = seen.hold[0][0]
    sugar0, gas0 = _sugar(first.ferment, p, stage.faces), _gas(first.ferment, stage.faces)
    sugar, gas = 0.0, 0.0
    for (given, stage, _, p, _), run in seen.hold:
        for state in (given, run.end):
            made = np.maximum(1.0, _over_flour(state.ferment[..., s.CO2_MADE], stage.faces))
            sugar = max(sugar, _worst(_sugar(state.ferment, p, stage.faces), sugar0, sugar0))
            gas = max(gas, _worst(_gas(state.ferment, stage.faces), gas0, made))
    return {"sugar": sugar, "CO2": gas}


def _heat_outside(state: Any, stage: Any, physics: Any, p: Array, draws: Any) -> Array:
    """Heat of the dough over 0 °C and liquid fat [J/kg], (M,)."""
    fat = state.solid_fat
    if fat is None:
        curve = physics.solid_curve
        if curve is None:
            curve = milk_fat_curves(curve_temperatures_c(), p[:, s.P_FAT_OFFSET])
        fat = solid_in_balance(curve, state.temperature_c)
    latent = physics.milk_fat_share * draws["milk_fat.fusion_heat"]
    return np.asarray(
        physics.heat_capacity * _over_flour(state.temperature_c, stage.faces) - latent * _over_flour(fat, stage.faces)
    )


def _through_faces(run: Any, stage: Any, physics: Any, p: Array) -> Array:
    """Heat that came in through the surfaces [J/kg], (M,): film times difference, summed over dense samples."""
    members = stage.thickness_m.shape[0]
    kg = physics.density * p[:, s.P_DENSE_ML] / p[:, s.P_FRESH_ML] * stage.thickness_m
    air = np.stack([np.interp(stage.sample_s, stage.air_s, stage.air_c[m]) for m in range(members)])
    shift = 0.0 if stage.top_shift_k is None else np.asarray(stage.top_shift_k)[:, None]
    area = 1.0
    if stage.shape == "cylinder":
        kg = kg * 0.25 * np.pi * stage.thickness_m
        area = np.pi * stage.thickness_m[:, None] * np.sqrt(run.samples[..., OBS_RISE])
    flow = area * stage.h_top[:, None] * (air + shift - run.samples[..., OBS_TOP_C])
    if stage.shape == "slab":
        flow = flow + stage.h_bottom[:, None] * (air - run.samples[..., OBS_BOTTOM_C])
    both = np.stack([np.trapezoid(flow, stage.sample_s), np.trapezoid(np.abs(flow), stage.sample_s)])
    return np.asarray(both / kg)


def _heat_before_the_oven(seen: Seen) -> dict[str, float]:
    """Heat in stays outside the oven, and what hand-overs lose. A bench, and sides of a vessel, are not seen: left out.

    Each stay is run once more with four hundred samples, and what the surfaces let in is added up from those: this
    does not use the kernel's own sums.
    """
    gap, moved, handed = 0.0, 0.0, 0.0
    before: tuple[Array, Array, Array] | None = None
    for (state, stage, physics, p, draws), run in seen.hold:
        mean, heat = _over_flour(state.temperature_c, stage.faces), _heat_outside(state, stage, physics, p, draws)
        if before is not None:
            # handling may warm the dough; fat that melts or sets in the hands of the averaging may not
            old_mean, old_heat, capacity = before
            handed = max(handed, _worst(heat - old_heat, capacity * (mean - old_mean), capacity))
        end = run.end
        before = (
            _over_flour(end.temperature_c, stage.faces),
            _heat_outside(end, stage, physics, p, draws),
            physics.heat_capacity,
        )
        sides = stage.sides_per_m2 is not None and np.any(stage.sides_per_m2 > 0)
        if stage.bench is not None or sides or np.ptp(stage.end_s) > 0:
            continue
        dense = replace(stage, sample_s=float(stage.end_s[0]) * np.linspace(0.0, 1.0, 401) ** 2)
        again = advance_hold(state, dense, physics, p, draws)
        made = _over_flour(again.end.ferment[..., s.CO2_MADE] - state.ferment[..., s.CO2_MADE], stage.faces)
        own = made * p[:, s.P_HEAT] / p[:, s.P_DOUGH_KG]
        came, size = _through_faces(again, dense, physics, p)
        gain = _heat_outside(again.end, stage, physics, p, draws) - heat
        gap = gap + np.abs(gain - came - own)
        moved = moved + size + own
    shares = gap / np.maximum(moved, 1000.0)
    return {"heat before the oven": float(np.max(shares)), "heat handed over": handed}


def _water_and_heat(state: Any, par: Array) -> tuple[Array, Array]:
    mass = state.dry_mass_kg_m2[:, None] * np.diff(state.faces)
    water = (mass * state.water).sum(axis=1)
    cells = range(mass.shape[1])
    heat = [
        sum(mass[m, i] * cell_energy(state.temperature_c[m, i], state.water[m, i], par[m]) for i in cells)
        for m in range(mass.shape[0])
    ]
    return water, np.array(heat)


def _oven(seen: Seen, case: Case) -> dict[str, float]:
    """Water and heat from the oven's door to the last step, and the water that came through the door.

    Errors of all stretches are added up and set against what left the dough (water) and what went in and out (heat).
    """
    members = seen.oven[0][0][0].dry_mass_kg_m2.shape[0]
    open_water, open_heat, moved = np.zeros(members), np.zeros(members), np.zeros(members)
    for (state, stage, par), run in seen.oven:
        # the kernel's own bookkeeping runs to the horizon of the samples: once more, to the end only
        ends = replace(stage, sample_s=np.array([0.0, float(stage.end_s.max())]))
        again = advance_oven(state, ends, par) if np.ptp(stage.end_s) == 0 else run
        (water0, heat0), (water1, heat1) = _water_and_heat(state, par), _water_and_heat(again.end, par)
        open_water += np.abs(water0 - water1 - (again.end.lost_kg_m2 - state.lost_kg_m2))
        if again is not run:
            into, out = again.balance[:, 0], again.balance[:, 1]
            open_heat += np.abs(heat1 - heat0 - (into - out))
            moved += np.abs(into) + np.abs(out)
    for before, after in zip(seen.oven, seen.oven[1:], strict=False):
        states = before[1].end, after[0][0]
        (water0, heat0), (water1, heat1) = (_water_and_heat(state, before[0][2]) for state in states)
        open_water += np.abs(water0 - water1)
        open_heat += np.abs(heat0 - heat1)
    first = seen.oven[0][0][0]
    came, _ = _water_and_heat(first, seen.oven[0][0][2])
    made_up = shares_of_composition(case.batch.made_up)
    carried = made_up.water / case.batch.made_up.mass_g * first.dough_mass_kg_m2
    lost = np.maximum(np.abs(seen.oven[-1][1].end.lost_kg_m2), 0.01 * came)
    return {
        "water": float(np.max(open_water / lost)),
        "water at the door": _worst(came, carried, carried),
        "water that the loss counts": float(np.max(_counted(seen, came) / lost)),
        "heat in the oven": float(np.max(open_heat / moved)),
    }


def _counted(seen: Seen, came: Array) -> Array:
    """How far the loss that is shown lies from the water that the piece is shown to have left [kg/m2], (M,).

    Both are observables at the end of the last stretch; the loss also counts alcohol, which is taken off here.
    """
    (state, stage, par), run = seen.oven[-1]
    ends = replace(stage, sample_s=np.array([0.0, float(stage.end_s.max())]))
    again = advance_oven(state, ends, par) if np.ptp(stage.end_s) == 0 else run
    last, dry = again.samples[:, -1, :], state.dry_mass_kg_m2
    gone = np.array([ethanol_gone(float(share)) for share in again.end.lost_kg_m2 / (dry * par[:, at.FIRST_WATER])])
    counted = last[:, at.OBS_LOSS] * state.dough_mass_kg_m2 - gone * par[:, at.ETHANOL] * dry
    return np.abs(came - last[:, at.OBS_WATER] * dry - counted)


def _door(seen: Seen, case: Case) -> dict[str, float]:
    """Gas moles and warmth on either side of the oven's door."""
    (_, stage, _, p, _), run = seen.hold[-1]
    oven, _, par = seen.oven[0][0]
    gas_ml, dissolved = gas_at_door(run.end.temperature_c, run.end.ferment, p, stage.faces)
    hundreds = case.batch.dough.flour_g / 100.0
    shares = shares_of_composition(case.batch.made_up)
    dry_kg = (case.batch.made_up.mass_g - shares.water) / 1000.0
    total = _over_flour(run.end.ferment[..., s.CO2] + run.end.ferment[..., s.AIR], stage.faces) * hundreds / 1000.0
    oven_side = (par[:, at.START_MOLES] + par[:, at.DISSOLVED]) * dry_kg
    assert np.all(gas_ml >= 0)
    assert np.all(dissolved >= 0)
    mean = _over_flour(run.end.temperature_c, stage.faces)
    warm = _worst(_over_flour(oven.temperature_c, oven.faces), mean, 1.0)
    return {"gas at the door": _worst(oven_side, total, total), "warmth handed over": warm}


def closures(case: Case, members: int = 3, seed: int = 1) -> dict[str, float]:
    """How far every balance is open, at worst: shares, and for the warmth handed over at the door kelvins."""
    _, seen = run_watched(case, members, seed)
    return _outside(seen) | _heat_before_the_oven(seen) | _oven(seen, case) | _door(seen, case)


def some_cases(count: int) -> Iterator[Case]:
    """The first random timelines that are not refused, the same ones every time."""
    number, found = 0, 0
    while found < count:
        try:
            case = random_case(random.Random(number))
        except Refusal:
            case = None
        number += 1
        if case is not None:
            found += 1
            yield case
