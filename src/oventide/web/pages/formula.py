"""A formula with its percentages, worked out again at every change; saved as a new revision when the baker says so."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Annotated, cast
from urllib.parse import urlencode

from pydantic import ValidationError

from oventide.errors import Complaint, Refusal, refuse
from oventide.evidence.parameters import Source
from oventide.services import arranging, balancing, differing, editing, saving, weighing
from oventide.services.answers import BalanceFinding, Totals, WeighAnswer, WeighComponent
from oventide.services.shelf import Saved
from oventide.timeline.procedure import Product
from oventide.web import beside, sizes
from oventide.web import typed as typed_now
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.choices import EGGS, KINDS, SPOONS
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.differences import Told, sentence, told_of
from oventide.web.figures import Units
from oventide.web.history import History
from oventide.web.lines import LineShown, StepShown, UnreadShown, common_of, line_shown, steps_of, unread_of
from oventide.web.pages import live, together
from oventide.web.product_form import grams_text, product_from, values_of
from oventide.web.readings import sources_of
from oventide.web.staffs import Staff, said_of, staffs_of


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
    seen: Annotated[int, "The newest revision when the page was opened: a save comes after it"]
    joined: Annotated[int | None, "The revision of another device that the last save was put together with"]
    differs: Annotated[tuple[Told, ...], "What the form changes of the revision that is open, in words"]
    history: Annotated[str, "What can be taken back, packed"]
    back_words: Annotated[str, "The change that is taken back next; empty where there is none"]
    again_words: Annotated[str, "The change that is brought again next; empty where there is none"]
    focus: Annotated[str, "The button to go on with after something was moved"]
    staff_rows: Annotated[tuple[Staff, ...], "The balance as staffs"]
    staff_said: Annotated[str, "What moved in the balance since the revision that is open, in one sentence"]
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


@dataclass(frozen=True)
class Desk:
    """What lies on the table: the revision that is open, the form as it stands, and what can be taken back."""

    saved: Saved[Product]
    product: Product
    seen: int
    history: History = field(default_factory=History)
    typed: Mapping[str, str] = field(default_factory=dict)
    complaints: tuple[Complaint, ...] = ()
    focus: str = ""
    joined: int | None = None


def _page(ask: Ask, desk: Desk, mark: bool = True) -> Page:
    saved, product, typed, complaints = desk.saved, desk.product, desk.typed, desk.complaints
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
    levels, before = balancing.levels_of(product), balancing.levels_of(saved.content)
    past, coming = desk.history.past, desk.history.coming
    return Page(
        Shown(
            key=saved.key,
            number=saved.number,
            newest=saved.newest,
            name=product.name,
            draft=product.model_dump_json(),
            changed=product != saved.content or bool(typed),
            seen=desk.seen,
            joined=desk.joined,
            differs=told_of(differing.between(saved.content, product, balance=False), ask.units),
            history=desk.history.packed(),
            back_words=past[-1].words if past else "",
            again_words=coming[-1].words if coming else "",
            focus=desk.focus,
            staff_rows=staffs_of(levels, before),
            staff_said=said_of(levels, before, saved.number),
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


PLACE = re.compile(r"(up|down|out):(?:c(\d{1,3})\.l(\d{1,3})|s(\d{1,3}))")


def _arranged(product: Product, deed: str) -> tuple[Product, str]:
    """The product after a move, and the button to go on with."""
    asked = PLACE.fullmatch(deed)
    if asked is None:
        return product, ""
    way = cast(arranging.Way, asked[1])
    if asked[4] is not None:
        product, step = arranging.step(product, int(asked[4]), way)
        return product, "" if step is None else f"{way}-s{step}"
    product, line = arranging.line(product, int(asked[2]), int(asked[3]), way)
    return product, "" if line is None else f"{way}-c{line[0]}.l{line[1]}"


def _words(before: Product, after: Product, units: Units) -> str:
    """A change in a few words, for the button that takes it back."""
    told = told_of(differing.between(before, after, balance=False), units)
    if not told:
        return "lines in another order"
    return sentence(told[0]) + (f", and {len(told) - 1} more" if len(told) > 1 else "")


def _draft_of(text: str) -> Product:
    try:
        return Product.model_validate_json(text)
    except ValidationError as trouble:
        raise refuse("draft", "", "What this form carried cannot be opened any more.",
                     "Open the formula again from the shelf.") from trouble  # fmt: skip


def _worked(ask: Ask, desk: Desk, draft: Product, product: Product) -> Desk:
    """The table after a deed: moved, taken back, brought again, or worked out."""
    deed, history = ask.form.get("deed", ""), desk.history
    product, focus = _arranged(product, deed)
    if product != draft:
        history = history.done(_words(draft, product, ask.units), draft.model_dump_json())
    if deed in ("back", "again"):
        turn = history.taken_back if deed == "back" else history.brought_again
        text, history = turn(product.model_dump_json())
        product, focus = _draft_of(text), deed
    return replace(desk, product=product, history=history, focus=focus)


def handle(ask: Ask) -> Answer:
    """Show a revision; work out a change; or save it."""
    key = ask.path["key"]
    if not ask.is_post:
        saved = ask.shelf.product(key, ask.number("revision"))
        return _page(ask, Desk(saved, saved.content, saved.newest, joined=ask.number("joined")), mark=False)
    given, seen = ask.form.get("revision", ""), ask.form.get("seen", "")
    saved = ask.shelf.product(key, int(given) if given.isascii() and given.isdigit() else None)
    draft = _draft_of(ask.form.get("draft", ""))
    desk = Desk(
        saved, draft, int(seen) if seen.isascii() and seen.isdigit() else saved.newest,
        History.unpacked(ask.form.get("history", "")),
    )  # fmt: skip
    shown = _shown_grams(draft, _weigh(draft), ask.units)
    try:
        if ask.part and ask.form.get("live") == "yes":
            return live.answer(ask, saved.number, saved.content, draft, shown, ask.units)
        product = product_from(draft, ask.form, ask.units, shown)
        if ask.form.get("deed") == "beside":
            return Redirect(f"/compare?one={key}%40{saved.number}&other={beside.TYPED}{typed_now.keep(product)}")
        if ask.form.get("deed") == "save":
            done = saving.save(ask.shelf, product, ask.form.get("note", ""), key, desk.seen)
            if isinstance(done, saving.Meanwhile):
                return together.page_for(ask, key, done, ask.form.get("note", ""))
            tail = f"?joined={done.joined_with}" if done.joined_with else ""
            return Redirect(f"/formulas/{done.saved.key}{tail}")
        if ask.form.get("deed") == "save-new":
            new = ask.shelf.save_product(product, ask.form.get("note", ""))
            return Redirect(f"/formulas/{new.key}")
    except Refusal as refusal:
        typed = {name: value for name, value in ask.form.items() if name not in ("draft", "history")}
        return _page(ask, replace(desk, typed=typed, complaints=refusal.complaints))
    return _page(ask, _worked(ask, desk, draft, product))
