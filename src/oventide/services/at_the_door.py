"""Runs of the timeline that are kept with the dough at the oven's door, so that the bake alone can be run again."""

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from oventide.errors import refuse
from oventide.kitchen.model import Kitchen
from oventide.services.foreseeing import MEMBERS, SEED, look_ahead
from oventide.services.kernel import KERNEL, give_way
from oventide.timeline.procedure import Product

if TYPE_CHECKING:
    from oventide.forecast.foresee import Ahead
    from oventide.timeline.run import Mark

KEPT = 6
"""One takes some 8 MB with 200 members."""


@dataclass(frozen=True)
class Door:
    """A run, and the dough of every member as the first bake found it."""

    ahead: "Ahead"
    mark: "Mark"


class Doors:
    """The last runs by their whole input; the same input gives the same run."""

    def __init__(self, kept: int = KEPT) -> None:
        self._kept = kept
        self._doors: OrderedDict[tuple[str, str, str | None, int, int], Door] = OrderedDict()
        self._lock = threading.Lock()

    def peek(
        self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int = SEED, members: int = MEMBERS
    ) -> Door | None:
        """The run if it is there."""
        with self._lock:
            return self._doors.get(_key(product, kitchen, ready_by, seed, members))

    def of(
        self,
        product: Product,
        kitchen: Kitchen,
        ready_by: str | None = None,
        seed: int = SEED,
        members: int = MEMBERS,
        progress: Callable[[float], None] | None = None,
    ) -> Door:
        """The run, made where it is not there. Refuses a product that is not baked."""
        found = self.peek(product, kitchen, ready_by, seed, members)
        if found is not None:
            return found
        first = next((i for i, step in enumerate(product.procedure.steps) if step.kind == "bake"), None)
        if first is None:
            raise refuse("procedure", "no bake", "There is no bake in this procedure.", "Add the bake and its setting.")
        with KERNEL:
            found = self.peek(product, kitchen, ready_by, seed, members)
            if found is None:

                def tell(share: float) -> None:
                    if progress is not None:
                        progress(share)
                    if share < 1.0:
                        give_way()

                ahead, marks = look_ahead(product, kitchen, ready_by, seed, members, tell)
                found = Door(ahead, marks[first])
        self._put(_key(product, kitchen, ready_by, seed, members), found)
        return found

    def keep(
        self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, ahead: "Ahead",
        marks: "dict[int, Mark]",
    ) -> None:  # fmt: skip
        """Keep a run that was made for a forecast; nothing where the product is not baked."""
        first = next((i for i, step in enumerate(product.procedure.steps) if step.kind == "bake"), None)
        if first is not None and first in marks:
            members = ahead.trace.ensemble.members
            self._put(_key(product, kitchen, ready_by, seed, members), Door(ahead, marks[first]))

    def _put(self, key: tuple[str, str, str | None, int, int], door: Door) -> None:
        with self._lock:
            self._doors[key] = door
            self._doors.move_to_end(key)
            while len(self._doors) > self._kept:
                self._doors.popitem(last=False)


def _key(
    product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int
) -> tuple[str, str, str | None, int, int]:
    return product.model_dump_json(), kitchen.model_dump_json(), ready_by, seed, members
