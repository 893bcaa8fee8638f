"""A formula with its percentages, worked out again at every change; saved as a new revision when the baker says so."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from pydantic import ValidationError

from oventide.errors import Complaint, Refusal, refuse
from oventide.services import weighing
from oventide.services.answers import BalanceFinding, Totals, WeighAnswer
from oventide.services.shelf import Saved
from oventide.timeline.procedure import Product
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.choices import EGGS, KINDS, SPOONS
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.lines import LineShown, StepShown, UnreadShown, line_shown, steps_of, unread_of
from oventide.web.product_form import product_from, values_of


@dataclass(frozen=True)
class WeighedLine:
    """A line with its share and its weight."""

    line: LineShown
    percent: float | None
    grams: float | None


@dataclass(frozen=True)
class WeighedComponent:
    """A component with its lines and its sum."""

    field: str
    name: str
    lines: tuple[WeighedLine, ...]
    grams: float | None
    percent: float | None


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    number: Annotated[int, "Which revision is open"]
    newest: Annotated[int, "The newest revision's number"]
    name: Annotated[str, "The formula's name"]
    draft: Annotated[str, "The product as it stands in the form, carried until it is saved"]
    changed: Annotated[bool, "Whether the form differs from the revision that is open"]
    components: Annotated[tuple[WeighedComponent, ...], "Component by component, line by line, with shares and weights"]
    totals: Annotated[Totals | None, "Totals over dough and preferments; None where they could not be worked out"]
    balance: Annotated[tuple[BalanceFinding, ...], "Figures of the formula beside published ranges"]
    allergens: Annotated[tuple[str, ...], "What the ingredients bring by their nature"]
    assumed: Annotated[tuple[str, ...], "What was assumed in the sums"]
    unknown: Annotated[tuple[str, ...], "What is not known, and so not counted"]
    steps: Annotated[tuple[StepShown, ...], "The steps, with stated defaults"]
    unread: Annotated[tuple[UnreadShown, ...], "Lines that were not understood, with what to do about each"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]
    kinds: Annotated[tuple[tuple[str, str], ...], "Kinds of component, to choose from"]
    spoons: Annotated[tuple[tuple[str, str], ...], "Whose cups and spoons, to choose from"]
    eggs: Annotated[tuple[tuple[str, str], ...], "Egg sizes, to choose from"]


def _weighed(product: Product, answer: WeighAnswer | None) -> tuple[WeighedComponent, ...]:
    components = []
    for c, component in enumerate(product.formula.components):
        weighed = answer.components[c] if answer and c < len(answer.components) else None
        lines = []
        for at, line in enumerate(component.lines):
            row = weighed.lines[at] if weighed and at < len(weighed.lines) else None
            lines.append(
                WeighedLine(
                    line_shown(f"c{c}.l{at}", line), row.baker_percent if row else None, row.grams if row else None
                )
            )
        components.append(
            WeighedComponent(
                f"c{c}", component.name, tuple(lines), weighed.grams if weighed else None,
                weighed.baker_percent if weighed else None,
            )
        )  # fmt: skip
    return tuple(components)


def _page(
    ask: Ask,
    saved: Saved[Product],
    product: Product,
    typed: Mapping[str, str],
    complaints: tuple[Complaint, ...],
    mark: bool = True,
) -> Page:
    answer: WeighAnswer | None = None
    try:
        answer = weighing.weigh(product)
    except Refusal as refusal:
        complaints = (*complaints, *refusal.complaints)
    return Page(
        Shown(
            key=saved.key,
            number=saved.number,
            newest=saved.newest,
            name=product.name,
            draft=product.model_dump_json(),
            changed=product != saved.content or bool(typed),
            components=_weighed(product, answer),
            totals=answer.totals if answer else None,
            balance=answer.balance if answer else (),
            allergens=answer.allergens if answer else (),
            assumed=answer.assumed if answer else (),
            unknown=answer.unknown if answer else (),
            steps=steps_of(product, ask.units, [c.field for c in complaints]),
            unread=unread_of(product),
            values={**values_of(product, ask.units), **typed},
            marks=marks_of(complaints),
            found=complaints,
            kinds=KINDS,
            spoons=SPOONS,
            eggs=EGGS,
        ),
        422 if complaints and mark else 200,
        part=ask.part,
    )


def handle(ask: Ask) -> Answer:
    """Show a revision; work out a change; or save it."""
    key = ask.path["key"]
    if not ask.is_post:
        saved = ask.shelf.product(key, ask.number("revision"))
        return _page(ask, saved, saved.content, {}, (), mark=False)
    given = ask.form.get("revision", "")
    saved = ask.shelf.product(key, int(given) if given.isascii() and given.isdigit() else None)
    try:
        draft = Product.model_validate_json(ask.form.get("draft", ""))
    except ValidationError as trouble:
        raise refuse("draft", "", "What this form carried cannot be opened any more.",
                     "Open the formula again from the shelf.") from trouble  # fmt: skip
    try:
        product = product_from(draft, ask.form, ask.units)
        if ask.form.get("deed") == "save":
            done = ask.shelf.save_product(product, ask.form.get("note", ""), key, after=saved.newest)
            return Redirect(f"/formulas/{done.key}")
        if ask.form.get("deed") == "save-new":
            done = ask.shelf.save_product(product, ask.form.get("note", ""))
            return Redirect(f"/formulas/{done.key}")
    except Refusal as refusal:
        typed = {name: value for name, value in ask.form.items() if name != "draft"}
        return _page(ask, saved, draft, typed, refusal.complaints)
    return _page(ask, saved, product, {}, ())
