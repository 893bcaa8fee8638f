"""Mass and volume units, exact factors, and spoons and cups by country.

Factors are exact by definition (international pound 453.59237 g, international inch 25.4 mm, US liquid
gallon 231 cubic inches, imperial gallon 4.54609 L), the metric and Australian spoons by national practice.
"""

from typing import Literal, get_args

Country = Literal["us", "metric", "imperial", "au"]
"""Whose cups and spoons: US customary, metric (250/15/5 mL), old imperial, Australian (250/20/5 mL)."""

COUNTRIES: tuple[Country, ...] = get_args(Country)

GRAMS: dict[str, float] = {
    "mg": 0.001,
    "g": 1.0,
    "kg": 1000.0,
    "oz": 28.349523125,
    "lb": 453.59237,
}

_US_FL_OZ = 29.5735295625
_IMPERIAL_FL_OZ = 28.4130625


def _of_fluid_ounces(us: int, imperial: int) -> dict[Country, float]:
    """A unit counted in fluid ounces: the US one in the US, the imperial one everywhere else."""
    rest = imperial * _IMPERIAL_FL_OZ
    return {"us": us * _US_FL_OZ, "metric": rest, "imperial": rest, "au": rest}


MILLILITRES: dict[str, dict[Country, float]] = {
    "ml": dict.fromkeys(COUNTRIES, 1.0),
    "cl": dict.fromkeys(COUNTRIES, 10.0),
    "dl": dict.fromkeys(COUNTRIES, 100.0),
    "l": dict.fromkeys(COUNTRIES, 1000.0),
    "cup": {"us": 8 * _US_FL_OZ, "metric": 250.0, "imperial": 10 * _IMPERIAL_FL_OZ, "au": 250.0},
    "tbsp": {"us": _US_FL_OZ / 2, "metric": 15.0, "imperial": _IMPERIAL_FL_OZ * 5 / 8, "au": 20.0},
    "dsp": {"us": _US_FL_OZ / 3, "metric": 10.0, "imperial": _IMPERIAL_FL_OZ * 5 / 12, "au": 10.0},
    "tsp": {"us": _US_FL_OZ / 6, "metric": 5.0, "imperial": _IMPERIAL_FL_OZ * 5 / 24, "au": 5.0},
    "fl_oz": _of_fluid_ounces(us=1, imperial=1),
    "pint": _of_fluid_ounces(us=16, imperial=20),
    "quart": _of_fluid_ounces(us=32, imperial=40),
    "gallon": _of_fluid_ounces(us=128, imperial=160),
    "drop": dict.fromkeys(COUNTRIES, 0.05),
}

COUNTED: frozenset[str] = frozenset(
    {
        "piece", "stick", "packet", "pinch", "dash", "smidgen", "handful", "knob", "clove", "sprig", "leaf", "sheet",
        "tin", "slice", "bunch", "zest_of", "juice_of",
    }
)  # fmt: skip
"""Units that are counted or judged by hand; the pantry turns them into grams with a range."""

_WORDS_OF_UNIT: dict[str, str] = {
    "mg": "mg milligram milligrams",
    "g": "g gm gms gr gram grams gramme grammes",
    "kg": "kg kgs kilo kilos kilogram kilograms",
    "oz": "oz ozs ounce ounces",
    "lb": "lb lbs pound pounds",
    "ml": "ml mls cc millilitre millilitres milliliter milliliters",
    "cl": "cl centilitre centilitres",
    "dl": "dl decilitre decilitres deciliter deciliters",
    "l": "l lt ltr litre litres liter liters",
    "cup": "cup cups c",
    "tbsp": "tbsp tbsps tbs tbl tblsp tablespoon tablespoons tablespoonful tablespoonfuls T",
    "dsp": "dsp dessertspoon dessertspoons",
    "tsp": "tsp tsps teaspoon teaspoons teaspoonful teaspoonfuls t",
    "fl_oz": "fl_oz floz",
    "pint": "pint pints pt",
    "quart": "quart quarts qt",
    "gallon": "gallon gallons gal",
    "drop": "drop drops",
    "stick": "stick sticks",
    "packet": "packet packets pkt pack package packages sachet sachets envelope envelopes",
    "pinch": "pinch pinches",
    "dash": "dash dashes",
    "smidgen": "smidgen smidgens",
    "handful": "handful handfuls",
    "knob": "knob knobs",
    "clove": "clove cloves",
    "sprig": "sprig sprigs",
    "leaf": "leaf leaves",
    "bunch": "bunch bunches",
    "sheet": "sheet sheets",
    "slice": "slice slices",
    "tin": "tin tins can cans",
    "piece": "piece pieces",
}
UNIT_WORDS: dict[str, str] = {word: unit for unit, words in _WORDS_OF_UNIT.items() for word in words.split()}
"""Words for units as people type them. `T` and `t` keep their case; the rest is looked up in lower case."""

MILLIMETRES: dict[str, float] = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4, "″": 25.4,
}  # fmt: skip


def unit_from_word(word: str) -> str | None:
    """The canonical unit that a word names, or None.

    >>> unit_from_word("Tablespoons"), unit_from_word("T"), unit_from_word("t"), unit_from_word("bushel")
    ('tbsp', 'tbsp', 'tsp', None)
    """
    bare = word.strip().rstrip(".")
    return UNIT_WORDS.get(bare) or UNIT_WORDS.get(bare.lower())


def grams_per(unit: str) -> float | None:
    """Grams in one mass unit, or None where the unit is not a mass."""
    return GRAMS.get(unit)


def millilitres_per(unit: str, country: Country) -> float | None:
    """Millilitres in one volume unit of a country, or None where the unit is not a volume.

    >>> round(millilitres_per("tbsp", "us"), 3), millilitres_per("tbsp", "au")
    (14.787, 20.0)
    """
    by_country = MILLILITRES.get(unit)
    return None if by_country is None else by_country[country]
