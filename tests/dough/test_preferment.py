"""What must hold of a preferment: it ripens, it falls, and nothing is lost when it is mixed in."""

import numpy as np
import pytest

from oventide.dough import state as s
from oventide.dough.preferment import preferment_parameters, ripen, worked_in
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition

DRAWS = draw(s.parameters() + list(load("matter").parameters.values()), 8, 4)
EMPTY = {name: 0.0 for name, field in Composition.model_fields.items() if field.annotation is float}


def made_of(flour: float, water: float, yeast: float, sugar: float = 0.0, salt: float = 0.0) -> Composition:
    return Composition(**(EMPTY | {
        "mass_g": flour + water + yeast + sugar + salt, "flour_g": flour, "water_g": 0.14 * flour + water,
        "added_water_g": water, "starch_g": 0.7 * flour, "protein_g": 0.11 * flour, "fibre_g": 0.03 * flour,
        "fat_g": 0.01 * flour, "sugars_g": sugar, "sucrose_g": sugar, "salt_g": salt, "ash_g": salt,
        "yeast_dry_matter_g": yeast,
    }), yeast_kind="instant")  # fmt: skip


POOLISH, WHOLE = made_of(200, 200, 0.6), made_of(500, 300, 0.6, 30, 9)


def ripened(hours: float | None = None):
    given = None if hours is None else np.full(8, hours)
    return ripen(POOLISH, DRAWS, np.full(8, 22.0), given)


def test_it_is_ripe_once_and_falls_when_left() -> None:
    ripe, late = ripened(), ripened(30.0)
    assert np.all(ripe.ripe_h > 1.0)
    assert np.all(ripe.used_h == ripe.ripe_h)
    assert np.all(ripe.rise > 1.5)
    assert np.all(ripe.fallen < 0.01)
    assert np.all(late.rise < ripe.rise)
    assert np.all(late.fallen > 0.0)


def test_more_yeast_and_warmth_ripen_it_sooner() -> None:
    base = ripened().ripe_h
    assert np.all(ripen(made_of(200, 200, 2.4), DRAWS, np.full(8, 22.0)).ripe_h < base)
    assert np.all(ripen(POOLISH, DRAWS, np.full(8, 27.0)).ripe_h < base)


def test_fresh_from_the_bowl_it_changes_nothing_but_the_gas() -> None:
    whole = s.initial_ferment(WHOLE, DRAWS)
    at_once = ripened(1e-6)
    p = preferment_parameters(POOLISH, DRAWS)
    mixed = worked_in(whole, [(POOLISH, at_once, p)], WHOLE.flour_g, DRAWS)
    assert mixed == pytest.approx(whole, abs=1e-4)


def test_sugar_yeast_and_gas_are_accounted_for_in_the_dough() -> None:
    whole, p = s.initial_ferment(WHOLE, DRAWS), preferment_parameters(POOLISH, DRAWS)
    mixed = worked_in(whole, [(POOLISH, ripened(10.0), p)], WHOLE.flour_g, DRAWS)
    assert mixed[:, s.CO2] + mixed[:, s.CO2_LOST] == pytest.approx(mixed[:, s.CO2_MADE], abs=1e-9)
    sugars = (s.HEXOSE, s.MALTOSE, s.STARCH_SUGAR)
    spent = whole[:, sugars].sum(axis=1) - mixed[:, sugars].sum(axis=1)
    assert spent == pytest.approx(mixed[:, s.CO2_MADE] * p[:, s.P_SUGAR_PER_CO2], abs=1e-9)
    yeast = (s.YEAST, s.GROWTH_LEFT, s.DEAD)
    assert mixed[:, yeast].sum(axis=1) == pytest.approx(whole[:, yeast].sum(axis=1), abs=1e-9)
    assert np.all(mixed[:, s.YEAST] > whole[:, s.YEAST])
    assert np.all(mixed[:, s.ADAPTED] > 0.9)


def test_ripe_yeast_does_not_wait_in_the_dough() -> None:
    """All yeast in the sponge: the dough it goes into is readier than one of fresh yeast."""
    whole, p = s.initial_ferment(WHOLE, DRAWS), preferment_parameters(POOLISH, DRAWS)
    mixed = worked_in(whole, [(POOLISH, ripened(), p)], WHOLE.flour_g, DRAWS)
    assert np.all(whole[:, s.ADAPTED] == 0.0)
    assert np.all(mixed[:, s.HEXOSE] < whole[:, s.HEXOSE])
