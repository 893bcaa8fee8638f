"""What is different between two formulas: said line by line, and nothing is said of what is the same."""

from oventide.formula.model import Component, Formula, Line, Measures
from oventide.services import differing
from oventide.services.editing import reread
from oventide.timeline.procedure import Procedure, Product, Span, Step


def lines(*texts: str) -> tuple[Line, ...]:
    return tuple(reread(text, Measures())[0] for text in texts)


def bun(*dough: str, minutes: float = 60, pieces: int = 9, filling: str = "70 g poppy seeds") -> Product:
    parts = (
        Component(kind="dough", name="Dough", lines=lines(*dough)),
        Component(kind="filling", name="Filling", lines=lines(*filling.split(" | "))),
    )
    steps = (Step(kind="mix"), Step(kind="bulk", minutes=Span(low=minutes, likely=minutes, high=minutes)))
    formula = Formula(name="Quay buns", components=parts)
    made = Product(name="Quay buns", formula=formula, procedure=Procedure(steps=steps))
    return made.model_copy(update={"makeup": made.makeup.model_copy(update={"pieces": pieces})})


BASE = bun("300 g flour", "180 g milk", "6 g salt")


def test_nothing_is_different_from_itself() -> None:
    found = differing.between(BASE, BASE)
    assert found.is_nothing
    assert found.levels == ()


def test_each_kind_of_change_is_said_once_with_both_sides() -> None:
    after = bun(
        "300 g flour",
        "180 g milk",
        "7.5 g salt",
        "5 g instant yeast",
        minutes=75,
        pieces=12,
        filling="60 g poppy seeds",
    )
    found = differing.between(BASE, after)
    ways = {(change.way, (change.after or change.before).ingredient or "") for change in found.lines}
    assert {way for way, _ in ways} == {"changed", "came"}
    assert len(found.lines) == 3
    salt = next(change for change in found.lines if change.after and change.after.text == "7.5 g salt")
    assert (round(salt.before_percent or 0, 2), round(salt.after_percent or 0, 2)) == (2.0, 2.5)
    (step,) = found.steps
    assert step.before is not None
    assert step.after is not None
    assert (step.before.minutes.likely, step.after.minutes.likely) == (60, 75)
    assert found.makeup is not None
    assert (found.makeup[0].pieces, found.makeup[1].pieces) == (9, 12)
    moved = {change.after.measure for change in found.levels if change.after}
    assert {"salt", "yeast"} <= moved
    assert "egg" not in moved


def test_a_line_that_moved_to_another_part_is_no_loss_and_no_gain() -> None:
    after = bun("300 g flour", "180 g milk", filling="70 g poppy seeds | 6 g salt")
    (change,) = differing.between(BASE, after).lines
    assert (change.way, change.part) == ("moved", "Filling")


def test_every_line_of_both_stands_in_the_pairs_once() -> None:
    after = bun("280 g flour", "6 g salt", "20 g butter", "180 g milk")
    rows = differing.line_pairs(BASE.formula, after.formula)
    assert sorted(old.text for _, old, _, _, _ in rows if old) == sorted(
        line.text for part in BASE.formula.components for line in part.lines
    )
    assert sorted(new.text for _, _, new, _, _ in rows if new) == sorted(
        line.text for part in after.formula.components for line in part.lines
    )
