"""The search: whatever holds the words, by groups, with where it matched."""

from dataclasses import dataclass
from typing import Annotated

from oventide.services.finding import GROUPS, Answer, finding_of
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext

LONGEST = 200


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    typed: Annotated[str, "What was typed"]
    only: Annotated[str, "The kind that alone is shown, or nothing"]
    answer: Annotated[Answer, "What was found, by groups"]


def handle(ask: Ask) -> Page:
    """The page; for htmx the answer alone."""
    typed = ask.query.get("q", "").strip()[:LONGEST]
    only = ask.query.get("of", "")
    only = only if only in GROUPS else ""
    answer = finding_of(ask.shelf).find(typed, only)
    return Page(Shown(typed, only, answer), part=ask.part)
