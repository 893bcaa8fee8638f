"""Where the journal lies when nobody says otherwise."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path

FILE_NAME = "journal.sqlite3"


def home_folder(environ: Mapping[str, str] = os.environ, platform: str = sys.platform) -> Path:
    """OVENTIDE_HOME, or the platform's folder for a user's data.

    >>> home_folder({"OVENTIDE_HOME": "bakehouse"}).as_posix()
    'bakehouse'
    >>> home_folder({"XDG_DATA_HOME": "data"}, "linux").as_posix()
    'data/oventide'
    """
    named = environ.get("OVENTIDE_HOME")
    if named:
        return Path(named).expanduser()
    if platform == "win32" and environ.get("APPDATA"):
        return Path(environ["APPDATA"]) / "oventide"
    if platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "oventide"
    data = environ.get("XDG_DATA_HOME")
    return (Path(data) if data else Path.home() / ".local" / "share") / "oventide"


def default_url(environ: Mapping[str, str] = os.environ) -> str:
    """The address of the default journal; its folder is made when the journal is opened."""
    return f"sqlite:///{(home_folder(environ) / FILE_NAME).as_posix()}"


def folder_of(url: str) -> Path | None:
    """The folder of a journal's file; None where the journal is in memory only.

    >>> folder_of("sqlite:///data/oventide/journal.sqlite3").as_posix()
    'data/oventide'
    >>> folder_of("sqlite://") is None
    True
    """
    path = url.partition("?")[0].removeprefix("sqlite://").removeprefix("/")
    return Path(path).parent if path and path != ":memory:" else None
