"""How a refusal is worded: which field, what was given, what is allowed, why, and what to do.

Every complaint about the baker's input is a `Refusal`; the faces show it as it stands. Nothing else in
the package words an error for a person.
"""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Complaint:
    """One thing that is amiss with an input.

    `field` is a dotted path that a page can mark (``kitchen.fridge``, ``component.dough.line.3``),
    `given` the value as it came, `problem` a sentence that says what is allowed and why,
    `remedy` a sentence that says what to do.
    """

    field: str
    given: str
    problem: str
    remedy: str

    def __str__(self) -> str:
        shown = self.given if len(self.given) <= 80 else self.given[:77] + "…"
        given = f" ({shown})" if shown else ""
        return f"{self.field}{given}: {self.problem} {self.remedy}".strip()


class Refusal(Exception):
    """An input that cannot be used, with every complaint about it at once."""

    def __init__(self, complaints: Complaint | Iterable[Complaint]) -> None:
        if isinstance(complaints, Complaint):
            complaints = (complaints,)
        self.complaints: tuple[Complaint, ...] = tuple(complaints)
        super().__init__("\n".join(str(complaint) for complaint in self.complaints))


def refuse(field: str, given: object, problem: str, remedy: str) -> Refusal:
    """Build a refusal with one complaint; the caller raises it."""
    return Refusal(Complaint(field, "" if given is None else str(given), problem, remedy))
