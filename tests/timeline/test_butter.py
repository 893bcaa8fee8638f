"""Butter that stands in the room, against the series solution of the same brick and its own balance of heat."""

import numpy as np
import pytest

from oventide.bake.position import slab_roots, slab_series
from oventide.matter.milk_fat import solid_fat
from oventide.matter.properties import conductivity_bounds_w_mk, density_kg_m3, heat_capacity_j_kgk, shares_of
from oventide.timeline.butter import butter_in_the_room

ONE = np.ones(1)


def draws(fusion_heat: float, slenderness: float = 0.55, base: float = 1.0) -> dict[str, np.ndarray]:
    return {
        "milk_fat.solid_offset": 0.0 * ONE,
        "milk_fat.fusion_heat": fusion_heat * ONE,
        "film.room_air": 8.0 * ONE,
        "butter.slenderness": slenderness * ONE,
        "butter.base": base * ONE,
    }


@pytest.mark.parametrize("grams", [40.0, 250.0])
@pytest.mark.parametrize("slenderness", [0.4, 1.0])
def test_without_melting_its_mean_is_that_of_the_brick(grams: float, slenderness: float) -> None:
    seconds, warm, _ = butter_in_the_room(grams * ONE, 5.0 * ONE, 22.0 * ONE, draws(1e-6, slenderness), 180.0)
    shares = shares_of(0.16, 0.02, 0.82, 0.0, 0.0, 0.0)
    density, heat = density_kg_m3(shares, 15.0), heat_capacity_j_kgk(shares, 15.0)
    conductivity = 0.5 * sum(conductivity_bounds_w_mk(shares, 15.0))
    volume = grams / 1000.0 / density
    thick = slenderness * volume ** (1 / 3)
    wide = np.sqrt(volume / thick)
    theta = np.ones_like(seconds)
    for length in (thick, wide, wide):
        half = length / 2.0
        zeta = slab_roots(np.array(8.0 * half / conductivity), terms=30)
        fourier = conductivity / (density * heat) * seconds / half**2
        places = np.linspace(0.0, 1.0, 41)
        profile = np.stack([slab_series(float(x), fourier, zeta) for x in places])
        theta = theta * np.trapezoid(profile, places, axis=0)
    brick = 22.0 - 17.0 * theta
    assert np.abs(warm[0, 1:] - brick[1:]).max() < 0.5


def test_melting_takes_its_time_and_a_heavier_block_takes_longer() -> None:
    def minutes_to_16(grams: float, fusion_heat: float) -> float:
        seconds, warm, _ = butter_in_the_room(grams * ONE, 5.0 * ONE, 20.0 * ONE, draws(fusion_heat), 400.0)
        return float(np.interp(16.0, warm[0], seconds)) / 60.0

    plain, melting, heavy = minutes_to_16(100, 1e-6), minutes_to_16(100, 95e3), minutes_to_16(400, 95e3)
    assert plain < melting < heavy
    # heat in over the way: sensible and latent, by the curve itself
    shares = shares_of(0.16, 0.02, 0.82, 0.0, 0.0, 0.0)
    sensible = heat_capacity_j_kgk(shares, 15.0) * 11.0
    latent = 0.82 * 95e3 * (solid_fat(5.0, 0.0) - solid_fat(16.0, 0.0))
    assert melting / plain == pytest.approx((sensible + latent) / sensible, rel=0.15)


def test_its_solid_fat_is_that_of_its_temperature() -> None:
    _, warm, solid = butter_in_the_room(250 * ONE, 5.0 * ONE, 24.0 * ONE, draws(95e3), 240.0)
    for celsius, share in zip(warm[0, ::20], solid[0, ::20], strict=True):
        assert share == pytest.approx(solid_fat(float(celsius), 0.0), abs=0.002)
    assert (np.diff(warm[0]) >= 0).all()
    assert warm[0, -1] < 24.0
