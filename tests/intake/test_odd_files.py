"""Odd files: each is read or refused in words, in time, and nothing of it is lost."""

import json
import time

import pytest

from oventide.errors import Refusal
from oventide.intake import files, kitchen_toml
from oventide.intake.text import read_recipe

PLAIN = (
    "Rolls\n\nIngredients\n500 g strong white flour\n½ tsp salt\n300 ml milk\n7 g instant yeast\n\n"
    "Method\nKnead 10 minutes. Roll to 30 × 40 cm. Cut into 12. Bake at 180°C for 20 minutes.\n"
)
RECIPE = {
    "@type": ["Recipe", "Article"],
    "name": "Nut &amp; honey rolls",
    "recipeYield": ["12", "12 rolls"],
    "totalTime": "P0DT3H",
    "recipeIngredient": ["500&nbsp;g bread flour", "300 ml milk", "7 g instant yeast", "&frac12; cup honey"],
    "recipeInstructions": [
        {
            "@type": "HowToSection",
            "name": "Dough",
            "itemListElement": [{"@type": "HowToStep", "text": "Knead 10 minutes.<br/>Rise 1 hour."}],
        },
        {"@type": "HowToStep", "text": "Roll to 30 x 40 cm &amp; roll up. Cut into 12."},
        "Bake at 180&deg;C for 25 minutes.",
    ],
}


def ids(data: bytes) -> list[str | None]:
    product = files.read_product(files.decode(data))
    assert not product.unread
    return [line.ingredient for part in product.formula.components for line in part.lines]


@pytest.mark.parametrize(
    "data",
    [
        PLAIN.replace("\n", "\r\n").encode(), PLAIN.replace("\n", "\r").encode(), PLAIN.encode("utf-16"),
        PLAIN.encode("utf-16-le"), PLAIN.encode("utf-16-be"), PLAIN.encode("latin-1"), b"\xef\xbb\xbf" + PLAIN.encode(),
        PLAIN.replace(" ", "\t").encode(), PLAIN.replace("½", "1⁄2").encode(),
        ("\u200f" + PLAIN.replace(" ", "\u200e ")).encode(), PLAIN.replace("flour", "fl\u200bour").encode(),
        PLAIN.replace(" ", "\u00a0").encode(),
    ],
)  # fmt: skip
def test_letters_and_line_ends_do_not_matter(data: bytes) -> None:
    assert ids(data) == ["flour_bread_unenriched", "salt_table", "milk_whole_unfort", "yeast_instant_dry"]


@pytest.mark.parametrize(
    "page", [{"@graph": [{"@type": "WebSite"}, RECIPE]}, [{"@type": "BreadcrumbList"}, RECIPE], RECIPE]
)
@pytest.mark.parametrize("in_html", [False, True])
def test_recipes_of_web_pages(page: object, in_html: bool) -> None:
    text = json.dumps(page)
    if in_html:
        text = f'<html><head><script type="application/ld+json">{text}</script></head><body></body></html>'
    product = files.read_product(text)
    assert product.name == "Nut & honey rolls"
    assert [line.ingredient for line in product.formula.components[0].lines] == [
        "flour_bread_unenriched", "milk_whole_unfort", "yeast_instant_dry", "honey",
    ]  # fmt: skip
    assert [step.kind for step in product.procedure.steps] == ["mix", "bulk", "sheet", "roll", "cut", "bake"]
    assert product.makeup.pieces == 12


def test_only_a_title_and_only_a_method() -> None:
    assert read_recipe("My rolls").name == "My rolls"
    method = read_recipe("Knead 10 minutes. Let rise 1 hour. Roll to 30 x 40 cm, roll up, cut into 12. Bake 25 min.")
    assert [step.kind for step in method.procedure.steps] == ["mix", "bulk", "sheet", "roll", "cut", "bake"]


@pytest.mark.parametrize(
    "text", ["", " \n\t", "name = 'x'\n[[component]]\nlines = [\n '2 eg", '{"@type": "Recipe", "na']
)
def test_nothing_and_halves_are_refused_with_a_remedy(text: str) -> None:
    with pytest.raises(Refusal) as caught:
        files.read_product(text)
    assert all(complaint.problem and complaint.remedy for complaint in caught.value.complaints)


@pytest.mark.parametrize(
    "line",
    ["(" * 999_000, "1/2 " * 249_000, "500 g flour, " * 76_000, " " * 900_000 + "x", "2 cups zest of the " * 50_000]
    + ["\n".join([part * (900 // len(part))] * 990)
       for part in ("Roll roll up rest for 1 hour to 2 hours and ", "overnight, for about ", "12 x 12 x 1 1 ")],
    ids=range(8),
)  # fmt: skip
def test_a_megabyte_of_nonsense_is_read_in_time(line: str) -> None:
    start = time.process_time()
    product = read_recipe(line)
    assert time.process_time() - start < 10
    assert len(product.notes) + sum(map(len, product.unread)) + len(product.name) > 0


class TestKitchenFiles:
    def test_both_spellings_of_ranges_and_hours(self) -> None:
        words = kitchen_toml.read('fridge = "3-5-8"\n[[room_by_hour]]\nhour = 6\ncelsius = 17')
        lists = kitchen_toml.read("fridge = [3, 5, 8]\n[room_by_hour]\n6 = 17")
        assert words == lists
        assert kitchen_toml.read(kitchen_toml.write(lists)) == lists

    @pytest.mark.parametrize(
        ("text", "field"),
        [
            ("room = nan", "kitchen.room"), ("room = inf", "kitchen.room"), ("fridge = [3, nan, 8]", "kitchen.fridge"),
            ("fridge = [8, 5, 3]", "kitchen.fridge"), ("friction = -3", "kitchen.friction"),
            ("scale_step = inf", "kitchen.scale_step"), ("[room_by_hour]\n25 = 17", "kitchen.room_by_hour.25"),
            ("[room_by_hour]\n6 = nan", "kitchen.room_by_hour.6"), ('room = "1e999"', "kitchen.room"),
            ("room = " + "9" * 5000, "kitchen"), ('room = "4-', "kitchen"), ("", "kitchen"),
        ],
    )  # fmt: skip
    def test_refusals_name_the_field(self, text: str, field: str) -> None:
        with pytest.raises(Refusal) as caught:
            kitchen_toml.read(text)
        assert [complaint.field for complaint in caught.value.complaints] == [field]
        assert all(complaint.remedy for complaint in caught.value.complaints)

    def test_a_file_of_remarks_is_a_usual_kitchen(self) -> None:
        assert len(kitchen_toml.read("# nothing measured yet\n").assumed) >= 8
