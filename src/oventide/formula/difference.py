"""What changed between two formulas: lines and percentages."""

from oventide.errors import Refusal
from oventide.formula.model import Component, Formula, Frozen
from oventide.formula.percent import whole_dough
from oventide.pantry.own import Pantry


class Change(Frozen):
    """One line or figure that differs; None on the side where it does not stand. Grams, or % of flour."""

    component: str
    what: str
    before: float | None
    after: float | None
    unit: str
    sentence: str


def _weights(component: Component) -> dict[str, float | None]:
    """Grams by ingredient (by name where it was not recognised); a line without a weight makes the sum unknown."""
    found: dict[str, float | None] = {}
    for line in component.lines:
        key = line.ingredient or line.name or line.text
        grams = line.grams.likely if line.grams is not None else None
        before = found.get(key, 0.0)
        found[key] = None if grams is None or before is None else before + grams
    return found


def _shown(value: float | None, unit: str) -> str:
    return "not there" if value is None else f"{value:.1f} {unit}"


def _differs(before: float | None, after: float | None, least: float) -> bool:
    if before is None or after is None:
        return before is not after
    return abs(after - before) >= least


def differences(before: Formula, after: Formula, pantry: Pantry | None = None) -> tuple[Change, ...]:
    """Lines whose weight differs by 0.05 g or more, components that came or went, and the dough's percentages."""
    found: list[Change] = []
    old = {component.name: _weights(component) for component in before.components}
    new = {component.name: _weights(component) for component in after.components}
    for name in dict.fromkeys([*old, *new]):
        then, now = old.get(name, {}), new.get(name, {})
        for key in dict.fromkeys([*then, *now]):
            was, is_now = then.get(key), now.get(key)
            if (key in then) != (key in now) or _differs(was, is_now, 0.05):
                sentence = f"{name}, {key.replace('_', ' ')}: {_shown(was, 'g')} → {_shown(is_now, 'g')}"
                found.append(Change(component=name, what=key, before=was, after=is_now, unit="g", sentence=sentence))
    return (*found, *_percent_changes(before, after, pantry))


def _percent_changes(before: Formula, after: Formula, pantry: Pantry | None) -> tuple[Change, ...]:
    try:
        one, other = whole_dough(before, pantry), whole_dough(after, pantry)
    except Refusal:
        return ()  # without flour there are no percentages to set side by side
    pairs = {
        "water": (one.water.total, other.water.total),
        "fat": (one.fat, other.fat),
        "sugars": (one.sugars, other.sugars),
        "salt": (one.salt_of_all, other.salt_of_all),
        "yeast as instant": (one.yeast_as_instant, other.yeast_as_instant),
    }
    return tuple(
        Change(
            component="whole dough", what=name, before=was, after=now, unit="% of flour",
            sentence=f"{name}: {was:.1f} → {now:.1f} % of flour",
        )
        for name, (was, now) in pairs.items()
        if abs(now - was) >= 0.05
    )  # fmt: skip
