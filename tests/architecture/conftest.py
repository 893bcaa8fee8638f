"""What the architecture tests read: the package's modules as syntax trees, and the checkout's text files."""

import ast
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "oventide"
LEFT_OUT = {".git", ".venv", "build", "site", "__pycache__", "node_modules", "vendor"}


@dataclass(frozen=True)
class Module:
    """One module of the package: its dotted name, its room, its path and its tree."""

    name: str
    room: str
    path: Path
    tree: ast.Module

    @property
    def lines(self) -> int:
        return len(self.path.read_text("utf-8").splitlines())


def read_modules() -> list[Module]:
    """Every module under src/oventide."""
    modules = []
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        room = parts[0]
        modules.append(Module(".".join(("oventide", *parts)), room, path, ast.parse(path.read_text("utf-8"))))
    return modules


def read_text_files() -> dict[Path, str]:
    """Every text file that belongs to the project, vendored assets and lock files' hashes included, by path."""
    found: dict[Path, str] = {}
    for path in sorted(ROOT.rglob("*")):
        relative = path.relative_to(ROOT)
        hidden = any(part.startswith(".") and part not in {".ci", ".importlinter"} for part in relative.parts)
        generated = any(part in LEFT_OUT or part.endswith(".egg-info") for part in relative.parts)
        if hidden or generated or not path.is_file():
            continue
        try:
            found[relative] = path.read_text("utf-8")
        except UnicodeDecodeError:
            continue
    return found


@pytest.fixture(scope="session")
def modules() -> list[Module]:
    return read_modules()


@pytest.fixture(scope="session")
def text_files() -> dict[Path, str]:
    return read_text_files()
