"""Commands called in this process, with a shelf of their own."""

from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from oventide.cli.main import app

Call = Callable[..., Result]
DEMO = Path(__file__).parents[2] / "src" / "oventide" / "services" / "demo"


@pytest.fixture
def call(tmp_path, monkeypatch) -> Call:
    """Run a command; the journal lies in the test's own folder."""
    monkeypatch.setenv("OVENTIDE_HOME", str(tmp_path / "home"))

    def run(*arguments: object, stdin: str | bytes | None = None) -> Result:
        return CliRunner().invoke(app, [str(argument) for argument in arguments], input=stdin)

    return run


@pytest.fixture
def formula() -> Path:
    return DEMO / "lantern-quay-poppy-coils.toml"


@pytest.fixture
def pasted() -> Path:
    return DEMO / "lantern-quay-poppy-coils.txt"


@pytest.fixture
def kitchen() -> Path:
    return DEMO / "lantern-quay-kitchen.toml"
