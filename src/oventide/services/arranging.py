"""Lines and steps put in another place, taken out, or begun: what the buttons beside them do."""

from typing import Literal

from oventide.formula.model import Component, ComponentKind, Formula
from oventide.services import editing
from oventide.timeline.procedure import Procedure, Product

Way = Literal["up", "down", "out"]


def _with_lines(product: Product, parts: list[Component]) -> Product:
    formula = product.formula.model_copy(update={"components": tuple(part for part in parts if part.lines)})
    return product.model_copy(update={"formula": formula})


def line(product: Product, part: int, at: int, way: Way) -> tuple[Product, tuple[int, int] | None]:
    """A line one place up or down (over the edge of its part into the next one), or out; and where it stands then."""
    parts = list(product.formula.components)
    if not (0 <= part < len(parts) and 0 <= at < len(parts[part].lines)):
        return product, None
    rows = [list(each.lines) for each in parts]
    taken = rows[part].pop(at)
    there: tuple[int, int] | None = None
    if way == "up":
        there = (part, at - 1) if at > 0 else (part - 1, len(rows[part - 1])) if part > 0 else (part, at)
    elif way == "down":
        there = (part, at + 1) if at < len(rows[part]) else (part + 1, 0) if part + 1 < len(rows) else (part, at)
    if there is not None:
        rows[there[0]].insert(there[1], taken)
        emptied = not rows[part] and there[0] > part
        there = (there[0] - 1, there[1]) if emptied else there
    made = [each.model_copy(update={"lines": tuple(rows[i])}) for i, each in enumerate(parts)]
    return _with_lines(product, made), there


def step(product: Product, at: int, way: Way) -> tuple[Product, int | None]:
    """A step one place up or down, or out; and where it stands then."""
    steps = list(product.procedure.steps)
    if not 0 <= at < len(steps):
        return product, None
    taken = steps.pop(at)
    there = None if way == "out" else min(max(at + (-1 if way == "up" else 1), 0), len(steps))
    if there is not None:
        steps.insert(there, taken)
    return product.model_copy(update={"procedure": Procedure(steps=tuple(steps))}), there


def begun(formula: Formula, kind: ComponentKind, name: str, text: str) -> Formula:
    """The formula with a new part, which begins with a line."""
    part = Component(kind=kind, name=name or kind.capitalize(), lines=editing.reread(text, formula.measures))
    return formula.model_copy(update={"components": (*formula.components, part)})
