"""Bad input is refused in words, with field and remedy; large input is read in linear time."""

import time

import pytest

from oventide.errors import Refusal
from oventide.intake import files, jsonld, kitchen_toml, product_toml
from oventide.intake.defaults import complete
from oventide.intake.text import read_recipe

MEGABYTE = 1_000_000


def complaint(text: str, read=files.read_product) -> str:
    with pytest.raises(Refusal) as caught:
        read(text) if read is not files.read_product else read(text, "file")
    for item in caught.value.complaints:
        assert item.field
        assert item.problem
        assert item.remedy
    return str(caught.value)


@pytest.mark.parametrize("text", ["", "   \n\t\n", "\ufeff\n"])
def test_empty_text_is_refused(text: str) -> None:
    assert "nothing to read" in complaint(text)


def test_a_huge_paste_is_refused_before_reading() -> None:
    started = time.perf_counter()
    assert "1 MB" in complaint("500 g flour\n" * (40 * MEGABYTE // 12))
    assert time.perf_counter() - started < 1.0


def test_binary_junk_is_refused() -> None:
    assert "not text" in complaint(bytes(range(256)).decode("latin-1") * 20)
    with pytest.raises(Refusal):
        files.decode(b"\x89PNG\r\n\x1a\n\x00\x00\x00\xff\xfe" * 10)


def test_a_minus_is_refused() -> None:
    assert "minus" in complaint("Rolls\n\nDough\n500 g flour\nSalt: -10 g\n")
    assert "minus" in complaint("Dough\n-500 g flour\n300 g water\n")


def test_dashes_of_a_list_are_no_minus() -> None:
    product = read_recipe("Dough\n-500 g flour\n-300 g water\n")
    assert [line.amount for line in product.formula.components[0].lines] == [500, 300]


def test_an_absurd_weight_is_refused() -> None:
    assert "1,000 kg" in complaint("Dough\n500000 kg flour\n300 g water\n")


def test_no_flour_is_refused_when_a_whole_product_is_wanted() -> None:
    product = read_recipe("Glaze\n100 g icing sugar\n20 g water")
    assert "flour" in complaint("", lambda _: complete(product))


def test_an_unknown_unit_is_kept_with_a_message() -> None:
    line = read_recipe("Dough\n3 bushels flour\n300 g water").formula.components[0].lines[0]
    assert line.grams is None
    assert any("bushels" in note for note in line.assumed)


def test_half_written_toml_names_the_line() -> None:
    assert "Line 4" in complaint('name = "x"\n\n[[component]]\nlines = ["500 g flour"\n')
    assert "Line 3" in complaint('name = "x"\n[makeup]\nsheet = \n[[step]]\ndo = "mix"')


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('[[component]]\nkind = "cake"', "component.1.kind"),
        ('[makeup]\nsheet = "big"', "makeup.sheet"),
        ("[makeup]\npieces = -3", "makeup.pieces"),
        ('[makeup]\ntin = "hexagon 20 cm"', "makeup.tin"),
        ('[[step]]\ndo = "fly"', "step.1.do"),
        ('[[step]]\ndo = "mix"\nminutes = "9-3"', "step.1.minutes"),
        ('[[step]]\ndo = "mix"\nminutes = -5', "step.1.minutes"),
        ('colour = "red"\n[[step]]\ndo = "mix"', "colour"),
        ("[[component]]\nlines = [5]", "component.1.line.1"),
        ('[[component]]\nlines = ["salt: -5 g"]', "component.1.line.1"),
    ],
)
def test_toml_names_the_field(text: str, words: str) -> None:
    assert words in complaint(text, product_toml.read)


def test_kitchen_names_the_field() -> None:
    assert "kitchen.room" in complaint('room = "warm"', kitchen_toml.read)
    assert "kitchen.fridgee" in complaint("fridgee = 4", kitchen_toml.read)
    assert "room_by_hour.1" in complaint("[[room_by_hour]]\nhour = 99\ncelsius = 3", kitchen_toml.read)


def test_json_without_a_recipe_is_refused() -> None:
    assert "no Recipe" in complaint('{"@type": "Event"}', jsonld.read)
    assert "not JSON" in complaint('{"@type": "Recipe", ', jsonld.read)
    assert complaint("[" * 20_000 + '{"a":1}', jsonld.read)


NASTY = {
    "digits": "1" * MEGABYTE,
    "figures": "1 " * (MEGABYTE // 2),
    "brackets": "(" * MEGABYTE,
    "slashes": "1/" * (MEGABYTE // 2),
    "points": ". " * (MEGABYTE // 2),
    "rolling": "Method\n" + ("roll out the dough and leave it in a warm place until 1 1 1 1 1. " * 30 + "\n") * 500,
    "baking": "Method\n" + ("bake at 180 C for 20 min, " * 60 + "\n") * 640,
    "zest": ("zest of " * 40 + "\n") * 990,
    "commas": ("1 g a, " * 55 + "\n") * 990,
    "dashes": ("-–—" * 120 + "1\n") * 990,
    "unknown": "".join(f"{n} g zzz{n} yyy{n} qqq\n" for n in range(990)),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", NASTY)
def test_nasty_text_is_read_in_time(name: str) -> None:
    started = time.perf_counter()
    read_recipe(NASTY[name][:MEGABYTE])
    assert time.perf_counter() - started < 10.0
