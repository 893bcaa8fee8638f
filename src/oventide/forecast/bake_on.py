"""Bake on, cover or stop: a probe's reading and a look at the colour, taken during the bake, weigh the kitchens.

Every kitchen of the ensemble is brought to this moment, once to go on open and once to go on covered. Kitchens in
which the core and the colour would now be as they were read count for more (Bayes); what is left of the ensemble says
how many minutes are still needed and what colour the buns will have then.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from oventide.bake.colour import COLOUR_WORDS, colour_word
from oventide.bake.doneness import BELOW_BOILING_C, GOLDEN, SET_SHARE, first_crossing
from oventide.errors import refuse
from oventide.evidence.parameters import load
from oventide.forecast.foresee import check_procedure, ensemble_for
from oventide.kitchen.model import Kitchen
from oventide.matter.water import air_pressure_pa, boiling_point_c
from oventide.timeline.batch import Batch
from oventide.timeline.procedure import Procedure, Span, Step
from oventide.timeline.run import run_timeline
from oventide.timeline.surroundings import Clock
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]
Way = Literal["open", "covered"]
Advice = Literal["stop", "bake on open", "bake on covered", "bake on covered, in a cooler oven"]

_UPPER = {word: upper for upper, word in COLOUR_WORDS}
_LOWER = {word: (COLOUR_WORDS[i - 1][0] if i else 0.0) for i, (_, word) in enumerate(COLOUR_WORDS)}
SEEN: dict[str, tuple[float, float]] = {
    **{word: (_LOWER[word], _UPPER[word]) for word in _UPPER},
    "pale": (0.0, _UPPER["straw"]),
    "golden": (_UPPER["straw"], _UPPER["golden"]),
    "dark": (_UPPER["golden brown"], _UPPER["burnt"]),
}
"""ΔE that a word of the bench may mean. "pale", "golden" and "dark" are wider than the steps of `COLOUR_WORDS`."""
WORDS = tuple(SEEN)
BROWNS = np.exp(np.linspace(-3.2, 3.2, 33))
"""Factors on the browning rate among which a colour that is seen may choose."""
_MOST_SHIFT_K = 6.0
_DRY_AFTER_MIN = 12.0


@dataclass(frozen=True)
class Weighed:
    """A figure of the weighed kitchens: 5, 50 and 95 %, and the share of them in which it is reached at all."""

    p5: float
    p50: float
    p95: float
    reached: float = 1.0


@dataclass(frozen=True)
class Going:
    """What comes of going on in one way. `more_min` from now until the coldest point is hot and set [min].

    `colour` is ΔE at that moment (now, where it is done already), `colour_word` its word, `too_dark` the share of the
    kitchens in which it is then past golden brown, `golden_min` the minutes from now until the top is golden [min].
    """

    way: Way
    more_min: Weighed
    colour: Weighed
    colour_word: str
    too_dark: float
    golden_min: Weighed


@dataclass(frozen=True)
class BakeOn:
    """The answer. `kitchens` is how many kitchens still carry the weight (effective sample size).

    `fits` is False where hardly a kitchen of the ensemble agrees with what was read: the readings then say more than
    the model does, and the figures are shown as outside it.
    """

    advice: Advice
    words: str
    open: Going
    covered: Going
    core_foreseen: Weighed
    """What the ensemble had foreseen for this moment, before the reading [°C]."""
    kitchens: float
    fits: bool
    because: str


def bake_on(
    batch: Batch,
    kitchen: Kitchen,
    *,
    minutes_in_oven: float,
    core_c: float,
    colour: str | None = None,
    colour_at: Literal["top", "edge"] = "top",
    members: int = 256,
    seed: int = 1,
) -> BakeOn:
    """What to do with a tin that was in the oven for `minutes_in_oven` [min] and reads `core_c` [°C] in its middle.

    `colour` is a word of `WORDS` for what is seen now, or None where it was not looked at; `colour_at` says whether it
    was the tops or the tin's edge that was looked at (an edge says less about the tops). The bake is taken as written
    up to this moment, covered first where it is written so, and then goes on both ways at the last setting.

    The weights: w ∝ exp(-½ (T_model - T_read)²/s²) · P(word | ΔE), s from the probe's own error and from where in the
    bun its tip was (`probe.*`, `colour.*` of tin.toml).
    """
    if not 0.0 < minutes_in_oven <= 240.0:
        raise refuse("minutes_in_oven", minutes_in_oven, "A bake takes some minutes.", "Give 1 to 240 minutes.")
    if not 0.0 <= core_c <= 105.0:
        raise refuse("core_c", core_c, "A core lies between 0 and 105 °C.", "Read the probe again, in °C.")
    if colour is not None and colour not in SEEN:
        raise refuse("colour", colour, "The colour is one of: " + ", ".join(WORDS) + ".", "Choose the nearest word.")
    check_procedure(batch.procedure)
    ensemble = ensemble_for(kitchen, members, seed)
    ways: dict[Way, StepTrace] = {}
    for way in ("open", "covered"):
        cut = replace(batch, procedure=cut_at(batch.procedure, minutes_in_oven, covered=way == "covered"))
        ways[way] = run_timeline(cut, kitchen, ensemble, Clock(None)).steps[-1]
    goal_c = float(boiling_point_c(air_pressure_pa(kitchen.altitude_m))) - BELOW_BOILING_C
    return judge(ways["open"], ways["covered"], core_c, colour, colour_at, goal_c)


def cut_at(procedure: Procedure, minutes: float, covered: bool, look_ahead_min: float = 30.0) -> Procedure:
    """The procedure up to `minutes` in the oven, then one more stretch of baking, open or covered.

    >>> bake = [Step(kind="bake", minutes=Span(low=m, likely=m, high=m), air_c=170, covered=m == 20) for m in (20, 10)]
    >>> [(s.minutes.likely, s.covered) for s in cut_at(Procedure(steps=tuple(bake)), 23, covered=True).steps]
    [(20.0, True), (3.0, False), (30.0, True)]
    """
    steps: list[Step] = []
    left, last = minutes, None
    for step in procedure.steps:
        if step.kind != "bake":
            if last is None:
                steps.append(step)
                continue
            break
        last = step
        planned = step.minutes.likely if step.minutes is not None else left
        length = min(left, planned)
        if length > 0.0:
            steps.append(_lasting(step, length))
        left -= length
    if last is None:
        raise refuse("procedure", "no bake", "There is no bake in this procedure.", "Add the bake, with its setting.")
    if left > 0.0:
        steps.append(_lasting(last, left))
    steps.append(_lasting(last, look_ahead_min).model_copy(update={"covered": covered}))
    return Procedure(steps=tuple(steps))


def _lasting(step: Step, minutes: float) -> Step:
    span = Span(low=minutes, likely=minutes, high=minutes)
    return step.model_copy(update={"minutes": span, "ends_by": "clock", "target": None})


def weights(
    core_model_c: Array, colour_model: Array, core_c: float, colour: str | None, colour_at: str = "top"
) -> tuple[Array, float, bool]:
    """Weights (M, F) of members and of how much faster they brown; how many members carry them; do the readings fit.

    How fast this dough browns is known badly, so that every member is taken with each of the factors `BROWNS` on its
    browning rate, lognormal around 1 (`colour.unknown`). The core's error is widened until enough members are left.
    """
    known = load("tin")
    chance = np.exp(-0.5 * np.square(np.log(BROWNS) / known.value("colour.unknown")))
    browns = np.tile(chance / chance.sum(), (core_model_c.size, 1))
    if colour is not None:
        low, high = SEEN[colour]
        blur = known.value("colour.eye" if colour_at == "top" else "colour.eye_at_edge")
        delta_e = browned(colour_model[:, None], BROWNS)
        above = ndtr((delta_e - low) / blur) if low > 0.0 else 1.0
        browns = browns * np.maximum(1e-12, above * ndtr((high - delta_e) / blur))
    agree = browns.sum(axis=1)
    browns = browns / agree[:, None]
    fits = bool(agree.mean() > 0.01)
    probe = math.hypot(known.value("probe.error"), known.value("probe.place"))
    least = min(12.0, 0.25 * core_model_c.size)
    # a colour that hardly any member foresaw says more about browning than about the member: it is let go first
    for trust, wider in ((1.0, 1.0), (0.5, 1.0), (0.0, 1.0), *((0.0, 1.3**n) for n in range(1, 14))):
        log = trust * np.log(agree) - 0.5 * np.square((core_model_c - core_c) / (probe * wider))
        member = np.exp(log - log.max())
        member = member / member.sum()
        effective = 1.0 / float(np.square(member).sum())
        if effective >= least:
            break
    return member[:, None] * browns, effective, fits and wider < 2.0


def browned(delta_e: Array, factor: Array) -> Array:
    """ΔE where browning goes `factor` times as fast, from ΔE at factor 1: 52 (1 - (1 - E/52)^f), the law of colour.py.

    >>> float(browned(np.array(20.0), np.array(1.0)))
    20.0
    """
    end = load("bake").value("browning.asymptote")
    return np.asarray(end * (1.0 - np.power(np.clip(1.0 - delta_e / end, 1e-9, 1.0), factor)))


def judge(
    going_open: StepTrace,
    going_covered: StepTrace,
    core_c: float,
    colour: str | None,
    colour_at: str,
    goal_c: float,
) -> BakeOn:
    """The answer from two traces of the same members that both begin now."""
    core_now = going_open.at_start("core_c")
    weight, effective, fits = weights(core_now, going_open.at_start("colour_top"), core_c, colour, colour_at)
    ahead_c = float(np.clip(core_c - core_now @ weight.sum(axis=1), -_MOST_SHIFT_K, _MOST_SHIFT_K))
    going = _going("open", going_open, weight, goal_c - ahead_c)
    under = _going("covered", going_covered, weight, goal_c - ahead_c)
    advice, words = _advice(going, under)
    foreseen = weighed(core_now, np.full(core_now.size, 1.0 / core_now.size))
    because = (
        f"For this moment a core of {foreseen.p5:.0f} to {foreseen.p95:.0f} °C was foreseen; {core_c:.0f} °C "
        f"leaves about {effective:.0f} of {core_now.size} kitchens that agree."
    )
    if colour is not None:
        because += f" How fast this dough browns was set by the tops being {colour} now."
    if not fits:
        because += " Readings like these were hardly foreseen: probe once more, and take the figures as rough."
    return BakeOn(advice, words, going, under, foreseen, effective, fits, because)


def weighed(values: Array, weight: Array, never: float | None = None) -> Weighed:
    """Weighted 5, 50 and 95 % of values (M,); infinite ones are held at `never` and counted as not reached.

    >>> round(weighed(np.arange(101.0), np.full(101, 1 / 101)).p50, 9)
    50.0
    """
    finite = np.isfinite(values)
    held = np.where(finite, values, 0.0 if never is None else never)
    order = np.argsort(held, kind="stable")
    middle = np.cumsum(weight[order]) - 0.5 * weight[order]
    p5, p50, p95 = np.interp((0.05, 0.5, 0.95), middle, held[order])
    return Weighed(float(p5), float(p50), float(p95), float(weight[finite].sum()))


def _going(way: Way, trace: StepTrace, weight: Array, goal_c: float) -> Going:
    """One way on; `goal_c` is where the members' core counts as hot."""
    done = np.maximum(trace.first_passage("core_c", goal_c), trace.first_passage("set_coldest", SET_SHARE))
    horizon = float(trace.sample_s[-1])
    by_member = weight.sum(axis=1)
    colour = browned(trace.at("colour_top", np.minimum(done, horizon))[:, None], BROWNS)
    curve = trace.curve("colour_top")
    golden = np.stack(
        [first_crossing(trace.sample_s, browned(curve, np.array(factor)), GOLDEN[0]) for factor in BROWNS], axis=1
    )
    then = weighed(colour.ravel(), weight.ravel())
    return Going(
        way=way,
        more_min=weighed(done / 60.0, by_member, horizon / 60.0),
        colour=then,
        colour_word=colour_word(then.p50),
        too_dark=float(weight[colour > GOLDEN[1]].sum()),
        golden_min=weighed(np.where(np.isnan(golden), np.inf, golden / 60.0).ravel(), weight.ravel(), horizon / 60.0),
    )


def _minutes(span: Weighed) -> str:
    low, high = round(span.p5), round(span.p95)
    if span.reached < 0.5:
        return f"more than {low} min"
    words = f"{low} to {high} min" if high > low else f"{high} min"
    return words if span.reached >= 0.95 else f"{low} min to more than {high} min"


def _advice(going_open: Going, covered: Going) -> tuple[Advice, str]:
    """What to do, in words: done and golden stops; else open, unless the tops would be too dark by then."""
    if going_open.more_min.p50 < 0.75:
        if going_open.golden_min.p50 < 0.75:
            return "stop", f"Done inside and {going_open.colour_word}: take it out."
        golden = _minutes(going_open.golden_min)
        if going_open.golden_min.p50 > _DRY_AFTER_MIN:
            return "stop", f"Done inside, {going_open.colour_word}: take it out; golden is {golden} away, and it dries."
        return "bake on open", f"Done inside, {going_open.colour_word}: open for {golden} until it is golden."
    need = f"{_minutes(going_open.more_min)} ({going_open.colour_word} then)"
    under = f"{_minutes(covered.more_min)} ({covered.colour_word} then)"
    if going_open.too_dark <= 0.25:
        return "bake on open", f"Bake on open for {need}. Under a cover: {under}."
    if covered.too_dark <= 0.5:
        return "bake on covered", f"Cover it and bake on for {under}. Left open: {need}."
    return (
        "bake on covered, in a cooler oven",
        f"It is dark enough: cover it and set the oven some 20 °C lower. At this setting: {under}.",
    )
