"""A bakehouse as a baker has it: the program on a port, a journal in a folder, a browser. It can lose its power."""

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

PATIENCE_S = 120.0
PROGRAM = (sys.executable, "-c", "from oventide.cli.main import run; run()")


class Bakehouse:
    """The served program, which can be killed as a power cut does and started again on the same journal."""

    def __init__(self, home: Path) -> None:
        self.home = home
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self._process: subprocess.Popen[bytes] | None = None

    @property
    def environment(self) -> dict[str, str]:
        """The environment of every program of this bakehouse."""
        return {**os.environ, "OVENTIDE_HOME": str(self.home), "PYTHONUTF8": "1"}

    def start(self) -> None:
        """Serve, and wait until a page answers."""
        log = (self.home / "serve.log").open("ab")
        self._process = subprocess.Popen(
            [*PROGRAM, "serve", "--port", str(self.port)],
            env=self.environment,
            stdout=log,
            stderr=log,
        )
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            if self._process.poll() is not None:
                break
            try:
                with urllib.request.urlopen(f"{self.address}/about", timeout=5) as answer:
                    if answer.status == 200:
                        return
            except OSError:
                time.sleep(0.1)
        pytest.fail("the program does not answer:\n" + (self.home / "serve.log").read_text("utf-8"))

    def lose_power(self) -> None:
        """kill -9: nothing is written, nothing is said."""
        assert self._process is not None
        os.kill(self._process.pid, signal.SIGKILL)
        self._process.wait(10)
        self._process = None

    def stop(self) -> None:
        """As with Ctrl+C."""
        if self._process is not None:
            self._process.send_signal(signal.SIGINT)
            try:
                self._process.wait(10)
            except subprocess.TimeoutExpired:
                self._process.kill()
            self._process = None

    def command(self, *words: str) -> subprocess.CompletedProcess[str]:
        """One command of the terminal on the same journal."""
        return subprocess.run(
            [*PROGRAM, *words],
            env=self.environment,
            capture_output=True,
            text=True,
            timeout=PATIENCE_S,
            check=False,
        )


@pytest.fixture
def bakehouse(tmp_path: Path) -> Iterator[Bakehouse]:
    """A served bakehouse of its own."""
    home = tmp_path / "bakehouse"
    home.mkdir()
    house = Bakehouse(home)
    house.start()
    yield house
    house.stop()


@pytest.fixture
def tablet(chromium) -> Iterator[Callable]:
    """Opens a browser of its own (a device): each call a new one. Its console must stay free of errors."""
    opened, heard = [], []

    def open_one(width: int = 820, height: int = 1180):
        context = chromium.new_context(viewport={"width": width, "height": height})
        page = context.new_page()
        page.set_default_timeout(30_000)
        page.on("pageerror", lambda error: heard.append(str(error)))
        opened.append(context)
        return page

    yield open_one
    for context in opened:
        context.close()
    assert heard == []
