"""The hold kernel on living dough: balances, an independent integration, events, rise, own heat."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from oventide.dough import state as s
from oventide.dough.gas import degas, gas_fraction, relative_volume
from oventide.dough.temperature import law_of
from oventide.evidence.parameters import draw, load
from oventide.formula.composition import Composition
from oventide.timeline.hold import (
    HOLD_OBSERVABLES,
    NOBS,
    OBS_BOTTOM_C,
    OBS_CO2_MADE,
    OBS_CORE_C,
    OBS_MEAN_C,
    OBS_RISE,
    OBS_SOLID_FAT,
    OBS_SOLID_FAT_OUTER,
    OBS_SOLID_FAT_SOFTEST,
    OBS_SUGAR,
    OBS_TOP_C,
    DoughPhysics,
    HoldRun,
    HoldStage,
    HoldState,
    advance_hold,
)

Array = NDArray[np.float64]
SWEET = Composition(
    mass_g=1000, flour_g=500, water_g=300, added_water_g=230, water_from_liquid_g=0, water_from_egg_g=40,
    water_from_butter_g=16, water_from_dairy_g=174, water_from_other_g=0, fat_g=95, milk_fat_g=85, sugars_g=68,
    sucrose_g=58, lactose_g=9, starch_g=345, fibre_g=15, protein_g=68, milk_protein_g=7, egg_g=50, salt_g=9, ash_g=14,
    alcohol_g=0, yeast_dry_matter_g=7.5, yeast_kind="instant", spice_g=0,
)  # fmt: skip
PARAMETERS = s.parameters() + list(load("matter").parameters.values())


def drawn(members: int, seed: int = 3) -> tuple[dict[str, Array], Array, Array]:
    draws = draw(PARAMETERS, members, seed)
    return draws, s.initial_ferment(SWEET, draws), s.ferment_parameters(SWEET, draws)


def hold(
    draws: dict[str, Array], y: Array, p: Array, *, start_c: float = 25.5,
    air: tuple[tuple[float, float], ...] = ((0, 5.0),),
    hours: float = 6.0, thickness: float = 0.04, h: float = 6.0, cells: int = 16, **changes: object,
) -> HoldRun:  # fmt: skip
    members = y.shape[0]
    one = np.ones(members)
    body = s.body_of(SWEET)
    physics = DoughPhysics(
        body.density * one, body.heat_capacity * one, body.conductivity * one, body.milk_fat_share * one
    )
    seconds = hours * 3600
    stage = HoldStage(
        shape="slab", faces=np.linspace(0, 1, cells + 1), thickness_m=thickness * one, h_bottom=h * one, h_top=h * one,
        air_s=np.array([float(t) for t, _ in air]), air_c=np.tile([float(c) for _, c in air], (members, 1)), bench=None,
        rise_free=True, sample_s=np.linspace(0, seconds, int(hours * 6) + 1), end_s=seconds * one, until=None,
    )  # fmt: skip
    ferment = y if y.ndim == 3 else np.repeat(y[:, None, :], cells, axis=1)
    state = HoldState(np.full((members, cells), start_c), ferment.copy())
    return advance_hold(state, replace(stage, **changes), physics, p, draws)


def test_co2_and_sugar_balances_close() -> None:
    draws, y, p = drawn(32)
    run = hold(draws, y, p, air=((0, 5.0), (20000, 5.0), (21000, 28.0)), hours=10)
    f = run.end.ferment
    made, held, lost = f[..., s.CO2_MADE], f[..., s.CO2], f[..., s.CO2_LOST]
    assert np.abs(held + lost - made).max() < 1e-9 * made.max()
    start = y[:, None, s.HEXOSE] + y[:, None, s.STARCH_SUGAR]
    used = made * p[:, None, s.P_SUGAR_PER_CO2]
    left = f[..., s.HEXOSE] + f[..., s.MALTOSE] + f[..., s.STARCH_SUGAR]
    assert np.abs(left + used - start).max() < 1e-9
    yeast = f[..., s.YEAST] + f[..., s.GROWTH_LEFT]
    assert np.abs(yeast - (y[:, None, s.YEAST] + y[:, None, s.GROWTH_LEFT])).max() < 1e-12
    assert np.all(f >= 0)


def test_energy_balance_closes_with_melting_butter_and_own_heat() -> None:
    """Heat held = heat in through the faces + heat made, in an insulated slab: only own heat, exactly."""
    draws, y, p = drawn(8)
    run = hold(draws, y, p, h=0.0, hours=4, start_c=14.0, h_top=np.zeros(8))
    body = s.body_of(SWEET)
    from oventide.dough.fat import solid_fat

    for m in range(8):
        latent = body.milk_fat_share * draws["milk_fat.fusion_heat"][m]
        offset = p[m, s.P_FAT_OFFSET]

        def held(c: float, latent: float = latent, offset: float = offset) -> float:
            return body.heat_capacity * c - latent * solid_fat(c, offset)

        end = np.mean([held(c) for c in run.end.temperature_c[m]])
        made = run.end.ferment[m, :, s.CO2_MADE].mean() * p[m, s.P_HEAT] / p[m, s.P_DOUGH_KG]
        # a thousandth of the heat that was made, and what one melting step may leave to the next
        assert abs(end - held(14.0) - made) < 1e-3 * made + 1.0


def test_the_energy_balance_closes_over_a_night_and_a_proof() -> None:
    """Heat held = heat through the faces + heat made, to a thousandth of what went through, butter setting included."""
    draws, y, p = drawn(8)
    body = s.body_of(SWEET)
    for air, hours, start in ((((0, 5.0),), 10.0, 25.5), (((0, 28.0),), 3.0, 8.0)):
        film, thickness = 6.0, 0.04
        run = hold(
            draws, y, p, air=air, hours=hours, start_c=start, thickness=thickness, h=film,
            sample_s=np.linspace(0, hours * 3600, 601),
        )  # fmt: skip
        seconds = np.linspace(0, hours * 3600, 601)
        for m in range(8):
            mass = body.density * (p[m, s.P_DENSE_ML] / p[m, s.P_FRESH_ML]) * thickness
            latent = body.milk_fat_share * draws["milk_fat.fusion_heat"][m]
            fat = run.end.solid_fat
            assert fat is not None
            held = body.heat_capacity * (run.end.temperature_c[m].mean() - start)
            held -= latent * (fat[m].mean() - run.samples[m, 0, OBS_SOLID_FAT])
            made = run.end.ferment[m, :, s.CO2_MADE].mean() * p[m, s.P_HEAT] / p[m, s.P_DOUGH_KG]
            surface = run.samples[m, :, OBS_TOP_C] + run.samples[m, :, OBS_BOTTOM_C]
            through = np.trapezoid(film * (2 * air[0][1] - surface), seconds) / mass
            # the trapezium over the samples is itself good to a thousandth or so
            assert abs(held - made - through) < 2e-3 * (abs(through) + made)


def reference(draws: dict[str, Array], p: Array, y0: Array, air_c: float, hours: float, thickness: float, h: float):
    """The same ODEs written again, without splitting: T and ferment of every cell in one LSODA."""
    n = 16
    body = s.body_of(SWEET)
    d = {k: float(v[0]) for k, v in draws.items()}
    cut = [d["yeast.cardinal_least"], d["yeast.cardinal_best"], d["yeast.most"]]
    grow_cut = [d[f"yeast.growth_{k}"] for k in ("least", "best", "most")]
    rgas = 8.314462618

    def cardinal(t, lo, opt, hi):
        t = np.clip(t, lo, hi)
        return (t - hi) * (t - lo) ** 2 / ((opt - lo) * ((opt - lo) * (t - opt) - (opt - hi) * (opt + lo - 2 * t)))

    def steep(t):
        i = 1 / (t + 273.15)
        a = np.exp(-d["yeast.steep_activation"] / rgas * (i - 1 / 303.15))
        c = np.exp(d["yeast.steep_cold"] / rgas * (i - 1 / (273.15 + d["yeast.steep_cold_half"])))
        w = np.exp(-d["yeast.steep_heat"] / rgas * (i - 1 / (273.15 + d["yeast.steep_heat_half"])))
        return a / (1 + c + w)

    def root(t):
        return ((t - d["yeast.root_least"]) * (1 - np.exp(d["yeast.root_curve"] * (t - d["yeast.most"])))) ** 2

    laws = (root, lambda t: cardinal(t, *cut), steep)
    mine = laws[int(law_of({k: v[:1] for k, v in draws.items()})[0])]
    brisk = "_brisk" if d["yeast.growth_source"] >= 1 - d["yeast.growth_weight_brisk"] else ""

    def law(t):
        return mine(t) / mine(30.0)

    table = load_table()

    def solid(t):
        share = np.interp(t, table[0], table[1])
        return np.clip(share + d["milk_fat.solid_offset"] * np.minimum(1, share / 0.10), 0, 1) * (t < table[0][-1])

    fat = 100 * SWEET.fat_g / SWEET.flour_g
    water = 100 * SWEET.water_g / SWEET.flour_g
    solvent = water - d["flour.bound_water"] * 86.0
    salt = d["water.salt_osmotic"] * 2000 * 100 * SWEET.salt_g / SWEET.flour_g / 58.443
    fixed = salt + 1000 * 100 * SWEET.lactose_g / SWEET.flour_g / 342.297
    mass = 100 * SWEET.mass_g / SWEET.flour_g / 1000
    dense = p[0, s.P_DENSE_ML]
    air_share = d["gas.air_mixed_in"]
    fresh = dense / (1 - air_share)
    latent = body.milk_fat_share * d["milk_fat.fusion_heat"]
    per_area = body.density * (1 - air_share) * thickness / n

    def volume_and_gas(t, c, air):
        k = (t + 273.15) / 100
        bunsen = 22.414 * np.exp(-58.0931 + 90.5069 / k + 22.2940 * np.log(k))
        pressure = 101.325 + d["gas.bubble_pressure"] - 0.97 * np.exp(23.1964 - 3816.44 / (t + 227.02)) / 1000
        liquid = d["gas.co2_in_fat"] * fat / 0.92 * (1 - SWEET.milk_fat_g / SWEET.fat_g * solid(t))
        held = (bunsen * d["gas.co2_salting"] * water + liquid) / (22.414 * 101.325) * pressure
        b = air + held - c
        gas = 0.5 * (-b + np.sqrt(b * b + 4 * c * air))
        return (dense + (gas + air) * rgas * (t + 273.15) / pressure) / fresh, gas

    def rates(_, flat):
        z = flat.reshape(n, 15)
        t, a, ready, x, left, hexose, starch, maltose, induced, c, _lost, _made, ethanol, _dead, fat_set = z.T
        out = np.zeros_like(z)
        g, gg = law(t), cardinal(t, *grow_cut) / cardinal(27.0, *grow_cut)
        sugars = 1000 * (hexose / 180.156 + maltose / 360.312) / solvent
        osm = fixed / solvent + sugars * (1 + d["water.sugar_crowding"] * sugars)
        out[:, 1] = (1 - a) * g / law(26.0) / d["yeast.lag"]
        out[:, 2] = d[f"yeast.growth_lag_rate{brisk}"] * (1 - ready) * gg
        m50 = d["yeast.half_osmolality"]
        brake_g = 1 / (1 + (osm / (m50 * d["yeast.growth_half_osmolality"])) ** 5)
        rate_g = d[f"yeast.growth_rate{brisk}"] / d[f"yeast.growth_allowance{brisk}"]
        grown = rate_g * gg * brake_g * ready**4 * x * left
        out[:, 3], out[:, 4] = grown, -grown
        vigour = d["yeast.gas_rate"] * d["yeast.bake_to_bake"] * d["yeast.left_dry"]
        q = vigour * g / (1 + (osm / m50) ** d["yeast.osmotic_steepness"])
        q *= math.exp(-d["yeast.fat_brake"] * fat) * (1 - ethanol * 46.069 / water / d["yeast.ethanol_stop"]) * x * a
        fs, fm = hexose / (hexose + d["yeast.hexose_half"]), maltose / (maltose + d["yeast.maltose_half"])
        from_hexose, from_maltose = q * fs, q * (1 - fs) * fm * induced * d["yeast.maltose_speed"]
        sugar = 0.180156 / 2 / d["yeast.ethanol_yield"]
        freed = (
            d["flour.amylase_rate"]
            * starch
            * np.exp(-d["flour.amylase_activation"] / rgas * (1 / (t + 273.15) - 1 / 303.15))
        )
        out[:, 5] = -sugar * from_hexose
        out[:, 6] = -freed
        out[:, 7] = freed - sugar * from_maltose
        out[:, 8] = (1 - induced) * (1 - fs) / d["yeast.maltose_induction"] * g
        v, gas = volume_and_gas(t, c, y0[0, s.AIR])
        leak = d["gas.leak_quiet"] + d["gas.leak_over"] / (
            1 + np.exp(-(v - d["gas.critical_rise"]) / d["gas.critical_width"])
        )
        made = from_hexose + from_maltose
        out[:, 9], out[:, 10], out[:, 11], out[:, 12] = made - gas * leak, gas * leak, made, made
        porosity = 1 - (1 - air_share) / v
        kd, kg = body.conductivity, 0.026 + 6e-5 * 20
        k = kd * (2 * kd + kg - 2 * porosity * (kd - kg)) / (2 * kd + kg + porosity * (kd - kg))
        half = thickness / n * v / (2 * k)
        flow = np.zeros(n + 1)
        flow[1:n] = (t[:-1] - t[1:]) / (half[:-1] + half[1:])
        flow[0] = (air_c - t[0]) / (1 / h + half[0])
        flow[n] = (t[-1] - air_c) / (1 / h + half[-1])
        slope = -(solid(t + 1e-4) - solid(t - 1e-4)) / 2e-4
        sets = (solid(t) - fat_set) / (d["milk_fat.setting_time"] / 60.0)
        own = made / 3600 * d["yeast.fermentation_heat"] / 2000 / mass * per_area
        # what is not yet solid sets with time and gives its heat off; what is solid melts at once
        net = (flow[:-1] - flow[1:] + own) / per_area * 3600
        setting = (solid(t) > fat_set + 1e-9) | (net < 0.0)
        gained = net + np.where(setting, latent * sets, 0.0)
        out[:, 0] = gained / (body.heat_capacity + np.where(setting, 0.0, latent * slope))
        out[:, 14] = np.where(setting, sets, -slope * out[:, 0])
        return out.ravel()

    z0 = np.zeros((n, 15))
    z0[:, 0] = 25.5
    z0[:, 14] = solid(25.5)
    order = (s.ADAPTED, s.READY_TO_GROW, s.YEAST, s.GROWTH_LEFT, s.HEXOSE, s.STARCH_SUGAR, s.MALTOSE, s.MALTOSE_READY)
    for column, index in enumerate(order, start=1):
        z0[:, column] = y0[0, index]
    times = np.linspace(0, hours, int(hours * 6) + 1)
    got = solve_ivp(rates, (0, hours), z0.ravel(), method="LSODA", t_eval=times, rtol=1e-6, atol=1e-8, max_step=0.05)
    z = got.y.reshape(n, 15, -1)
    v = np.array([volume_and_gas(z[:, 0, i], z[:, 9, i], y0[0, s.AIR])[0].mean() for i in range(z.shape[2])])
    return z[:, 0].mean(axis=0), z[7:9, 0].mean(axis=0), z[:, 11].mean(axis=0), v


def load_table() -> tuple[Array, Array]:
    from oventide.matter.tables import table

    fat = table("milk_fat_solids")
    return fat.column("temperature"), fat.column("solid")


@pytest.mark.parametrize(("air_c", "hours", "thickness"), [(5.0, 10.0, 0.04), (28.0, 3.0, 0.05)])
def test_an_independent_integration_agrees(air_c: float, hours: float, thickness: float) -> None:
    draws, y, p = drawn(1)
    run = hold(draws, y, p, air=((0, air_c),), hours=hours, thickness=thickness)
    mean, core, made, volume = reference(draws, p, y, air_c, hours, thickness, 6.0)
    assert np.abs(run.samples[0, :, OBS_MEAN_C] - mean).max() < 0.1
    assert np.abs(run.samples[0, :, OBS_CORE_C] - core).max() < 0.1
    assert np.abs(run.samples[0, :, OBS_CO2_MADE] - made).max() < 0.005 * made.max()
    assert np.abs(run.samples[0, :, OBS_RISE] - volume).max() < 0.005 * volume.max()


def test_shorter_samples_change_nothing_that_matters() -> None:
    """Sampling sets the steps: 5 minutes or 2 hours apart must tell the same story."""
    draws, y, p = drawn(16)
    fine = hold(draws, y, p, hours=12, sample_s=np.linspace(0, 43200, 145))
    coarse = hold(draws, y, p, hours=12, sample_s=np.linspace(0, 43200, 7))
    assert np.abs(fine.samples[:, ::24, OBS_MEAN_C] - coarse.samples[..., OBS_MEAN_C]).max() < 0.1
    made = fine.samples[:, ::24, OBS_CO2_MADE]
    assert np.abs(made - coarse.samples[..., OBS_CO2_MADE]).max() < 0.005 * made.max()


def test_until_ends_each_member_at_its_own_crossing() -> None:
    draws, y, p = drawn(32)
    run = hold(draws, y, p, air=((0, 27.0),), hours=6, until=(OBS_RISE, 1.8, 1))
    reached = run.samples[:, -1, OBS_RISE] > 1.8
    assert reached.any()
    rise = np.array(
        [
            np.mean([relative_volume(run.end.ferment[m, i], p[m], run.end.temperature_c[m, i]) for i in range(16)])
            for m in range(32)
        ]
    )
    assert np.abs(rise[reached & (run.end_s < 6 * 3600)] - 1.8).max() < 0.005
    assert np.all(run.end_s <= 6 * 3600)
    assert np.unique(run.end_s[reached]).size > 1
    # samples run on past the end
    early = run.end_s < 4 * 3600
    assert np.all(run.samples[early, -1, OBS_CO2_MADE] > run.end.ferment[early, :, s.CO2_MADE].mean(axis=1))


def test_the_planned_end_is_kept_between_steps() -> None:
    draws, y, p = drawn(4)
    run = hold(draws, y, p, hours=3, end_s=np.array([0.0, 1000.0, 5432.0, 10800.0]))
    assert run.end_s.tolist() == [0.0, 1000.0, 5432.0, 10800.0]
    assert np.allclose(run.end.temperature_c[0], 25.5)
    assert run.end.temperature_c[1].mean() > run.end.temperature_c[2].mean() > run.end.temperature_c[3].mean()


def test_two_stays_joined_equal_one() -> None:
    draws, y, p = drawn(4)
    whole = hold(draws, y, p, hours=4)
    first = hold(draws, y, p, hours=2)
    body = s.body_of(SWEET)
    one = np.ones(4)
    physics = DoughPhysics(
        body.density * one, body.heat_capacity * one, body.conductivity * one, body.milk_fat_share * one
    )
    stage = HoldStage(
        shape="slab", faces=np.linspace(0, 1, 17), thickness_m=0.04 * one, h_bottom=6 * one, h_top=6 * one,
        air_s=np.array([0.0]), air_c=np.full((4, 1), 5.0), bench=None, rise_free=True, sample_s=np.array([0.0, 7200.0]),
        end_s=7200.0 * one, until=None,
    )  # fmt: skip
    second = advance_hold(first.end, stage, physics, p, draws)
    assert np.abs(second.end.temperature_c - whole.end.temperature_c).max() < 0.05
    assert np.abs(second.end.ferment[..., s.CO2_MADE] - whole.end.ferment[..., s.CO2_MADE]).max() < 0.02


def test_rise_insulates_and_own_heat_warms() -> None:
    """Blown dough: a deep box in the fridge stays warm longer with yeast at work than without."""
    draws, y, p = drawn(1)
    dead = y.copy()
    dead[:, s.YEAST] = 0.0
    alive_run = hold(draws, y, p, thickness=0.12, hours=8)
    dead_run = hold(draws, dead, p, thickness=0.12, hours=8)
    warmer = alive_run.samples[0, -1, OBS_CORE_C] - dead_run.samples[0, -1, OBS_CORE_C]
    assert warmer > 1.5


def test_the_outside_of_a_log_firms_before_its_middle() -> None:
    draws, y, p = drawn(8)
    run = hold(
        draws, y, p, start_c=20.0, hours=1, shape="cylinder", thickness_m=np.full(8, 0.065), h_top=np.full(8, 7.0),
        air=((0, 5.0),), rise_free=False,
    )  # fmt: skip
    later = run.samples[:, 2:]
    assert np.all(later[..., OBS_SOLID_FAT_OUTER] > later[..., OBS_SOLID_FAT])
    assert np.all(later[..., OBS_SOLID_FAT] > later[..., OBS_SOLID_FAT_SOFTEST])


def test_observables_are_named_and_finite() -> None:
    draws, y, p = drawn(64)
    run = hold(draws, y, p, air=((0, 5.0), (7200, 5.0), (7260, 40.0)), hours=6)
    assert len(HOLD_OBSERVABLES) == NOBS == run.samples.shape[2]
    assert np.isfinite(run.samples).all()
    assert (run.samples[..., OBS_SUGAR] >= 0).all()


def test_same_input_same_answer_and_input_untouched() -> None:
    draws, y, p = drawn(8)
    before = y.copy()
    a, b = hold(draws, y, p), hold(draws, y, p)
    assert np.array_equal(a.samples, b.samples)
    assert np.array_equal(y, before)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.0, 1.0), st.floats(0.0, 40.0))
def test_degassing_keeps_the_co2_account(share: float, temperature_c: float) -> None:
    _, y, p = drawn(1)
    cell = y[0].copy()
    cell[s.CO2], cell[s.CO2_MADE] = 12.0, 12.0
    before = gas_fraction(cell, p[0], temperature_c)
    degas(cell, p[0], share, temperature_c)
    assert cell[s.CO2] + cell[s.CO2_LOST] == pytest.approx(12.0)
    assert cell[s.CO2] >= 0
    assert gas_fraction(cell, p[0], temperature_c) <= before + 1e-12
