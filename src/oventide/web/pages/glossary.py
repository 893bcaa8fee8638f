"""The trade's words, as they are used here."""

from dataclasses import dataclass
from typing import Annotated

from oventide.services.glossary import Word, same, words
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    words: Annotated[tuple[Word, ...], "Word by word, what it means here"]
    same: Annotated[tuple[str, ...], "Names that mean the same"]


def handle(ask: Ask) -> Page:
    """The page."""
    del ask
    return Page(Shown(words(), same()))
