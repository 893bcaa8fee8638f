"""Forecasts under way and forecasts worked out lately: a page is answered at once, and the work is done beside it."""

import threading
import time
from collections import OrderedDict

from oventide.errors import Refusal
from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.services.at_the_door import Doors
from oventide.services.kernel import KERNEL, give_way
from oventide.timeline.procedure import Product
from oventide.web.sections import Sections

KEPT = 24
LEFT_ALONE_S = 30.0
"""Work that no page has asked after for so long is given up: its window was closed."""

Question = tuple[str, str, str | None, int, int]


class Stopped(Exception):
    """Raised inside the forecast where the baker stopped it, or where nobody waits for it any more."""


class Job:
    """One forecast: under way, or ended with an answer, a refusal or a fault."""

    def __init__(self, doors: Doors) -> None:
        self._doors = doors
        self.share = 0.0
        self.forecast: Forecast | None = None
        self.trouble: Exception | None = None
        self._ended = threading.Event()
        self._stop = False
        self._asked_at = time.monotonic()

    @property
    def is_under_way(self) -> bool:
        return not self._ended.is_set()

    @property
    def is_worth_keeping(self) -> bool:
        """Whether the same question may be answered with this: an answer and a refusal stay what they are."""
        if self._stop:
            return False
        return self.is_under_way or self.forecast is not None or isinstance(self.trouble, Refusal)

    def answer(self, patience_s: float | None) -> Forecast | None:
        """The forecast; None where it is not there within the patience. Raises what the forecast raised."""
        deadline = None if patience_s is None else time.monotonic() + patience_s
        while self.is_under_way:
            self._asked_at = time.monotonic()
            left = 1.0 if deadline is None else deadline - self._asked_at
            if left <= 0:
                return None
            self._ended.wait(min(left, 1.0))
        if self.trouble is not None:
            raise self.trouble
        return self.forecast

    def stop(self) -> None:
        self._stop = True

    def run(self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int) -> None:
        """Do the work, in a thread of its own."""
        from oventide.services import foreseeing  # here, since it loads the compiled rooms

        try:
            with KERNEL:
                self._tell(0.0)
                self.forecast = foreseeing.foresee(
                    product,
                    kitchen,
                    ready_by=ready_by,
                    seed=seed,
                    members=members,
                    progress=self._tell,
                    seen=lambda ahead, marks: self._doors.keep(product, kitchen, ready_by, seed, ahead, marks),
                )
        except Exception as trouble:  # raised again to whoever asks
            self.trouble = trouble
        finally:
            self._ended.set()

    def _tell(self, share: float) -> None:
        if self._stop or time.monotonic() - self._asked_at > LEFT_ALONE_S:
            raise Stopped
        self.share = share
        if 0.0 < share < 1.0:
            give_way()


class Forecasts:
    """The last forecasts by their whole input; same input, same answer, so that keeping them is honest."""

    def __init__(self) -> None:
        self.sections = Sections()
        """What is seen of the same bakes from inside the tin."""
        self._jobs: OrderedDict[Question, Job] = OrderedDict()
        self._lock = threading.Lock()

    def begin(self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int) -> Job:
        """The job for these inputs: the one that is there, or a new one, begun now."""
        key = (product.model_dump_json(), kitchen.model_dump_json(), ready_by, seed, members)
        with self._lock:
            job = self._jobs.get(key)
            if job is None or not job.is_worth_keeping:
                job = self._jobs[key] = Job(self.sections.doors)
                threading.Thread(
                    target=job.run, args=(product, kitchen, ready_by, seed, members), daemon=True, name="forecast"
                ).start()
            self._jobs.move_to_end(key)
            while len(self._jobs) > KEPT:
                self._jobs.popitem(last=False)
            return job

    def beside(self, product: Product, kitchen: Kitchen, seed: int, members: int) -> tuple[str, Forecast] | None:
        """The last forecast of the same bake for any ready-by time: what can be shown while another is worked out."""
        whole = (product.model_dump_json(), kitchen.model_dump_json())
        with self._lock:
            jobs = list(self._jobs.items())
        for (of_product, of_kitchen, ready_by, of_seed, of_members), job in reversed(jobs):
            if (of_product, of_kitchen) != whole or (of_seed, of_members) != (seed, members):
                continue
            if ready_by is not None and job.forecast is not None:
                return ready_by, job.forecast
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
