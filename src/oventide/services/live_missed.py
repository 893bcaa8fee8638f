"""Whether a window was missed in the step now, and which ways out there are; what each costs is tried in the model.

A way out that changes what comes is tried: the steps with it in are run from where the dough is now, as far as the step
goes, and its figures are those of the kitchens that agree with the readings. What no model says is said to be so.
"""

from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Literal

from oventide.bench.fold import Progress
from oventide.bench.model import Bake
from oventide.evidence.parameters import load
from oventide.services.live_outlook import Look
from oventide.services.live_readings import aim_of

Why = Literal["late", "soft", "risen"]
_TRIED_EVERY_S = 300.0


@dataclass(frozen=True)
class Missed:
    """What was missed: the product's step, why, and the moment that its ways out are reckoned for."""

    step: int
    kind: str
    why: Why
    at_s: float
    noted: tuple[object, ...]
    """What was read and marked till then: the ways out hang on it."""


def missed(look: Look) -> Missed | None:
    """What was missed in the step now; None where nothing was. Moments are taken by five minutes, as advice is."""
    if look.now_place >= len(look.plan.steps):
        return None
    step = look.plan.origin[look.now_place]
    kind = look.bake.product.procedure.steps[step].kind
    why = _why(look, step)
    if why is None or kind not in WAYS:
        return None
    begun = look.plan.begun_s(look.plan.pieces_of(step)[0]) or 0.0
    at_s = max(begun + 1.0, _TRIED_EVERY_S * int(look.now_s / _TRIED_EVERY_S), _noted_s(look, step))
    noted = (*look.progress.readings, *look.progress.marks, *look.progress.rescue)
    return Missed(step, kind, why, at_s, noted)


def _noted_s(look: Look, step: int) -> float:
    noted = [one.at for one in look.progress.marks if one.step == step]
    noted += [one.at for one in look.progress.readings if one.step == step]
    return max(((at - look.bake.started_at).total_seconds() for at in noted), default=0.0)


def _why(look: Look, step: int) -> Why | None:
    taken_at = [at for of_step, _, at in look.progress.rescue if of_step == step]
    since = max(taken_at, default=look.bake.started_at)
    marks = [one for one in look.progress.marks if one.step == step and one.at >= since]
    if marks and marks[-1].mark == "too soft":
        return "soft"
    aim = aim_of(look.bake.product.procedure.steps[step])
    if aim is not None and aim.measure == "rise" and aim.high is not None:
        rises = [
            r for r in look.progress.readings if r.step == step and r.quantity.startswith("rise") and r.at >= since
        ]
        if rises and rises[-1].value > aim.high:
            return "risen"
    begins, ends = look.rows[look.now_place]
    known = load("live")
    length = ends.likely - begins.likely
    grace = max(60.0 * known.value("late.least"), known.value("late.share") * length)
    return "late" if look.now_s > ends.latest + grace else None


WAYS: dict[str, tuple[str, ...]] = {
    "bulk": ("sooner", "cold"),
    "retard": ("sooner", "wait"),
    "temper": ("sooner", "cold"),
    "sheet": ("sooner", "cold"),
    "spread": ("sooner", "cold"),
    "roll": ("sooner", "cold"),
    "cut": ("sooner", "cold"),
    "proof": ("bake", "reshape", "cold"),
    "bake": ("sooner", "cover", "open"),
    "glaze": ("warm", "thin"),
}
"""Ways out of each kind of step, the one that most bakers take first."""


def with_way(bake: Bake, progress: Progress, step: int, way: str, at_s: float) -> Progress:
    """The bake as it would be if a way out were taken at a moment."""
    at = bake.started_at + timedelta(seconds=at_s)
    return replace(progress, rescue=(*progress.rescue, (step, way, at)))
