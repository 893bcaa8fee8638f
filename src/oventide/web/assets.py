"""Style, script and type, served from here and from nowhere else."""

import hashlib
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent / "static"
SERVED = (".css", ".js", ".woff2", ".txt", ".svg")


@cache
def asset_address(name: str) -> str:
    """The address of a file here, with a mark that changes with its content, so that a browser may keep it.

    A folder (its name ends with a slash) has its mark in front, since its modules name each other without one.
    """
    if name.endswith("/"):
        return f"/static/@{_digest(files_in(name))}/{name}"
    return f"/static/{name}?v={_digest((name,))}"


def files_in(folder: str) -> tuple[str, ...]:
    """Names of the files of a folder here, in order."""
    return tuple(
        path.relative_to(FOLDER).as_posix()
        for path in sorted((FOLDER / folder).iterdir())
        if path.suffix in SERVED and path.is_file()
    )


def path_of(name: str) -> Path | None:
    """The file behind an address under /static/, with or without its folder's mark; None where there is none."""
    if name.startswith("@"):
        name = name.partition("/")[2]
    path = (FOLDER / name).resolve()
    return path if path.is_relative_to(FOLDER) and path.suffix in SERVED and path.is_file() else None


def _digest(names: tuple[str, ...]) -> str:
    content = b"".join((FOLDER / name).read_bytes() for name in names)
    return hashlib.sha256(content).hexdigest()[:10]
