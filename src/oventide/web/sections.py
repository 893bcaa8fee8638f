"""Sections through the tin under way and lately worked out, and the runs at the oven's door that they rest on."""

import threading
from collections import OrderedDict

from oventide.errors import Refusal
from oventide.kitchen.model import Kitchen
from oventide.services.at_the_door import Doors
from oventide.services.tin_section import TinSection
from oventide.timeline.procedure import Product

KEPT = 8
Question = tuple[str, str, str | None, int, int]


class SectionJob:
    """One section: under way, or ended with an answer, a refusal or a fault."""

    def __init__(self) -> None:
        self.share = 0.0
        self.section: TinSection | None = None
        self.trouble: Exception | None = None
        self._ended = threading.Event()

    def answer(self, patience_s: float) -> TinSection | None:
        """The section; None where it is not there within the patience. Raises what the work raised."""
        if not self._ended.wait(patience_s):
            return None
        if self.trouble is not None:
            raise self.trouble
        return self.section

    @property
    def is_worth_keeping(self) -> bool:
        return not self._ended.is_set() or self.section is not None or isinstance(self.trouble, Refusal)

    def run(
        self, doors: Doors, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int
    ) -> None:
        """Do the work, in a thread of its own."""
        from oventide.services import tin_section  # here, since it loads the compiled rooms

        try:
            self.section = tin_section.tin_section(
                product, kitchen, ready_by, doors=doors, seed=seed, members=members, progress=self._tell
            )
        except Exception as trouble:  # raised again to whoever asks
            self.trouble = trouble
        finally:
            self._ended.set()

    def _tell(self, share: float) -> None:
        self.share = share


class Sections:
    """The last sections by their whole input; same input, same answer."""

    def __init__(self) -> None:
        self.doors = Doors()
        self._jobs: OrderedDict[Question, SectionJob] = OrderedDict()
        self._lock = threading.Lock()

    def begin(self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int) -> SectionJob:
        """The job for these inputs: the one that is there, or a new one, begun now."""
        key = (product.model_dump_json(), kitchen.model_dump_json(), ready_by, seed, members)
        with self._lock:
            job = self._jobs.get(key)
            if job is None or not job.is_worth_keeping:
                job = self._jobs[key] = SectionJob()
                threading.Thread(
                    target=job.run,
                    args=(self.doors, product, kitchen, ready_by, seed, members),
                    daemon=True,
                    name="section",
                ).start()
            self._jobs.move_to_end(key)
            while len(self._jobs) > KEPT:
                self._jobs.popitem(last=False)
            return job
