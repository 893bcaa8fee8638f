"""The ways out of a window that was missed, each with what it costs by the model (docs/live.md)."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from oventide.bake.colour import colour_word
from oventide.bench.model import Choice
from oventide.dough.fat import thresholds
from oventide.forecast.hot import core_target_c
from oventide.forecast.narrowing import expected
from oventide.forecast.quantiles import quantiles
from oventide.forecast.under_way import UnderWay, go_on
from oventide.services.kernel import give_way
from oventide.services.live_missed import WAYS, Missed, with_way
from oventide.services.live_outlook import Look
from oventide.services.live_plan import plan_of
from oventide.services.live_readings import aim_of
from oventide.services.live_ways import way_id
from oventide.services.wording import figure_words, minutes_words
from oventide.timeline.procedure import Procedure, Target
from oventide.timeline.trace import StepTrace

Array = NDArray[np.float64]

_LONGEST_COLD_MIN, _LONGEST_PROOF_MIN, _LONGEST_BAKE_MIN = 60.0, 150.0, 30.0
_BUYS_MIN = 30.0
"""A stay in the fridge that is to buy time is looked at for so long."""
_WAITS_MIN = 60.0
_MOST_OFF_K = 6.0
"""A probe further off than this from the kitchens that agree is answered by itself."""
_MORE_PERCENT = (0.0, 1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 15.0, 20.0)
"""Liquid that is tried to thin a glaze, of its mass [%]."""


class Tries:
    """Tries ways out of one missed window in the run that is there; the caller holds the kernels' lock."""

    def __init__(self, look: Look, gone: Missed) -> None:
        self.look, self.gone = look, gone
        self.step = look.bake.product.procedure.steps[gone.step]
        self.place = look.now_place
        self.trace = look.run.trace.steps[self.place]
        self.at_s = gone.at_s
        self.gone_s = gone.at_s - (look.plan.begun_s(self.place) or 0.0)

    def now(self, name: str) -> Array:
        """(M,) an observable of the step now, at the moment that is looked at."""
        return self.trace.at(name, np.full(self.trace.start_s.size, self.gone_s))

    def tried(self, way: str) -> list[StepTrace]:
        """The stretches of the step if the way is taken now: what was before it, and what follows."""
        look = self.look
        plan = plan_of(look.bake, with_way(look.bake, look.progress, self.gone.step, way, self.at_s))
        last = plan.pieces_of(self.gone.step)[-1]
        give_way()
        run: UnderWay = go_on(look.run, Procedure(steps=plan.steps[: last + 1]))
        return [run.trace.steps[place] for place in plan.pieces_of(self.gone.step)]

    def span(self, values: Array, unit: str, scale: float = 1.0) -> str:
        """5 to 95 % of the kitchens, in words; values that are not reached are held at the last that is."""
        finite = np.isfinite(values)
        if not finite.any():
            return "not in the time looked at"
        held = np.where(finite, values, values[finite].max()) * scale
        low, _, high = quantiles(held, weights=self.look.weights)
        ends = [figure_words(float(each), unit) for each in (low, high)]
        if ends[0] == ends[1]:
            return ends[0]
        tail = f" {unit}"
        both = all(end.endswith(tail) and " h" not in end for end in ends)
        return f"{ends[0].removesuffix(tail) if both else ends[0]} to {ends[1]}"

    def likely(self, values: Array) -> float:
        finite = np.isfinite(values)
        held = np.where(finite, values, values[finite].max() if finite.any() else np.inf)
        return float(quantiles(held, (0.5,), self.look.weights)[0])

    def in_hundred(self, happens: NDArray[np.bool_]) -> int:
        """Kitchens of a hundred in which something happens."""
        return round(100.0 * float(np.average(happens, weights=self.look.weights)))


def choices_of(look: Look, gone: Missed) -> tuple[Choice, ...]:
    """The ways out, the likeliest first. Runs kernels: call it beside an answer, holding the kernels' lock."""
    tries = Tries(look, gone)
    found = []
    for way in WAYS[gone.kind]:
        choice = _MAKERS[way](tries)
        if choice is not None:
            found.append(choice)
    return tuple(found)


def _aim(tries: Tries) -> Target | None:
    aim = aim_of(tries.step)
    return aim if aim is not None and aim.measure == "rise" else None


def _rise(tries: Tries, trace: StepTrace, values: Array) -> Array:
    return values / trace.facts["shaped_rise"] if tries.gone.kind == "proof" else values


def _bake_at_once(tries: Tries) -> Choice:
    rise = _rise(tries, tries.trace, tries.now("rise"))
    losing = tries.in_hundred(tries.now("over_proof") > 0.0)
    costs = f"They go in risen {tries.span(rise, '×')}; what they have risen now they do not spring in the oven."
    if losing:
        costs += f" In {losing} of 100 kitchens the dough is letting go of its gas by now."
    return Choice(
        id=way_id("bake"), name="Bake at once", costs=costs,
        because="Rise and the dough's hold on its gas as the forecast has them for this moment.",
    )  # fmt: skip


def _go_on(tries: Tries) -> Choice:
    kind = tries.gone.kind
    if kind in ("bulk", "retard"):
        losing = tries.in_hundred(tries.now("over_proof") > 0.0)
        costs = (
            f"Risen {tries.span(tries.now('rise'), '×')} since mixing, inside {tries.span(tries.now('core_c'), '°C')}."
        )
        costs += f" In {losing} of 100 kitchens it is letting go of its gas." if losing else ""
        late = _behind(tries)
        return Choice(
            id=way_id("sooner"), name="Go on now", costs=f"{costs}{late}",
            because="The step's own course at this moment; pinning out presses most of the gas out again.",
        )  # fmt: skip
    solid = tries.span(tries.now("solid_fat"), "%", 100.0)
    return Choice(
        id=way_id("sooner"),
        name="Go on as it is",
        costs=f"Butter {solid} solid by the forecast; below {100 * thresholds().too_soft:.0f} % it smears, and the "
        "turns run into each other.",
        because="Solid fat of the dough at its temperature now. How far a smeared layer shows is not reckoned.",
    )


def _behind(tries: Tries) -> str:
    """How the buns then stand to the moment that was asked for."""
    ready = tries.look.progress.ready_at
    place = max(
        (place for place, leg in enumerate(tries.look.legs) if leg.trace.step.kind != "keep"), default=None
    )  # fmt: skip
    if ready is None or place is None:
        return ""
    behind = tries.look.rows[place][1].likely - (ready - tries.look.bake.started_at).total_seconds()
    if behind < 60.0:
        return ""
    return f" Likely ready {minutes_words(behind / 60.0)} after the time asked."


def _reshape(tries: Tries) -> Choice | None:
    aim = _aim(tries)
    if aim is None:
        return None
    again = tries.tried(way_id("reshape", _LONGEST_PROOF_MIN))[-1]
    value = aim.value * again.facts["shaped_rise"] if tries.gone.kind == "proof" else np.full(1, aim.value)
    minutes = again.first_passage("rise", value) / 60.0
    likely = tries.likely(minutes)
    if not np.isfinite(likely):
        return None
    return Choice(
        id=way_id("reshape", likely),
        name="Press down, reshape, proof again",
        costs=f"Another {tries.span(minutes, 'min')} of proof after some minutes by hand; a tighter, finer crumb.",
        because=f"Run again from here: gas pressed out, then risen × {aim.value:g} anew with the yeast and the sugar "
        "that are left. What a second shaping does to the spiral is not reckoned.",
    )


def _cold(tries: Tries) -> Choice | None:
    if tries.gone.kind in ("proof", "bulk"):
        return _bought(tries)
    stay = tries.tried(way_id("cold", _LONGEST_COLD_MIN))[1]
    minutes = stay.first_passage("solid_fat", thresholds().getting_soft, rising=True) / 60.0
    likely = tries.likely(minutes)
    if not np.isfinite(likely):
        return None
    likely = max(5.0, likely)
    share = tries.in_hundred(np.isfinite(minutes))
    costs = f"{tries.span(minutes, 'min')} till its butter is firm again; everything after it is so much later."
    if share < 95:
        costs += f" In {100 - share} of 100 kitchens an hour is not enough."
    because = (
        f"Cooled as it lies, till {100 * thresholds().getting_soft:.0f} % of its butter is solid; fat sets some "
        "minutes after it is cold."
    )
    if tries.gone.why == "soft" and tries.likely(tries.now("solid_fat")) > thresholds().getting_soft:
        because += " By the forecast it is firmer than the hand says: the hand has the word."
    return Choice(
        id=way_id("cold", likely), name=f"Into the fridge for {minutes_words(likely)}", costs=costs, because=because
    )


def _bought(tries: Tries) -> Choice:
    stay = tries.tried(way_id("cold", _BUYS_MIN))[1]
    rise, core = _rise(tries, stay, stay.at_end("rise")), tries.span(stay.at_end("core_c"), "°C")
    return Choice(
        id=way_id("cold", _BUYS_MIN),
        name=f"Into the fridge for {minutes_words(_BUYS_MIN)}",
        costs=f"It goes on rising while it cools, to {tries.span(rise, '×')}; inside {core} then, so that the middle "
        "bakes later.",
        because="Run again from here in the fridge's air. It buys time for the oven, and takes no rise back.",
    )


def _wait(tries: Tries) -> Choice:
    stay = tries.tried(way_id("wait", _WAITS_MIN))[-1]
    losing = tries.in_hundred(stay.at_end("over_proof") > 0.0)
    costs = f"Risen {tries.span(stay.at_end('rise'), '×')} after another hour"
    costs += f"; in {losing} of 100 kitchens it lets go of its gas by then." if losing else "."
    return Choice(
        id=way_id("wait", _WAITS_MIN), name="Another hour in the fridge", costs=costs,
        because="The same night an hour longer.",
    )  # fmt: skip


def _goal_c(tries: Tries) -> float:
    return core_target_c(tries.look.bake.kitchen.altitude_m)


def _probe_off_k(tries: Tries) -> tuple[float, float] | None:
    """The last probe [°C], and how far it is off what the kitchens that agree with the readings show."""
    probes = [one for one in tries.look.measured if one.step == tries.place and one.quantity == "core"]
    if not probes:
        return None
    shown = expected(tries.look.run.trace, probes[-1])
    return probes[-1].value, probes[-1].value - float(np.average(shown, weights=tries.look.weights))


def _from_to_min(tries: Tries, from_c: float, to_c: float) -> Array:
    """(M,) minutes in which each kitchen's core came from one temperature to another, over the bake as it was run."""
    bakes = [step for step in tries.look.run.trace.steps[: tries.place + 1] if step.step.kind == "bake"]
    seconds = np.concatenate([step.start_s[:, None] + step.sample_s[None, :] for step in bakes], axis=1)
    core = np.maximum.accumulate(np.concatenate([step.curve("core_c") for step in bakes], axis=1), axis=1)
    inside = np.concatenate([step.sample_s[None, :] <= step.duration_s[:, None] for step in bakes[:-1]]
                            + [np.ones((core.shape[0], bakes[-1].sample_s.size), dtype=bool)], axis=1)  # fmt: skip
    found = np.full(core.shape[0], np.inf)
    for row in range(core.shape[0]):
        at, levels = seconds[row, inside[row]], core[row, inside[row]]
        if levels[-1] >= to_c:
            found[row] = (np.interp(to_c, levels, at) - np.interp(from_c, levels, at)) / 60.0
    return found


def _top(tries: Tries, colour: Array) -> str:
    low, _, high = quantiles(colour, weights=tries.look.weights)
    return " to ".join(dict.fromkeys((colour_word(float(low)), colour_word(float(high)))))


def _goes_on_open(tries: Tries) -> bool:
    """Whether another stretch of the bake follows: then this one is over when the cover comes off."""
    steps = tries.look.bake.product.procedure.steps
    return tries.gone.step + 1 < len(steps) and steps[tries.gone.step + 1].kind == "bake"


def _uncover(tries: Tries) -> Choice:
    return Choice(
        id=way_id("sooner"),
        name="Take the cover off now" if tries.step.covered else "Go on now",
        costs=f"Inside {tries.span(tries.now('core_c'), '°C')} by now; it is so much nearer to done, and the tops "
        "have the rest of the bake to brown.",
        because="The step's own course at this moment. Colour and core at the end move with it at once.",
    )


def _take_out(tries: Tries) -> Choice | None:
    core, goal = tries.now("core_c"), _goal_c(tries)
    probe = _probe_off_k(tries)
    if tries.likely(core) < goal or (probe is not None and probe[0] < goal and abs(probe[1]) > _MOST_OFF_K):
        return None
    return Choice(
        id=way_id("sooner"),
        name="Take it out",
        costs=f"Inside {tries.span(core, '°C')} by the forecast, the top {_top(tries, tries.now('colour_top'))}.",
        because=f"In {tries.in_hundred(core >= goal)} of 100 kitchens it is hot inside by now. The colour is foreseen, "
        "and was not read.",
    )


def _on(covered: bool) -> Callable[[Tries], Choice | None]:
    way, word = ("cover", "Cover it and bake on") if covered else ("open", "Bake on open")

    def made(tries: Tries) -> Choice | None:
        if _goes_on_open(tries):
            return None
        goal, probe = _goal_c(tries), _probe_off_k(tries)
        if probe is not None and abs(probe[1]) > _MOST_OFF_K:
            return _by_the_probe(tries, way, word, probe[0], goal)
        if tries.likely(tries.now("core_c")) >= goal:
            return None
        rest = tries.tried(way_id(way, _LONGEST_BAKE_MIN))[-1]
        seconds = rest.first_passage("core_c", goal)
        likely = tries.likely(seconds / 60.0)
        if not np.isfinite(likely):
            return None
        then = rest.at("colour_top", np.minimum(seconds, rest.sample_s[-1]))
        return Choice(
            id=way_id(way, max(1.0, likely)),
            name=word,
            costs=f"{tries.span(seconds / 60.0, 'min')} till it is hot inside; the top {_top(tries, then)} then.",
            because="The bake run on from here in the kitchens that agree with what was read. The colour is foreseen, "
            "and was not read.",
        )

    return made


def _by_the_probe(tries: Tries, way: str, word: str, core_c: float, goal_c: float) -> Choice | None:
    """Where no kitchen is like the probe: the minutes that a core took from what was read to done."""
    if core_c >= goal_c:
        return None
    minutes = _from_to_min(tries, core_c, goal_c)
    likely = tries.likely(minutes)
    if not np.isfinite(likely):
        return None
    return Choice(
        id=way_id(way, max(1.0, likely)),
        name=word,
        costs=f"{tries.span(minutes, 'min')} by how fast a core comes from {core_c:.0f} to {goal_c:.0f} °C; the colour "
        "then is not reckoned.",
        because="The probe is far from what any kitchen shows: probe once more, in the middle of the middle bun.",
    )


def _warm(tries: Tries) -> Choice:
    surface = tries.span(tries.now("surface_c"), "°C")
    return Choice(
        id=way_id("warm"),
        name="Warm the glaze",
        costs=f"The crust is at {surface} now; warm glaze spreads thinner and sets later.",
        because="The crust's temperature is foreseen. What the glaze's own warmth does on the crust is not reckoned.",
    )


def _thin(tries: Tries) -> Choice | None:
    from oventide.bake.glaze import WORDS, on_bun
    from oventide.forecast.glazing import glaze_of

    made = tries.look.run.batch.glaze
    if made is None or made.water_g <= 0.0:
        return None
    glaze, surface = glaze_of(made), tries.now("surface_c")
    ensemble = tries.look.run.trace.ensemble
    draws = {**ensemble.of("bake"), **ensemble.of("tin")}
    for more in _MORE_PERCENT:
        thinner = replace(glaze, water_g=glaze.water_g + more * glaze.mass_g / 100.0)
        coat = on_bun(thinner, surface, draws)
        word = WORDS[round(tries.likely(coat.does.astype(float)))]
        if word not in ("coat", "thin coat", "soaks in"):
            continue
        warm = tries.span(surface, "°C")
        if more == 0.0:
            return Choice(
                id=way_id("sooner"), name="Glaze now as it is", costs=f"On a crust of {warm} it still levels: {word}.",
                because="How thick this glaze is on a crust so warm.",
            )  # fmt: skip
        grams = figure_words(more * glaze.mass_g / 100.0, "g")
        return Choice(
            id=way_id("thin"), name="Thin the glaze",
            costs=f"{grams} of water or milk for all of it, so that it levels on a crust of {warm}; it sets later.",
            because="The least that brings this glaze to a coat on a crust so warm, in the likely kitchen.",
        )  # fmt: skip
    return None


def _onwards(tries: Tries) -> Choice | None:
    if tries.gone.kind != "bake":
        return _go_on(tries)
    return _uncover(tries) if _goes_on_open(tries) else _take_out(tries)


_MAKERS: dict[str, Callable[[Tries], Choice | None]] = {
    "bake": _bake_at_once,
    "sooner": _onwards,
    "reshape": _reshape,
    "cold": _cold,
    "wait": _wait,
    "cover": _on(True),
    "open": _on(False),
    "warm": _warm,
    "thin": _thin,
}
