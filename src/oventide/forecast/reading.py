"""Making a reading: quantiles over the members, and the sentence that says why."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.forecast.drivers import Driver, Drivers
from oventide.forecast.model import Reading
from oventide.forecast.quantiles import quantiles

Array = NDArray[np.float64]


_HALF = 0.5


@dataclass(frozen=True)
class Mark:
    """Whether a law lies where it was tried, and sentences about what lies outside."""

    valid: bool
    sentences: tuple[str, ...] = ()


UNMARKED = Mark(True)


def percent_words(share: float) -> str:
    """A share as finely as a few hundred kitchens can tell it.

    >>> percent_words(0.81), percent_words(0.2), percent_words(0.04)
    ('80 %', '20 %', '5 %')
    """
    return f"{max(5, 5 * round(20.0 * share))} %"


def because_words(law: str, drivers: tuple[Driver, ...], not_reached: float = 0.0) -> str:
    """The reason: the law in a sentence, what the spread follows, and which measurement would narrow it.

    Shares are first-order Sobol indices, ranked: how much of the variance follows that cause alone.
    """
    parts = [law]
    if not_reached > 0.005:
        parts.append(
            f"In {max(1, round(100 * not_reached))} of 100 kitchens it is not reached within what was looked at."
        )
    if drivers:
        first = drivers[0]
        shares = [f"About {percent_words(first.share)} of its spread follows {first.what}"]
        shares += [f"{percent_words(other.share)} {other.what}" for other in drivers[1:]]
        rest = " The rest is shared by many causes." if sum(driver.share for driver in drivers) < _HALF else ""
        parts.append("; ".join(shares) + "." + rest)
        if first.narrowed_by:
            parts.append(f"It would be narrowed by {first.narrowed_by}.")
    return " ".join(parts)


class Reader:
    """Makes readings from one ensemble, whose kitchens may count unlike after a reading at the bench."""

    def __init__(self, drivers: Drivers, weights: Array | None = None) -> None:
        self.drivers = drivers
        self.weights = weights
        self._marks: Callable[[str], Mark] = lambda law: UNMARKED
        self.beyond: list[str] = []
        """What lay outside the range of a law, of the readings since the step was entered."""

    def enter(self, marks: Callable[[str], Mark]) -> None:
        """Begin a step, whose laws are marked by their sentence."""
        self._marks, self.beyond = marks, []

    def read(
        self,
        name: str,
        unit: str,
        values: Array,
        law: str,
        sources: Iterable[str] = (),
        *,
        horizon: float | None = None,
        valid: bool = True,
        scale: float = 1.0,
    ) -> Reading:
        """A reading of `values` (M,), times `scale`.

        Values that are infinite ("not reached") are held at `horizon`, and the reason says for how many kitchens.
        """
        never = ~np.isfinite(values)
        held = np.where(never, horizon if horizon is not None else 0.0, values)
        drivers, mark = self.drivers.of(held), self._marks(law)
        if not mark.valid:
            self.beyond += [sentence for sentence in mark.sentences if sentence not in self.beyond]
        p5, p50, p95 = (float(value) * scale for value in quantiles(held, weights=self.weights))
        missed = float(np.average(never, weights=self.weights))
        keys = [source for source in (*sources, *(driver.source for driver in drivers)) if source]
        return Reading(
            name=name,
            unit=unit,
            p5=p5,
            p50=p50,
            p95=p95,
            because=" ".join((because_words(law, drivers, missed), *mark.sentences)),
            sources=tuple(dict.fromkeys(keys)),
            reached=1.0 - missed,
            valid=valid and mark.valid,
        )
