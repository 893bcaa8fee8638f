"""Keeping: the baked pieces in the room, the fridge or the freezer, thawed or warmed again, as they stale and dry.

Each stay has one course of temperature: an exponential where nothing freezes; to the freezing point, through it in
Pham's or Plank's time, and on, where something does. Staling, drying and the crust are read off that course.
Samples run past the stay's end, so that "minutes until" can be read.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from oventide.bake import drying, freezing, staling
from oventide.bake.drying import Wrap
from oventide.evidence.parameters import load
from oventide.matter.freezing import ICE_HEAT_KJ_KG, unfrozen_heat_capacity_kj_kgk
from oventide.matter.water import air_pressure_pa
from oventide.timeline.kept import Kept
from oventide.timeline.passage import Passage, planned_s
from oventide.timeline.procedure import Step
from oventide.timeline.surroundings import Clock, air_history
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

KEEP_OBSERVABLES = ("mean_c", "core_c", "staling", "firmness", "softness", "lost")
SAMPLES = 49
_LEAST_HORIZON_S = 4 * 86400.0
_CORE_LAG = 1.1
_PAPER, _BOX = ("paper",), ("tin", "box", "container", "jar")
_USUAL_POINT_C = -1.5


def wrap_of(step: Step) -> Wrap:
    """How the pieces are wrapped, by the step's words: paper, box (tin), else a bag where it is covered, else open."""
    said = f"{step.name} {step.text}".lower()
    if any(word in said for word in _PAPER):
        return "paper"
    if any(word in said for word in _BOX):
        return "box"
    return "bag" if step.covered or any(word in said for word in ("bag", "wrap", "film", "foil", "cover")) else "open"


def out_of_the_oven(dough: Passage, cooled: StepTrace) -> Kept:
    """What there is to keep when the last step before it has ended."""
    batch, draws = dough.batch, dough.draws
    loss = cooled.at_end("loss")
    water = np.maximum((batch.made_up.water_g / batch.made_up.mass_g - loss) / (1.0 - loss), 0.05)
    mass = batch.made_up_piece_g / 1000.0 * (1.0 - loss)
    height = cooled.at_end("height_mm") / 1000.0
    sides = draws["tin.side_share"] if batch.geometry.tin is not None else 1.0
    radius = (dough.footprint_m2 / np.pi) ** 0.5
    per_flour = 100.0 / batch.dough.flour_g
    return Kept(
        stale=np.zeros(dough.members),
        lost=np.zeros(dough.members),
        mean_c=cooled.at_end("mean_c"),
        slow=staling.slowness(batch.dough.sugars_g * per_flour, draws),
        limit=staling.limit_over_fresh(batch.dough.fat_g * per_flour, draws),
        water=water,
        density=mass / (dough.footprint_m2 * height),
        height_m=height,
        surface_m2_kg=dough.footprint_m2 * (1.0 + sides * 2.0 * height / radius) / mass,
    )


def keep(
    dough: Passage, kept: Kept, step: Step, index: int, begun: Array, clock: Clock, assumed: list[str]
) -> tuple[StepTrace, Kept]:
    """One stay, and what is left after it."""
    draws, length = dough.draws, planned_s(step, dough.ensemble)
    wrap = wrap_of(step)
    horizon = max(float(length.max()), _LEAST_HORIZON_S)
    sample_s = np.unique(np.append(horizon * np.linspace(0.0, 1.0, SAMPLES) ** 2.5, np.median(length)))
    air_s, air_c = air_history(step, dough.kitchen, dough.ensemble, clock, begun, horizon)
    if step.where == "oven":
        air_c = np.full_like(air_c, 160.0 if step.air_c is None else step.air_c)
    else:
        said = {"open": "open", "paper": "in paper", "bag": "wrapped", "box": "in a box or tin"}[wrap]
        assumed.append(f"The buns are taken to be kept {said}, one by one; mould is not in this figure.")
    course, facts = _course(kept, step, wrap, sample_s, air_s, air_c, draws, dough)
    core = _core(course, kept.mean_c, air_c.mean(axis=1))
    stale = staling.stale_after(
        sample_s, course, kept.stale, kept.slow, draws["freeze.point"], draws["staling.frozen_width"]
    )
    hottest = np.maximum.accumulate(core, axis=1)
    stale = staling.melted_back(stale, hottest, draws["reheat.left"][:, None])
    lost = kept.lost[:, None] + _drying(kept, step, wrap, sample_s, course, length, draws, dough.kitchen.altitude_m)
    firm = staling.firmness(stale, kept.limit, lost, draws["firmness.of_loss"])
    facts["crust_soft_s"] = drying.crust_soft_s(wrap, draws)
    samples = np.stack([course, core, stale, firm, 1.0 / firm, lost], axis=2)
    trace = StepTrace(index, step, "keep", KEEP_OBSERVABLES, begun, length, sample_s, samples, facts)
    hot = trace.at_end("core_c") > load("keeping").value("staling.melts_from")
    after = replace(
        kept,
        stale=trace.at_end("staling"),
        lost=trace.at_end("lost"),
        mean_c=trace.at_end("mean_c"),
        slow=np.where(hot, kept.slow / draws["reheat.faster"], kept.slow),
    )
    return trace, after


def _film(step: Step, wrap: Wrap, dough: Passage) -> Array:
    draws = dough.draws
    if step.where == "oven":
        film = draws["reheat.film"]
    elif step.where == "freezer":
        film = draws["freeze.film"]
    elif step.where == "fridge":
        film = draws["film.fridge_fan" if dough.kitchen.fridge_kind == "fan" else "film.fridge_still"]
    else:
        film = draws["film.room_air"]
    if wrap == "open" or step.where == "oven":
        return film
    return np.asarray(1.0 / (1.0 / film + load("keeping").value("wrap.resistance")))


def _course(
    kept: Kept,
    step: Step,
    wrap: Wrap,
    sample_s: Array,
    air_s: Array,
    air_c: Array,
    draws: dict[str, Array],
    dough: Passage,
) -> tuple[Array, dict[str, Array]]:
    """Mean temperature (M, K) over the stay, and when it is frozen, thawed, hot or cool inside (M,) [s]."""
    film, mean_air = _film(step, wrap, dough), air_c.mean(axis=1)
    point, sides = draws["freeze.point"], draws["shape.dimensionality"]
    solids = 1.0 - kept.water
    thawed_cp = 1000.0 * np.asarray(unfrozen_heat_capacity_kj_kgk(solids))
    frozen_cp = 1000.0 * (1.55 + 1.26 * solids)
    tau = freezing.time_constant_s(kept.density, thawed_cp, kept.height_m, film, draws["thaw.conductivity"], sides)
    tau_ice = freezing.time_constant_s(
        kept.density, frozen_cp, kept.height_m, film, draws["freeze.conductivity"], sides
    )
    goal = load("keeping").value
    freezes = (mean_air < point - 1.0) & (kept.mean_c > point)
    thaws = (kept.mean_c < point) & (mean_air > point + 1.0)
    stays_frozen = (kept.mean_c <= point) & (mean_air <= point)
    facts: dict[str, Array] = {}
    if np.ptp(air_c, axis=1).max() > 0.0:
        air_at = np.stack([np.interp(sample_s, air_s, row) for row in air_c])
    else:
        air_at = np.repeat(air_c[:, :1], sample_s.size, axis=1)
    course = _followed(sample_s, air_at, kept.mean_c, np.where(stays_frozen, tau_ice, tau))
    freezable = np.maximum(kept.water - draws["freeze.unfrozen_per_dry"] * solids, 0.02)
    if freezes.any():
        end_c = np.full_like(point, goal("freeze.target"))
        end_c = np.maximum(end_c, mean_air + 1.0)
        ice = freezable * np.clip(1.0 - point / np.minimum(end_c, point - 0.01), 0.0, 1.0)
        middle = freezing.mean_freezing_c(end_c, mean_air) - (_USUAL_POINT_C - point)
        middle = np.minimum(np.maximum(middle, mean_air + 2.0), 0.5 * (point + kept.mean_c))
        total = freezing.pham_s(
            kept.density, thawed_cp * (kept.mean_c - middle), ice * ICE_HEAT_KJ_KG * 1000.0
            + frozen_cp * np.maximum(middle - end_c, 0.0), kept.mean_c, end_c, mean_air, kept.height_m, film,
            draws["freeze.conductivity"], sides, _USUAL_POINT_C - point,
        )  # fmt: skip
        first = np.minimum(freezing.until_s(tau, kept.mean_c, mean_air, point, 1.0), 0.9 * total)
        frozen = _through(sample_s, kept.mean_c, mean_air, tau, first, point, total, end_c, tau_ice)
        course = np.where(freezes[:, None], frozen, course)
        facts["frozen_s"] = np.where(freezes, total, np.inf)
    if thaws.any():
        ice = freezable * np.clip(1.0 - point / np.minimum(kept.mean_c, point - 0.01), 0.0, 1.0)
        heat = ice * ICE_HEAT_KJ_KG * 1000.0 + frozen_cp * (point - kept.mean_c)
        melted = freezing.plank_s(
            kept.density, heat, mean_air - point, kept.height_m, film, draws["thaw.conductivity"]
        ) / sides  # fmt: skip
        start = np.zeros_like(melted)
        thawed = _through(sample_s, kept.mean_c, mean_air, tau_ice, start, kept.mean_c, melted, point, tau)
        course = np.where(thaws[:, None], thawed, course)
        warm = freezing.until_s(tau, point, mean_air, goal("thaw.target"), 1.0)
        facts["thawed_s"] = np.where(thaws, melted + warm, np.inf)
    if step.where == "oven":
        begin, rest = np.where(thaws, point, kept.mean_c), np.where(thaws, facts.get("thawed_s", 0.0), 0.0)
        rest = np.where(thaws, rest - freezing.until_s(tau, point, mean_air, goal("thaw.target"), 1.0), 0.0)
        facts["hot_s"] = rest + freezing.until_s(tau, begin, mean_air, goal("reheat.target"), _CORE_LAG)
    return course, facts


def _followed(sample_s: Array, air_at: Array, start_c: Array, tau: Array) -> Array:
    """Exponential pursuit of the air (M, K), exact where the air stands still between samples."""
    course = np.empty_like(air_at)
    course[:, 0] = start_c
    for k in range(1, sample_s.size):
        air = 0.5 * (air_at[:, k] + air_at[:, k - 1])
        course[:, k] = air + (course[:, k - 1] - air) * np.exp(-(sample_s[k] - sample_s[k - 1]) / tau)
    return course


def _through(
    sample_s: Array, start_c: Array, air_c: Array, tau: Array, first_s: Array, first_c: Array, second_s: Array,
    second_c: Array, tau_after: Array,
) -> Array:  # fmt: skip
    """A course (M, K): to `first_c` by an exponential, to `second_c` in a straight line, and on to the air."""
    t = sample_s[None, :]
    before = air_c[:, None] + (start_c - air_c)[:, None] * np.exp(-t / tau[:, None])
    way = np.clip((t - first_s[:, None]) / np.maximum(second_s - first_s, 1.0)[:, None], 0.0, 1.0)
    between = first_c[:, None] + (second_c - first_c)[:, None] * way
    after = air_c[:, None] + (second_c - air_c)[:, None] * np.exp(
        -np.maximum(t - second_s[:, None], 0.0) / tau_after[:, None]
    )
    return np.where(t < first_s[:, None], before, np.where(t < second_s[:, None], between, after))


def _core(course: Array, start_c: Array, air_c: Array) -> Array:
    """The middle's course: it lags behind the mean, and never passes where it began."""
    lagged = air_c[:, None] + _CORE_LAG * (course - air_c[:, None])
    low, high = np.minimum(start_c, air_c)[:, None], np.maximum(start_c, air_c)[:, None]
    return np.asarray(np.clip(lagged, low, high))


def _drying(
    kept: Kept, step: Step, wrap: Wrap, sample_s: Array, course: Array, length: Array, draws: dict[str, Array],
    altitude_m: float,
) -> Array:  # fmt: skip
    """Share of the weight lost (M, K) since this stay began, at most the water that can leave."""
    weights = np.gradient(sample_s)[None, :] * (sample_s[None, :] <= length[:, None])
    crumb_c = (course * weights).sum(axis=1) / np.maximum(weights.sum(axis=1), 1e-9)
    if step.where in ("fridge", "freezer"):
        damp = load("keeping").value("cold.humidity")
        vapour = damp * drying.saturated_pa(crumb_c)
    else:
        vapour = draws["room.vapour"]
    step_pa = drying.drying_step_pa(crumb_c, vapour)
    dry = kept.density * (1.0 - kept.water)
    lost = (
        drying.lost_kg_m2(sample_s, step_pa, wrap, dry, draws, air_pressure_pa(altitude_m))
        * kept.surface_m2_kg[:, None]
    )
    most = np.maximum(kept.water - 0.10, 0.02)[:, None]
    return np.asarray(most * (1.0 - np.exp(-lost / most)))
