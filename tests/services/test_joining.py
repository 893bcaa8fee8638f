"""Two edits of one revision: put together line by line, and no line that was typed is ever lost."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oventide.formula.model import Component, Formula, Line, Measures
from oventide.services import joining
from oventide.services.editing import reread, weighed
from oventide.services.foreseeing import usual_kitchen
from oventide.timeline.procedure import Procedure, Product, Step

TEXTS = ("300 g flour", "120 g milk", "6 g salt", "5 g instant yeast", "40 g butter", "1 egg", "50 g sugar",
         "70 g seeds", "a handful of nuts", "20 g honey", "10 g malt", "80 g cold potato")  # fmt: skip
READ = {text: reread(text, Measures())[0] for text in TEXTS}


def product(
    *parts: tuple[str, str, tuple[Line, ...]],
    steps: tuple[str, ...] = ("mix", "bulk", "bake"),
    notes: str = "",
    name: str = "Quay buns",
) -> Product:
    components = tuple(Component(kind=kind, name=named, lines=lines) for kind, named, lines in parts)
    procedure = Procedure(steps=tuple(Step(kind=kind) for kind in steps))
    return Product(name=name, formula=Formula(name=name, components=components), notes=notes, procedure=procedure)


def lines(*texts: str) -> tuple[Line, ...]:
    return tuple(READ[text] if text in READ else reread(text, Measures())[0] for text in texts)


def texts_of(made: Product) -> list[str]:
    return [line.text for part in made.formula.components for line in part.lines]


def buns(*dough: str) -> Product:
    return product(("dough", "Dough", lines(*dough)), ("filling", "Filling", lines("70 g seeds")))


BASE = buns("300 g flour", "120 g milk", "6 g salt")


def test_changes_of_different_lines_are_both_there() -> None:
    theirs = buns("320 g flour", "120 g milk", "6 g salt")
    mine = buns("300 g flour", "125 g milk", "6 g salt", "40 g butter")
    joined = joining.join_products(BASE, theirs, mine)
    assert joined.clashes == ()
    assert texts_of(joined.content({})) == ["320 g flour", "125 g milk", "6 g salt", "40 g butter", "70 g seeds"]


@pytest.mark.parametrize(
    ("take", "found"), [("theirs", ["7 g salt"]), ("mine", ["5 g salt"]), ("both", ["7 g salt", "5 g salt"])]
)
def test_one_line_changed_twice_is_the_baker_s_to_settle(take: joining.Take, found: list[str]) -> None:
    theirs = buns("300 g flour", "120 g milk", "7 g salt")
    mine = buns("300 g flour", "120 g milk", "5 g salt")
    joined = joining.join_products(BASE, theirs, mine)
    (clash,) = joined.clashes
    assert (clash.base.text, clash.theirs.text, clash.mine.text) == ("6 g salt", "7 g salt", "5 g salt")
    made = texts_of(joined.content({clash.key: take}))
    assert made == ["300 g flour", "120 g milk", *found, "70 g seeds"]


def test_a_line_taken_out_here_and_changed_there_is_asked_about() -> None:
    theirs = buns("300 g flour", "120 g milk")
    mine = buns("300 g flour", "120 g milk", "9 g salt")
    joined = joining.join_products(BASE, theirs, mine)
    (clash,) = joined.clashes
    assert clash.theirs is None
    assert "9 g salt" in texts_of(joined.content({}))
    assert "9 g salt" not in texts_of(joined.content({clash.key: "theirs"}))


def test_a_new_order_and_a_new_weight_go_together() -> None:
    theirs = buns("6 g salt", "300 g flour", "120 g milk")
    mine = buns("300 g flour", "130 g milk", "6 g salt")
    made = joining.join_products(BASE, theirs, mine)
    assert made.clashes == ()
    assert texts_of(made.content({})) == ["6 g salt", "300 g flour", "130 g milk", "70 g seeds"]


def test_make_up_and_name_are_put_together_figure_by_figure() -> None:
    theirs = BASE.model_copy(update={"makeup": BASE.makeup.model_copy(update={"pieces": 9})})
    mine = BASE.model_copy(update={"name": "Harbour buns", "makeup": BASE.makeup.model_copy(update={"trim_mm": 10.0})})
    made = joining.join_products(BASE, theirs, mine)
    assert made.clashes == ()
    settled = made.content({})
    assert (settled.name, settled.makeup.pieces, settled.makeup.trim_mm) == ("Harbour buns", 9, 10.0)


def test_kitchens_are_put_together_figure_by_figure() -> None:
    base = usual_kitchen()
    theirs = base.model_copy(update={"altitude_m": 700.0, "bench": "steel"})
    mine = base.model_copy(update={"mixer": "spiral", "bench": "granite"})
    joined = joining.join_kitchens(base, theirs, mine)
    (clash,) = joined.clashes
    assert (clash.theirs, clash.mine) == ("steel", "granite")
    made = joined.content({clash.key: "theirs"})
    assert (made.altitude_m, made.mixer, made.bench) == (700.0, "spiral", "steel")


# Random edits: each line typed carries a mark of its own, so that it can be looked for.


@st.composite
def edits(draw: st.DrawFn, side: str) -> list[tuple[str, int, int, str]]:
    count = draw(st.integers(0, 6))
    deed = st.sampled_from(("change", "weigh", "add", "out", "move", "part", "step", "note"))
    return [
        (draw(deed), draw(st.integers(0, 40)), draw(st.integers(0, 40)), f"{draw(st.sampled_from(TEXTS))} {side}{at}")
        for at in range(count)
    ]


def edited(base: Product, deeds: list[tuple[str, int, int, str]]) -> tuple[Product, set[str]]:
    """The product after some edits, and the texts that were typed and still stand in it."""
    parts = [[part.kind, part.name, list(part.lines)] for part in base.formula.components]
    steps, notes = list(base.procedure.steps), base.notes
    for deed, one, other, text in deeds:
        part = parts[one % len(parts)]
        rows = part[2]
        at = other % len(rows) if rows else 0
        typed = reread(text, Measures())[0]
        if deed == "add":
            rows.insert(at, typed)
        elif deed == "part":
            parts.append(["topping", text, [typed]])
        elif deed == "step":
            steps.insert(other % (len(steps) + 1), Step(kind="chill", name=text))
        elif deed == "note":
            notes = f"{notes}\n{text}"
        elif rows and deed == "change":
            rows[at] = typed
        elif rows and deed == "weigh":
            rows[at] = weighed(rows[at], 10.0 + one)
        elif rows and deed == "out":
            rows.pop(at)
        elif rows and deed == "move":
            row = rows.pop(at)
            target = parts[other % len(parts)][2]
            target.insert(one % (len(target) + 1), row)
    made = product(*((kind, name, tuple(rows)) for kind, name, rows in parts if rows), notes=notes)
    made = made.model_copy(update={"procedure": Procedure(steps=tuple(steps))})
    return made, {line.model_dump_json() for part in made.formula.components for line in part.lines}


def cut_in_two(texts: list[str], cut: int) -> Product:
    parts = [("dough", "Dough", lines(*texts[:cut])), ("filling", "Filling", lines(*texts[cut:]))]
    return product(*(part for part in parts if part[2]))


bases = st.lists(st.sampled_from(TEXTS), min_size=2, max_size=9, unique=True).flatmap(
    lambda texts: st.integers(1, len(texts)).map(lambda cut: cut_in_two(texts, cut))
)


@settings(max_examples=400)
@given(bases, edits("here"), edits("there"))
def test_no_line_that_was_typed_is_lost(base: Product, here: list, there: list) -> None:
    mine, own = edited(base, here)
    theirs, other = edited(base, there)
    if not own or not other:
        return
    joined = joining.join_products(base, theirs, mine)
    known = {line.model_dump_json() for part in base.formula.components for line in part.lines}
    made = {line.model_dump_json() for part in joined.content({}).formula.components for line in part.lines}
    for clash in joined.clashes:
        for side in (clash.theirs, clash.mine):
            if isinstance(side, Line):
                assert side.model_dump_json() in made, "without a choice both stand"
    assert (own | other) - known <= made
    # and what neither side touched stands
    assert known & own & other <= made
    for said in ("notes", "steps"):
        mine_typed = {"notes": mine.notes.split("\n"), "steps": [s.name for s in mine.procedure.steps]}[said]
        their_typed = {"notes": theirs.notes.split("\n"), "steps": [s.name for s in theirs.procedure.steps]}[said]
        content = joined.content({})
        found = {"notes": content.notes.split("\n"), "steps": [s.name for s in content.procedure.steps]}[said]
        assert {*mine_typed, *their_typed} - {""} <= set(found)


@settings(max_examples=150)
@given(bases, edits("here"))
def test_without_a_second_edit_mine_stands_as_it_is(base: Product, here: list) -> None:
    mine, typed = edited(base, here)
    if not typed:
        return
    joined = joining.join_products(base, base, mine)
    assert joined.clashes == ()
    assert joined.content({}) == mine
    other = joining.join_products(base, mine, base)
    assert other.clashes == ()
    assert other.content({}) == mine
    same = joining.join_products(base, mine, mine)
    assert same.clashes == ()
    assert same.content({}) == mine
