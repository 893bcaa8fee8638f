"""Every revision of a formula: when, why, what changed and what that does; and back to it. Nothing is overwritten."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from oventide.services import differing
from oventide.timeline.procedure import Product
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import PageContext
from oventide.web.differences import Told, level_sentence, told_of
from oventide.web.figures import Units


@dataclass(frozen=True)
class Row:
    """One revision."""

    number: int
    saved_at: datetime
    note: str
    digest: str
    told: tuple[Told, ...]
    does: tuple[str, ...]
    """What the change does to the balance, a sentence for each figure that moved."""


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    name: Annotated[str, "The formula's name"]
    newest: Annotated[int, "The newest revision's number"]
    rows: Annotated[tuple[Row, ...], "Revisions, newest first, each with what changed since the one before"]


def row_of(number: int, saved_at: datetime, note: str, digest: str, before: Product | None, after: Product,
           units: Units) -> Row:  # fmt: skip
    """A revision beside the one before it."""
    if before is None:
        return Row(number, saved_at, note, digest, (), ())
    found = differing.between(before, after)
    does = tuple(level_sentence(each.before, each.after) for each in found.levels if each.before and each.after)
    return Row(number, saved_at, note, digest, told_of(found, units), does)


def _take_up(ask: Ask, key: str) -> Redirect:
    """Save an earlier revision as the newest one."""
    chosen = ask.form.get("revision", "")
    earlier = ask.shelf.product(key, int(chosen) if chosen.isascii() and chosen.isdigit() else None)
    newest = ask.shelf.product(key)
    ask.shelf.save_product(earlier.content, f"as in revision {earlier.number}", key, after=newest.number)
    return Redirect(f"/formulas/{key}/revisions")


def handle(ask: Ask) -> Answer:
    """Show the revisions; or take an earlier one up again, as a new revision."""
    key = ask.path["key"]
    if ask.is_post:
        return _take_up(ask, key)
    history = ask.shelf.product_history(key)
    rows = []
    for at, saved in enumerate(history):
        before = history[at + 1].content if at + 1 < len(history) else None
        rows.append(
            row_of(saved.number, saved.saved_at, saved.note, saved.digest[:12], before, saved.content, ask.units)
        )
    return Page(Shown(key, history[0].content.name, history[0].number, tuple(rows)))
