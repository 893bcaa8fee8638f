"""The steps of a bake as they really go: what is over has its real length, what was rescued goes another way.

Everything here follows from the bake and its entries alone, so that the same entries always ask for the same run of the
timeline, before and after a restart.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from oventide.bench.fold import Progress
from oventide.bench.model import Bake
from oventide.services.live_ready import moved
from oventide.services.live_ways import Piece, taken_way
from oventide.timeline.procedure import Span, Step

_LONGEST_MIN = {"mix": 120.0, "bake": 240.0, "glaze": 240.0, "cool": 1440.0}
_LONGEST_STAY_MIN = 7200.0
"""Longer than this no step is run, however late its end was noted; its moments stay the real ones."""


@dataclass(frozen=True)
class Plan:
    """Steps to run. A step of the product is one of them, or several where a way out was taken within it."""

    steps: tuple[Step, ...]
    origin: tuple[int, ...]
    """For each of them, the product's step that it belongs to."""
    past_s: tuple[float, ...]
    """Real ends of those that are over, since the bake began [s]."""
    said: tuple[str, ...] = ()

    def pieces_of(self, step: int) -> tuple[int, ...]:
        """Places of a product's step among the steps that are run."""
        return tuple(place for place, origin in enumerate(self.origin) if origin == step)

    def begun_s(self, place: int) -> float | None:
        """When a step began; None where it has not begun."""
        if place > len(self.past_s):
            return None
        return self.past_s[place - 1] if place else 0.0


def real_ends_s(bake: Bake, progress: Progress) -> tuple[float, ...]:
    """Real ends of the steps that are over, since the bake began, in whole seconds.

    A step that was passed over without a word takes its share of the time between the moments that are known.
    """
    steps = bake.product.procedure.steps
    known = [None if one.ended is None else seconds_since(bake, one.ended) for one in progress.steps]
    count = max((place + 1 for place, end in enumerate(known) if end is not None), default=0)
    ends: list[float] = []
    while len(ends) < count:
        place = len(ends)
        reach = next(later for later in range(place, count) if known[later] is not None)
        until, begun = known[reach], ends[-1] if ends else 0.0
        assert until is not None
        planned = [max(0.1, _likely_s(steps[each])) for each in range(place, reach + 1)]
        for part in range(len(planned)):
            share = sum(planned[: part + 1]) / sum(planned)
            end = round(begun + share * (max(until, begun) - begun))
            ends.append(float(max(end, (ends[-1] if ends else 0.0) + 1.0)))
    return tuple(ends)


def seconds_since(bake: Bake, moment: datetime) -> float:
    """Seconds since the bake began, not below 0."""
    return max(0.0, (moment - bake.started_at).total_seconds())


def plan_of(bake: Bake, progress: Progress) -> Plan:
    """The steps to run for a bake with what is known of it."""
    ends = real_ends_s(bake, progress)
    written = list(bake.product.procedure.steps)
    said: tuple[str, ...] = ()
    if progress.ready_at is not None and progress.ready_at != bake.ready_at and len(ends) < len(written):
        wanted = seconds_since(bake, progress.ready_at)
        asked = None if bake.ready_at is None else seconds_since(bake, bake.ready_at)
        written, said = moved(written, ends, wanted, asked, bake)
    steps: list[Step] = []
    origin: list[int] = []
    past: list[float] = []
    begun = 0.0
    for index, step in enumerate(written):
        pieces = [Piece(step)]
        for at_step, way, at in progress.rescue:
            if at_step == index:
                pieces = taken_way(pieces, way, seconds_since(bake, at) - begun)
        if index < len(ends):
            for piece, end in zip(pieces, _cut(pieces, begun, ends[index]), strict=True):
                steps.append(lasting(piece.step, end - (past[-1] if past else 0.0)))
                past.append(end)
            begun = ends[index]
        else:
            if index == len(ends):
                past += _over(pieces, begun)
                pieces[-1] = _looked_at_for(pieces[-1], _last_look_s(bake, progress, index) - _before(pieces, begun))
            steps += [piece.step for piece in pieces]
        origin += [index] * (len(steps) - len(origin))
    return Plan(tuple(steps), tuple(origin), tuple(past), said)


def lasting(step: Step, seconds: float) -> Step:
    """The step with the length that it really had. A bake that nobody noted the end of is not run for days."""
    minutes = min(seconds / 60.0, _LONGEST_MIN.get(step.kind, _LONGEST_STAY_MIN))
    return step.model_copy(update={"minutes": Span(low=minutes, likely=minutes, high=minutes), "ends_by": "clock"})


def _likely_s(step: Step) -> float:
    return 60.0 * step.minutes.likely if step.minutes is not None else 0.0


def _cut(pieces: Sequence[Piece], begun: float, end: float) -> list[float]:
    """Ends of the pieces of a step that is over: each as long as it was meant, the last one takes what is left."""
    ends: list[float] = []
    at = begun
    for place, piece in enumerate(pieces):
        left = len(pieces) - 1 - place
        at = end if left == 0 else min(round(at + _likely_s(piece.step)), end - left)
        ends.append(float(max(at, (ends[-1] if ends else begun) + 1.0)))
        at = ends[-1]
    return ends


def _over(pieces: Sequence[Piece], begun: float) -> list[float]:
    """Ends of the pieces of the step now that lie behind: what was done before a way out was taken."""
    ends: list[float] = []
    for piece in pieces:
        if not piece.is_over:
            break
        ends.append(float(round((ends[-1] if ends else begun) + _likely_s(piece.step))))
    return ends


def _before(pieces: Sequence[Piece], begun: float) -> float:
    return begun + sum(_likely_s(piece.step) for piece in pieces[:-1])


def _last_look_s(bake: Bake, progress: Progress, index: int) -> float:
    looks = [one.at for one in progress.readings if one.step == index]
    looks += [one.at for one in progress.marks if one.step == index]
    return max((seconds_since(bake, at) for at in looks), default=0.0)


def _looked_at_for(piece: Piece, seconds: float) -> Piece:
    """A step that is still going on when it was looked at lasts at least till then."""
    span = piece.step.minutes
    if span is None or seconds / 60.0 <= span.likely:
        return piece
    minutes = min(float(round(seconds)) / 60.0, _LONGEST_MIN.get(piece.step.kind, _LONGEST_STAY_MIN))
    if minutes <= span.likely:
        return piece
    longer = Span(low=min(span.low, minutes), likely=minutes, high=max(span.high, minutes))
    return replace(piece, step=piece.step.model_copy(update={"minutes": longer}))
