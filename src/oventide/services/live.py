"""The forecast that follows a bake under way (docs/live.md).

An outlook is read off the last run of the bake's timeline, at once. Where the run was made for other moments than those
that are known now, a run for these is made in a thread of its own, one at a time, and its outlook is told.
"""

import logging
import threading
from collections import OrderedDict
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from oventide.bench.fold import fold
from oventide.bench.model import Bake, Choice, Taken
from oventide.bench.outlook import Outlook
from oventide.errors import Refusal
from oventide.forecast.under_way import UnderWay, begin, go_on
from oventide.services.kernel import KERNEL, give_way
from oventide.services.live_choices import choices_of
from oventide.services.live_missed import Missed, missed
from oventide.services.live_outlook import Look, look_at, outlook_of, plan_with
from oventide.services.live_plan import Plan, plan_of
from oventide.timeline.batch import batch_of
from oventide.timeline.procedure import Procedure

KEPT = 12
"""Bakes whose runs are kept; one takes some 15 MB with 200 members."""

Fresh = Callable[[Bake, Outlook], None]
_LOG = logging.getLogger("oventide.live")


@dataclass(frozen=True)
class _Run:
    plan: Plan
    run: UnderWay


@dataclass(frozen=True)
class _Ways:
    """Ways out, and what they were reckoned for."""

    missed: Missed
    choices: tuple[Choice, ...]


@dataclass
class _Asked:
    """What was last asked of a bake."""

    bake: Bake
    taken: tuple[Taken, ...]
    now: datetime
    fresh: Fresh | None


class Live:
    """Outlooks of bakes under way. `clock` gives the moment now; the same entries always give the same outlook."""

    def __init__(self, clock: Callable[[], datetime] | None = None, kept: int = KEPT) -> None:
        self._clock = clock or (lambda: datetime.now(UTC))
        self._kept = kept
        self._runs: OrderedDict[str, _Run] = OrderedDict()
        self._ways: dict[str, _Ways] = {}
        self._asked: OrderedDict[str, _Asked] = OrderedDict()
        self._troubled: dict[str, Plan] = {}
        self._lock = threading.Condition()
        self._worker: threading.Thread | None = None

    def outlook(self, bake: Bake, taken: Sequence[Taken], now: datetime, fresh: Fresh | None = None) -> Outlook | None:
        """The outlook at `now` from every entry of the bake; None until the first run is there.

        Never waits for a run. `fresh` is called from another thread with a newer outlook when its run is there, and
        when the ways out of a window that was missed have been reckoned.
        """
        progress = fold(bake, taken)
        plan = plan_of(bake, progress)
        asked = _Asked(bake, tuple(taken), now, fresh)
        with self._lock:
            kept = self._runs.get(bake.key)
            if kept is not None:
                self._runs.move_to_end(bake.key)
            is_fresh = kept is not None and kept.plan.steps == plan.steps
            if not is_fresh and self._troubled.get(bake.key) != plan:
                self._ask(asked)
        if kept is None:
            return None
        look = look_at(bake, progress, plan if is_fresh else plan_with(bake, progress, kept.plan), kept.run, now)
        gone = missed(look) if is_fresh else None
        return outlook_of(look, is_fresh=is_fresh, choices=self._choices(asked, gone))

    def _choices(self, asked: _Asked, gone: Missed | None) -> tuple[Choice, ...]:
        """The ways out that are known; asks for those that are not."""
        if gone is None:
            return ()
        with self._lock:
            known = self._ways.get(asked.bake.key)
            if known is None or known.missed != gone:
                self._ask(asked)
        return known.choices if known is not None and known.missed.step == gone.step else ()

    def _ask(self, asked: _Asked) -> None:
        self._asked[asked.bake.key] = asked
        self._begin_to_work()

    def settle(self, timeout_s: float | None = None) -> bool:
        """Wait until no run is under way or waiting; False where it took longer. For tests and for one-off commands."""
        with self._lock:
            return self._lock.wait_for(lambda: self._worker is None, timeout_s)

    def forget(self, key: str) -> None:
        """Let go of a bake that is over."""
        with self._lock:
            self._runs.pop(key, None)
            self._asked.pop(key, None)
            self._ways.pop(key, None)
            self._troubled.pop(key, None)

    def _begin_to_work(self) -> None:
        if self._worker is None:
            self._worker = threading.Thread(target=self._work, daemon=True, name="live forecast")
            self._worker.start()

    def _work(self) -> None:
        while True:
            with self._lock:
                if not self._asked:
                    self._worker = None
                    self._lock.notify_all()
                    return
                key, asked = self._asked.popitem(last=False)
                before = self._runs.get(key)
            self._run(key, asked, before)

    def _run(self, key: str, asked: _Asked, before: _Run | None) -> None:
        bake, progress = asked.bake, fold(asked.bake, asked.taken)
        plan = plan_of(bake, progress)
        try:
            with KERNEL:
                made = before
                if before is None or before.plan.steps != plan.steps:
                    made = _Run(plan, _made(bake, plan, before))
                assert made is not None
                ways = self._tried(look_at(bake, progress, plan, made.run, asked.now))
        except Refusal as refusal:
            self._let_be(key, plan, str(refusal))
            return
        except Exception:
            _LOG.exception("the forecast of a bake under way failed")
            self._let_be(key, plan, "")
            return
        with self._lock:
            self._runs[key] = made
            self._runs.move_to_end(key)
            if ways is not None:
                self._ways[key] = ways
            while len(self._runs) > self._kept:
                gone, _ = self._runs.popitem(last=False)
                self._ways.pop(gone, None)
            is_last = key not in self._asked
        if is_last and asked.fresh is not None:
            now = max(asked.now, self._clock().astimezone(bake.started_at.tzinfo))
            look = look_at(bake, progress, plan, made.run, now)
            choices = ways.choices if ways is not None and missed(look) is not None else ()
            try:
                asked.fresh(bake, outlook_of(look, choices=choices))
            except Exception:
                _LOG.exception("a fresh outlook could not be told")

    def _tried(self, look: Look) -> _Ways | None:
        gone = missed(look)
        if gone is None:
            return None
        with self._lock:
            known = self._ways.get(look.bake.key)
        if known is not None and known.missed == gone:
            return known
        return _Ways(gone, choices_of(look, gone))

    def _let_be(self, key: str, plan: Plan, why: str) -> None:
        """A plan that can't be run is not tried again till it is another one."""
        with self._lock:
            self._troubled[key] = plan
        if why:
            _LOG.warning("no forecast of this bake: %s", why)


def _made(bake: Bake, plan: Plan, before: _Run | None) -> UnderWay:
    procedure = Procedure(steps=plan.steps)
    if before is not None:
        return go_on(before.run, procedure, _giving_way)
    began = bake.started_at
    return begin(
        replace(batch_of(bake.product), procedure=procedure),
        bake.kitchen,
        start_h=began.hour + began.minute / 60.0,
        members=bake.members,
        seed=bake.seed,
        progress=_giving_way,
    )


def _giving_way(share: float) -> None:
    if share < 1.0:
        give_way()
