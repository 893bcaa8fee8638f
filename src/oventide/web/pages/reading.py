"""What was read from the paste, line by line, to be put right before it is saved."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from pydantic import ValidationError

from oventide.errors import Complaint, Refusal, refuse
from oventide.formula.model import EGG_CLASSES
from oventide.intake.clean import MOST_BYTES
from oventide.services import files, reading
from oventide.timeline.procedure import Product
from oventide.units.measure import COUNTRIES
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.choices import KINDS
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.lines import ComponentShown, StepShown, UnreadShown, common_of, components_of, steps_of, unread_of
from oventide.web.pages import paste
from oventide.web.pages.refused import TOO_LARGE
from oventide.web.product_form import product_from, values_of


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    draft: Annotated[str, "The product as read so far, carried by the form until it is saved"]
    pasted: Annotated[str, "The text as it was pasted, to go back to"]
    name: Annotated[str, "The product's name as read"]
    components: Annotated[tuple[ComponentShown, ...], "Component by component, line by line, as read"]
    common: Annotated[tuple[str, ...], "What was assumed of several lines, said once"]
    unread: Annotated[tuple[UnreadShown, ...], "Lines that were not understood, with what to do about each"]
    steps: Annotated[tuple[StepShown, ...], "Steps found, with stated defaults"]
    makeup: Annotated[tuple[str, ...], "What was found or assumed of sheet, pieces and tin"]
    kinds: Annotated[tuple[tuple[str, str], ...], "Kinds of component, to choose from"]
    values: Annotated[Mapping[str, str], "What stands in the form, as typed"]
    marks: Annotated[Marks, "Complaints by field"]
    found: Annotated[tuple[Complaint, ...], "Every complaint"]
    read_lines: Annotated[int, "How many lines were read with an ingredient and a weight"]
    all_lines: Annotated[int, "How many lines there are, the unread ones included"]


def _page(ask: Ask, product: Product, pasted: str, typed: Mapping[str, str], complaints: tuple[Complaint, ...]) -> Page:
    components = components_of(product)
    lines = [line for component in components for line in component.lines]
    return Page(
        Shown(
            draft=product.model_dump_json(),
            pasted=pasted,
            name=product.name,
            components=components,
            common=common_of(product),
            unread=unread_of(product),
            steps=steps_of(product, ask.units, [c.field for c in complaints]),
            makeup=product.makeup.assumed,
            kinds=KINDS,
            values={**values_of(product, ask.units), **typed},
            marks=marks_of(complaints),
            found=complaints,
            read_lines=sum(1 for line in lines if line.ingredient and line.grams is not None),
            all_lines=len(lines) + len(product.unread),
        ),
        422 if complaints else 200,
    )


def _first_reading(ask: Ask) -> Answer:
    text, name = ask.form.get("text", ""), "the paste"
    spoons, eggs = ask.form.get("spoons", ""), ask.form.get("eggs", "")
    if len(text) > MOST_BYTES:
        return paste.page_with({"spoons": spoons, "eggs": eggs}, marks_of(TOO_LARGE), TOO_LARGE, 413)
    sent_name, content = ask.files.get("file", ("", b""))
    try:
        if content and text.strip():
            raise refuse("file", sent_name, "A text and a file were given at once.",
                         "Give one of them: empty the box, and the file is read.")  # fmt: skip
        if content:
            name = sent_name
            text = files.text_of(content, name)
        product = reading.read_file(
            text, name, spoons if spoons in COUNTRIES else None, eggs if eggs in EGG_CLASSES else None
        )
    except Refusal as refusal:
        field = "file" if content else "text"
        found = tuple(Complaint(field, c.given[:200], c.problem, c.remedy) for c in refusal.complaints)
        return paste.page_with(ask.form, marks_of(found), found, 422)
    return _page(ask, product, text, {}, ())


def handle(ask: Ask) -> Answer:
    """A paste becomes a reading; a reading that was put right is read again, or saved."""
    if "draft" not in ask.form:
        return _first_reading(ask)
    try:
        draft = Product.model_validate_json(ask.form["draft"])
    except ValidationError as trouble:
        raise refuse("draft", "", "The reading that this form carried cannot be opened any more.",
                     "Paste the recipe once more.") from trouble  # fmt: skip
    pasted = ask.form.get("pasted", "")
    try:
        product = product_from(draft, ask.form, ask.units)
        if ask.form.get("deed") != "save":
            return _page(ask, product, pasted, {}, ())
        saved = ask.shelf.save_product(product, note="from a pasted recipe")
    except Refusal as refusal:
        typed = {name: value for name, value in ask.form.items() if name not in ("draft", "pasted")}
        return _page(ask, draft, pasted, typed, refusal.complaints)
    return Redirect(f"/formulas/{saved.key}")
