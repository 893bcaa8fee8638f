"""Fold the entries of a bake into what it is now. The order in which they arrived does not matter.

An entry counts from the moment when it was noted, by the clock of its device. Devices' clocks run apart: an entry
from the future counts as of when it was taken, one from before the bake as of its beginning, and one from a clock
that has lost the day (further back than `LOST`) as of when it was taken.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from oventide.bench.model import Bake, Entry, Mark, Quantity, Taken

LOST = timedelta(hours=12)
"""A bake is noted from paper afterwards within the day; a clock further back than this has lost the day."""


@dataclass(frozen=True)
class Counted:
    """An entry that counts, and the moment that it counts from."""

    number: int
    at: datetime
    entry: Entry


@dataclass(frozen=True)
class Passed:
    """A step's own moments; None where nobody noted them."""

    index: int
    began: datetime | None
    ended: datetime | None


@dataclass(frozen=True)
class Read:
    """A reading that counts."""

    uid: str
    step: int
    at: datetime
    quantity: Quantity
    value: float


@dataclass(frozen=True)
class Marked:
    """A mark that counts."""

    uid: str
    step: int
    at: datetime
    mark: Mark


@dataclass(frozen=True)
class InBowl:
    """A line that was put into the bowl; `bowl_g` is what the scale showed then, if it was read."""

    line: str
    at: datetime
    bowl_g: float | None


@dataclass(frozen=True)
class Progress:
    """What a bake is now."""

    steps: tuple[Passed, ...]
    now_step: int | None
    """None once the last step is over, or the bake is."""
    counted: tuple[Counted, ...]
    """Every entry that counts, in the order of its moments."""
    undone: frozenset[str]
    """Uids of entries that were undone."""
    readings: tuple[Read, ...] = ()
    marks: tuple[Marked, ...] = ()
    weighed: Mapping[str, InBowl] = field(default_factory=dict)
    """By line; the last one counts where a line was noted more than once."""
    heard: Mapping[str, datetime] = field(default_factory=dict)
    """Alarms, and when they were last heard."""
    rescue: tuple[tuple[int | None, str, datetime], ...] = ()
    """Ways out that were taken: step, which, when."""
    ready_at: datetime | None = None
    finished_at: datetime | None = None
    number: int = 0
    """The last entry, whether it counts or not."""

    @property
    def is_over(self) -> bool:
        """Whether nothing is left to be done."""
        return self.now_step is None

    def began(self, step: int) -> datetime | None:
        """When a step began, where that is known."""
        return self.steps[step].began if 0 <= step < len(self.steps) else None


def moment_of(taken: Taken, started_at: datetime) -> datetime:
    """The moment that an entry counts from."""
    at = min(taken.entry.at, taken.taken_at)
    if at < started_at - LOST:
        at = taken.taken_at
    return max(at, started_at)


def undone_of(entries: Iterable[Entry]) -> frozenset[str]:
    """Uids of entries that do not count. Undoing an undoing brings the entry back.

    Two that undo each other (no device sends that) leave both without effect.
    """
    entries = tuple(entries)
    undoers: dict[str, list[str]] = {}
    for entry in entries:
        if entry.deed == "undo":
            undoers.setdefault(entry.of, []).append(entry.uid)
    stands: dict[str, bool] = {}
    settled = -1
    while settled != len(stands):
        settled = len(stands)
        for entry in entries:
            by = undoers.get(entry.uid, [])
            if any(stands.get(uid) for uid in by):
                stands[entry.uid] = False
            elif all(uid in stands for uid in by):
                stands[entry.uid] = True
    circle = {entry.uid for entry in entries if entry.uid not in stands and entry.deed == "undo"}
    return frozenset({uid for uid, counts in stands.items() if not counts} | circle)


def _once(taken: Iterable[Taken]) -> list[Taken]:
    """Each entry once, as it was first taken."""
    first: dict[str, Taken] = {}
    for each in sorted(taken, key=lambda one: one.number):
        first.setdefault(each.entry.uid, each)
    return list(first.values())


def fold(bake: Bake, taken: Iterable[Taken]) -> Progress:
    """What the bake is, from its entries in any order."""
    entries = _once(taken)
    undone = undone_of(each.entry for each in entries)
    counted = sorted(
        (
            Counted(each.number, moment_of(each, bake.started_at), each.entry)
            for each in entries
            if each.entry.uid not in undone and each.entry.deed != "undo"
        ),
        key=lambda one: (one.at, one.number),
    )
    finished = next((one.at for one in counted if one.entry.deed == "finish"), None)
    steps, now_step = _steps(bake, counted)
    ready = bake.ready_at
    for one in counted:
        if one.entry.deed == "ready_by" and one.entry.value is not None:
            ready = ready_moment(one.entry.value, one.at.astimezone(bake.started_at.tzinfo))
    return Progress(
        steps=steps,
        now_step=None if finished is not None else now_step,
        counted=tuple(counted),
        undone=undone,
        readings=tuple(_readings(counted)),
        marks=tuple(
            Marked(one.entry.uid, one.entry.step, one.at, one.entry.mark)
            for one in counted
            if one.entry.deed == "mark" and one.entry.mark is not None and one.entry.step is not None
        ),
        weighed={
            one.entry.line: InBowl(one.entry.line, one.at, one.entry.value)
            for one in counted
            if one.entry.deed == "weighed" and one.entry.line
        },
        heard=_heard(entries, undone),
        rescue=tuple((one.entry.step, one.entry.of, one.at) for one in counted if one.entry.deed == "rescue"),
        ready_at=ready,
        finished_at=finished,
        number=max((each.number for each in entries), default=0),
    )


def _readings(counted: Sequence[Counted]) -> Iterable[Read]:
    for one in counted:
        entry = one.entry
        if entry.deed == "reading" and None not in (entry.step, entry.quantity, entry.value):
            assert entry.step is not None
            assert entry.quantity is not None
            assert entry.value is not None
            yield Read(entry.uid, entry.step, one.at, entry.quantity, entry.value)


def _steps(bake: Bake, counted: Sequence[Counted]) -> tuple[tuple[Passed, ...], int | None]:
    """Each step's moments, and the step now: the one after the last that is done.

    The first "done" of a step counts. A step that was passed over without a word has no end of its own.
    """
    count = len(bake.product.procedure.steps)
    done: dict[int, datetime] = {}
    for one in counted:
        step = one.entry.step
        if one.entry.deed == "done" and step is not None and step < count:
            done.setdefault(step, one.at)
    last = max(done, default=-1)
    ends: dict[int, datetime] = {}
    until: datetime | None = None
    for index in range(last, -1, -1):  # noted late: a step is never over after the one that follows it
        if index in done:
            until = done[index] if until is None else min(done[index], until)
            ends[index] = until
    steps = []
    for index in range(count):
        began = bake.started_at if index == 0 else ends.get(index - 1)
        steps.append(Passed(index, began if index <= last + 1 else None, ends.get(index)))
    return tuple(steps), last + 1 if last + 1 < count else None


def ready_moment(minute_of_day: float, after: datetime) -> datetime:
    """The next time that the clock shows that minute, in the zone of `after`.

    >>> from datetime import UTC
    >>> ready_moment(7 * 60 + 30, datetime(2026, 3, 5, 21, 0, tzinfo=UTC)).isoformat()
    '2026-03-06T07:30:00+00:00'
    """
    hour, minute = divmod(round(minute_of_day), 60)
    today = after.replace(hour=hour % 24, minute=minute, second=0, microsecond=0)
    return today if today > after else today + timedelta(days=1)


def _heard(entries: Iterable[Taken], undone: frozenset[str]) -> dict[str, datetime]:
    """Alarms and when it was last known that they were heard: as of when that was taken, by the one clock here."""
    heard: dict[str, datetime] = {}
    for each in entries:
        alarm = each.entry.of
        if each.entry.deed == "heard" and each.entry.uid not in undone and alarm:
            heard[alarm] = max(each.taken_at, heard.get(alarm, each.taken_at))
    return heard
