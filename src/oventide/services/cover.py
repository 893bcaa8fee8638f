"""The moment when the cover comes off: where a procedure has it, and the same procedure with another."""

from dataclasses import dataclass

from oventide.errors import refuse
from oventide.timeline.procedure import Product, Span, Step

LEAST_MIN = 1.0
"""Neither stretch of the bake is shorter."""


@dataclass(frozen=True)
class Cover:
    """A covered bake that an open one follows: which steps, and their likely lengths."""

    covered: int
    open: int
    covered_min: float
    open_min: float

    @property
    def whole_min(self) -> float:
        """Minutes in the oven, both stretches."""
        return self.covered_min + self.open_min

    @property
    def most_min(self) -> float:
        """The latest moment to uncover, so that an open stretch is left."""
        return self.whole_min - LEAST_MIN


def cover_of(product: Product) -> Cover | None:
    """The last covered stretch that an open one follows; None where the cover never comes off."""
    steps = product.procedure.steps
    for index in range(len(steps) - 1, 0, -1):
        before, after = steps[index - 1], steps[index]
        if before.kind == after.kind == "bake" and before.covered and not after.covered:
            if before.minutes is None or after.minutes is None:
                return None
            return Cover(index - 1, index, before.minutes.likely, after.minutes.likely)
    return None


def _longer(step: Step, by_min: float) -> Step:
    assert step.minutes is not None
    low, likely, high = (max(LEAST_MIN, v + by_min) for v in (step.minutes.low, step.minutes.likely, step.minutes.high))
    return step.model_copy(update={"minutes": Span(low=min(low, likely), likely=likely, high=max(high, likely))})


def uncovered_at(product: Product, minutes: float) -> Product:
    """The product with the cover off after so many minutes in the oven; what one stretch gains the other gives.

    Where the open bake ends by a target, the target still ends it.
    """
    cover = cover_of(product)
    if cover is None:
        raise refuse("uncover", f"{minutes:g}", "This bake is not covered first and open then.",
                     "Give it a covered and an open bake step.")  # fmt: skip
    if not LEAST_MIN <= minutes <= cover.most_min:
        raise refuse("uncover", f"{minutes:g}", f"The cover can come off {LEAST_MIN:g} to {cover.most_min:g} min into "
                     f"the {cover.whole_min:g} min of this bake.", "Give a time between.")  # fmt: skip
    by_min = minutes - cover.covered_min
    steps = list(product.procedure.steps)
    steps[cover.covered] = _longer(steps[cover.covered], by_min)
    steps[cover.open] = _longer(steps[cover.open], -by_min)
    return product.model_copy(update={"procedure": product.procedure.model_copy(update={"steps": tuple(steps)})})
