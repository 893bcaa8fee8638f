"""Ways out that were taken: what becomes of the step in which a window was missed.

A way out is named by what is done and for how long ("cold/20"), so that an entry says everything that the plan needs.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from oventide.timeline.procedure import Span, Step

WAYS = ("bake", "reshape", "cold", "cover", "wait", "open", "warm", "thin", "sooner")


_BEFORE_THE_OVEN = ("cold", "reshape")
_FROM_THE_OVEN_ON = ("bake", "glaze", "cool", "keep")
_NEED_MINUTES = ("reshape", "cold", "cover", "open", "wait")
_MOST_PIECES = 12
"""Nobody takes more ways out of one step; a slip of the hand that does is let be."""
_DIGITS = 3


@dataclass(frozen=True)
class Piece:
    """One stretch of a step; `is_over` where it lies before a way out that was taken."""

    step: Step
    is_over: bool = False


def way_id(what: str, minutes: float = 0.0) -> str:
    """The name of a way out.

    >>> way_id("cold", 20.2), way_id("bake")
    ('cold/20', 'bake')
    """
    return f"{what}/{max(1, round(minutes))}" if minutes > 0.0 else what


def way_of(name: str) -> tuple[str, float] | None:
    """What is done and for how long [min]; None where it is no way out that is known here.

    >>> way_of("cold/20"), way_of("bake"), way_of("sing"), way_of("cold/99999")
    (('cold', 20.0), ('bake', 0.0), None, None)
    """
    what, _, minutes = name.partition("/")
    if what not in WAYS or (minutes and not (minutes.isascii() and minutes.isdigit() and len(minutes) <= _DIGITS)):
        return None
    return what, float(minutes or 0.0)


def taken_way(pieces: Sequence[Piece], name: str, elapsed_s: float) -> list[Piece]:
    """The step's stretches after a way out was taken `elapsed_s` after it began."""
    way = way_of(name)
    found = list(pieces)
    if way is None or len(found) > _MOST_PIECES or (way[0] in _NEED_MINUTES and way[1] <= 0.0):
        return found
    what, minutes = way
    if what in _BEFORE_THE_OVEN and found[-1].step.kind in _FROM_THE_OVEN_ON:
        return found  # what is in the oven is neither chilled nor shaped again; such an entry is let be
    over = [piece for piece in found if piece.is_over]
    last = found[-1].step
    before = max(1.0, elapsed_s - sum(60.0 * p.step.minutes.likely for p in over if p.step.minutes))
    behind = Piece(_lasting(last, round(before) / 60.0).model_copy(update={"target": None}), is_over=True)
    if what == "cold":
        stay = Step(kind="chill", name=last.name, where="fridge", covered=True, minutes=_certain(minutes))
        rest = _rest(last, before / 60.0)
        return [*over, behind, Piece(stay), Piece(rest)]
    if what == "reshape":
        again = Step(kind="sheet", name=last.name, where="bench", minutes=_certain(_BY_HAND_MIN))
        return [*over, behind, Piece(again), Piece(_lasting(last, minutes))]
    if what in ("cover", "open", "wait"):
        on = _lasting(last, minutes).model_copy(update={"covered": last.covered if what == "wait" else what == "cover"})
        return [*over, behind, Piece(on)]
    if what in ("bake", "sooner"):
        # it goes on at once: what was left of the step falls away
        return [*over, behind]
    return found


_BY_HAND_MIN = 6.0


def _certain(minutes: float) -> Span:
    return Span(low=minutes, likely=minutes, high=minutes)


def _lasting(step: Step, minutes: float) -> Step:
    return step.model_copy(update={"minutes": _certain(minutes), "ends_by": "clock"})


def _rest(step: Step, gone_min: float) -> Step:
    """What is left of a step by its written minutes, one minute at the least."""
    span = step.minutes or _certain(gone_min)
    low, likely, high = (max(1.0, each - gone_min) for each in (span.low, span.likely, span.high))
    return step.model_copy(update={"minutes": Span(low=low, likely=likely, high=high)})
