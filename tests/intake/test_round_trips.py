"""Out and in again: nothing is lost, in our TOML and in JSON-LD."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oventide.formula.model import COMPONENT_KINDS, EGG_CLASSES, Component, Formula, Line, Measures
from oventide.intake import files, jsonld, kitchen_toml, product_toml
from oventide.intake.defaults import complete
from oventide.intake.lines import read_line
from oventide.intake.text import read_recipe
from oventide.kitchen.complete import complete as complete_kitchen
from oventide.makeup.model import MakeUp, Tin
from oventide.timeline.procedure import STEP_KINDS, Procedure, Product, Span, Step, Target
from oventide.units.estimate import Estimate
from oventide.units.measure import COUNTRIES

RECIPES = sorted((Path(__file__).parent.parent / "corpus" / "recipes").glob("*.txt"))

words = st.text(max_size=30)
figure = st.floats(0.001, 1e5)
ordered = st.lists(figure, min_size=3, max_size=3).map(sorted)
grams = ordered.flatmap(
    lambda three: st.builds(
        Estimate,
        low=st.just(three[0]),
        likely=st.just(three[1]),
        high=st.just(three[2]),
        grade=st.sampled_from(["given", "read", "assumed"]),
        source=words,
    )
)
free_lines = st.builds(
    Line,
    text=words,
    name=words,
    amount=st.none() | figure,
    amount_high=st.none() | figure,
    unit=st.none() | st.sampled_from(["g", "cup", "piece"]),
    ingredient=st.none() | words,
    preparation=words,
    grams=st.none() | grams,
    assumed=st.lists(words, max_size=2).map(tuple),
    offered=st.lists(words, max_size=2).map(tuple),
)
read_lines_ = st.sampled_from(["500 g bread flour", "2 eggs", "1 cup milk, warm", "salt to taste"]).map(read_line)
components = st.builds(
    Component,
    kind=st.sampled_from(COMPONENT_KINDS),
    name=words,
    lines=st.lists(free_lines | read_lines_, max_size=3).map(tuple),
)
tins = st.builds(
    Tin,
    shape=st.sampled_from(["square", "rectangle", "round", "sheet_pan"]),
    length_mm=figure,
    width_mm=figure,
    depth_mm=figure,
)
makeups = st.builds(
    MakeUp,
    sheet_length_mm=st.none() | figure,
    sheet_width_mm=st.none() | figure,
    pieces=st.none() | st.integers(1, 500),
    piece_g=st.none() | figure,
    kerf_mm=st.just(0.0) | figure,
    trim_mm=st.just(0.0) | figure,
    tin=st.none() | tins,
    tins=st.integers(1, 9),
    sheets=st.none() | st.integers(1, 4),
    seam_margin_mm=st.just(0.0) | figure,
    assumed=st.lists(words, max_size=2).map(tuple),
)
spans = ordered.map(lambda three: Span(low=three[0], likely=three[1], high=three[2]))
targets = st.builds(
    Target,
    measure=st.sampled_from(["rise", "core_c", "dough_c", "solid_fat"]),
    value=st.floats(-50, 300),
    low=st.none() | st.floats(-50, 300),
    high=st.none() | st.floats(-50, 300),
)
steps = st.builds(
    Step,
    kind=st.sampled_from(STEP_KINDS),
    name=words,
    minutes=st.none() | spans,
    target=st.none() | targets,
    ends_by=st.sampled_from(["clock", "target"]),
    where=st.sampled_from(["room", "fridge", "oven", "prover"]),
    air_c=st.none() | st.floats(-30, 300),
    covered=st.booleans(),
    oven_kind=st.none() | st.sampled_from(["static", "deck"]),
    text=words,
    assumed=st.lists(words, max_size=2).map(tuple),
)
products = st.builds(
    Product,
    name=words,
    formula=st.builds(
        Formula,
        name=words,
        components=st.lists(components, max_size=3).map(tuple),
        measures=st.builds(Measures, spoons=st.sampled_from(COUNTRIES), eggs=st.sampled_from(EGG_CLASSES)),
    ),
    makeup=makeups,
    procedure=st.builds(Procedure, steps=st.lists(steps, max_size=3).map(tuple)),
    notes=words,
    unread=st.lists(words, max_size=2).map(tuple),
)


@settings(max_examples=120)
@given(products)
def test_toml_loses_nothing(product: Product) -> None:
    assert product_toml.read(product_toml.write(product)) == product


@settings(max_examples=120)
@given(products)
def test_json_ld_loses_nothing(product: Product) -> None:
    assert jsonld.read(jsonld.write(product)) == product


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_recipes_go_out_and_in(path: Path) -> None:
    product = complete(read_recipe(path.read_text("utf-8")))
    assert product_toml.read(product_toml.write(product)) == product
    assert files.read_product(product_toml.write(product), "x") == product
    assert files.read_product(jsonld.write(product), "x") == product


def test_json_ld_written_by_others_is_read_by_its_words() -> None:
    text = """<html><script type="application/ld+json">{"@graph": [{"@type": ["Recipe"],
    "name": "Seed &amp; salt rolls",
    "recipeYield": ["8", "8 rolls"], "recipeIngredient": ["500 g bread flour", "300 g <b>water</b>", "10 g salt"],
    "recipeInstructions": [{"@type": "HowToSection", "itemListElement": [{"@type": "HowToStep",
    "text": "Knead 10 minutes."}]}, {"@type": "HowToStep", "text": "Bake at 220 C for 15 minutes."}]}]}</script>"""
    product = files.read_product(text, "page.html")
    assert product.name == "Seed & salt rolls"
    assert product.makeup.pieces == 8
    assert [line.ingredient for line in product.formula.components[0].lines][1:] == ["water_tap", "salt_table"]
    assert [step.kind for step in product.procedure.steps] == ["mix", "bake"]


def test_changed_words_win_over_our_own_key() -> None:
    product = read_recipe("Rolls\n\nDough\n500 g bread flour\n300 g water")
    text = jsonld.write(product).replace('"500 g bread flour",\n    "300', '"600 g bread flour",\n    "300')
    assert jsonld.read(text).formula.components[0].lines[0].amount == 600


def test_kitchen_goes_out_and_in() -> None:
    kitchen = kitchen_toml.read(
        'room = 22\nfridge = "4-6"\noven_offset = "-5 to 5"\n[[room_by_hour]]\nhour = 5\ncelsius = 18'
    )
    assert kitchen.fridge == Estimate(low=4, likely=5, high=6)
    assert kitchen_toml.read(kitchen_toml.write(kitchen)) == kitchen
    plain = complete_kitchen({})
    assert kitchen_toml.read(kitchen_toml.write(plain)) == plain


def test_toml_by_hand_is_short() -> None:
    product = product_toml.read(
        """
        name = "Lantern Quay poppy coils"
        [[component]]
        kind = "dough"
        lines = ["500 g strong white flour", { text = "2 eggs", grams = 104 }]
        [makeup]
        sheet = "40 x 30 cm"
        pieces = 12
        tin = "rectangle 30 x 20 cm"
        [[step]]
        do = "proof"
        minutes = "50-60"
        target = "rise 1.8"
        """
    )
    egg = product.formula.components[0].lines[1]
    assert egg.grams is not None
    assert (egg.grams.likely, egg.ingredient) == (104, "egg_whole")
    assert (product.makeup.sheet_length_mm, product.makeup.sheet_width_mm) == (300, 400)
    assert product.procedure.steps[0].minutes == Span(low=50, likely=55, high=60)
