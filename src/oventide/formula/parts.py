"""Which components make up the dough, and lines that only name another component ("all of the sponge")."""

import re

from oventide.formula.model import Component, Formula, Line

_PREFERMENT_WORDS = frozenset(
    ("sponge", "preferment", "poolish", "biga", "levain", "starter", "tangzhong", "roux", "scald", "soaker", "ferment")
)


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"[^\W\d_]+", text.lower()))


def names_part(line: Line, formula: Formula) -> bool:
    """Whether a line stands for a preferment that has its own lines, so that counting it would count twice.

    >>> poolish = Component(kind="preferment", name="Poolish")
    >>> names_part(Line(text="936 g poolish", name="poolish"), Formula(name="x", components=(poolish,)))
    True
    """
    words = _words(line.name or line.text)
    for part in formula.of_kind("preferment"):
        own = _words(part.name)
        if own and own <= words:
            return True
        if words & own & _PREFERMENT_WORDS:
            return True
        if line.ingredient is None and words & _PREFERMENT_WORDS:
            return True
    return False


def dough_components(formula: Formula) -> tuple[Component, ...]:
    """Preferments and doughs, without lines that only name a preferment."""
    found = []
    for component in formula.of_kind("dough", "preferment"):
        kept = tuple(
            line for line in component.lines if component.kind == "preferment" or not names_part(line, formula)
        )
        found.append(component.model_copy(update={"lines": kept}))
    return tuple(found)


def dough_lines(formula: Formula) -> tuple[Line, ...]:
    """Every line of the whole dough, preferments included, each counted once."""
    return tuple(line for component in dough_components(formula) for line in component.lines)


def mass_g(lines: tuple[Line, ...]) -> float:
    """Likely mass of the lines whose weight is known [g]."""
    return sum(line.grams.likely for line in lines if line.grams is not None)
