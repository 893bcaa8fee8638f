"""Exact units: what is typed, what is counted, what is shown."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.units.estimate import Estimate, total
from oventide.units.measure import COUNTED, COUNTRIES, GRAMS, MILLILITRES, grams_per, millilitres_per, unit_from_word
from oventide.units.number import parse_number
from oventide.units.rounding import lines_to_scale, to_step
from oventide.units.temperature import celsius_from_fahrenheit, fahrenheit_from_celsius


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("1 1/2", 1.5), ("1½", 1.5), ("½", 0.5), ("1,5", 1.5), ("1.5", 1.5), ("1,250", 1250.0), ("3/4", 0.75),
        ("a", 1.0), ("dozen", 12.0), ("2⅓", 7 / 3), ("0", 0.0),
    ],
)  # fmt: skip
def test_numbers_as_people_write_them(text: str, value: float) -> None:
    assert parse_number(text) == pytest.approx(value)


@pytest.mark.parametrize("text", ["", "oven", "1/0", "x½", "--2", "1.2.3", "½½"])
def test_what_is_no_number_is_none(text: str) -> None:
    assert parse_number(text) is None


@given(st.text(max_size=30))
def test_any_text_is_a_finite_number_or_none(text: str) -> None:
    value = parse_number(text)
    assert value is None or (math.isfinite(value) and value >= 0)


@pytest.mark.parametrize(
    ("word", "unit"),
    [
        ("Grams", "g"), ("KG", "kg"), ("lbs.", "lb"), ("T", "tbsp"), ("t", "tsp"), ("tbsp.", "tbsp"), ("cc", "ml"),
        ("Litres", "l"), ("sachets", "packet"), ("sticks", "stick"), ("bushel", None), ("", None),
    ],
)  # fmt: skip
def test_words_for_units(word: str, unit: str | None) -> None:
    assert unit_from_word(word) == unit


def test_a_unit_is_a_mass_a_volume_or_a_count_and_only_one_of_them() -> None:
    kinds = [set(GRAMS), set(MILLILITRES), set(COUNTED)]
    assert sum(map(len, kinds)) == len(set().union(*kinds))
    assert all(set(by_country) == set(COUNTRIES) for by_country in MILLILITRES.values())
    assert grams_per("cup") is None
    assert millilitres_per("g", "us") is None


@given(st.floats(-60, 300))
def test_temperature_goes_there_and_back(celsius: float) -> None:
    assert celsius_from_fahrenheit(fahrenheit_from_celsius(celsius)) == pytest.approx(celsius, abs=1e-9)


@given(
    st.lists(st.floats(0.01, 5000), min_size=1, max_size=20),
    st.sampled_from([0.1, 0.5, 1.0, 2.0, 5.0]),
    st.sampled_from([0.01, 0.1, 0.5]),
)
def test_lines_shown_add_up_to_the_total_shown(grams: list[float], coarse: float, fine: float) -> None:
    shown = lines_to_scale(grams, coarse, fine, 20.0)
    for exact, seen in zip(grams, shown, strict=True):
        step = fine if exact < 20.0 else coarse
        assert abs(seen - exact) <= step + 1e-6
        assert seen / step == pytest.approx(round(seen / step), abs=1e-6)
    small = sum(1 for value in grams if value < 20.0)
    assert abs(sum(shown) - sum(grams)) <= coarse / 2 + small * fine / 2 + 1e-6


def test_a_step_rounds_halves_up() -> None:
    assert to_step(2.5, 1) == 3
    assert to_step(0.05, 0.1) == pytest.approx(0.1)


def test_an_estimate_out_of_order_is_refused() -> None:
    with pytest.raises(ValueError, match="does not hold"):
        Estimate(low=2, likely=1, high=3)
    with pytest.raises(ValueError, match="does not hold"):
        Estimate(low=math.nan, likely=1, high=3)


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 10), st.floats(0, 10)), max_size=8))
def test_a_sum_of_estimates_is_no_wider_than_the_sum_of_their_ranges(rows: list[tuple[float, float, float]]) -> None:
    parts = [Estimate(low=value, likely=value + down, high=value + down + up) for value, down, up in rows]
    found = total(parts)
    assert found.likely == pytest.approx(sum(part.likely for part in parts))
    assert found.low >= sum(part.low for part in parts) - 1e-9
    assert found.high <= sum(part.high for part in parts) + 1e-9
