"""What is asked of the bake alone: sections through the tin, and the cover off at another moment. Begun beside a page.

Both rest on runs that are kept with the dough at the oven's door; a forecast leaves its own there.
"""

import threading
from collections import OrderedDict
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from oventide.kitchen.model import Kitchen
from oventide.services.at_the_door import Doors
from oventide.services.tasks import Progress, Task
from oventide.timeline.procedure import Product

if TYPE_CHECKING:  # they load the compiled rooms
    from oventide.services.tin_section import TinSection
    from oventide.services.uncovering import Uncovering

KEPT = 24
Question = tuple[str, str, str, str | None, int, int]


class Sections:
    """The last answers by their whole question; same question, same answer."""

    def __init__(self) -> None:
        self.doors = Doors()
        self._tasks: OrderedDict[Question, Task[Any]] = OrderedDict()
        self._lock = threading.Lock()

    def section(
        self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int
    ) -> "Task[TinSection]":
        """The section through the tin."""

        def work(progress: Progress) -> "TinSection":
            from oventide.services import tin_section  # here, since it loads the compiled rooms

            return tin_section.tin_section(
                product, kitchen, ready_by, doors=self.doors, seed=seed, members=members, progress=progress
            )

        return self._begun(("section", *_whole(product, kitchen), ready_by, seed, members), work)

    def uncovered(
        self, product: Product, kitchen: Kitchen, minutes: float, ready_by: str | None, seed: int, members: int
    ) -> "Task[Uncovering]":
        """The bake of `product` with the cover off after `minutes`: only the bake is run."""

        def work(_progress: Progress) -> "Uncovering":
            from oventide.services import uncovering

            return uncovering.uncovered(
                product, kitchen, minutes, ready_by, doors=self.doors, seed=seed, members=members
            )

        return self._begun((f"uncovered {minutes:g}", *_whole(product, kitchen), ready_by, seed, members), work)

    def _begun(self, question: Question, work: Callable[[Progress], Any]) -> Task[Any]:
        with self._lock:
            task = self._tasks.get(question)
            if task is None or not task.is_worth_keeping:
                task = self._tasks[question] = Task(work, question[0].split()[0])
            self._tasks.move_to_end(question)
            while len(self._tasks) > KEPT:
                self._tasks.popitem(last=False)
            return task


def _whole(product: Product, kitchen: Kitchen) -> tuple[str, str]:
    return product.model_dump_json(), kitchen.model_dump_json()
