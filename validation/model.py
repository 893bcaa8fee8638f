"""What one check of the validation book is, and what comes out when it is run.

A check says what was published, where, how ours is reckoned, and how far apart the two may lie. A known miss keeps its
reason in `miss`: it stays red in the book, and the tests fail when it no longer misses, so that no reason outlives its
miss.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

import numpy as np

Kind = Literal["value", "range", "curve"]


@dataclass(frozen=True)
class Check:
    """One outside check.

    `published` is one figure (value), two (range: low, high) or as many as `x` (curve). `tolerance` is in `unit`, or a
    share where `relative`; in a range it widens both ends, and is 0 as a rule. `source` is a key of
    evidence/data/sources*.toml, or "common-practice" where the trade says so and no source does. `blind` is False where
    the check was used to choose a parameter, or was looked at while one was chosen.
    """

    id: str
    room: str
    what: str
    source: str
    where: str
    published: tuple[float, ...]
    ours: Callable[[], float | Sequence[float]]
    unit: str
    tolerance: float
    blind: bool
    kind: Kind = "value"
    relative: bool = False
    x: tuple[float, ...] = ()
    x_name: str = ""
    labels: tuple[str, ...] = ()
    """Names of the points where they have no order (a table by ingredient): printed, not drawn; x then counts them."""
    note: str = ""
    """What had to be guessed (a dough that the source does not give), in a sentence."""
    miss: str = ""
    """Why it misses; empty where it does not."""
    slow: bool = False

    def __post_init__(self) -> None:
        wanted = {"value": 1, "range": 2, "curve": len(self.x)}[self.kind]
        if len(self.published) != wanted or (self.kind == "curve" and wanted < 2):
            raise ValueError(f"{self.id}: {self.kind} wants {wanted} published figures, has {len(self.published)}")
        if self.labels and len(self.labels) != len(self.x):
            raise ValueError(f"{self.id}: {len(self.x)} points, {len(self.labels)} labels")


@dataclass(frozen=True)
class Outcome:
    """A check that was run."""

    check: Check
    ours: tuple[float, ...]
    error: float
    """Greatest distance from what was published, in `unit` (a share where the check is relative); 0 inside a range."""
    ok: bool

    def row(self) -> dict[str, Any]:
        """The row of build/validation.json."""
        check = self.check
        one = check.kind == "value"
        return {
            "id": check.id,
            "room": check.room,
            "what": check.what,
            "source": check.source,
            "where": check.where,
            "kind": check.kind,
            "published": check.published[0] if one else list(check.published),
            "ours": self.ours[0] if len(self.ours) == 1 else list(self.ours),
            "unit": check.unit,
            "error": self.error,
            "tolerance": check.tolerance,
            "relative": check.relative,
            "ok": self.ok,
            "blind": check.blind,
            "curve": check.kind == "curve",
            "x": list(check.x),
            "x_name": check.x_name,
            "labels": list(check.labels),
            "note": check.note,
            "miss": check.miss,
        }


def run(check: Check) -> Outcome:
    """Reckon ours and compare."""
    ours = np.atleast_1d(np.asarray(check.ours(), dtype=float))
    published = np.asarray(check.published, dtype=float)
    if check.kind == "range":
        low, high = published
        error = float(np.max(np.maximum(np.maximum(low - ours, ours - high), 0.0)))
        scale = max(abs(low), abs(high)) if check.relative else 1.0
    else:
        if ours.shape != published.shape:
            raise ValueError(f"{check.id}: {published.size} published figures, {ours.size} of ours")
        distance = np.abs(ours - published)
        if check.relative:
            distance = distance / np.maximum(np.abs(published), 1e-12)
        error, scale = float(distance.max()), 1.0
    error = error / scale
    ok = bool(np.isfinite(ours).all() and error <= check.tolerance)
    return Outcome(check, tuple(float(value) for value in ours), error, ok)


@cache
def run_once(check: Check) -> Outcome:
    """The same, kept: tests that look at one outcome from several sides reckon it once."""
    return run(check)
