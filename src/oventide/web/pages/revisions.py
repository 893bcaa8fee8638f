"""Every revision of a formula: when, why, and back to it. Nothing is ever overwritten."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from oventide.timeline.procedure import Product
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import PageContext


@dataclass(frozen=True)
class Row:
    """One revision."""

    number: int
    saved_at: datetime
    note: str
    digest: str
    changes: tuple[str, ...]


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    name: Annotated[str, "The formula's name"]
    rows: Annotated[tuple[Row, ...], "Revisions, newest first, each with what changed since the one before"]


def changes_between(before: Product, after: Product) -> tuple[str, ...]:
    """What changed, in words: lines that came, went or weigh another amount; steps; make-up; name."""
    changes = []
    if before.name != after.name:
        changes.append(f"Name: {before.name} became {after.name}.")
    old = {(c.name, line.text): line for c in before.formula.components for line in c.lines}
    new = {(c.name, line.text): line for c in after.formula.components for line in c.lines}
    changes += [f"Came: {text} ({component})." for component, text in new if (component, text) not in old]
    changes += [f"Went: {text} ({component})." for component, text in old if (component, text) not in new]
    for at in old.keys() & new.keys():
        was, now = old[at].grams, new[at].grams
        if was and now and round(was.likely, 2) != round(now.likely, 2):
            changes.append(f"{at[1]}: {was.likely:g} g became {now.likely:g} g.")
    if before.procedure != after.procedure:
        changes.append("Steps were changed.")
    if before.makeup != after.makeup:
        changes.append("Make-up was changed.")
    if before.notes != after.notes:
        changes.append("Notes were changed.")
    return tuple(changes)


def handle(ask: Ask) -> Answer:
    """Show the revisions; or take an earlier one up again, as a new revision."""
    key = ask.path["key"]
    history = ask.shelf.product_history(key)
    if ask.is_post:
        chosen = ask.form.get("revision", "")
        number = int(chosen) if chosen.isascii() and chosen.isdigit() else None
        earlier = ask.shelf.product(key, number)
        ask.shelf.save_product(earlier.content, f"as in revision {earlier.number}", key, after=history[0].number)
        return Redirect(f"/formulas/{key}/revisions")
    rows = []
    for at, saved in enumerate(history):
        before = history[at + 1].content if at + 1 < len(history) else None
        changes = changes_between(before, saved.content) if before else ()
        rows.append(Row(saved.number, saved.saved_at, saved.note, saved.digest[:12], changes))
    return Page(Shown(key, history[0].content.name, tuple(rows)))
