"""Changes told as they happen: to two pages at once, from another program, after a gap, and to nobody for long."""

import asyncio
import json
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest

from oventide.services.shelf import Shelf
from oventide.web import changes as told
from oventide.web.app import create_app
from oventide.web.changes import Changes, Listener, Stream

SAVE = (
    "import sys; from oventide.services.shelf import Shelf; s = Shelf.at(sys.argv[1]);"
    "k = s.kitchens()[0]; print(s.save_kitchen(k.content, note='elsewhere', key=k.key).number)"
)


@pytest.fixture
def journal(tmp_path: Path, demo) -> str:
    """The address of a journal with the demo."""
    url = f"sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}"
    shelf = Shelf.at(url)
    shelf.save_product(demo[0])
    shelf.save_kitchen(demo[1])
    return url


class Heard:
    """The lines of one stream, read event by event."""

    def __init__(self, answer: httpx.Response) -> None:
        self.answer = answer
        self._lines = answer.iter_lines()

    def block(self) -> dict[str, str]:
        """The next block of lines, field by field."""
        fields: dict[str, str] = {}
        for line in self._lines:
            if line == "":
                return fields
            name, _, value = line.partition(":")
            fields[name] = value.strip()
        return {"over": "yes"}

    def event(self) -> tuple[str, dict]:
        """The next event, past greetings and heartbeats."""
        while True:
            fields = self.block()
            if "over" in fields:
                raise AssertionError("the stream ended")
            if "event" in fields:
                return fields["event"], json.loads(fields["data"])


@contextmanager
def heard(address: str, since: str | None = None, header: str | None = None) -> Iterator[Heard]:
    """Listen; the greeting has come, so nothing that happens from now on can be missed."""
    headers = {"Last-Event-ID": header} if header else {}
    query = {"since": since} if since else {}
    with (
        httpx.Client(base_url=address, timeout=8) as client,
        client.stream("GET", "/changes", params=query, headers=headers) as answer,
    ):
        assert answer.status_code == 200
        yield Heard(answer)


def save_here(address: str, key: str = "lantern-quay-bakehouse") -> None:
    """Save the kitchen as it is, through its page's own form."""
    page = httpx.get(f"{address}/kitchens/{key}").text
    form = dict(re.findall(r'<input[^>]*\bname="([^"]+)"[^>]*\bvalue="([^"]*)"', page))
    form |= {
        name: chosen.group(1)
        for name, inside in re.findall(r'<select[^>]*\bname="([^"]+)"[^>]*>(.*?)</select>', page, re.DOTALL)
        if (chosen := re.search(r'<option value="([^"]*)" selected', inside))
    }
    answer = httpx.post(f"{address}/kitchens/{key}", data=form, headers={"origin": address})
    assert answer.status_code == 303, answer.text[:2000]


def test_two_pages_hear_what_was_saved_through_a_third(serve_app, journal: str) -> None:
    with serve_app(create_app(journal)) as server, heard(server.address) as first, heard(server.address) as second:
        assert first.block()["retry"]
        assert second.block()["retry"]
        save_here(server.address)
        for page in (first, second):
            name, what = page.event()
            assert (name, what) == (
                "shelf", {"key": "lantern-quay-bakehouse", "number": 2, "kind": "kitchen", "by": ""}
            )  # fmt: skip


def test_what_another_program_writes_is_heard(serve_app, journal: str) -> None:
    with serve_app(create_app(journal)) as server, heard(server.address) as page:
        page.block()
        subprocess.run([sys.executable, "-c", SAVE, journal], check=True, timeout=60)
        begun = time.monotonic()
        name, what = page.event()
        assert time.monotonic() - begun < 2
        assert (name, what["kind"], what["number"], what["by"]) == ("shelf", "kitchen", 2, None)


@pytest.mark.parametrize("way", ["since", "header"])
def test_a_page_that_comes_back_is_told_what_it_missed_even_by_a_new_server(serve_app, journal: str, way: str) -> None:
    with serve_app(create_app(journal)) as server, heard(server.address) as page:
        mark = page.block()["id"]
    shelf = Shelf.at(journal)
    kitchen = shelf.kitchens()[0]
    for _ in range(3):
        shelf.save_kitchen(kitchen.content, key=kitchen.key)
    with serve_app(create_app(journal)) as server, heard(server.address, **{way: mark}) as page:
        assert [page.event()[1]["number"] for _ in range(3)] == [2, 3, 4]


@pytest.mark.parametrize("mark", ["999999.0.0.0", "x", "1.2.3.4.5.6.7", "-1", "9" * 400])
def test_a_mark_that_is_none_of_this_journal_says_look_at_everything(serve_app, journal: str, mark: str) -> None:
    with serve_app(create_app(journal)) as server, heard(server.address, since=mark) as page:
        assert page.event() == ("again", {})


def test_a_page_knows_where_the_journal_stood_before_it_was_read(serve_app, journal: str) -> None:
    with serve_app(create_app(journal)) as server:
        page = httpx.get(f"{server.address}/kitchens/lantern-quay-bakehouse").text
        mark = page.partition('data-mark="')[2].partition('"')[0]
        save_here(server.address)
        with heard(server.address, since=mark) as line:
            assert line.event()[1]["number"] == 2


def test_open_streams_do_not_hold_up_the_end(serve_app, journal: str) -> None:
    with serve_app(create_app(journal)) as server, heard(server.address) as first, heard(server.address) as second:
        first.block(), second.block()
        assert server.stop(within_s=2), "the server did not stop within two seconds"
        assert first.block() == {"over": "yes"}


def test_a_page_that_left_is_forgotten_and_the_watch_ends(serve_app, journal: str) -> None:
    app = create_app(journal)
    with serve_app(app) as server:
        with heard(server.address) as page:
            page.block()
            assert app.state.changes.listening == 1
        for _ in range(100):
            if app.state.changes.listening == 0 and app.state.changes._watch_task.done():
                return
            time.sleep(0.05)
    raise AssertionError("it still listens or watches")


def test_a_listener_that_takes_nothing_keeps_little_and_is_told_to_look_again() -> None:
    async def drive() -> list[bytes]:
        listener = Listener()
        for number in range(10_000):
            listener.put(b"%d" % number, b"again")
            assert len(listener._waiting) <= told.KEPT_EACH
        listener.end()
        taken = []
        while (chunk := await listener.take()) is not None:
            taken.append(chunk)
        return taken

    taken = asyncio.run(drive())
    assert taken[0] == b"again"
    assert taken[-1] == b"9999"
    assert len(taken) <= told.KEPT_EACH


def test_a_quiet_stream_beats(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(told, "HEARTBEAT_S", 0.02)

    async def drive() -> bytes | None:
        return await Listener().take()

    assert asyncio.run(drive()) == told.BEAT


class Still:
    """A journal in which nothing happens."""

    def mark(self) -> tuple[int, ...]:
        return (1,)

    def added_since(self, _mark: tuple[int, ...], _limit: int) -> tuple[()]:
        return ()


def test_a_fresh_forecast_is_told_and_too_many_listeners_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(told, "LISTENERS", 1)

    async def drive() -> tuple[list[bytes], list[dict]]:
        changes = Changes(Still())
        listener = await changes.join("")
        assert listener is not None
        changes.bake("poppy-1", 7)
        got = [await listener.take(), await listener.take()]
        sent: list[dict] = []

        async def send(message: dict) -> None:
            sent.append(message)

        async def receive() -> dict:
            return {"type": "http.disconnect"}

        await Stream(changes, "")({"type": "http", "method": "GET"}, receive, send)
        changes.close()
        assert await listener.take() is None
        return [chunk for chunk in got if chunk], sent

    got, sent = asyncio.run(drive())
    assert b"event: bake" in got[1]
    assert b'"number": 7' in got[1]
    assert sent[0]["status"] == 503
