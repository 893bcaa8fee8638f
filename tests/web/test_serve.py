"""Serving: on this machine only, soon, and with the demo on an empty shelf."""

import signal
import subprocess
import sys
import threading
import time
import urllib.request
from pathlib import Path

import pytest

from oventide.errors import Refusal
from oventide.web import serve as serving

HEAVY = ("oventide.timeline.run", "oventide.bake.crumb", "numba", "scipy.optimize", "typst")


def test_it_answers_on_the_loopback_only() -> None:
    for host in ("0.0.0.0", "192.168.1.4", "bakery.example"):
        with pytest.raises(Refusal, match="this machine only"):
            serving.serve(host=host)


def test_it_prints_its_address_loads_the_demo_and_warms_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[str] = []
    warmed = threading.Event()
    monkeypatch.setattr(serving, "_warm", warmed.set)
    answers: list[str] = []

    def served(server: object) -> None:
        answers.append(type(server).__name__)

    monkeypatch.setattr(serving.uvicorn.Server, "run", served)
    serving.serve(port=8799, journal_url=f"sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}", say=said.append)
    assert said == [
        "Oventide is on http://127.0.0.1:8799/  (stop with Ctrl+C)",
        "Stopped. What was saved is on the shelf.",
    ]
    assert answers == ["Server"]
    assert warmed.wait(5)


def test_the_pages_load_no_kernel(root: Path) -> None:
    """A start may not wait for a compiler: what is heavy comes with the first forecast."""
    code = f"import sys, oventide.web.serve;print([name for name in {HEAVY!r} if name in sys.modules])"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=root)
    assert out.stdout.strip() == "[]"


def seconds_to_the_first_page(code: str, root: Path) -> float:
    """Start a server by this code, wait for its shelf, stop it."""
    begun = time.perf_counter()
    server = subprocess.Popen([sys.executable, "-c", code], cwd=root)
    try:
        while True:
            took = time.perf_counter() - begun
            try:
                with urllib.request.urlopen("http://127.0.0.1:8797/", timeout=2) as answer:
                    assert "Lantern Quay poppy coils" in answer.read().decode()
                return took
            except OSError:
                assert server.poll() is None, "the server stopped"
                assert took < 60, "no page within a minute"
                time.sleep(0.05)
    finally:
        server.terminate()
        server.wait(10)


def test_ctrl_c_ends_it_in_words(tmp_path: Path, root: Path) -> None:
    code = (
        "from oventide.web import serve as s; s._warm = lambda: None;"
        f"s.serve(port=8796, journal_url='sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}')"
    )
    server = subprocess.Popen(
        [sys.executable, "-u", "-c", code], cwd=root, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    for _ in range(600):
        try:
            urllib.request.urlopen("http://127.0.0.1:8796/about", timeout=2).close()
            break
        except OSError:
            assert server.poll() is None, "the server stopped"
            time.sleep(0.1)
    server.send_signal(signal.SIGINT)
    out, err = server.communicate(timeout=15)
    assert server.returncode == 0
    assert err == ""
    assert out.splitlines()[-1].startswith("Stopped.")


@pytest.mark.slow
def test_a_warm_start_shows_the_shelf_within_five_seconds(tmp_path: Path, root: Path) -> None:
    code = (
        "from oventide.web import serve as s; s._warm = lambda: None;"
        f"s.serve(port=8797, journal_url='sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}')"
    )
    seconds_to_the_first_page(code, root)  # makes the journal and loads the demo
    took = seconds_to_the_first_page(code, root)
    assert took < 5, f"the first page took {took:.1f} s"
