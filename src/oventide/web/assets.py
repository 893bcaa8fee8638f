"""Style, script and type, served from here and from nowhere else."""

import hashlib
from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent / "static"
SERVED = (".css", ".js", ".woff2", ".txt", ".svg")


@cache
def asset_address(name: str) -> str:
    """The address of a file here, with a mark that changes with its content, so that a browser may keep it."""
    digest = hashlib.sha256((FOLDER / name).read_bytes()).hexdigest()[:10]
    return f"/static/{name}?v={digest}"
