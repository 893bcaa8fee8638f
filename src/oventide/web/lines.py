"""Lines, unread lines and steps of a product as the pages show them."""

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass

from oventide.formula.model import Line
from oventide.services import editing
from oventide.timeline.procedure import Product, Step
from oventide.units.estimate import Estimate
from oventide.web.choices import STEPS, WHERE
from oventide.web.figures import Units, minutes, plain, temperature


@dataclass(frozen=True)
class LineShown:
    """One line as read. `field` is the beginning of its form fields' names."""

    field: str
    text: str
    amount: str
    ingredient: str
    preparation: str
    grams: Estimate | None
    assumed: tuple[str, ...]
    offers: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class ComponentShown:
    """One component with its lines."""

    field: str
    name: str
    kind: str
    lines: tuple[LineShown, ...]


@dataclass(frozen=True)
class UnreadShown:
    """One line that was not understood; `options` are (value, words) of what can be done."""

    field: str
    text: str
    options: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class StepShown:
    """One step of the procedure; its figures stand in the form's values."""

    field: str
    number: int
    name: str
    text: str
    assumed: tuple[str, ...]
    words: str
    """Minutes, place, target in one line."""
    is_open: bool
    """Whether its boxes stand open, since something in them is amiss."""


FRACTIONS = {0.25: "¼", 1 / 3: "⅓", 0.5: "½", 2 / 3: "⅔", 0.75: "¾"}


def fraction_words(amount: float) -> str:
    """An amount as a recipe writes it, with the fractions that measuring cups and spoons have.

    >>> fraction_words(3.75), fraction_words(1 / 3), fraction_words(2.2)
    ('3¾', '⅓', '2.2')
    """
    whole, part = divmod(amount, 1)
    for share, sign in FRACTIONS.items():
        if abs(part - share) < 0.004:
            return f"{plain(whole)}{sign}" if whole else sign
    return plain(amount, 2)


def amount_words(line: Line) -> str:
    """Amount and unit as they were read.

    >>> amount_words(Line(text="2-3 tbsp oil", name="oil", amount=2, amount_high=3, unit="tbsp"))
    '2–3 tbsp'
    """
    if line.amount is None:
        return ""
    figure = fraction_words(line.amount)
    if line.amount_high is not None and line.amount_high != line.amount:
        figure += f"–{fraction_words(line.amount_high)}"
    if line.unit is not None and str(line.unit).endswith("_of"):
        return figure  # the ingredient says it: 2 orange zest
    unit = "" if line.unit in (None, "piece") else str(line.unit).replace("_", " ")
    return f"{figure} {unit}".strip()


def line_shown(field: str, line: Line) -> LineShown:
    """One line as read."""
    return LineShown(
        field=field,
        text=line.text,
        amount=amount_words(line),
        ingredient=editing.label(line.ingredient) if line.ingredient else "",
        preparation=line.preparation,
        grams=line.grams,
        assumed=line.assumed,
        offers=tuple((offer, editing.label(offer)) for offer in line.offered),
    )


COMMON = 3
"""What is assumed of so many lines or more is said once, above them."""


def common_of(product: Product) -> tuple[str, ...]:
    """What was assumed of several lines alike."""
    said = Counter(
        sentence for component in product.formula.components for line in component.lines for sentence in line.assumed
    )
    return tuple(sentence for sentence, count in said.items() if count >= COMMON and sentence != editing.WEIGHED)


def components_of(product: Product) -> tuple[ComponentShown, ...]:
    """Every component with its lines."""
    return tuple(
        ComponentShown(
            field=f"c{c}",
            name=component.name,
            kind=component.kind,
            lines=tuple(line_shown(f"c{c}.l{at}", line) for at, line in enumerate(component.lines)),
        )
        for c, component in enumerate(product.formula.components)
    )


def unread_of(product: Product) -> tuple[UnreadShown, ...]:
    """Every unread line with what can be done about it."""
    places = tuple(
        (f"c{c}", f"read it as a line of {component.name}") for c, component in enumerate(product.formula.components)
    )
    options = (("leave", "leave it here for later"), *places, ("note", "keep it as a note"), ("drop", "drop it"))
    return tuple(UnreadShown(f"u{u}", text, options) for u, text in enumerate(product.unread))


STEP_WORD = dict(STEPS)
TARGET_WORDS = {"rise": "rise", "core_c": "core", "dough_c": "dough", "surface_c": "surface", "colour": "colour ΔE",
                "solid_fat": "solid butter"}  # fmt: skip


def step_words(step: Step, units: Units) -> str:
    """Minutes, place and target of a step in one line.

    >>> step_words(Step(kind="cut", where="bench", covered=True), Units())
    'on the bench, covered'
    """
    parts = []
    if step.minutes:
        low, high = minutes(step.minutes.low), minutes(step.minutes.high)
        parts.append(low if low == high else f"{low}–{high}")
    parts.append(dict(WHERE)[step.where])
    if step.air_c is not None:
        parts.append(temperature(step.air_c, units))
    if step.covered:
        parts.append("covered")
    if step.target:
        figure = (
            temperature(step.target.value, units)
            if step.target.measure.endswith("_c")
            else f"{'×' if step.target.measure == 'rise' else ''}{plain(step.target.value, 2)}"
        )
        parts.append(
            f"{'until' if step.ends_by == 'target' else 'towards'} {TARGET_WORDS[step.target.measure]} {figure}"
        )
    return ", ".join(parts)


def steps_of(product: Product, units: Units, marks: Collection[str] = ()) -> tuple[StepShown, ...]:
    """Every step; those with a marked field stand open."""
    return tuple(
        StepShown(
            field=f"s{index}",
            number=index + 1,
            name=step.name or dict(STEPS)[step.kind],
            text=step.text,
            assumed=step.assumed,
            words=step_words(step, units),
            is_open=any(mark.startswith(f"s{index}.") for mark in marks),
        )
        for index, step in enumerate(product.procedure.steps)
    )
