"""A step on its way, and what is known while a method is read."""

from dataclasses import dataclass, field

from oventide.intake.durations import Time, times
from oventide.kitchen.model import OvenKind
from oventide.makeup.model import Tin
from oventide.timeline.procedure import Span, Step, StepKind, Target, Where

DOUGH_PHASE, RESTED, SHEET, LOG, CUT, TINNED, PROOFED, BAKED = range(8)


@dataclass
class Draft:
    """A step on its way."""

    kind: StepKind
    parts: list[str] = field(default_factory=list)
    """The words that belong to it alone."""
    sentences: list[str] = field(default_factory=list)
    span: Span | None = None
    target: Target | None = None
    where: Where = "room"
    air_c: float | None = None
    covered: bool = False
    oven_kind: OvenKind | None = None
    assumed: list[str] = field(default_factory=list)
    settled: bool = False

    def step(self) -> Step:
        return Step(
            kind=self.kind,
            minutes=self.span,
            target=self.target,
            ends_by="target" if self.span is None and self.target is not None else "clock",
            where=self.where,
            air_c=None if self.air_c is None else round(self.air_c, 1),
            covered=self.covered,
            oven_kind=self.oven_kind,
            text=" ".join(dict.fromkeys(self.sentences)),
            assumed=tuple(dict.fromkeys(note for note in self.assumed if note)),
        )


class MethodState:
    """What is known so far."""

    def __init__(self, oven: OvenKind | None) -> None:
        self.oven = oven
        self.phase = DOUGH_PHASE
        self.drafts: list[Draft] = []
        self.pending: list[str] = []
        self.preheat: list[str] = []
        self.sheet: tuple[float, float] | None = None
        self.thickness: float | None = None
        self.side: str | float | None = None
        self.pieces: int | None = None
        self.piece_mm: float | None = None
        self.tin: Tin | None = None
        self.tins = 1
        self.notes: list[str] = []
        self.dough_c: float | None = None
        """A dough temperature that was named before any mixing."""
        self.optional = False
        self.left: list[str] = []

    def last_of(self, kind: str) -> Draft | None:
        return next((draft for draft in reversed(self.drafts) if draft.kind == kind), None)

    def simple(self, kind: StepKind, text: str) -> Draft:
        last = self.drafts[-1] if self.drafts else None
        if last is None or last.kind != kind:
            last = Draft(kind)
            self.drafts.append(last)
        last.parts.append(text)
        if kind == "keep" and times(text):
            last.span = times(text)[0].span
        return last

    def timed(self, kind: StepKind, text: str, found: list[Time]) -> Draft:
        """A step with a time; words of the same kind without a time of their own go to the step before."""
        last = self.drafts[-1] if self.drafts else None
        if last is None or last.kind != kind or (found and last.span is not None):
            last = Draft(kind)
            self.drafts.append(last)
        last.parts.append(text)
        if found:
            last.span = found[0].span
            last.assumed.append(found[0].assumed)
        return last
