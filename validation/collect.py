"""Every check of the book, by the subject (module of validation/rows) that it stands in."""

import importlib
import pkgutil
from dataclasses import dataclass

from validation import rows
from validation.model import Check


@dataclass(frozen=True)
class Subject:
    """One module of validation/rows: its name, what it is about (the first line of its docstring), its checks."""

    name: str
    title: str
    lead: str
    checks: tuple[Check, ...]


def subjects() -> list[Subject]:
    """All subjects, by name."""
    found = []
    for entry in pkgutil.iter_modules(rows.__path__):
        module = importlib.import_module(f"validation.rows.{entry.name}")
        title, _, lead = (module.__doc__ or entry.name).strip().partition("\n")
        found.append(Subject(entry.name, title.rstrip("."), " ".join(lead.split()), tuple(module.CHECKS)))
    return sorted(found, key=lambda subject: subject.name)


def checks() -> list[Check]:
    """All checks, in the order of the book."""
    return [check for subject in subjects() for check in subject.checks]
