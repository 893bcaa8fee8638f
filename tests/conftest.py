"""What the tests stand on: hypothesis, and Chromium where pages are tested."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.database import DirectoryBasedExampleDatabase

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

ROOT = Path(__file__).resolve().parent.parent

IN_CI = bool(os.environ.get("CI"))
settings.register_profile(
    "oventide",
    deadline=None,  # the first example may pay for a compiler
    derandomize=IN_CI,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
    database=None if IN_CI else DirectoryBasedExampleDatabase(ROOT / "build" / "hypothesis"),
)
settings.load_profile("oventide")

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
BROWSER_FLAGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def root() -> Path:
    """The checkout's folder."""
    return ROOT


@pytest.fixture(scope="session")
def chromium_path() -> str:
    """The browser's executable. Without one: an error in CI, elsewhere a skip that says what to install."""
    found = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    if found is None:
        words = f"none of {', '.join(BROWSERS)} is on the PATH; `make test` says how to install Chromium"
        if IN_CI:
            pytest.fail(words)
        pytest.skip(words)
    return found


@pytest.fixture(scope="module")
def chromium(chromium_path: str) -> "Iterator[Browser]":
    """A running headless browser for the tests of one module.

    Not for the whole session: while playwright's loop runs, no other test of this thread could use asyncio.
    """
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path, args=list(BROWSER_FLAGS))
        yield browser
        browser.close()


@pytest.fixture
def browser_page(chromium: "Browser") -> "Iterator[Page]":
    """A fresh page that reaches this machine only: a request to any other host fails the test."""
    context = chromium.new_context()
    page = context.new_page()
    strayed: list[str] = []

    def watch(url: str) -> None:
        if not url.startswith(("http://127.0.0.1", "http://localhost", "data:", "blob:", "about:", "file:")):
            strayed.append(url)

    page.on("request", lambda request: watch(request.url))
    yield page
    context.close()
    assert not strayed, f"the page asked for something outside this machine: {strayed}"
