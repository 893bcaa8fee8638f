"""Two devices changed the same thing: both stand side by side, and the baker takes one, the other, or both."""

from dataclasses import dataclass
from typing import Annotated, Any, cast

from pydantic import ValidationError

from oventide.errors import refuse
from oventide.formula.model import Line
from oventide.kitchen.model import Kitchen
from oventide.services import saving
from oventide.services.joining import Choices, stands_twice
from oventide.services.merging import Clash, Take
from oventide.services.saving import Meanwhile
from oventide.timeline.procedure import Product, Step
from oventide.units.estimate import Estimate
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import PageContext
from oventide.web.figures import Units, mass, plain
from oventide.web.lines import STEP_WORD, step_words

TAKES = ("theirs", "mine", "both")


@dataclass(frozen=True)
class Asked:
    """One thing to settle. An empty text is a thing that is gone on that side, or was not there before."""

    field: str
    about: str
    before: str
    theirs: str
    mine: str
    twice: bool
    taken: str


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    action: Annotated[str, "Where the form goes"]
    back: Annotated[str, "The page that holds the newest revision"]
    name: Annotated[str, "What it is about"]
    base: Annotated[int, "The revision that both began from"]
    theirs: Annotated[int, "The revision that was saved meanwhile"]
    saved_at: Annotated[Any, "When it was saved"]
    note: Annotated[str, "Why the baker changed it"]
    mine: Annotated[str, "What was typed here, whole, carried until it is saved"]
    asked: Annotated[tuple[Asked, ...], "What only the baker can settle"]


def _words(what: Any, units: Units) -> str:
    """One side of a clash in words."""
    if what is None:
        return ""
    if isinstance(what, Line):
        return f"{what.text} ({mass(what.grams.likely, units)})" if what.grams else what.text
    if isinstance(what, Step):
        return f"{what.name or STEP_WORD[what.kind]}: {step_words(what, units)}"
    if isinstance(what, Estimate):
        low, high = plain(what.low, 1), plain(what.high, 1)
        return plain(what.likely, 1) if low == high else f"{plain(what.likely, 1)} ({low} to {high})"
    if isinstance(what, tuple):
        return ", ".join(_words(each, units) for each in what if each is not None) or "left open"
    if isinstance(what, float):
        return plain(what, 1)
    if hasattr(what, "shape"):
        return f"{what.shape.replace('_', ' ')} {plain(what.width_mm / 10, 1)} × {plain(what.length_mm / 10, 1)} cm"
    return str(what).replace("_", " ")


ABOUT = {"line": "A line", "step": "A step", "notes": "A line of the notes", "unread": "A line that was left for you",
         "makeup": "Make-up", "part": "A part", "kitchen": "Kitchen"}  # fmt: skip


def _about(clash: Clash[Any]) -> str:
    first, _, rest = clash.key.partition(".")
    if first in ("makeup", "kitchen"):
        return f"{ABOUT[first]}: {rest.replace('_', ' ')}"
    return ABOUT.get(first, first.capitalize())


def page_for(ask: Ask, key: str, found: Meanwhile, note: str) -> Page:
    """The page that asks about what both changed."""
    place = "formulas" if isinstance(found.mine, Product) else "kitchens"
    return Page(
        Shown(
            action=f"/{place}/{key}/together",
            back=f"/{place}/{key}",
            name=found.mine.name,
            base=found.base,
            theirs=found.theirs.number,
            saved_at=found.theirs.saved_at,
            note=note,
            mine=found.mine.model_dump_json(),
            asked=tuple(
                Asked(
                    field=f"take.{clash.key}",
                    about=_about(clash),
                    before=_words(clash.base, ask.units),
                    theirs=_words(clash.theirs, ask.units),
                    mine=_words(clash.mine, ask.units),
                    twice=stands_twice(clash),
                    # never both by itself: two weights of salt would be weighed; theirs stays in its revision
                    taken="mine" if clash.mine is not None else "theirs",
                )
                for clash in found.joined.clashes
            ),
        ),
        409,
        template="together",
    )


def _settled(ask: Ask, place: str, model: type[Product] | type[Kitchen]) -> Answer:
    key = ask.path["key"]
    try:
        mine = model.model_validate_json(ask.form.get("mine", ""))
        base, theirs = int(ask.form.get("base", "")[:9]), int(ask.form.get("theirs", "")[:9])
    except (ValidationError, ValueError) as trouble:
        raise refuse("mine", "", "What this form carried cannot be opened any more.",
                     "Open the formula again from the shelf.") from trouble  # fmt: skip
    choices: Choices = {
        name.removeprefix("take."): cast(Take, value)
        for name, value in ask.form.items()
        if name.startswith("take.") and value in TAKES
    }
    note = ask.form.get("note", "")
    aside = ""
    if ask.form.get("aside") == "yes":
        aside = ask.form.get("aside_note", "").strip() or f"as typed, beside revision {theirs}"
    done = saving.save_settled(ask.shelf, mine, note, key, base, theirs, choices, aside)
    if isinstance(done, Meanwhile):
        return page_for(ask, key, done, note)
    return Redirect(f"/{place}/{key}" + (f"?joined={done.joined_with}" if place == "formulas" else ""))


def handle(ask: Ask) -> Answer:
    """Save what was settled of a formula, and what was typed beside it where that is asked for."""
    return _settled(ask, "formulas", Product)


def handle_kitchen(ask: Ask) -> Answer:
    """The same of a kitchen."""
    return _settled(ask, "kitchens", Kitchen)
