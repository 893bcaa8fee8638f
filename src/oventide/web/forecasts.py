"""Forecasts under way and forecasts worked out lately: a page is answered at once, and the work is done beside it."""

import threading
from collections import OrderedDict

from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.services.kernel import KERNEL, give_way
from oventide.services.tasks import Progress, Task
from oventide.timeline.procedure import Product
from oventide.web.sections import Sections

KEPT = 24

Question = tuple[str, str, str | None, int, int]
Foreseen = Task[Forecast]


class Forecasts:
    """The last forecasts by their whole input; same input, same answer, so that keeping them is honest."""

    def __init__(self) -> None:
        self.sections = Sections()
        """What is seen of the same bakes from inside the tin."""
        self._jobs: OrderedDict[Question, Foreseen] = OrderedDict()
        self._lock = threading.Lock()

    def begin(self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int) -> Foreseen:
        """The job for these inputs: the one that is there, or a new one, begun now."""
        key = (product.model_dump_json(), kitchen.model_dump_json(), ready_by, seed, members)
        with self._lock:
            job = self._jobs.get(key)
            if job is None or not job.is_worth_keeping:
                job = self._jobs[key] = Task(
                    lambda progress: self._foresee(product, kitchen, ready_by, seed, members, progress), "forecast"
                )
            self._jobs.move_to_end(key)
            while len(self._jobs) > KEPT:
                self._jobs.popitem(last=False)
            return job

    def _foresee(
        self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int, progress: Progress
    ) -> Forecast:
        """Do the work, in a thread of its own; a bake under way is let past between two steps."""
        from oventide.services import foreseeing  # here, since it loads the compiled rooms

        def told(share: float) -> None:
            progress(share)
            if 0.0 < share < 1.0:
                give_way()

        with KERNEL:
            progress(0.0)
            return foreseeing.foresee(
                product,
                kitchen,
                ready_by=ready_by,
                seed=seed,
                members=members,
                progress=told,
                seen=lambda ahead, marks: self.sections.doors.keep(product, kitchen, ready_by, seed, ahead, marks),
            )

    def beside(self, product: Product, kitchen: Kitchen, seed: int, members: int) -> tuple[str, Forecast] | None:
        """The last forecast of the same bake for any ready-by time: what can be shown while another is worked out."""
        whole = (product.model_dump_json(), kitchen.model_dump_json())
        with self._lock:
            jobs = list(self._jobs.items())
        for (of_product, of_kitchen, ready_by, of_seed, of_members), job in reversed(jobs):
            if (of_product, of_kitchen) != whole or (of_seed, of_members) != (seed, members):
                continue
            if ready_by is not None and job.found is not None:
                return ready_by, job.found
        return None

    def of(self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int) -> Forecast:
        """The forecast for these inputs, waited for."""
        found = self.begin(product, kitchen, ready_by, seed, members).answer(None)
        assert found is not None
        return found

    def stop(self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int) -> None:
        """Stop the work on these inputs, if it is under way."""
        key = (product.model_dump_json(), kitchen.model_dump_json(), ready_by, seed, members)
        with self._lock:
            job = self._jobs.get(key)
        if job is not None and job.is_under_way:
            job.stop()
