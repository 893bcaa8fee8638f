"""A formula with its percentages, worked out again at every change; saved as a new revision when the baker says so."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated
from urllib.parse import urlencode

from pydantic import ValidationError

from oventide.errors import Complaint, Refusal, refuse
from oventide.evidence.parameters import Source
from oventide.services import editing, weighing
from oventide.services.answers import BalanceFinding, Totals, WeighAnswer, WeighComponent
from oventide.services.shelf import Saved
from oventide.timeline.procedure import Product
from oventide.web import sizes
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.choices import EGGS, KINDS, SPOONS
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.figures import Units
from oventide.web.lines import LineShown, StepShown, UnreadShown, common_of, line_shown, steps_of, unread_of
from oventide.web.product_form import grams_text, product_from, values_of
from oventide.web.readings import sources_of


@dataclass(frozen=True)
class WeighedLine:
    """A line with its share and its weight, how both came about, and what it rests on."""

    line: LineShown
    percent: float | None
    grams: float | None
    note: str
    how: tuple[str, ...]
    sources: tuple[Source, ...]


@dataclass(frozen=True)
class Beside:
    """A figure of the formula beside a range, with its source."""

    finding: BalanceFinding
    sources: tuple[Source, ...]


@dataclass(frozen=True)
class OtherSize:
    """The formula at another size: its components, whose lines add up to the totals shown."""

    sentence: str
    components: tuple[WeighComponent, ...]
    dough_g: float
    batch_g: float
    tail: str
    """The size as the end of an address."""


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
    common: Annotated[tuple[str, ...], "What was assumed of several lines, said once"]
    outside: Annotated[tuple[Beside, ...], "Figures of the formula outside a published range"]
    within: Annotated[tuple[Beside, ...], "Figures of the formula within their published range"]
    ways: Annotated[tuple[tuple[str, str], ...], "Ways to ask for another size: box and label"]
    other: Annotated[OtherSize | None, "The formula at another size, where one is asked for"]
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


def _sources(ingredient_id: str | None, kind: str) -> tuple[Source, ...]:
    return sources_of((editing.source(ingredient_id),)) if ingredient_id and kind in ("dough", "preferment") else ()


def _weighed(product: Product, answer: WeighAnswer | None, common: tuple[str, ...]) -> tuple[WeighedComponent, ...]:
    components = []
    for c, component in enumerate(product.formula.components):
        weighed = answer.components[c] if answer and c < len(answer.components) else None
        lines = []
        for at, line in enumerate(component.lines):
            row = weighed.lines[at] if weighed and at < len(weighed.lines) else None
            lines.append(
                WeighedLine(
                    line=line_shown(f"c{c}.l{at}", line),
                    percent=row.baker_percent if row else None,
                    grams=row.grams if row else None,
                    note=row.note if row else "",
                    how=tuple(sentence for sentence in line.assumed if sentence not in common),
                    sources=_sources(line.ingredient, component.kind),
                )
            )
        components.append(
            WeighedComponent(
                f"c{c}", component.name, tuple(lines), weighed.grams if weighed else None,
                weighed.baker_percent if weighed else None,
            )
        )  # fmt: skip
    return tuple(components)


def _shown_grams(product: Product, answer: WeighAnswer | None, units: Units) -> dict[str, str]:
    """The weights as the boxes show them: rounded to the scale so that they add up to the sums below them."""
    return {
        f"c{c}.l{at}.grams": grams_text(line.grams, units)
        for c, component in enumerate(answer.components if answer else ())
        for at, line in enumerate(component.lines)
        if line.grams is not None
    }


def _weigh(product: Product) -> WeighAnswer | None:
    try:
        return weighing.weigh(product)
    except Refusal:
        return None


def _besides(answer: WeighAnswer | None, within: bool) -> tuple[Beside, ...]:
    findings = answer.balance if answer else ()
    return tuple(Beside(f, sources_of((f.source,))) for f in findings if (f.standing == "within") is within)


def _other_size(product: Product, form: Mapping[str, str], units: Units) -> OtherSize | None:
    """The formula at the size that the boxes ask for. Raises Refusal that names a box."""
    size = sizes.size_of(form, units)
    if size is None:
        return None
    try:
        answer = weighing.weigh(product, size)
    except Refusal as refusal:
        raise Refusal(sizes.on_boxes(refusal, form)) from refusal
    dough = sum(each.grams for each in answer.components if each.kind in ("dough", "preferment"))
    return OtherSize(
        answer.scaled_by, answer.components, dough, sum(each.grams for each in answer.components),
        "?" + urlencode(sizes.in_address(size)),
    )  # fmt: skip


def _page(
    ask: Ask,
    saved: Saved[Product],
    product: Product,
    typed: Mapping[str, str],
    complaints: tuple[Complaint, ...],
    mark: bool = True,
) -> Page:
    answer: WeighAnswer | None = None
    other: OtherSize | None = None
    common = common_of(product)
    try:
        answer = weighing.weigh(product)
    except Refusal as refusal:
        complaints = (*complaints, *refusal.complaints)
    try:
        other = _other_size(product, ask.form, ask.units) if answer else None
    except Refusal as refusal:
        complaints = (*complaints, *(each for each in refusal.complaints if each not in complaints))
    asked = {name: ask.form.get(name, "") for name in sizes.WAYS}
    return Page(
        Shown(
            key=saved.key,
            number=saved.number,
            newest=saved.newest,
            name=product.name,
            draft=product.model_dump_json(),
            changed=product != saved.content or bool(typed),
            components=_weighed(product, answer, common),
            totals=answer.totals if answer else None,
            common=common,
            outside=_besides(answer, within=False),
            within=_besides(answer, within=True),
            ways=sizes.labels(ask.units),
            other=other,
            allergens=answer.allergens if answer else (),
            assumed=answer.assumed if answer else (),
            unknown=answer.unknown if answer else (),
            steps=steps_of(product, ask.units, [c.field for c in complaints]),
            unread=unread_of(product),
            values={**values_of(product, ask.units), **_shown_grams(product, answer, ask.units), **asked, **typed},
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
        product = product_from(draft, ask.form, ask.units, _shown_grams(draft, _weigh(draft), ask.units))
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
