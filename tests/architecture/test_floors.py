"""The floors: every contract of .importlinter holds, and it is the contracts that hold it."""

import configparser
import subprocess
import sys
from pathlib import Path

from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports


def test_every_import_contract_is_kept(root: Path, capsys) -> None:
    status = lint_imports(config_filename=str(root / ".importlinter"), no_cache=True, no_logo=True)
    assert status == EXIT_STATUS_SUCCESS, capsys.readouterr().out


def test_every_room_has_a_floor(root: Path) -> None:
    """The contract is exhaustive, so that a new folder without a floor fails; this says which one in words."""
    contracts = configparser.ConfigParser()
    contracts.read(root / ".importlinter", "utf-8")
    floors = contracts["importlinter:contract:floors"]
    assert floors["exhaustive"] == "True"
    named = {room.strip() for line in floors["layers"].splitlines() for room in line.replace("|", ":").split(":")}
    package = root / "src" / "oventide"
    rooms = {path.parent.name for path in package.glob("*/__init__.py")}
    rooms |= {path.stem for path in package.glob("*.py")} - {"__init__"}
    assert rooms - named == set(), "rooms without a floor in .importlinter"


def test_the_root_loads_nothing_heavy() -> None:
    heavy = "{'numpy', 'scipy', 'numba', 'pydantic', 'fastapi', 'sqlalchemy', 'typst', 'rich', 'typer'}"
    code = f"import sys, oventide; print(sorted({heavy} & set(sys.modules)))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip()
    assert loaded == "[]"


def test_the_commands_do_not_load_the_compiler_before_they_need_it() -> None:
    """A terminal that only asks for help must not wait for numba or the web."""
    code = "import sys, oventide.cli.main; print(sorted({'numba', 'scipy', 'fastapi', 'typst'} & set(sys.modules)))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert loaded.stdout.strip() == "[]", loaded.stderr
