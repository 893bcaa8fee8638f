"""The one way in which the package compiles a hot loop.

numba caches machine code per source file and does not notice that a *called* function in another file has
changed. The cache folder therefore carries a digest of every source file of the package, so that a changed
law can never be answered by yesterday's machine code.
"""

import hashlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

F = TypeVar("F", bound=Callable[..., Any])


def _cache_home() -> Path:
    """Where compiled code is kept: OVENTIDE_CACHE, or the user's cache folder, or the temporary folder."""
    named = os.environ.get("OVENTIDE_CACHE")
    if named:
        return Path(named)
    home = Path(os.environ.get("XDG_CACHE_HOME", Path.home() / ".cache"))
    try:
        home.mkdir(parents=True, exist_ok=True)
    except OSError:
        return Path(tempfile.gettempdir()) / "oventide"
    return home / "oventide"


def _source_digest() -> str:
    """A digest of what compiled code is made of: the rooms up to the timeline, and the figures frozen into them."""
    digest = hashlib.sha256(numba.__version__.encode())
    root = Path(__file__).parent
    for room in ("matter", "laws", "dough", "bake", "timeline"):
        for path in sorted((root / room).glob("*.py")):
            digest.update(path.read_bytes())
    for path in sorted((root / "evidence" / "data").glob("*.toml")):
        digest.update(path.read_bytes())
    return digest.hexdigest()[:16]


setattr(numba.config, "CACHE_DIR", str(_cache_home() / _source_digest()))  # noqa: B010  (numba.config is untyped)


def compiled(function: F) -> F:
    """Compile a scalar or array function for use inside other compiled functions."""
    return cast(F, numba.njit(cache=True, error_model="numpy")(function))


def compiled_over_members(function: F) -> F:
    """Compile a loop over ensemble members, shared between the machine's cores (use numba.prange)."""
    return cast(F, numba.njit(cache=True, error_model="numpy", parallel=True)(function))
