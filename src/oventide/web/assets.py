"""Style, script and type, served from here and from nowhere else."""

import hashlib
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent / "static"
MEDIA_TYPES = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
}
"""What is served, by the ending of its name."""


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
        if path.suffix in MEDIA_TYPES and path.is_file()
    )


def path_of(name: str) -> Path | None:
    """The file behind an address under /static/, with or without its folder's mark; None where there is none."""
    if name.startswith("@"):
        name = name.partition("/")[2]
    path = (FOLDER / name).resolve()
    return path if path.is_relative_to(FOLDER) and path.suffix in MEDIA_TYPES and path.is_file() else None


def may_be_kept(path: Path, name: str, mark: str) -> bool:
    """Whether an address under /static/ carries the mark of the file that is there now: it never means another."""
    inside = path.relative_to(FOLDER)
    if name.startswith("@"):
        return asset_address(f"{inside.parent.as_posix()}/").startswith(f"/static/{name.partition('/')[0]}/")
    return asset_address(inside.as_posix()).endswith(f"?v={mark}")


def content_mark(path: Path) -> str:
    """A mark of what a file holds, for a browser that asks whether it has changed."""
    return _mark(path, path.stat().st_mtime_ns)


@cache
def _mark(path: Path, _changed_at: int) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()[:16]


def _digest(names: tuple[str, ...]) -> str:
    content = b"".join((FOLDER / name).read_bytes() for name in names)
    return hashlib.sha256(content).hexdigest()[:10]
