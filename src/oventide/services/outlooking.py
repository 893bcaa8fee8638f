"""What the bakes under way ask of the live forecast."""

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


class NoLive:
    """No forecast: the written minutes are all there is."""

    def outlook(
        self, bake: Bake, taken: tuple[Taken, ...], now: datetime, fresh: Fresh | None = None
    ) -> Outlook | None:
        """Nothing."""
        return None
