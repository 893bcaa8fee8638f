"""Ready at another moment: what the night in the fridge and the waits can still give or take, and what they can't."""

from collections.abc import Sequence

from oventide.bench.model import Bake
from oventide.timeline.procedure import Span, Step

_GIVES = ("retard", "bulk", "proof")
"""Waits that may be stretched within the minutes that they are written with: the cold one first."""
_ENOUGH_S = 120.0


def moved(
    steps: Sequence[Step], ends_s: Sequence[float], wanted_s: float, asked_s: float | None, bake: Bake
) -> tuple[list[Step], tuple[str, ...]]:
    """The steps with the waits that are still to come made longer or shorter, so that the buns are ready as wanted.

    `ends_s` are the real ends of the steps that are over, `asked_s` when they were to be ready at first; the time that
    the first plan kept in hand stays in hand.
    """
    found = list(steps)
    planned = sum(_likely_s(step) for step in steps if step.kind != "keep")
    in_hand = 0.0 if asked_s is None else max(0.0, asked_s - planned)
    likely = (ends_s[-1] if ends_s else 0.0) + sum(_likely_s(s) for s in steps[len(ends_s) :] if s.kind != "keep")
    left = wanted_s - in_hand - likely
    for kind in _GIVES:
        for index in range(len(ends_s), len(found)):
            span = found[index].minutes
            if found[index].kind != kind or span is None or abs(left) < 1.0:
                continue
            change = min(max(left, 60.0 * (span.low - span.likely)), 60.0 * (span.high - span.likely))
            if change == 0.0:
                continue
            minutes = span.likely + round(change) / 60.0
            moved_span = Span(low=min(span.low, minutes), likely=minutes, high=max(span.high, minutes))
            found[index] = found[index].model_copy(update={"minutes": moved_span})
            left -= change
    if abs(left) < _ENOUGH_S:
        return found, ()
    short, much = left < 0.0, round(abs(left) / 60.0)
    words = "sooner" if short else "later"
    gives = [step.kind for step in steps[len(ends_s) :] if step.kind in _GIVES and _has_range(step)]
    why = (
        "the waits that are left are at their written least or most"
        if gives
        else "no wait that is left is written with a range of minutes"
    )
    return found, (f"Ready {much} min {words} is more than the waits can give: {why}.",)


def _likely_s(step: Step) -> float:
    return 60.0 * step.minutes.likely if step.minutes is not None else 0.0


def _has_range(step: Step) -> bool:
    return step.minutes is not None and step.minutes.low < step.minutes.high
