"""The two lock files: hashed, without an address, and the tests' one contains the user's one."""

import re
import tomllib
from pathlib import Path

import pytest

LOCKS = ("requirements.lock", "requirements-dev.lock")
ADDRESS = re.compile(r"https?://|--(extra-)?index-url|--find-links|git\+", re.IGNORECASE)
PIN = re.compile(r"^([a-z0-9][a-z0-9._-]*)==([^ ;\\]+)", re.IGNORECASE | re.MULTILINE)


def pins(path: Path) -> dict[str, str]:
    """Version by package."""
    return {name.lower(): version for name, version in PIN.findall(path.read_text("utf-8"))}


@pytest.mark.parametrize("name", LOCKS)
def test_a_lock_names_no_address(root: Path, name: str) -> None:
    assert ADDRESS.search((root / name).read_text("utf-8")) is None


@pytest.mark.parametrize("name", LOCKS)
def test_every_pin_has_a_hash(root: Path, name: str) -> None:
    text = (root / name).read_text("utf-8")
    entries = re.split(r"\n(?=[a-z0-9])", text.partition("\n\n")[0] and text, flags=re.IGNORECASE)
    bare = [entry.splitlines()[0] for entry in entries if PIN.match(entry) and "--hash=sha256:" not in entry]
    assert bare == [], "\n".join(bare)
    assert len(pins(root / name)) > 20


def test_the_tests_lock_contains_the_users_lock(root: Path) -> None:
    user, tests = (pins(root / name) for name in LOCKS)
    assert {name: version for name, version in user.items() if tests.get(name) != version} == {}


def test_every_dependency_is_locked(root: Path) -> None:
    project = tomllib.loads((root / "pyproject.toml").read_text("utf-8"))
    groups = project["dependency-groups"]
    wanted = dict.fromkeys(LOCKS, project["project"]["dependencies"] + groups["build"])
    wanted["requirements-dev.lock"] = wanted["requirements-dev.lock"] + groups["dev"]
    for lock, requirements in wanted.items():
        names = {re.split(r"[><=\[; ]", requirement, maxsplit=1)[0].lower() for requirement in requirements}
        assert names - set(pins(root / lock)) == set(), f"{lock} is behind pyproject.toml; run make lock"
