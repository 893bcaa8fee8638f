"""The preferment's own time: from the procedure's words, or until it is ripe."""

import pytest

from oventide.formula.model import Component, Formula, Line
from oventide.timeline.procedure import Procedure, Step
from oventide.timeline.ripening import preferments_of
from oventide.units.estimate import Estimate


def line(name: str, ingredient: str, grams: float) -> Line:
    return Line(text=f"{grams:g} g {name}", name=name, ingredient=ingredient, grams=Estimate.certain(grams))


SPONGE = Component(
    kind="preferment",
    name="Sponge",
    lines=(
        line("strong flour", "flour_bread_unenriched", 90),
        line("milk", "milk_whole_unfort", 90),
        line("instant yeast", "yeast_instant_dry", 5),
    ),
)
SCALD = Component(kind="preferment", name="Scald", lines=(line("strong flour", "flour_bread_unenriched", 25),))


def stood(text: str, name: str = "Sponge"):
    part = SPONGE.model_copy(update={"name": name})
    procedure = Procedure(steps=(Step(kind="mix", text=text),))
    (found,) = preferments_of(Formula(name="x", components=(part, SCALD)), procedure)
    return found


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("Stir the sponge together, cover and leave at room temperature for 45-60 minutes.", 52.5),
        ("Let the sponge stand for 3 hours. Mix the dough for 11 minutes.", 180.0),
        ("Mix the dough for 11 minutes. Leave it to rise for 2 hours.", None),
        ("Leave the sponge overnight.", 600.0),
        ("", None),
    ],
)
def test_the_time_is_read_from_the_steps(text: str, minutes: float | None) -> None:
    found = stood(text)
    assert (None if found.minutes is None else found.minutes.likely) == minutes


def test_a_night_in_the_fridge_is_cold() -> None:
    assert stood("Leave the sponge in the fridge for 12 h.").cold
    assert not stood("Leave the sponge for 2 h.").cold


def test_what_has_no_yeast_does_not_ripen() -> None:
    assert preferments_of(Formula(name="x", components=(SCALD,)), Procedure()) == ()
