"""What a formula must hold before anything is counted: flour, weights that can be weighed, butter below flour."""

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import load
from oventide.formula.composition import ingredient_of
from oventide.formula.model import Formula, Line
from oventide.formula.parts import dough_lines
from oventide.formula.percent import flour_g
from oventide.pantry.own import Pantry


def _slug(name: str) -> str:
    return "_".join(name.lower().split()) or "unnamed"


def _line_complaints(field: str, line: Line, heaviest_g: float) -> list[Complaint]:
    found = []
    amounts = [value for value in (line.amount, line.amount_high) if value is not None]
    if any(not value > 0 for value in amounts):
        found.append(
            Complaint(field, line.text, "An amount must be above zero.", "Write what goes in, or take the line out.")
        )
    elif line.grams is not None and not line.grams.likely > 0:
        found.append(
            Complaint(
                field, line.text, "A weight must be above zero grams.", "Write what goes in, or take the line out."
            )
        )
    if line.grams is not None and line.grams.high > heaviest_g:
        found.append(
            Complaint(
                field,
                line.text,
                f"A line of more than {heaviest_g / 1000:g} kg is not something that this tool weighs out.",
                "Look at the unit: g and kg are easily swapped.",
            )
        )
    return found


def _fat_g(lines: tuple[Line, ...], pantry: Pantry | None) -> float:
    total = 0.0
    for line in lines:
        item = ingredient_of(line, pantry)
        if line.grams is not None and item is not None and item.category == "fat":
            total += line.grams.likely
    return total


def _yeast_g(lines: tuple[Line, ...], pantry: Pantry | None) -> float:
    total = 0.0
    for line in lines:
        item = ingredient_of(line, pantry)
        if line.grams is not None and item is not None and item.category == "yeast":
            total += line.grams.likely
    return total


def complaints(formula: Formula, pantry: Pantry | None = None) -> tuple[Complaint, ...]:
    """Everything about a formula that cannot be used, all at once."""
    limit = load("formula")
    found: list[Complaint] = []
    for component in formula.components:
        for position, line in enumerate(component.lines, start=1):
            field = f"component.{_slug(component.name)}.line.{position}"
            found += _line_complaints(field, line, limit.value("limit.line_g"))
    if found:
        return tuple(found)
    lines = dough_lines(formula)
    flour = flour_g(lines, pantry)
    if not formula.of_kind("dough"):
        return (
            Complaint(
                "component.dough", "", "There is no dough among the components.",
                "Give one component the kind dough, with its flour.",
            ),
        )  # fmt: skip
    if not flour > 0:
        return (
            Complaint(
                "component.dough", "", "There is no flour with a known weight in the dough.",
                "Give the flour with its weight; if its name was not recognised, choose one that is offered.",
            ),
        )  # fmt: skip
    fat = _fat_g(lines, pantry)
    if fat > flour * limit.value("limit.butter_percent") / 100.0:
        found.append(
            Complaint(
                "component.dough.fat", f"{fat:.0f} g fat on {flour:.0f} g flour",
                "There is more butter and fat than flour in the dough; published rich doughs end at 90 %.",
                "Check the two weights. Butter that is spread or rolled in belongs in a spread component.",
            )
        )  # fmt: skip
    yeast = _yeast_g(lines, pantry)
    most = limit.value("limit.yeast_percent")
    if yeast > flour * most / 100.0:
        found.append(
            Complaint(
                "component.dough.yeast", f"{yeast:.4g} g yeast on {flour:.0f} g flour",
                f"That is more than {most:g} % of the flour; published doughs end at 5 % fresh.",
                "Check the weight, its unit, and whether fresh or dry yeast is meant.",
            )
        )  # fmt: skip
    return tuple(found)


def check(formula: Formula, pantry: Pantry | None = None) -> None:
    """Refuse a formula that cannot be used, with every complaint at once."""
    found = complaints(formula, pantry)
    if found:
        raise Refusal(found)
