"""A figure with its range and how well it is known."""

from collections.abc import Iterable
from typing import Literal, Self

from pydantic import BaseModel, ConfigDict, model_validator

Grade = Literal["exact", "given", "read", "fitted", "remembered", "assumed"]
"""exact by definition · given by the baker · read in the source · fitted to a source · from memory · our choice."""


class Estimate(BaseModel):
    """A likely value between a low and a high one (about a 90 % range), in one stated unit.

    >>> Estimate(low=120, likely=125, high=150).scaled(2).high
    300.0
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    low: float
    likely: float
    high: float
    grade: Grade = "given"
    source: str = ""

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"low {self.low} ≤ likely {self.likely} ≤ high {self.high} does not hold")
        return self

    @classmethod
    def certain(cls, value: float, grade: Grade = "given", source: str = "") -> "Estimate":
        """A value without spread."""
        return cls(low=value, likely=value, high=value, grade=grade, source=source)

    @property
    def is_certain(self) -> bool:
        return self.low == self.high

    def scaled(self, factor: float) -> "Estimate":
        """The same estimate times a positive factor."""
        return Estimate(
            low=self.low * factor,
            likely=self.likely * factor,
            high=self.high * factor,
            grade=self.grade,
            source=self.source,
        )


def total(estimates: Iterable[Estimate]) -> Estimate:
    """Sum of independent estimates: likely values add, half ranges add in quadrature on each side.

    >>> total([Estimate(low=9, likely=10, high=11), Estimate(low=9, likely=10, high=11)]).high
    21.414213562373096
    """
    items = list(estimates)
    likely = sum(item.likely for item in items)
    below = sum((item.likely - item.low) ** 2 for item in items) ** 0.5
    above = sum((item.high - item.likely) ** 2 for item in items) ** 0.5
    return Estimate(low=likely - below, likely=likely, high=likely + above, grade="assumed" if items else "exact")
