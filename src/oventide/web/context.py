"""What a page shows: a frozen dataclass whose every field says what it is.

A field is written ``name: Annotated[type, "what it holds"]``. A test holds each template to its context: it uses
these fields and nothing else.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Any, get_type_hints

from oventide.errors import Complaint


@dataclass(frozen=True)
class PageContext:
    """Base of every page's context."""

    @classmethod
    def documented(cls) -> dict[str, str]:
        """Field by field, what it holds."""
        hints = get_type_hints(cls, include_extras=True)
        return {each.name: str(hints[each.name].__metadata__[0]) for each in fields(cls)}

    def by_name(self) -> dict[str, Any]:
        """The fields by name, as the template sees them."""
        return {each.name: getattr(self, each.name) for each in fields(self)}


Marks = Mapping[str, tuple[Complaint, ...]]
"""Complaints by the form field that they mark."""


def marks_of(complaints: tuple[Complaint, ...]) -> dict[str, tuple[Complaint, ...]]:
    """Complaints sorted to the fields that they name."""
    marks: dict[str, tuple[Complaint, ...]] = {}
    for complaint in complaints:
        marks[complaint.field] = (*marks.get(complaint.field, ()), complaint)
    return marks
