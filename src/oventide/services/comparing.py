"""Two bakes beside each other: two formulas, two revisions of one, or one formula in two kitchens.

Both are run with the same seed, so that member by member they stand in the same kitchen (or in the same corner of two
kitchens), and a change has a range of its own: what a change does to dough and clock, and not what is known badly of
both alike.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from oventide.formula.model import Frozen
from oventide.kitchen.model import Kitchen
from oventide.services.foreseeing import MEMBERS, SEED, look_ahead
from oventide.services.kernel import KERNEL, give_way
from oventide.services.tasks import Task
from oventide.services.travelling import Beside
from oventide.timeline.procedure import Product
from oventide.travel.model import Figure, figure_of_members

if TYPE_CHECKING:
    from oventide.travel.by_step import StepMeasures
    from oventide.travel.compared import Measure

KEPT = 24
Progress = Callable[[float], None]
Pair = tuple[Product, Kitchen]


class StepBeside(Frozen):
    """One step of both bakes; a place is None where that bake has no such step."""

    name: str
    kind: str
    before: int | None
    after: int | None
    minutes: Beside | None = None
    """None where one of them has no such step; then `alone` says how long the other takes."""
    alone: Figure | None = None
    rows: tuple[Beside, ...] = ()
    """Figures that both have."""


class Comparison(Frozen):
    """Two bakes beside each other."""

    before: str
    after: str
    before_kitchen: str
    after_kitchen: str
    whole: tuple[Beside, ...]
    """Minutes from the first step till the buns are ready, and what the whole timeline comes to."""
    steps: tuple[StepBeside, ...]
    members: int
    seed: int
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Side:
    steps: "tuple[StepMeasures, ...]"
    whole: "dict[str, Measure]"
    assumed: tuple[str, ...]


class Comparisons:
    """The last comparisons and the bakes they are made of: a formula that stands beside another is run once."""

    def __init__(self, kept: int = KEPT) -> None:
        self._kept = kept
        self._sides: OrderedDict[tuple[str, str, int, int], _Side] = OrderedDict()
        self._tasks: OrderedDict[tuple[str, str, str, str, int, int], Task[Comparison]] = OrderedDict()
        self._lock = threading.Lock()

    def begin(self, before: Pair, after: Pair, seed: int = SEED, members: int = MEMBERS) -> Task[Comparison]:
        """The comparison, begun beside the page: ask its `share` and its `answer`."""
        key = (*_key(before), *_key(after), seed, members)
        with self._lock:
            task = self._tasks.get(key)
            if task is None or not task.is_worth_keeping:
                task = Task(lambda tell: self.of(before, after, seed, members, tell), "comparison")
                self._tasks[key] = task
            self._tasks.move_to_end(key)
            while len(self._tasks) > self._kept:
                self._tasks.popitem(last=False)
            return task

    def of(
        self, before: Pair, after: Pair, seed: int = SEED, members: int = MEMBERS, progress: Progress | None = None
    ) -> Comparison:
        """The comparison, waited for. Refuses what cannot be foreseen."""
        tell = progress or (lambda share: None)
        one = self._side(before, seed, members, lambda share: tell(0.5 * share))
        other = self._side(after, seed, members, lambda share: tell(0.5 + 0.5 * share))
        return _beside(before, after, one, other, members, seed)

    def _side(self, pair: Pair, seed: int, members: int, progress: Progress) -> _Side:
        key = (*_key(pair), seed, members)
        with self._lock:
            found = self._sides.get(key)
        if found is None:
            found = _run(pair, seed, members, progress)
            with self._lock:
                self._sides[key] = found
                while len(self._sides) > self._kept:
                    self._sides.popitem(last=False)
        progress(1.0)
        return found


def _key(pair: Pair) -> tuple[str, str]:
    return pair[0].model_dump_json(), pair[1].model_dump_json()


def _run(pair: Pair, seed: int, members: int, progress: Progress) -> _Side:
    from oventide.travel.by_step import by_step
    from oventide.travel.compared import Measure, measures

    def tell(share: float) -> None:
        progress(0.98 * share)
        if share < 1.0:
            give_way()

    product, kitchen = pair
    with KERNEL:
        ahead, _ = look_ahead(product, kitchen, None, seed, members, tell)
    trace = ahead.trace
    last = [step for step in trace.steps if step.step.kind != "keep"][-1]
    ready = Measure("min", (last.start_s + last.duration_s) / 60.0)
    whole = {"minutes until ready": ready} | measures(trace, kitchen)
    return _Side(by_step(trace, kitchen), whole, (*kitchen.assumed, *ahead.batch.assumed, *trace.assumed))


def _beside(before: Pair, after: Pair, one: _Side, other: _Side, members: int, seed: int) -> Comparison:
    from oventide.travel.by_step import alike

    steps = []
    for here, there in alike(one.steps, other.steps):
        if here is not None and there is not None:
            steps.append(_both(one.steps[here], other.steps[there]))
        else:
            alone = one.steps[here] if here is not None else other.steps[there]  # type: ignore[index]
            steps.append(
                StepBeside(
                    name=alone.name,
                    kind=alone.kind,
                    before=here,
                    after=there,
                    alone=figure_of_members("minutes", "min", alone.minutes.values),
                )
            )
    return Comparison(
        before=before[0].name,
        after=after[0].name,
        before_kitchen=before[1].name,
        after_kitchen=after[1].name,
        whole=_rows(one.whole, other.whole),
        steps=tuple(steps),
        members=members,
        seed=seed,
        assumed=tuple(dict.fromkeys((*one.assumed, *other.assumed))),
    )


def _both(here: "StepMeasures", there: "StepMeasures") -> StepBeside:
    return StepBeside(
        name=there.name,
        kind=there.kind,
        before=here.index,
        after=there.index,
        minutes=_row("minutes", here.minutes, there.minutes),
        rows=_rows(here.figures, there.figures),
    )


def _rows(here: "dict[str, Measure]", there: "dict[str, Measure]") -> tuple[Beside, ...]:
    return tuple(_row(name, here[name], there[name]) for name in here if name in there)


def _row(name: str, here: "Measure", there: "Measure") -> Beside:
    both = np.isfinite(here.values) & np.isfinite(there.values)
    change = there.values[both] - here.values[both] if both.any() else np.zeros(1)
    changed = figure_of_members(name, "K" if here.unit == "°C" else here.unit, change)
    return Beside(
        name=name,
        before=figure_of_members(name, here.unit, here.values, here.horizon),
        after=figure_of_members(name, there.unit, there.values, there.horizon),
        change=changed.model_copy(update={"reached": float(both.mean())}),
    )
