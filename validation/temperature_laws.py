"""Which temperature law of gas making the published anchors ask for: a weight for each, and its constants.

    python -m validation.temperature_laws

Every law is tried with some thousand draws of its constants and, at the same time, of everything that the sources do
not say of their pan loaf: its size, the films of the cabinet, the dough's temperature, its yeast. A draw counts by how
near it comes to the anchors (a normal likelihood in the logarithm of the times). The mean likelihood of a law is its
evidence; the weights in evidence/data/yeast.toml are these means over their sum, drawn halfway to equal because three
forms are not all the forms there are.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.dough import state as s
from oventide.dough.fermentation import ferment_for
from oventide.dough.gas import degas
from oventide.dough.temperature import LAW_LENGTH, LAWS, gas_law, temperature_law
from oventide.evidence.parameters import Parameter, draw, load
from oventide.formula.composition import Composition
from oventide.timeline.hold import OBS_RISE, DoughPhysics, HoldRun, HoldStage, HoldState, advance_hold

Array = NDArray[np.float64]
CELLS = 10


def _guess(name: str, low: float, value: float, high: float, unit: str, what: str) -> Parameter:
    spread = "lognormal" if low > 0.0 else "normal"
    return Parameter(name=name, value=value, low=low, high=high, unit=unit, what=what, grade="assumed", spread=spread)


LOAF = [
    _guess("loaf.diameter", 0.042, 0.052, 0.062, "m", "loaf as a cylinder of the same section, freshly mixed volume"),
    _guess("loaf.film_cold", 8.0, 14.0, 25.0, "W/(m2·K)", "tin and moved air at 13 °C"),
    _guess("loaf.film_warm", 14.0, 24.0, 45.0, "W/(m2·K)", "tin and humid air at 40 °C"),
    _guess("loaf.film_hot", 25.0, 50.0, 100.0, "W/(m2·K)", "tin and steam that condenses on it at 57 °C"),
    _guess("loaf.start", 26.0, 28.0, 30.0, "°C", "dough when it goes into the cabinet"),
    _guess("loaf.before", 2.5, 3.3, 4.5, "h", "fermentation at 27 °C before moulding"),
    _guess("loaf.moulding", 0.75, 0.86, 0.95, "1", "gas pressed out by moulding"),
    _guess("loaf.yeast", 0.6, 0.75, 0.95, "g/100 g flour", "dry matter of fresh yeast"),
    _guess("loaf.critical", 3.6, 4.1, 4.8, "1", "relative volume that its flour holds"),
    _guess("practice.minutes", 41.0, 55.0, 65.0, "min", "usual proof (siffring-1993)"),
    _guess("practice.air", 37.0, 40.0, 43.0, "°C", "its air"),
]
"""What the sources do not say of the loaf."""

LAW_NAMES = {
    "root": ("yeast.root_least", "yeast.root_curve", "yeast.most"),
    "cardinal": ("yeast.cardinal_least", "yeast.cardinal_best", "yeast.most"),
    "steep": ("yeast.steep_activation", "yeast.steep_cold_half", "yeast.steep_heat_half", "yeast.most"),
}
"""Constants of each law that are drawn."""

PRIORS = [
    _guess("yeast.root_least", -3.0, 1.0, 5.0, "°C", ""),
    _guess("yeast.root_curve", 0.18, 0.26, 0.36, "1/K", ""),
    _guess("yeast.cardinal_least", -4.0, -0.5, 3.5, "°C", ""),
    _guess("yeast.cardinal_best", 34.5, 36.5, 39.0, "°C", ""),
    _guess("yeast.steep_activation", 50e3, 65e3, 82e3, "J/mol", ""),
    _guess("yeast.steep_cold_half", -4.0, 4.0, 12.0, "°C", ""),
    _guess("yeast.steep_heat_half", 39.0, 41.0, 43.0, "°C", ""),
    _guess("yeast.most", 44.5, 48.0, 53.0, "°C", ""),
]
"""What was thought of the constants before the anchors."""


def bread(yeast: float) -> Composition:
    """Pan bread on 100 g flour: 62 % water, 2 % salt, 6 % sugar, 3 % fat; `yeast` g dry matter of fresh yeast."""
    wet = yeast * 7.0 / 3.0
    return Composition(
        mass_g=173.0 + yeast + wet, flour_g=100, water_g=76 + wet, added_water_g=62, water_from_liquid_g=62,
        water_from_egg_g=0, water_from_butter_g=0, water_from_dairy_g=0, water_from_other_g=0, fat_g=4, milk_fat_g=0,
        sugars_g=6, sucrose_g=6, lactose_g=0, starch_g=70, fibre_g=3, protein_g=11.5, milk_protein_g=0, egg_g=0,
        salt_g=2, ash_g=2.5, alcohol_g=0, yeast_dry_matter_g=yeast, yeast_kind="fresh", spice_g=0,
    )  # fmt: skip


def draws_of(law: str, members: int, seed: int = 1) -> dict[str, Array]:
    """Draws of the model, of a law's constants by `PRIORS`, and of the loaf, on one hypercube."""
    prior = {each.name: each for each in PRIORS}
    known = [
        prior.get(each.name, each) for room in ("yeast", "dough", "matter") for each in load(room).parameters.values()
    ]
    found = draw([*known, *LOAF], members, seed)
    weights = np.array([found[f"yeast.weight_{name}"][0] for name in LAWS])
    ends = np.cumsum(weights) / weights.sum()
    place = LAWS.index(law)
    found["yeast.temperature_law"] = np.full(members, ends[place] - 0.5 * weights[place] / weights.sum())
    return found


_AGREED = {
    "loaf.diameter": 0.055, "loaf.film_cold": 18.5, "loaf.film_warm": 24.0, "loaf.film_hot": 38.0,
    "loaf.start": 26.8, "loaf.before": 3.5, "loaf.moulding": 0.845, "loaf.yeast": 0.71, "loaf.critical": 4.15,
    "practice.minutes": 42.5, "practice.air": 38.7,
}  # fmt: skip
"""The loaf that agrees best with the anchors: posterior means of `report`, all laws together."""


def likely_loaf(law: str) -> dict[str, Array]:
    """The likely kitchen with one law, and the loaf that agrees best."""
    found = draws_of(law, 1)
    likely = {
        each.name: np.array([each.value]) for room in ("yeast", "dough") for each in load(room).parameters.values()
    }
    place = found["yeast.temperature_law"]
    agreed = {name: np.array([value]) for name, value in _AGREED.items()}
    return found | likely | agreed | {"yeast.temperature_law": place}


@dataclass(frozen=True)
class Shaped:
    """Loaves just moulded."""

    state: HoldState
    p: Array
    physics: DoughPhysics


def shaped(draws: dict[str, Array]) -> Shaped:
    """Fermented at 27 °C and moulded."""
    members = draws["loaf.start"].size
    middle = bread(0.75)
    p, y = s.ferment_parameters(middle, draws), s.initial_ferment(middle, draws)
    y[:, s.YEAST] *= draws["loaf.yeast"] / 0.75
    p[:, s.P_CRITICAL] = draws["loaf.critical"]
    for m in range(members):
        ferment_for(y[m], p[m], 27.0, float(draws["loaf.before"][m]) * 3600.0, 120.0)
        degas(y[m], p[m], float(draws["loaf.moulding"][m]), 27.0)
    body, one = s.body_of(middle), np.ones(members)
    physics = DoughPhysics(body.density * one, body.heat_capacity * one, body.conductivity * one, 0.0 * one)
    temperature = np.repeat(draws["loaf.start"][:, None], CELLS, axis=1)
    return Shaped(HoldState(temperature, np.repeat(y[:, None, :], CELLS, axis=1)), p, physics)


def proofed(
    loaf: Shaped, draws: dict[str, Array], air_c: Array, film: Array, minutes: float, samples: int = 61
) -> HoldRun:
    """Loaves in a cabinet; samples evenly over the time."""
    members = air_c.size
    stage = HoldStage(
        shape="cylinder", faces=np.linspace(0.0, 1.0, CELLS + 1) ** 0.8, thickness_m=draws["loaf.diameter"],
        h_bottom=np.zeros(members), h_top=film, air_s=np.array([0.0]), air_c=air_c[:, None], bench=None,
        rise_free=True, sample_s=np.linspace(0.0, 60.0 * minutes, samples), end_s=np.full(members, 60.0 * minutes),
        until=None,
    )  # fmt: skip
    return advance_hold(loaf.state, stage, loaf.physics, loaf.p, draws)


def minutes_to(run: HoldRun, height: Array, minutes: float) -> Array:
    """Minutes to a rise (M,), straight between samples; twice the horizon where it is not reached."""
    rise = run.samples[:, :, OBS_RISE]
    times = np.linspace(0.0, minutes, rise.shape[1])
    found = np.full(height.size, 2.0 * minutes)
    for m, row in enumerate(rise):
        above = np.nonzero(row >= height[m])[0]
        if above.size and above[0] > 0:
            k = above[0]
            share = (height[m] - row[k - 1]) / (row[k] - row[k - 1])
            found[m] = times[k - 1] + share * (times[k] - times[k - 1])
    return found


def constant_height(draws: dict[str, Array]) -> tuple[Array, Array]:
    """Minutes at 13 and at 57 °C to the height that the usual proof gives."""
    loaf = shaped(draws)
    usual = proofed(loaf, draws, draws["practice.air"], draws["loaf.film_warm"], 66.0)
    rise, times = usual.samples[:, :, OBS_RISE], np.linspace(0.0, 66.0, usual.samples.shape[1])
    height = np.array(
        [np.interp(t, times, row) for t, row in zip(draws["practice.minutes"].clip(1, 66), rise, strict=True)]
    )
    members = height.size
    cold = proofed(loaf, draws, np.full(members, 13.3), draws["loaf.film_cold"], 500.0)
    hot = proofed(loaf, draws, np.full(members, 57.2), draws["loaf.film_hot"], 120.0)
    return minutes_to(cold, height, 500.0), minutes_to(hot, height, 120.0)


def f_to_c(fahrenheit: float) -> float:
    """Fahrenheit to Celsius."""
    return (fahrenheit - 32.0) / 1.8


def speeds(draws: dict[str, Array]) -> dict[str, Array]:
    """Figures of the law alone, by anchor."""
    rows = temperature_law(draws)[:, :LAW_LENGTH]

    def at(celsius: float) -> Array:
        return np.array([gas_law(celsius, row) for row in rows])

    grid = np.arange(30.0, 46.0, 0.25)
    best = grid[np.argmax(np.stack([at(float(t)) for t in grid]), axis=0)]
    warm = at(f_to_c(80))
    return {
        "per_kelvin": 100.0 * ((at(30.0) / at(23.0)) ** (1 / 7) - 1.0),
        "double_below": np.log(warm / at(f_to_c(63))),
        "double_above": np.log(at(f_to_c(97)) / warm),
        "best": best,
        "at_40f": at(f_to_c(40)) / warm,
        "at_34f": at(f_to_c(34)) / warm,
    }


ANCHORS = {
    "cold": (np.log(270.0), 0.12, "siffring-1993"),
    "hot": (np.log(36.0), 0.12, "siffring-1993"),
    "per_kelvin": (10.0, 2.0, "trade-fermentation"),
    "double_below": (np.log(2.0), 0.15, "trade-doubling, oven-maker-fermentation"),
    "double_above": (np.log(2.0), 0.20, "oven-maker-fermentation"),
    "best": (37.5, 1.2, "textbook-yeast-factors"),
    "at_40f": (0.0, 0.06, "oven-maker-fermentation: nearly stops"),
    "at_34f": (0.0, 0.03, "home-baking-temperatures: inactive"),
}
"""Anchor: (published, width of its likelihood, source). Times and ratios by their logarithm."""


def log_likelihoods(draws: dict[str, Array]) -> dict[str, Array]:
    """Log likelihood of every draw (M,) by anchor."""
    cold, hot = constant_height(draws)
    found = {"cold": np.log(cold), "hot": np.log(hot), **speeds(draws)}
    return {name: -0.5 * ((found[name] - middle) / width) ** 2 for name, (middle, width, _) in ANCHORS.items()}


def report(members: int = 2000) -> None:
    """Print evidence, weights and posterior constants."""
    evidence = {}
    for law in LAWS:
        draws = draws_of(law, members)
        parts = log_likelihoods(draws)
        total = sum(parts.values())
        weight = np.exp(total - total.max())
        evidence[law] = float(np.log(weight.mean()) + total.max())
        share = weight / weight.sum()
        print(f"\n{law}: log evidence {evidence[law]:.2f}, {1 / (share**2).sum():.0f} effective draws")
        cold, hot = constant_height(draws)
        for name, values in {"13 °C [min]": cold, "57 °C [min]": hot, **speeds(draws)}.items():
            print(f"  {name:14} prior {np.mean(values):8.3f}  posterior {share @ values:8.3f}")
        for name in (*LAW_NAMES[law], "yeast.death_d50", *(each.name for each in LOAF)):
            mean = share @ draws[name]
            sd = np.sqrt(share @ (draws[name] - mean) ** 2)
            print(f"  {name:26} {np.mean(draws[name]):10.4g} -> {mean:10.4g} ± {sd:.3g}")
        for name, values in parts.items():
            print(f"  log likelihood {name:14} {share @ values:7.2f}")
    top = max(evidence.values())
    raw = np.array([np.exp(value - top) for value in evidence.values()])
    raw /= raw.sum()
    print(
        "\nweights",
        dict(zip(LAWS, raw.round(3), strict=True)),
        "halfway to equal",
        (0.5 * raw + 0.5 / len(LAWS)).round(3),
    )


if __name__ == "__main__":
    report()
