"""What the bakes under way ask of the live forecast."""

import threading
from collections.abc import Callable
from datetime import datetime
from typing import Protocol

from oventide.bench.model import Bake, Taken
from oventide.bench.outlook import Outlook

Fresh = Callable[[Bake, Outlook], None]
"""Called, from any thread, when a newer outlook of a bake is there: it is then kept in the journal."""


class Live(Protocol):
    """Answers at once with what it has. What takes longer is reckoned beside it and told to `fresh`."""

    def outlook(
        self, bake: Bake, taken: tuple[Taken, ...], now: datetime, fresh: Fresh | None = None
    ) -> Outlook | None:
        """The outlook from every entry of the bake (undone ones among them: fold them); None until the first is there.

        `bake.ready_at` is the moment asked for when the bake was begun; an entry `ready_by` moves it.
        """
        ...

    def settle(self, timeout_s: float | None = None) -> bool:
        """Wait until nothing is being reckoned; False where that took longer."""
        ...


class NoLive:
    """No forecast: the written minutes are all there is."""

    def outlook(
        self, bake: Bake, taken: tuple[Taken, ...], now: datetime, fresh: Fresh | None = None
    ) -> Outlook | None:
        """Nothing."""
        return None

    def settle(self, timeout_s: float | None = None) -> bool:
        """Nothing is ever reckoned."""
        return True


class LiveLater:
    """The live forecast, loaded beside the first question: its compiled rooms take seconds, and no tap waits for them.

    Until it is there every answer is None, and the last question of each bake is asked again as soon as it is.
    """

    def __init__(self, clock: Callable[[], datetime]) -> None:
        self._clock = clock
        self._live: Live | None = None
        self._waiting: dict[str, tuple[Bake, tuple[Taken, ...], Fresh | None]] = {}
        self._lock = threading.Lock()
        self._loader: threading.Thread | None = None

    def outlook(
        self, bake: Bake, taken: tuple[Taken, ...], now: datetime, fresh: Fresh | None = None
    ) -> Outlook | None:
        """The outlook, as soon as the forecast is loaded."""
        with self._lock:
            if self._live is None:
                self._waiting[bake.key] = (bake, taken, fresh)
                if self._loader is None:
                    self._loader = threading.Thread(target=self._load, daemon=True, name="live forecast loader")
                    self._loader.start()
                return None
        return self._live.outlook(bake, taken, now, fresh)

    def settle(self, timeout_s: float | None = None) -> bool:
        """Wait for the loading, and then for what was asked."""
        loader = self._loader
        if loader is not None:
            loader.join(timeout_s)
        return self._live is None or self._live.settle(timeout_s)

    def _load(self) -> None:
        from oventide.services import live

        loaded = live.Live(self._clock)
        with self._lock:
            self._live = loaded
            waiting, self._waiting = list(self._waiting.values()), {}
        for bake, taken, fresh in waiting:
            loaded.outlook(bake, taken, self._clock(), fresh)
