"""Weighing one ingredient at a time: what the bowl must show after each, and what it means when it shows another.

A bowl that is not tared keeps count: an ingredient that was forgotten or weighed twice is missing or too much by its
own weight. A reading that agrees clears the lines before it; from then on only the later ones are suspected.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from oventide.bench.fold import InBowl
from oventide.bench.model import Bake
from oventide.evidence.parameters import load
from oventide.formula.composition import ingredient_of
from oventide.formula.model import Component, ComponentKind, Formula, Line
from oventide.formula.parts import names_part
from oventide.formula.scaling import to_scale
from oventide.timeline.procedure import Procedure, StepKind

_WEIGHED_AT: dict[ComponentKind, tuple[StepKind, ...]] = {
    "preferment": ("mix",),
    "dough": ("mix",),
    "spread": ("spread", "roll", "sheet"),
    "filling": ("spread", "roll", "sheet"),
    "wash": ("proof", "bake"),
    "topping": ("proof", "bake"),
    "glaze": ("glaze", "cool", "bake"),
    "other": ("mix",),
}
"""At which step a component is weighed: the first of these that the procedure has, else its first step."""

Kind = Literal["agrees", "missing", "doubled", "not ticked", "short", "over", "unclear"]


@dataclass(frozen=True)
class Item:
    """One line to weigh. `grams` is rounded to the scale that it is weighed on; None where it is not known."""

    line: str
    component: str
    name: str
    note: str
    grams: float | None
    step_g: float
    step: int
    """The step of the procedure that it is weighed at."""
    category: str = ""
    """What sort of ingredient it is, in the pantry's words."""
    ingredient: str | None = None
    """The pantry's name for it, where it is known there."""


@dataclass(frozen=True)
class Finding:
    """What a bowl that was read says. `grams` is how far it is off; `items` are the lines that would explain it."""

    kind: Kind
    grams: float = 0.0
    items: tuple[Item, ...] = ()


def step_of(kind: ComponentKind, procedure: Procedure) -> int:
    """The place of the step that a component is weighed at."""
    for wanted in _WEIGHED_AT[kind]:
        for index, step in enumerate(procedure.steps):
            if step.kind == wanted:
                return index
    return 0


def items_of(bake: Bake) -> tuple[Item, ...]:
    """Every line of the formula in the order of its weighing: component by component, line by line.

    A line of the dough that stands for a preferment weighs what the preferment does.
    """
    formula, kitchen = bake.product.formula, bake.kitchen
    weights = {
        place: to_scale(component, kitchen.scale_step_g, kitchen.fine_step_g, kitchen.fine_below_g)
        for place, component in enumerate(formula.components)
    }
    ripe = [weights[place].total_g for place, part in enumerate(formula.components) if part.kind == "preferment"]
    found: list[tuple[int, int, Item]] = []
    for place, component in enumerate(formula.components):
        step = step_of(component.kind, bake.product.procedure)
        for position, (line, shown) in enumerate(zip(component.lines, weights[place].lines, strict=True)):
            stands_for = component.kind == "dough" and names_part(line, formula)
            grams = _preferment_g(line, formula, weights_of=ripe) if stands_for else shown.grams
            is_fine = grams is not None and grams < kitchen.fine_below_g
            known = ingredient_of(line)
            item = Item(
                line=f"{place}.{position}",
                component=component.name,
                name=line.name or line.text.strip(),
                note=_note(line, bake.factor),
                grams=grams,
                step_g=kitchen.fine_step_g if is_fine else kitchen.scale_step_g,
                step=step,
                category=known.category if known is not None else "",
                ingredient=line.ingredient,
            )
            found.append((step, place, item))
    return tuple(item for _, _, item in sorted(found, key=lambda each: each[:2]))


def _preferment_g(line: Line, formula: Formula, weights_of: Sequence[float]) -> float | None:
    """What the preferment weighs that a line stands for."""
    parts = [part for part in formula.components if part.kind == "preferment"]
    for part, grams in zip(parts, weights_of, strict=True):
        if part.name.lower() in (line.name or line.text).lower():
            return grams
    return weights_of[0] if weights_of else None


def _note(line: Line, factor: float) -> str:
    """How many, where the line is counted by the piece; and how it is prepared."""
    counted = ""
    if line.amount is not None and line.unit in (None, "piece") and line.grams is not None:
        count = line.amount * factor
        counted = f"{count:.2f}".rstrip("0").rstrip(".") + " ×"
    return ", ".join(part for part in (counted, line.preparation) if part)


def component_of(line: str) -> int:
    """The component that a line belongs to.

    >>> component_of("1.4")
    1
    """
    return int(line.partition(".")[0])


@dataclass(frozen=True)
class Bowl:
    """One component's lines with what is in the bowl after each."""

    items: tuple[Item, ...]
    expected_g: Mapping[str, float | None]
    """By line: what the scale must show after it."""
    findings: Mapping[str, Finding]
    """By line: what the bowl that was read after it says."""


def bowls_of(bake: Bake, items: Sequence[Item], weighed: Mapping[str, InBowl]) -> tuple[Bowl, ...]:
    """Every component's bowl, from what was noted as weighed."""
    apart: dict[int, list[Item]] = {}
    for item in items:
        apart.setdefault(component_of(item.line), []).append(item)
    components = bake.product.formula.components
    found = []
    for place, lines in apart.items():
        beside = _may_be_in_it(bake, components[place], components)
        found.append(_bowl(lines, weighed, bake.kitchen.scale_step_g, beside))
    return tuple(found)


def _may_be_in_it(bake: Bake, component: Component, components: Sequence[Component]) -> tuple[float, ...]:
    """Weights of preferments that no line of the dough speaks of: they may stand in its bowl already [g]."""
    if component.kind != "dough":
        return ()
    formula = bake.product.formula
    if any(names_part(line, formula) for line in component.lines):
        return ()
    kitchen = bake.kitchen
    parts = [
        to_scale(part, kitchen.scale_step_g, kitchen.fine_step_g, kitchen.fine_below_g).total_g
        for part in components
        if part.kind == "preferment"
    ]
    return tuple(dict.fromkeys([*parts, sum(parts)])) if parts else ()


def _bowl(lines: Sequence[Item], weighed: Mapping[str, InBowl], step_g: float, beside: Sequence[float]) -> Bowl:
    """Expected weights and findings: lines that are in, in the order in which they went in; then those to come."""
    order = sorted(
        (place for place, item in enumerate(lines) if item.line in weighed),
        key=lambda place: (weighed[lines[place].line].at, place),
    )
    order += [place for place, item in enumerate(lines) if item.line not in weighed]
    total, known = 0.0, False
    expected: dict[str, float | None] = {}
    findings: dict[str, Finding] = {}
    poured: list[Item] = []
    suspects_from, standing = 0, 0.0
    before: tuple[float, int, Finding] | None = None
    for place in order:
        item = lines[place]
        poured.append(item)
        if item.grams is not None:
            total, known = total + item.grams, True
        expected[item.line] = round(total / step_g) * step_g if known else None
        note = weighed.get(item.line)
        if note is None or note.bowl_g is None or not known:
            continue
        allowed = allowed_g(total, step_g)
        standing = _standing(note.bowl_g - total, beside, standing, allowed)
        off = note.bowl_g - total - standing
        waiting = [other for other in lines if other.line not in weighed]
        finding = _since(before, off, poured, waiting, allowed) or explain(off, poured, suspects_from, waiting, allowed)
        findings[item.line] = finding
        if finding.kind == "agrees":
            suspects_from, before = len(poured), None
        else:
            before = (off, len(poured), finding)
    return Bowl(tuple(lines), expected, findings)


def _since(
    before: tuple[float, int, Finding] | None,
    off: float,
    poured: Sequence[Item],
    waiting: Sequence[Item],
    allowed: float,
) -> Finding | None:
    """After a difference that stayed: the same one, or what one of the lines since then adds to it."""
    if before is None or abs(off) <= allowed:
        return None
    last_off, count, finding = before
    if abs(off - last_off) <= allowed:
        return finding
    more = explain(off - last_off, poured[count:], 0, waiting, allowed) if len(poured) > count else None
    return more if more is not None and more.kind in ("missing", "doubled", "not ticked") else None


def _standing(off_g: float, beside: Sequence[float], before: float, allowed: float) -> float:
    """How much of a preferment stands in the bowl, judged by the reading itself [g]."""
    if abs(off_g) <= allowed:
        return 0.0
    return next((grams for grams in beside if abs(off_g - grams) <= allowed), before)


def allowed_g(bowl_g: float, step_g: float) -> float:
    """How far a bowl may be off and still agree: steps of its scale, and a share of what is on it [g].

    >>> allowed_g(500, 1.0), allowed_g(8000, 1.0)
    (2.0, 8.0)
    """
    figures = load("bench")
    return max(figures["scale.steps"].value * step_g, figures["scale.share"].value / 100.0 * bowl_g)


def explain(
    off_g: float, poured: Sequence[Item], suspects_from: int, waiting: Sequence[Item], allowed: float
) -> Finding:
    """What one ingredient would explain a bowl that is `off_g` too heavy (or too light, below 0).

    The last of `poured` is the line that the bowl was read after. Lines before `suspects_from` were cleared by an
    earlier reading; only where no later line explains it are they asked again.
    """
    if abs(off_g) <= allowed:
        return Finding("agrees")
    kind: Kind = "missing" if off_g < 0 else "doubled"
    for suspects in (poured[suspects_from:], poured[:suspects_from]):
        found = _as_heavy(abs(off_g), suspects, allowed)
        if found:
            return Finding(kind, off_g, found)
    if off_g > 0:
        found = _as_heavy(off_g, waiting, allowed)
        if found:
            return Finding("not ticked", off_g, found)
    last = poured[-1]
    if off_g < 0 and last.grams is not None and -off_g < last.grams:
        return Finding("short", off_g, (last,))
    if off_g > 0 and last.grams is not None:
        return Finding("over", off_g, (last,))
    return Finding("unclear", off_g)


def _as_heavy(grams: float, items: Sequence[Item], allowed: float) -> tuple[Item, ...]:
    """Lines that weigh as much, the nearest first. One lighter than what is allowed cannot be told."""
    near = [
        item for item in items if item.grams is not None and item.grams > allowed and abs(item.grams - grams) <= allowed
    ]
    return tuple(sorted(near, key=lambda item: abs((item.grams or 0.0) - grams)))
