"""Grams from amounts: exact masses, ranges of spoons and counts, and a sentence for each."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.formula.model import EGG_CLASSES, Measures
from oventide.pantry.ingredients import everything
from oventide.pantry.own import read_own
from oventide.pantry.weights import egg_class, weigh
from oventide.units.measure import COUNTED, COUNTRIES, GRAMS, MILLILITRES

METRIC = Measures()
US = Measures(spoons="us", eggs="us_large")
AU = Measures(spoons="au")
IDS = [item.id for item in everything()]
UNITS = [None, *GRAMS, *MILLILITRES, *sorted(COUNTED), "bushel"]


def grams(amount: float, unit: str | None, ingredient_id: str, measures: Measures = METRIC, preparation: str = ""):
    return weigh(amount, unit, ingredient_id, measures, preparation=preparation).grams


def test_a_mass_is_exact_and_needs_no_assumption() -> None:
    found = weigh(2, "lb", "butter_unsalted", METRIC)
    assert found.grams is not None
    assert found.grams.is_certain
    assert found.grams.likely == pytest.approx(907.18474)
    assert found.assumed == ()


def test_a_mass_needs_no_known_ingredient() -> None:
    assert weigh(12, "g", None, METRIC).grams.likely == 12


def test_the_flour_cup_carries_its_range_and_says_so() -> None:
    found = weigh(1, "cup", "flour_ap_unenriched", METRIC)
    assert found.grams is not None
    # common practice, no source: recipes state 120 to 150 g for a cup.
    assert 115 < found.grams.low < found.grams.likely < found.grams.high < 155
    assert "1 metric cup = 250 mL" in found.assumed[0]
    assert "g/mL" in found.assumed[0]


def test_spoons_differ_by_country() -> None:
    weights = [grams(1, "tbsp", "sugar_granulated", Measures(spoons=country)).likely for country in COUNTRIES]
    by_country = dict(zip(COUNTRIES, weights, strict=True))
    assert by_country["us"] < by_country["metric"] < by_country["imperial"] < by_country["au"]
    assert by_country["au"] / by_country["metric"] == pytest.approx(20 / 15)


@pytest.mark.parametrize(
    ("ingredient_id", "less", "more"),
    [
        ("sugar_icing", "sifted", "unsifted"), ("almonds", "ground", "whole"), ("sugar_brown", "unpacked", "packed"),
        ("cheese_cheddar", "grated", "melted"), ("flour_bread_unenriched", "sifted", ""),
        ("cinnamon_ground", "scant", "heaped"), ("sugar_granulated", "", "rounded"), ("flaxseed", "ground", "whole"),
    ],
)  # fmt: skip
def test_how_it_is_prepared_changes_the_cup(ingredient_id: str, less: str, more: str) -> None:
    light, heavy = (grams(1, "tbsp", ingredient_id, US, word) for word in (less, more))
    assert light.likely < heavy.likely


@pytest.mark.parametrize("size", EGG_CLASSES)
def test_an_egg_is_its_white_and_its_yolk(size) -> None:
    measures = Measures(eggs=size)
    whole, yolk, white = (grams(3, None, part, measures) for part in ("egg_whole", "egg_yolk", "egg_white"))
    assert whole.likely == pytest.approx(yolk.likely + white.likely)
    assert whole.low < whole.likely < whole.high


def test_the_yolk_does_not_grow_with_the_egg() -> None:
    assert grams(1, None, "egg_yolk", Measures(eggs="eu_s")) == grams(1, None, "egg_yolk", Measures(eggs="eu_xl"))


@pytest.mark.parametrize(
    ("word", "stated", "meant"),
    [
        ("large", "eu_m", "eu_l"), ("large", "us_medium", "us_large"), ("small", "eu_m", "eu_s"),
        ("extra-large", "us_large", "us_extra_large"), ("", "eu_s", "eu_s"), ("beaten", "eu_l", "eu_l"),
        ("medium", "eu_l", "eu_m"),
    ],
)  # fmt: skip
def test_a_large_egg_is_another_class_in_another_country(word: str, stated, meant: str) -> None:
    assert egg_class(word, stated) == meant


@pytest.mark.parametrize(
    ("amount", "unit", "ingredient_id", "low", "high"),
    [
        (1, "stick", "butter_unsalted", 113, 114), (1, "packet", "yeast_active_dry", 7, 8),
        (1, "pinch", "salt_table", 0.2, 0.5), (1, "zest_of", "lemon_zest", 2, 8),
        (1, "juice_of", "lemon_juice", 30, 60),
        (2, "clove", "garlic_raw", 4, 12), (1, "piece", "vanilla_pod", 2, 5), (1, None, "banana_raw", 101, 136),
        (1, None, "onion_raw", 90, 140), (1, None, "potato_raw", 170, 260), (1, "knob", "butter_unsalted", 10, 25),
        (1, "sprig", "thyme_fresh", 0.4, 1.5), (1, "tin", "milk_condensed_sweet", 370, 410),
    ],
)  # fmt: skip
def test_counts(amount: float, unit: str | None, ingredient_id: str, low: float, high: float) -> None:
    found = grams(amount, unit, ingredient_id)
    assert (found.low, found.high) == (pytest.approx(low), pytest.approx(high))


def test_a_size_word_picks_the_row_of_that_size() -> None:
    small, plain, large = (grams(1, None, "onion_raw", METRIC, word) for word in ("small", "", "large"))
    assert small.likely == 70
    assert plain.likely == 110
    assert large.likely == 150


def test_a_cake_of_yeast_differs_by_country() -> None:
    assert grams(1, "packet", "yeast_fresh", US).likely == 17
    assert grams(1, "packet", "yeast_fresh", METRIC).likely == 42


@pytest.mark.parametrize(
    ("amount", "unit", "ingredient_id"),
    [
        (1, "bunch", "flour_ap_unenriched"), (1, "cup", "food_colour"), (2, None, "flour_ap_unenriched"),
        (1, "bushel", "sugar_granulated"), (1, "cup", None), (None, "g", "salt_table"), (0, "g", "salt_table"),
        (-3, "g", "salt_table"), (float("nan"), "g", "salt_table"), (float("inf"), "g", "salt_table"),
    ],
)  # fmt: skip
def test_what_is_not_known_has_no_weight_and_says_why(amount, unit, ingredient_id) -> None:
    found = weigh(amount, unit, ingredient_id, METRIC)
    assert found.grams is None
    assert found.assumed


def test_a_written_range_of_amounts_widens_the_weight() -> None:
    found = weigh(2, "g", "salt_table", METRIC, amount_high=3).grams
    assert (found.low, found.likely, found.high) == (2, 2.5, 3)


@given(
    st.sampled_from(IDS), st.sampled_from(UNITS), st.floats(0.01, 1000), st.sampled_from(COUNTRIES),
    st.sampled_from(EGG_CLASSES), st.sampled_from(["", "sifted", "large", "heaped", "ground", "packed, heaped"]),
)  # fmt: skip
def test_a_weight_is_above_zero_or_unknown_and_grows_with_the_amount(
    ingredient_id: str, unit: str | None, amount: float, country, eggs, preparation: str
) -> None:
    measures = Measures(spoons=country, eggs=eggs)
    found = weigh(amount, unit, ingredient_id, measures, preparation=preparation)
    if found.grams is None:
        assert found.assumed
        return
    assert 0 <= found.grams.low <= found.grams.likely <= found.grams.high
    assert found.grams.likely > 0
    double = weigh(2 * amount, unit, ingredient_id, measures, preparation=preparation).grams
    assert double.likely == pytest.approx(2 * found.grams.likely)
    if unit not in GRAMS:
        assert found.assumed


def test_own_packets_override_cups_pieces_and_packets() -> None:
    own = read_own(
        '[[ingredient]]\nname = "Quay flour"\nlike = "flour_bread_unenriched"\ncup_g = 120\npacket_g = 1500\n'
        '[[ingredient]]\nname = "Quay egg"\nlike = "egg_whole"\n'
    )
    cup = weigh(1, "cup", "quay_flour", US, pantry=own)
    assert cup.grams.likely == pytest.approx(120)
    assert "your own" in cup.assumed[0]
    assert weigh(2, "packet", "quay_flour", US, pantry=own).grams.likely == 3000
    # What the packet does not say comes from the ingredient that it is like.
    assert weigh(1, "tsp", "quay_egg", US, pantry=own).grams is not None
    assert weigh(1, None, "quay_egg", US, pantry=own).grams.likely == 50


def test_an_australian_tablespoon_of_cinnamon() -> None:
    """10.55 g: arithmetic on USDA's 2.6 g to 4.929 mL."""
    assert grams(1, "tbsp", "cinnamon_ground", AU).likely == pytest.approx(10.55, abs=0.05)
