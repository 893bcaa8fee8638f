"""The baker's own ingredients: what is read, what is inherited, what is refused."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.errors import Refusal
from oventide.pantry.ingredients import ingredient
from oventide.pantry.own import Pantry, read_own


def test_what_the_packet_says_stands_and_the_rest_is_inherited() -> None:
    own = read_own('[[ingredient]]\nname = "Skerry butter"\nlike = "butter_unsalted"\nfat = 84\nallergens = ["milk"]\n')
    found = own.ingredient("skerry_butter")
    assert (found.fat, found.protein) == (84, ingredient("butter_unsalted").protein)
    assert found.grade == "given"
    assert "taken from" in found.note


def test_without_a_like_what_is_not_said_stays_unknown() -> None:
    found = read_own('[[ingredient]]\nname = "Seaweed mix"\nsalt = 9\n').ingredient("seaweed_mix")
    assert found.salt == 9
    assert found.water is None
    assert found.fat is None
    assert found.flour_share == 0


def test_an_own_flour_counts_as_flour() -> None:
    assert read_own('[[ingredient]]\nname = "Pea flour"\ncategory = "flour"\n').ingredient("pea_flour").is_flour


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ('[[ingredient]]\nname = "x"\nfat = 120\n', "ingredient.1.fat"),
        ('[[ingredient]]\nname = "x"\nfat = -1\n', "ingredient.1.fat"),
        ('[[ingredient]]\nname = "x"\ncolour = "red"\n', "ingredient.1.colour"),
        ('[[ingredient]]\nname = ""\n', "ingredient.1.id"),
        ('[[ingredient]]\nname = "x"\nlike = "moon_dust"\n', "ingredient.1.like"),
        ('[[ingredient]]\nname = "x"\n[[ingredient]]\nname = "x"\n', "ingredient"),
        ("[[ingredient]\nname", "pantry"),
        ("[kitchen]\nroom = 20\n", "pantry"),
        ("ingredient = 3\n", "pantry"),
        ('[[ingredient]]\nname = "x"\ncup_g = 0\n', "ingredient.1.cup_g"),
    ],
)
def test_a_file_that_cannot_be_used_is_refused_with_field_and_remedy(text: str, field: str) -> None:
    with pytest.raises(Refusal) as caught:
        read_own(text)
    fields = [complaint.field for complaint in caught.value.complaints]
    assert field in fields
    assert all(complaint.problem and complaint.remedy for complaint in caught.value.complaints)


@given(st.text(max_size=200))
def test_any_text_is_a_pantry_or_a_refusal(text: str) -> None:
    with contextlib.suppress(Refusal):
        assert isinstance(read_own(text), Pantry)


def test_a_pantry_knows_own_and_built_in() -> None:
    own = read_own('[[ingredient]]\nname = "x1"\n')
    assert own.knows("x1")
    assert own.knows("honey")
    assert not own.knows("moon_dust")
