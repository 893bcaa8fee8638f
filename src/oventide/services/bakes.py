"""The bakes: begun, noted, looked at, looked back on. One of these stands over each journal; any thread may ask."""

import re
import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from oventide.bench.fold import Progress, fold, ready_moment
from oventide.bench.model import Alarm, Alarms, Bake, BenchView, Entry, Noted, Taken
from oventide.bench.outlook import Outlook
from oventide.errors import refuse
from oventide.formula.limits import check
from oventide.journal.bake_rows import BakeRow, EntryRow, NewBake, NewEntry, NoSuchBake, Settled
from oventide.journal.store import Journal
from oventide.kitchen.model import Kitchen
from oventide.services.bench_edge import entries_from, sorted_out
from oventide.services.bench_view import alarms_now, bench_view
from oventide.services.outlooking import Live, NoLive
from oventide.services.record import Record, record_of
from oventide.services.shelf import Clock, key_from_name, local_now
from oventide.timeline.procedure import Product, StepKind
from oventide.words.speaker import Speaker

if TYPE_CHECKING:
    from oventide.services.travelling import ToldAnswer

__all__ = ["BakeRow", "Bakes", "NoSuchBake"]

SIGNS = 8
KEPT = 64
LONGEST_NAME = 80
ENGLISH = Speaker()


class Bakes:
    """Use cases over the bakes of one journal."""

    def __init__(self, journal: Journal, live: Live | None = None, clock: Clock = local_now) -> None:
        self._book = journal.bakes
        self._live: Live = live or NoLive()
        self.clock = clock
        self.on_noted: Callable[[str, int], None] | None = None
        """Told of every bake that was begun, noted or foreseen anew here: key and number of its last entry."""
        self._begun: OrderedDict[str, Bake] = OrderedDict()
        self._lock = threading.Lock()

    def begin(
        self,
        product: Product,
        kitchen: Kitchen,
        *,
        product_key: str = "",
        product_revision: int = 0,
        kitchen_key: str = "",
        name: str = "",
        ready_by: str | None = None,
        factor: float = 1.0,
        started_at: datetime | None = None,
        seed: int = 1,
        members: int = 200,
    ) -> Bake:
        """Begin a bake. `product` is at the size that is made, `ready_by` a time of day (HH:MM)."""
        check(product.formula)
        if not product.procedure.steps:
            raise refuse("formula", product.name, "This formula has no steps, so there is nothing to follow.",
                         "Give its steps first: mix, rise, roll, proof, bake.")  # fmt: skip
        now = self.clock()
        begun_at = started_at or now
        if begun_at > now:
            raise refuse("started_at", f"{begun_at:%H:%M}", "A bake cannot have begun later than now.",
                         "Give the moment when it was begun, or leave it out.")  # fmt: skip
        called = self._free_name(name.strip() or product.name.strip() or "Bake")
        made: list[Bake] = []

        def make(key: str, sign: int) -> NewBake:
            bake = Bake(
                key=key,
                name=called,
                sign=sign,
                product_key=product_key,
                product_revision=product_revision,
                product=product,
                kitchen_key=kitchen_key,
                kitchen=kitchen,
                started_at=begun_at,
                ready_at=_ready_at(product, ready_by, begun_at),
                seed=seed,
                members=members,
                factor=factor,
            )
            made.append(bake)
            row = BakeRow(
                key=key, name=called, sign=sign, product_key=product_key, product_revision=product_revision,
                kitchen_key=kitchen_key, started_at=begun_at, ready_at=bake.ready_at, finished_at=None,
                day=f"{begun_at:%Y-%m-%d}",
            )  # fmt: skip
            return NewBake(row, bake.model_dump_json(), f"{called} {product.name} {kitchen.name} {row.day}")

        self._book.begin(f"{key_from_name(called)}-{begun_at:%Y-%m-%d}", SIGNS, make)
        self._tell(made[-1].key, 0)
        self._live.outlook(made[-1], (), now, self._fresh)
        return made[-1]

    def bake(self, key: str) -> Bake:
        """What a bake was begun with."""
        with self._lock:
            if key in self._begun:
                self._begun.move_to_end(key)
                return self._begun[key]
        try:
            bake = Bake.model_validate_json(self._book.as_begun(key))
        except ValidationError as trouble:
            raise refuse("journal", key, "This bake holds something that this version cannot read.",
                         "It was not changed. Open it with the version that began it.") from trouble  # fmt: skip
        with self._lock:
            self._begun[key] = bake
            while len(self._begun) > KEPT:
                self._begun.popitem(last=False)
        return bake

    def taken(self, key: str, after: int = 0) -> tuple[Taken, ...]:
        """The entries of a bake after a number, in the order in which they were taken."""
        return _taken(self._book.entries(key, after))

    def view(self, key: str, now: datetime | None = None, speaker: Speaker = ENGLISH) -> BenchView:
        """The bake as a face shows it."""
        bake = self.bake(key)
        return self._view(bake, self.taken(key), now or self.clock(), speaker)

    def note(self, key: str, body: Any, now: datetime | None = None, speaker: Speaker = ENGLISH) -> Noted:
        """Take what a device sent, {"entries": [...]}; on the disk before this answers.

        An entry that is there already is answered as taken again. What cannot be used is refused by its uid.
        """
        sent = entries_from(body, speaker)
        noted = self.note_entries(key, sent.entries, now, speaker)
        return noted.model_copy(update={"refused": (*sent.refused, *noted.refused)})

    def note_entries(
        self, key: str, entries: Sequence[Entry], now: datetime | None = None, speaker: Speaker = ENGLISH
    ) -> Noted:
        """Take entries that are read already."""
        now = now or self.clock()
        bake = self.bake(key)
        taken = self.taken(key)
        known = frozenset(each.entry.uid for each in taken)
        sent = sorted_out(bake, entries, known, speaker)
        new = [
            NewEntry(entry.uid, entry.deed, entry.at, entry.device, entry.model_dump_json(exclude_defaults=True))
            for entry in sent.entries
            if entry.uid not in known
        ]
        if new:
            rows = self._book.note(key, new, now, lambda entries, _outlook: _settled(bake, entries))
            taken = _taken(rows)
            self._tell(key, taken[-1].number)
        return Noted(
            view=self._view(bake, taken, now, speaker),
            taken=tuple(entry.uid for entry in sent.entries),
            refused=sent.refused,
        )

    def settle(self, timeout_s: float = 600.0) -> None:
        """Wait until no forecast is being reckoned. For a command that shows one bake and ends."""
        self._live.settle(timeout_s)

    def under_way(self) -> tuple[BakeRow, ...]:
        """Bakes that are not finished, the last begun first."""
        return self._book.under_way()

    def alarms(self, now: datetime | None = None, speaker: Speaker = ENGLISH) -> Alarms:
        """Alarms of every bake under way, the next first. No forecast is asked: the stored one answers at once."""
        now = now or self.clock()
        found: list[Alarm] = []
        for row in self.under_way():
            bake = self.bake(row.key)
            progress = fold(bake, self.taken(row.key))
            found += alarms_now(bake, progress, self.stored_outlook(row.key), now, speaker)
        return Alarms(alarms=tuple(sorted(found, key=lambda alarm: (alarm.at, alarm.id))))

    def page(
        self, text: str = "", product_key: str = "", kitchen_key: str = "", limit: int = 50, offset: int = 0
    ) -> tuple[BakeRow, ...]:
        """Bakes that were begun, newest first, by words, formula and kitchen."""
        return self._book.page(text, product_key, kitchen_key, limit, offset)

    def count(self, text: str = "", product_key: str = "", kitchen_key: str = "") -> int:
        """How many of them there are."""
        return self._book.count(text, product_key, kitchen_key)

    def record(self, key: str, speaker: Speaker = ENGLISH) -> Record:
        """What was done and read, step by step, beside what was planned; ready to be compared with another."""
        bake = self.bake(key)
        taken = self.taken(key)
        return record_of(bake, taken, fold(bake, taken), self.stored_outlook(key), speaker)

    def forgotten(self, key: str, what: str) -> "ToldAnswer":
        """What to do about salt, yeast or sugar that was left out and is found at the step now."""
        bake = self.bake(key)
        now_step = self.progress(key).now_step
        kinds = [step.kind for step in bake.product.procedure.steps]
        found = found_at(kinds[now_step] if now_step is not None else kinds[-1])
        from oventide.services.kernel import KERNEL
        from oventide.services.travelling import rescue_forgotten  # here, since it loads the compiled rooms

        with KERNEL:
            return rescue_forgotten(bake.product, bake.kitchen, what, found, None, bake.members, bake.seed)

    def progress(self, key: str) -> Progress:
        """What a bake is, folded from its entries."""
        return fold(self.bake(key), self.taken(key))

    def stored_outlook(self, key: str) -> Outlook | None:
        """The last outlook that was kept; None where there is none, or where a newer version wrote it."""
        kept = self._book.outlook(key)
        if kept is None:
            return None
        try:
            return Outlook.model_validate_json(kept[1])
        except ValidationError:
            return None

    def _view(self, bake: Bake, taken: tuple[Taken, ...], now: datetime, speaker: Speaker) -> BenchView:
        progress = fold(bake, taken)
        stored = self.stored_outlook(bake.key)
        outlook = stored
        if progress.finished_at is None:
            found = self._live.outlook(bake, taken, now, self._fresh)
            outlook = found or stored
            if found is not None and (stored is None or found.number > stored.number):
                self._keep(bake, found)
        return bench_view(bake, taken, progress, outlook, now, speaker)

    def _keep(self, bake: Bake, outlook: Outlook) -> bool:
        return self._book.keep_outlook(
            bake.key, outlook.number, outlook.model_dump_json(), lambda entries, _outlook: _settled(bake, entries)
        )

    def _fresh(self, bake: Bake, outlook: Outlook) -> None:
        if self._keep(bake, outlook):
            self._tell(bake.key, outlook.number)

    def _tell(self, key: str, number: int) -> None:
        if self.on_noted is not None:
            self.on_noted(key, number)

    def _free_name(self, name: str) -> str:
        """A name of its own among the bakes under way: "Poppy coils 2" where there is one already."""
        short = re.sub(r"\s+", " ", name)[:LONGEST_NAME].strip()
        used = {row.name for row in self.under_way()}
        called, count = short, 1
        while called in used:
            count += 1
            called = f"{short} {count}"
        return called


def found_at(kind: StepKind) -> str:
    """The moment of the bake at which something is found, by the step; after the proof nothing can be worked in.

    >>> found_at("retard"), found_at("roll")
    ('bulk', 'shaping')
    """
    if kind in ("mix", "bulk"):
        return kind
    if kind in ("retard", "temper"):
        return "bulk"
    if kind in ("sheet", "spread", "roll", "chill", "cut", "tin", "proof"):
        return "proof" if kind == "proof" else "shaping"
    raise refuse("step", kind, "It is in the oven, or out of it: nothing can be worked in any more.",
                 "Salt the glaze or what goes on top, and note it for the next bake.")  # fmt: skip


def _taken(rows: Sequence[EntryRow]) -> tuple[Taken, ...]:
    return tuple(Taken(number=row.number, taken_at=row.taken_at, entry=_entry(row.content)) for row in rows)


@lru_cache(maxsize=4096)
def _entry(content: str) -> Entry:
    """An entry from its JSON; entries never change, so one that was read stays read."""
    return Entry.model_validate_json(content)


def _settled(bake: Bake, rows: Sequence[EntryRow]) -> Settled:
    progress = fold(bake, _taken(rows))
    return Settled(ready_at=progress.ready_at, finished_at=progress.finished_at)


def _ready_at(product: Product, ready_by: str | None, begun_at: datetime) -> datetime | None:
    """The next time that the clock shows `ready_by` and that leaves at least half of the written minutes."""
    if ready_by is None:
        return None
    hour, _, minute = ready_by.partition(":")
    steps = [step for step in product.procedure.steps if step.minutes is not None and step.kind != "keep"]
    planned = sum(step.minutes.likely for step in steps if step.minutes is not None)
    return ready_moment(60.0 * int(hour) + int(minute), begun_at + timedelta(minutes=planned / 2))
