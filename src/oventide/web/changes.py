"""Changes told to whoever listens, as server-sent events: one stream for each open page, no thread for any.

The journal itself is watched, about twice a second and only while somebody listens, so that what another program
writes (`oventide log` on the same file) is told like what came through these pages. A change through these pages
only wakes the watch at once. Each event's id is the journal's mark, so a page that was out of reach, or whose server
was started anew, is told what it missed.

========= ============================================== ==================================================
event     data                                           meaning
========= ============================================== ==================================================
bake      {"key", "number"}                              an entry was noted, or a forecast became fresh
shelf     {"key", "kind", "number", "by"}                a revision was saved; `by` is the device's name, "" on
                                                         the laptop itself, null where another program did it
again     {}                                             more happened than was kept for you: look at everything
========= ============================================== ==================================================
"""

import asyncio
import json
import logging
from collections import OrderedDict, deque
from collections.abc import Callable
from contextlib import suppress
from contextvars import ContextVar
from typing import Protocol

from fastapi.sse import format_sse_event
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response
from starlette.types import Receive, Scope, Send

from oventide.services.shelf import Added, Mark

HEARTBEAT_S = 15.0
LOOK_EVERY_S = 0.5
COME_BACK_MS = 2000
KEPT_EACH = 64
"""Events kept for a listener that does not take them; then they are dropped for one word: look again."""
CAUGHT_UP = 200
"""Events that are told one by one to a page that comes back; beyond, it looks at everything."""
LISTENERS = 100
LISTENERS_EACH = 20
"""Of one device that has joined, so that none takes all the room."""
NAMED = 500
BEAT = b": still here\n\n"

ASKING: ContextVar[str | None] = ContextVar("asking", default=None)
"""The device whose request is being answered; "" for this machine itself, None outside a request."""
_LOG = logging.getLogger("oventide.web")


class Watched(Protocol):
    """What is watched: the shelf, in practice."""

    def mark(self) -> Mark: ...

    def added_since(self, mark: Mark, limit: int) -> tuple[Added, ...]: ...


def mark_text(mark: Mark) -> str:
    """A mark as the id of an event.

    >>> mark_text((12, 340))
    '12.340'
    """
    return ".".join(str(number) for number in mark)


def mark_from(text: str, now: Mark) -> Mark | None:
    """The mark in a text; None where it is none of this journal (too far, or of an older layout).

    >>> mark_from("12.340", (13, 340)), mark_from("14.2", (13, 340)), mark_from("12", (13, 340)), mark_from("a", (1,))
    ((12, 340), None, None, None)
    """
    parts = text.split(".")
    if len(parts) != len(now) or not all(part.isascii() and part.isdigit() and len(part) < 16 for part in parts):
        return None
    mark = tuple(int(part) for part in parts)
    return mark if all(then <= at for then, at in zip(mark, now, strict=True)) else None


def gathered(added: tuple[Added, ...]) -> tuple[Added, ...]:
    """Of many entries of one bake only the last is told: whoever hears it asks for the whole bake."""
    last = {each.key: place for place, each in enumerate(added) if each.what == "bake"}
    return tuple(each for place, each in enumerate(added) if each.what != "bake" or last[each.key] == place)


class Listener:
    """What waits to be sent to one page."""

    def __init__(self, device: str = "") -> None:
        self.device = device
        self._waiting: deque[bytes] = deque()
        self._woken = asyncio.Event()
        self._over = False

    def put(self, chunk: bytes, again: bytes) -> None:
        """Keep a chunk; if too many wait already, drop them all for the word `again`."""
        if len(self._waiting) >= KEPT_EACH:
            self._waiting.clear()
            chunk = again
        self._waiting.append(chunk)
        self._woken.set()

    def end(self) -> None:
        self._over = True
        self._woken.set()

    async def take(self) -> bytes | None:
        """The next chunk, a heartbeat where nothing came for a while, or None at the end."""
        while not self._waiting:
            if self._over:
                return None
            self._woken.clear()
            try:
                await asyncio.wait_for(self._woken.wait(), HEARTBEAT_S)
            except TimeoutError:
                return BEAT
        return self._waiting.popleft()


class Changes:
    """Watches the journal while somebody listens, and tells every listener."""

    def __init__(self, watched: Watched) -> None:
        self._watched = watched
        self._listeners: set[Listener] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._watch_task: asyncio.Task[None] | None = None
        self._nudged = asyncio.Event()
        self._looking = asyncio.Lock()
        self._mark: Mark = ()
        self._savers: OrderedDict[tuple[str, str, int], str] = OrderedDict()
        self._closed = False

    # from any thread

    def saved(self, kind: str, key: str, number: int) -> None:
        """Remember which device saved this revision, and look at once."""
        device = ASKING.get()
        if device is not None:
            self._savers[(kind, key, number)] = device
            while len(self._savers) > NAMED:
                self._savers.popitem(last=False)
        self.nudge()

    def nudge(self) -> None:
        """Something was written: look now."""
        self._soon(self._nudged.set)

    def bake(self, key: str, number: int) -> None:
        """A bake's forecast became fresh (its journal did not grow, so it is told from here)."""
        self._soon(lambda: self._tell("bake", {"key": key, "number": number}, self._mark))

    def close(self) -> None:
        """End every stream, so that the server can stop at once."""
        self._closed = True
        self._soon(self._end_all)

    def end_of(self, device: str) -> None:
        """That device was taken out: end what it listens to."""
        self._soon(lambda: self._end_all(device))

    def _soon(self, do: Callable[[], None]) -> None:
        loop = self._loop
        if loop is not None:
            with suppress(RuntimeError):  # the loop is closed: nobody listens any more
                loop.call_soon_threadsafe(do)

    # on the loop

    @property
    def listening(self) -> int:
        """How many pages listen."""
        return len(self._listeners)

    async def join(self, since: str, device: str = "") -> Listener | None:
        """A new listener, told first what was added after its mark; None where no more can be had."""
        own = sum(each.device == device for each in self._listeners) if device else 0
        if self._closed or len(self._listeners) >= LISTENERS or own >= LISTENERS_EACH:
            return None
        self._loop = asyncio.get_running_loop()
        listener = Listener(device)
        async with self._looking:
            if self._listeners:
                await self._look()
            else:
                self._mark = await run_in_threadpool(self._watched.mark)
            hello = format_sse_event(id=mark_text(self._mark), retry=COME_BACK_MS)
            if since:
                for chunk in await self._missed(since):
                    listener.put(chunk, chunk)
            listener.put(hello, hello)
            self._listeners.add(listener)
        if self._closed:
            listener.end()
        if self._watch_task is None or self._watch_task.done():
            self._watch_task = asyncio.create_task(self._watch())
        return listener

    def leave(self, listener: Listener) -> None:
        """That page is gone; the watch ends by itself after the last one."""
        self._listeners.discard(listener)
        self._nudged.set()

    async def _missed(self, since: str) -> list[bytes]:
        mark = mark_from(since, self._mark)
        if mark is None:
            return [self._again()]
        added = await run_in_threadpool(self._watched.added_since, mark, CAUGHT_UP)
        if len(added) >= CAUGHT_UP or len(gathered(added)) > KEPT_EACH:
            return [self._again()]
        return [self._chunk_of(each) for each in gathered(added)]

    async def _watch(self) -> None:
        while self._listeners and not self._closed:
            with suppress(TimeoutError):
                await asyncio.wait_for(self._nudged.wait(), LOOK_EVERY_S)
            self._nudged.clear()
            try:
                async with self._looking:
                    await self._look()
            except Exception:  # a journal that cannot be read just now is looked at again
                _LOG.exception("The journal could not be watched")

    async def _look(self) -> None:
        added = await run_in_threadpool(self._watched.added_since, self._mark, CAUGHT_UP)
        for each in gathered(added):
            self._put(self._chunk_of(each))
        if added:
            self._mark = added[-1].mark

    def _chunk_of(self, added: Added) -> bytes:
        data: dict[str, object] = {"key": added.key, "number": added.number}
        if added.what == "shelf":
            data |= {"kind": added.kind, "by": self._savers.get((added.kind, added.key, added.number))}
        return format_sse_event(event=added.what, data_str=json.dumps(data), id=mark_text(added.mark))

    def _again(self) -> bytes:
        return format_sse_event(event="again", data_str="{}", id=mark_text(self._mark))

    def _tell(self, event: str, data: dict[str, object], mark: Mark) -> None:
        self._put(format_sse_event(event=event, data_str=json.dumps(data), id=mark_text(mark)))

    def _put(self, chunk: bytes) -> None:
        again = self._again()
        for listener in self._listeners:
            listener.put(chunk, again)

    def _end_all(self, device: str | None = None) -> None:
        for listener in self._listeners:
            if device is None or listener.device == device:
                listener.end()
        self._nudged.set()


class Stream(Response):
    """The answer to a page that listens: open until the page leaves or the server stops."""

    media_type = "text/event-stream"

    def __init__(self, changes: Changes, since: str, device: str = "") -> None:
        super().__init__(headers={"Cache-Control": "no-store"})
        self._changes = changes
        self._since = since
        self._device = device
        del self.headers["content-length"]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        listener = await self._changes.join(self._since, self._device)
        if listener is None:
            await Response("More pages listen than can be told.", 503, {"Retry-After": "30"}, "text/plain")(
                scope, receive, send
            )
            return

        async def until_it_leaves() -> None:
            while (await receive())["type"] != "http.disconnect":
                pass
            listener.end()

        leaving = asyncio.create_task(until_it_leaves())
        try:
            await send({"type": "http.response.start", "status": 200, "headers": self.raw_headers})
            while (chunk := await listener.take()) is not None:
                await send({"type": "http.response.body", "body": chunk, "more_body": True})
            await send({"type": "http.response.body", "body": b"", "more_body": False})
        finally:
            self._changes.leave(listener)
            leaving.cancel()
            with suppress(asyncio.CancelledError):
                await leaving
