"""An answer to one question of the bench: figures with their ranges, the reason, and what to do."""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from oventide.formula.model import Frozen
from oventide.units.estimate import Estimate

Array = NDArray[np.float64]


class Figure(Frozen):
    """A figure of an answer: about nine in ten between `low` and `high` [unit]."""

    name: str
    unit: str
    low: float
    likely: float
    high: float
    reached: float = 1.0
    """Share of the kitchens in which it happens in the time looked at."""
    valid: bool = True
    """False where a law was used outside its range."""


class Told(Frozen):
    """One question of the bench, answered."""

    asked: str
    """The question as it was understood."""
    figures: tuple[Figure, ...]
    because: tuple[str, ...] = ()
    """Why: the law or the rule, what the spread hangs on, where the figures come from."""
    do: tuple[str, ...] = ()
    """What to do, the likeliest first; the baker decides."""
    cautions: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    """Keys of evidence sources."""


def figure(name: str, unit: str, estimate: Estimate | float) -> Figure:
    """A figure from an estimate or a certain number.

    >>> figure("egg", "g", Estimate(low=45, likely=50, high=55)).high
    55.0
    """
    if isinstance(estimate, Estimate):
        return Figure(name=name, unit=unit, low=estimate.low, likely=estimate.likely, high=estimate.high)
    return Figure(name=name, unit=unit, low=float(estimate), likely=float(estimate), high=float(estimate))


def figure_of_members(name: str, unit: str, values: Array, horizon: float | None = None) -> Figure:
    """A figure from the members of an ensemble (M,): 5, 50 and 95 %.

    Infinite values ("not within what was looked at") are held at `horizon`, and `reached` says how many were not.
    """
    never = ~np.isfinite(values)
    held = np.where(never, 0.0 if horizon is None else horizon, values)
    low, likely, high = (float(value) for value in np.quantile(held, (0.05, 0.5, 0.95)))
    return Figure(name=name, unit=unit, low=low, likely=likely, high=high, reached=1.0 - float(never.mean()))


def once(sentences: Iterable[str]) -> tuple[str, ...]:
    """The sentences in order, each said once."""
    return tuple(dict.fromkeys(sentence for sentence in sentences if sentence))
