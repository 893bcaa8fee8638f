"""Work beside a page: begun once, asked after as often as there is patience, stopped where nobody waits any more."""

import threading
import time
from collections.abc import Callable
from typing import Generic, TypeVar

from oventide.errors import Refusal

T = TypeVar("T")
Progress = Callable[[float], None]

LEFT_ALONE_S = 30.0
"""Work that nobody has asked after for so long is given up: its window was closed."""


class Stopped(Exception):
    """Raised inside the work where it was stopped, or where nobody waits for it any more."""


class Task(Generic[T]):
    """One piece of work in a thread of its own: under way, or ended with an answer, a refusal or a fault."""

    def __init__(self, work: Callable[[Progress], T], name: str) -> None:
        self.share = 0.0
        self._work = work
        self._found: list[T] = []
        self._trouble: Exception | None = None
        self._ended = threading.Event()
        self._stop = False
        self._asked_at = time.monotonic()
        threading.Thread(target=self._run, daemon=True, name=name).start()

    @property
    def is_under_way(self) -> bool:
        return not self._ended.is_set()

    @property
    def is_worth_keeping(self) -> bool:
        """Whether the same question may be answered with this: an answer and a refusal stay what they are."""
        if self._stop:
            return False
        return self.is_under_way or bool(self._found) or isinstance(self._trouble, Refusal)

    @property
    def found(self) -> T | None:
        """What was found, if it is there by now; nobody is counted as asking."""
        return self._found[0] if self._found else None

    def answer(self, patience_s: float | None = None) -> T | None:
        """What was found; None where it is not there within the patience. Raises what the work raised."""
        deadline = None if patience_s is None else time.monotonic() + patience_s
        while self.is_under_way:
            self._asked_at = time.monotonic()
            left = 1.0 if deadline is None else deadline - self._asked_at
            if left <= 0.0:
                return None
            self._ended.wait(min(left, 1.0))
        if self._trouble is not None:
            raise self._trouble
        return self._found[0]

    def stop(self) -> None:
        self._stop = True

    def _run(self) -> None:
        try:
            self._found.append(self._work(self._tell))
        except Exception as trouble:  # raised again to whoever asks
            self._trouble = trouble
        finally:
            self._ended.set()

    def _tell(self, share: float) -> None:
        if self._stop or time.monotonic() - self._asked_at > LEFT_ALONE_S:
            raise Stopped
        self.share = share
