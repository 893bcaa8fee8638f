"""What follows while a line is typed: staffs, shares, sums. Nothing is taken up until the box is left."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from oventide.errors import Refusal
from oventide.services import balancing, weighing
from oventide.services.answers import Totals
from oventide.timeline.procedure import Product
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext
from oventide.web.figures import Units, mass, percent
from oventide.web.product_form import grams_text, product_from
from oventide.web.staffs import Staff, said_of, staffs_of


@dataclass(frozen=True)
class Share:
    """A line's share, and its weight as its box shows it."""

    field: str
    percent: str
    grams: str


@dataclass(frozen=True)
class Sum:
    """A component's share and weight."""

    field: str
    percent: str
    grams: str


@dataclass(frozen=True)
class Live(PageContext):
    """What follows."""

    rows: Annotated[tuple[Staff, ...], "The balance as staffs"]
    said: Annotated[str, "What moved since the revision that is open"]
    totals: Annotated[Totals | None, "Totals over dough and preferments"]
    shares: Annotated[tuple[Share, ...], "Line by line"]
    sums: Annotated[tuple[Sum, ...], "Component by component"]


def _as_typed(form: Mapping[str, str]) -> dict[str, str]:
    """The form without what is half done: an emptied line is not gone before its box is left."""
    return {
        name: text
        for name, text in form.items()
        if not (name.endswith(".text") and not text.strip()) and not name.endswith(".take")
    }


def answer(ask: Ask, number: int, saved: Product, draft: Product, shown: Mapping[str, str], units: Units) -> Page:
    """The part of the page that follows. Raises Refusal where what is typed cannot be read yet."""
    product = product_from(draft, _as_typed(ask.form), units, shown)
    levels, before = balancing.levels_of(product), balancing.levels_of(saved)
    shares: list[Share] = []
    sums: list[Sum] = []
    totals: Totals | None = None
    try:
        weighed = weighing.weigh(product)
    except Refusal:
        weighed = None
    if weighed is not None:
        totals = weighed.totals
        for c, (part, was) in enumerate(zip(weighed.components, draft.formula.components, strict=False)):
            sums.append(Sum(f"c{c}", percent(part.baker_percent), mass(part.grams, units)))
            added = len([text for text in ask.form.get(f"c{c}.new", "").splitlines() if text.strip()])
            if len(part.lines) - added > len(was.lines):
                continue  # a line that is read as two shifts the others: they wait until the box is left
            for at, line in enumerate(part.lines[: len(was.lines)]):
                words = "–" if line.note and line.baker_percent is None else percent(line.baker_percent)
                shares.append(Share(f"c{c}.l{at}", words, grams_text(line.grams, units)))
    return Page(
        Live(staffs_of(levels, before), said_of(levels, before, number), totals, tuple(shares), tuple(sums)),
        template="live", part=True,
    )  # fmt: skip
