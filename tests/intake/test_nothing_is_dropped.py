"""Every line of a pasted text ends up somewhere: a component, a step's words, title, notes, or unread."""

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.intake.clean import sentences
from oventide.intake.defaults import ORDER, complete
from oventide.intake.headings import bare_heading, heading
from oventide.intake.text import read_recipe
from oventide.timeline.procedure import Product

RECIPES = sorted((Path(__file__).parent.parent / "corpus").glob("recipes*/*.txt"))


def squeezed(text: str) -> str:
    return re.sub(r"[\W_]+", "", text.lower())


def kept(product: Product) -> str:
    """Everything that a product carries, squeezed."""
    parts = [product.name, product.notes, *product.unread]
    for component in product.formula.components:
        parts += [component.name, *(line.text for line in component.lines)]
    parts += [step.text for step in product.procedure.steps]
    return "\n".join(squeezed(part) for part in parts)


def missing(text: str, product: Product) -> list[str]:
    whole = kept(product)
    lost = []
    for line in text.splitlines():
        found = heading(line)
        if not re.search(r"[^\W_]", line) or (found is not None and found.section is not None):
            continue
        if squeezed(line) in whole or squeezed(re.sub(r"^for (?:the )?", "", bare_heading(line), flags=re.I)) in whole:
            continue
        pieces = [piece for part in sentences(line) for piece in re.split(r"[,;|:+]| and | plus |(?<=\s)-\s", part)]
        lost += [
            piece
            for piece in pieces
            if (
                bare := squeezed(
                    re.sub(
                        r"^\W*(?:\d+[.)]|step \d+\b|\d (?=(?:put|meanwhile|roll|heat)\b))|^\W*(?:you need|for the)\b",
                        "",
                        piece,
                        flags=re.I,
                    )
                )
            )
            and bare not in whole
        ]
    return lost


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_recipes_keep_every_line(path: Path) -> None:
    text = path.read_text("utf-8")
    assert missing(text, read_recipe(text)) == []


LINES = st.sampled_from(
    [
        "500 g bread flour",
        "Filling",
        "For the glaze:",
        "2 eggs",
        "Method",
        "Roll out to 30 x 40 cm.",
        "Knead 8 minutes",
        "Bake at 180C for 20 min.",
        "blue elephants",
        "Makes 9",
        "salt",
        "Notes",
        "My aunt liked these.",
        "",
        "1 cup milk",
        "Spread, roll up and cut into 9.",
        "Let rise 1 hour.",
        "Cool.",
        "zzz 12 qq",
        "A note about nothing at all in here.",
    ]
)


@settings(max_examples=150)
@given(st.lists(LINES, min_size=1, max_size=12))
def test_any_order_of_lines_keeps_every_line(lines: list[str]) -> None:
    text = "\n".join(lines)
    if not text.strip():
        return
    assert missing(text, read_recipe(text)) == []


@settings(max_examples=150)
@given(st.text(min_size=1, max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        product = read_recipe(text)
    except Refusal:
        return
    for line in re.split(r"[\n\r\x0b\x0c\u2028\u2029]", text):
        plain = squeezed(re.sub(r"[\x00-\x1f\x7f]", " ", line))
        if plain and heading(line) is None:
            assert missing(line, product) == [] or product.unread or product.procedure.steps


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_a_completed_recipe_is_whole_and_in_a_sane_order(path: Path) -> None:
    product = complete(read_recipe(path.read_text("utf-8")))
    kinds = [step.kind for step in product.procedure.steps]
    assert kinds[0] == "mix"
    assert kinds[-1] == "keep"
    work = [kind for kind in kinds if kind in ("mix", "sheet", "roll", "cut", "tin", "bake", "keep")]
    assert work == sorted(work, key=ORDER.index)
    assert {"mix", "sheet", "roll", "cut", "tin", "proof", "bake", "cool", "keep"} <= set(kinds)
    assert all(step.minutes is not None for step in product.procedure.steps)
    assert product.makeup.pieces
    assert product.makeup.tin
    assert product.makeup.sheet_length_mm


def test_a_recipe_without_a_method_gets_one_and_says_so() -> None:
    product = complete(read_recipe("500 g bread flour\n300 g milk\n60 g butter\n7 g instant yeast\n8 g salt"))
    assert [step.kind for step in product.procedure.steps] == [
        "mix",
        "bulk",
        "sheet",
        "roll",
        "cut",
        "tin",
        "proof",
        "bake",
        "cool",
        "keep",
    ]
    assert all(step.assumed for step in product.procedure.steps)
    assert product.makeup.assumed
