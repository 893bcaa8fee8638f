"""Every figure of a model is data with unit, grade and source; every source says how it was seen."""

import tomllib
from pathlib import Path

import pytest

from oventide.evidence import parameters

DATA = Path(parameters.__file__).parent / "data"
TABLE_KEYS = {"columns", "units", "rows", "grade", "what"}


def is_source_file(path: Path) -> bool:
    return path.stem.startswith("sources")


def is_table_file(path: Path) -> bool:
    return path.stem.endswith(("_tables", "-tables"))


WORDS_FILES = {"causes", "validity"}
"""Words for the baker and ranges of laws: tests/evidence."""

PARAMETER_FILES = sorted(
    path.stem
    for path in DATA.glob("*.toml")
    if not is_source_file(path) and not is_table_file(path) and path.stem not in WORDS_FILES
)
TABLE_FILES = sorted(path.stem for path in DATA.glob("*.toml") if is_table_file(path))


@pytest.mark.parametrize("room", PARAMETER_FILES)
def test_a_parameter_file_loads_and_is_not_empty(room: str) -> None:
    assert parameters.load(room).parameters


@pytest.mark.parametrize("room", PARAMETER_FILES)
def test_a_figure_with_spread_can_be_drawn(room: str) -> None:
    """A lognormal figure must be above zero, and a draw must come back finite and ordered about its value."""
    for parameter in parameters.load(room).parameters.values():
        if parameter.spread == "lognormal":
            assert parameter.low > 0, f"{room}.{parameter.name} is lognormal and reaches zero"


@pytest.mark.parametrize("name", TABLE_FILES)
def test_a_table_has_a_unit_for_every_column_and_full_rows(name: str) -> None:
    tables = tomllib.loads((DATA / f"{name}.toml").read_text("utf-8"))
    assert tables
    for key, table in tables.items():
        assert set(table) >= TABLE_KEYS, f"{name}.{key} lacks {TABLE_KEYS - set(table)}"
        assert len(table["columns"]) == len(table["units"]), f"{name}.{key}: columns and units differ in number"
        assert {len(row) for row in table["rows"]} == {len(table["columns"])}, f"{name}.{key}: a row is short or long"
        assert not table.get("source") or table["source"] in parameters.sources(), f"{name}.{key}: unknown source"


def test_every_source_has_a_title_and_says_how_it_was_seen() -> None:
    lacking = [source.key for source in parameters.sources().values() if not source.title or not source.seen]
    assert lacking == [], "\n".join(lacking)


def test_every_source_is_named_by_something(text_files) -> None:
    """A source that nothing rests on is a source to remove."""
    texts = [
        text
        for path, text in text_files.items()
        if path.parts[0] in {"src", "tests", "docs", "validation"} and "sources" not in path.stem
    ]
    idle = [key for key in parameters.sources() if not any(key in text for text in texts)]
    assert idle == [], "\n".join(idle)
