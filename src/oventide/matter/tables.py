"""Tables of physical data: evidence/data/matter_tables.toml, checked when read."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from oventide.evidence.parameters import EvidenceError, sources

_KEYS = {"columns", "units", "names", "rows", "grade", "source", "where", "valid", "what"}


@dataclass(frozen=True)
class Table:
    """Rows of numbers with a unit for every column and one source."""

    columns: tuple[str, ...]
    units: tuple[str, ...]
    names: tuple[str, ...]
    rows: NDArray[np.float64]
    grade: str
    source: str
    what: str
    valid: str

    def column(self, name: str) -> NDArray[np.float64]:
        """One column by its name."""
        return np.ascontiguousarray(self.rows[:, self.columns.index(name)])


@cache
def table(name: str) -> Table:
    """A table by name.

    >>> table("milk_fat_solids").units
    ('°C', 'kg/kg')
    """
    text = files("oventide.evidence").joinpath("data", "matter_tables.toml").read_text("utf-8")
    fields = tomllib.loads(text)[name]
    if unknown := set(fields) - _KEYS:
        raise EvidenceError(f"matter_tables.{name}: unknown {sorted(unknown)}")
    if fields["source"] not in sources():
        raise EvidenceError(f"matter_tables.{name}: source {fields['source']!r} is not in sources*.toml")
    rows = np.array(fields["rows"], dtype=np.float64)
    if rows.ndim != 2 or rows.shape[1] != len(fields["columns"]) or len(fields["units"]) != len(fields["columns"]):
        raise EvidenceError(f"matter_tables.{name}: rows, columns and units do not match")
    names = tuple(fields.get("names", ()))
    if names and len(names) != rows.shape[0]:
        raise EvidenceError(f"matter_tables.{name}: {len(names)} names for {rows.shape[0]} rows")
    return Table(
        columns=tuple(fields["columns"]), units=tuple(fields["units"]), names=names, rows=rows,
        grade=fields["grade"], source=fields["source"], what=fields["what"], valid=fields.get("valid", ""),
    )  # fmt: skip
