"""The one way in which the package compiles a hot loop.

numba caches machine code per source file and does not notice that a *called* function in another file has
changed. The folder in which a function's machine code is kept therefore carries a digest of its own source file, of
every file of the package that it imports, directly or not, and of the figures that those may freeze into it: a changed
law can never be answered by yesterday's machine code, and a change in the oven does not compile the fridge anew.
"""

import hashlib
import os
import re
import tempfile
from collections.abc import Callable
from functools import cache, wraps
from pathlib import Path
from typing import Any, TypeVar, cast

import numba

F = TypeVar("F", bound=Callable[..., Any])
_FEW = 2


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


_ROOT = Path(__file__).parent
_IMPORTS = re.compile(r"^\s*from oventide\.([\w.]+) import", re.MULTILINE)


@cache
def _imported(path: Path) -> frozenset[Path]:
    """Files of the package that a source file names in its imports."""
    found = (_ROOT / f"{name.replace('.', '/')}.py" for name in _IMPORTS.findall(path.read_text("utf-8")))
    return frozenset(file for file in found if file.is_file())


@cache
def _digest(path: Path) -> str:
    """A digest of what the compiled code of a source file is made of."""
    files, waiting = {path}, [path]
    while waiting:
        fresh = _imported(waiting.pop()) - files
        files |= fresh
        waiting += fresh
    digest = hashlib.sha256(numba.__version__.encode())
    rooms = {"matter_tables"}
    for file in sorted(files):
        digest.update(file.read_bytes())
        rooms |= set(re.findall(r'\bload\("(\w+)"\)', file.read_text("utf-8")))
    for figures in sorted((_ROOT / "evidence" / "data").glob("*.toml")):
        if figures.stem in rooms:
            digest.update(figures.read_bytes())
    return digest.hexdigest()[:16]


def _kept_by_its_sources(function: Callable[..., Any]) -> None:
    """Name the folder of a function's machine code; numba reads it when it decorates."""
    folder = _cache_home() / _digest(Path(function.__code__.co_filename))
    setattr(numba.config, "CACHE_DIR", str(folder))  # noqa: B010  (numba.config is untyped)


def compiled(function: F) -> F:
    """Compile a scalar or array function for use inside other compiled functions."""
    _kept_by_its_sources(function)
    return cast(F, numba.njit(cache=True, error_model="numpy")(function))


def compiled_over_members(function: F) -> F:
    """Compile a loop over ensemble members, shared between the machine's cores (use numba.prange).

    The first argument leads with the member. For one or two members waking the other cores costs more than they
    save (up to 10 ms on a busy machine), so that they stay with the core that asks.
    """
    _kept_by_its_sources(function)
    loop = numba.njit(cache=True, error_model="numpy", parallel=True)(function)

    @wraps(function)
    def run(first: Any, *rest: Any) -> Any:
        if first.shape[0] > _FEW:
            return loop(first, *rest)
        threads = numba.get_num_threads()
        numba.set_num_threads(1)
        try:
            return loop(first, *rest)
        finally:
            numba.set_num_threads(threads)

    return cast(F, run)
