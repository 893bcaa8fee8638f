"""Common practice, no source: a night in the fridge, a proof, a log that went soft, slab against deep box.

Nothing was tuned to these. The figures stand in docs/models/cold.md; they are pinned here so that the page stays true.
"""

from dataclasses import dataclass

import numpy as np
import pytest
from numpy.typing import NDArray

from oventide.dough import state as s
from oventide.dough.gas import degas
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition
from oventide.timeline.hold import (
    OBS_CORE_C,
    OBS_MEAN_C,
    OBS_RISE,
    OBS_SOLID_FAT_OUTER,
    OBS_SOLID_FAT_SOFTEST,
    DoughPhysics,
    HoldRun,
    HoldStage,
    HoldState,
    advance_hold,
)

Array = NDArray[np.float64]
MEMBERS, CELLS = 128, 16
# flour 100, sugar 12, butter 35, milk 40, egg 20, salt 1.8, instant yeast 1.6
SWEET = Composition(
    mass_g=210.4, flour_g=100, water_g=69.8, added_water_g=55.8, water_from_liquid_g=0, water_from_egg_g=15,
    water_from_butter_g=5.6, water_from_dairy_g=35.2, water_from_other_g=0, fat_g=33.3, milk_fat_g=30.1, sugars_g=13.9,
    sucrose_g=12, lactose_g=1.9, starch_g=70, fibre_g=3, protein_g=15.3, milk_protein_g=1.3, egg_g=20, salt_g=1.8,
    ash_g=2.9, alcohol_g=0, yeast_dry_matter_g=1.52, yeast_kind="instant", spice_g=0,
)  # fmt: skip


@dataclass
class Bakehouse:
    draws: dict[str, Array]
    p: Array
    physics: DoughPhysics
    fresh: HoldState

    def stay(
        self, state: HoldState, thickness: float, air_c: float, hours: float, h_top: float, h_bottom: float,
        shape: str = "slab",
    ) -> HoldRun:  # fmt: skip
        one = np.ones(MEMBERS)
        stage = HoldStage(
            shape="cylinder" if shape == "cylinder" else "slab", faces=np.linspace(0, 1, CELLS + 1),
            thickness_m=thickness * one, h_bottom=h_bottom * one, h_top=h_top * one, air_s=np.array([0.0]),
            air_c=np.full((MEMBERS, 1), air_c), bench=None, rise_free=True,
            sample_s=np.linspace(0, hours * 3600, round(hours * 12) + 1), end_s=hours * 3600 * one, until=None,
        )  # fmt: skip
        return advance_hold(state, stage, self.physics, self.p, self.draws)


@pytest.fixture(scope="module")
def bakehouse() -> Bakehouse:
    draws = draw(s.parameters() + list(load("matter").parameters.values()), MEMBERS, 7)
    one, body = np.ones(MEMBERS), s.body_of(SWEET)
    y = s.initial_ferment(SWEET, draws)
    fresh = HoldState(np.full((MEMBERS, CELLS), 25.5), np.repeat(y[:, None, :], CELLS, axis=1))
    physics = DoughPhysics(
        body.density * one, body.heat_capacity * one, body.conductivity * one, body.milk_fat_share * one
    )
    return Bakehouse(draws, s.ferment_parameters(SWEET, draws), physics, fresh)


def quantiles(values: Array) -> tuple[float, float, float]:
    low, middle, high = np.quantile(values, (0.05, 0.5, 0.95), method="lower")
    return float(low), float(middle), float(high)


def hours_to(run: HoldRun, observable: int, threshold: float, rising: bool = False) -> Array:
    seen = run.samples[..., observable]
    reached = seen >= threshold if rising else seen <= threshold
    return np.where(reached.any(axis=1), np.argmax(reached, axis=1) / 12.0, np.inf)


def test_miss_an_hour_of_covered_proof_after_a_night_in_the_fridge(bakehouse: Bakehouse) -> None:
    """Expected: x 1.3-1.6 on just-shaped after about an hour at 27 °C. Median 1.23, and 1.41 at 90 min."""
    night = bakehouse.stay(bakehouse.fresh, 0.04, 5.0, 12.0, 6.0, 6.0).end
    for m in range(MEMBERS):
        for i in range(CELLS):
            degas(night.ferment[m, i], bakehouse.p[m], bakehouse.draws["gas.sheeting_loss"][m], 10.0)
    shaped = HoldState(np.full((MEMBERS, CELLS), 12.0), night.ferment)
    proof = bakehouse.stay(shaped, 0.03, 27.0, 2.0, 6.1, 12.0)
    rise = proof.samples[..., OBS_RISE] / proof.samples[:, :1, OBS_RISE]
    assert quantiles(rise[:, 12]) == pytest.approx((1.13, 1.23, 1.38), abs=0.03)
    assert quantiles(rise[:, 18]) == pytest.approx((1.25, 1.41, 1.67), abs=0.05)
    assert np.median(proof.samples[:, 12, OBS_MEAN_C]) == pytest.approx(18.0, abs=0.5)


def test_miss_a_soft_log_in_the_fridge(bakehouse: Bakehouse) -> None:
    """Expected: 10-20 min at 5 °C firm a log of 65 mm and 20 °C. It leaves "too soft" (0.20) within 10 min, and is
    good (0.30) after 50 min: what has melted sets with time. The core hardly changes in that time."""
    soft = HoldState(np.full((MEMBERS, CELLS), 20.0), bakehouse.fresh.ferment)
    log = bakehouse.stay(soft, 0.065, 5.0, 4.0, 6.0, 0.0, "cylinder")
    outer = np.median(log.samples[..., OBS_SOLID_FAT_OUTER], axis=0)
    core = np.median(log.samples[..., OBS_SOLID_FAT_SOFTEST], axis=0)
    assert outer[[0, 2, 4, 6, 12]] == pytest.approx([0.190, 0.209, 0.237, 0.262, 0.325], abs=0.01)
    assert core[[0, 2, 4, 6, 12]] == pytest.approx([0.190, 0.190, 0.194, 0.203, 0.253], abs=0.01)
    core_h = hours_to(log, OBS_SOLID_FAT_SOFTEST, 0.30, rising=True)
    outer_h = hours_to(log, OBS_SOLID_FAT_OUTER, 0.30, rising=True)
    assert np.median(outer_h) * 60 == pytest.approx(50, abs=5)
    assert np.median(core_h) * 60 == pytest.approx(90, abs=10)


@pytest.mark.parametrize(
    ("thickness", "film", "to_seven_h", "rise_at_ten", "core_at_ten"),
    [
        (0.04, 6.0, 11.5, 2.16, 7.6),  # 1 kg slab, wide: top and bottom only
        (0.04, 6.0 * 1.54, 7.0, 1.70, 5.8),  # 1 kg slab, 15 cm square: sides counted with the film
        (0.12, 6.0, np.inf, 2.99, 28.4),  # 4 kg box, wide
        (0.12, 6.0 * 2.4, np.inf, 2.70, 25.8),  # 4 kg box, 17 cm square
    ],
)
def test_slab_and_deep_box_in_the_fridge(
    bakehouse: Bakehouse, thickness: float, film: float, to_seven_h: float, rise_at_ten: float, core_at_ten: float
) -> None:
    """Expected: hours, not minutes, and a deep box that stays warm: 25.5 °C into 5 °C, time to 7 °C inside."""
    run = bakehouse.stay(bakehouse.fresh, thickness, 5.0, 36.0, film, film)
    got = float(np.median(hours_to(run, OBS_CORE_C, 7.0)))
    assert got == to_seven_h or got == pytest.approx(to_seven_h, abs=0.8)
    assert np.median(run.samples[:, 120, OBS_RISE]) == pytest.approx(rise_at_ten, abs=0.1)
    assert np.median(run.samples[:, 120, OBS_CORE_C]) == pytest.approx(core_at_ten, abs=1.0)
