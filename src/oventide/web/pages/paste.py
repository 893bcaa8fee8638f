"""The box that a recipe is pasted into."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from oventide.errors import Complaint
from oventide.web.ask import Ask, Page
from oventide.web.choices import EGGS, SPOONS
from oventide.web.context import Marks, PageContext


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]
    spoons: Annotated[tuple[tuple[str, str], ...], "Whose cups and spoons, to choose from"]
    eggs: Annotated[tuple[tuple[str, str], ...], "Egg sizes, to choose from"]


FROM_TEXT = ("", "as the recipe says")


def page_with(values: Mapping[str, str], marks: Marks, found: tuple[Complaint, ...] = (), status: int = 200) -> Page:
    """The page with a form as it was typed."""
    return Page(Shown(values, marks, found, (FROM_TEXT, *SPOONS), (FROM_TEXT, *EGGS)), status, template="paste")


def handle(ask: Ask) -> Page:
    """The empty form."""
    del ask
    return page_with({}, {})
