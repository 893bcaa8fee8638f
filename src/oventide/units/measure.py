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

MILLILITRES: dict[str, dict[Country, float]] = {
    "ml": dict.fromkeys(COUNTRIES, 1.0),
    "cl": dict.fromkeys(COUNTRIES, 10.0),
    "dl": dict.fromkeys(COUNTRIES, 100.0),
    "l": dict.fromkeys(COUNTRIES, 1000.0),
    "cup": {"us": 8 * _US_FL_OZ, "metric": 250.0, "imperial": 10 * _IMPERIAL_FL_OZ, "au": 250.0},
    "tbsp": {"us": _US_FL_OZ / 2, "metric": 15.0, "imperial": _IMPERIAL_FL_OZ * 5 / 8, "au": 20.0},
    "dsp": {"us": _US_FL_OZ / 3, "metric": 10.0, "imperial": _IMPERIAL_FL_OZ * 5 / 12, "au": 10.0},
    "tsp": {"us": _US_FL_OZ / 6, "metric": 5.0, "imperial": _IMPERIAL_FL_OZ * 5 / 24, "au": 5.0},
    "fl_oz": {"us": _US_FL_OZ, "metric": _IMPERIAL_FL_OZ, "imperial": _IMPERIAL_FL_OZ, "au": _IMPERIAL_FL_OZ},
    "pint": {"us": 16 * _US_FL_OZ, "metric": 20 * _IMPERIAL_FL_OZ, "imperial": 20 * _IMPERIAL_FL_OZ, "au": 20 * _IMPERIAL_FL_OZ},
    "quart": {"us": 32 * _US_FL_OZ, "metric": 40 * _IMPERIAL_FL_OZ, "imperial": 40 * _IMPERIAL_FL_OZ, "au": 40 * _IMPERIAL_FL_OZ},
    "gallon": {"us": 128 * _US_FL_OZ, "metric": 160 * _IMPERIAL_FL_OZ, "imperial": 160 * _IMPERIAL_FL_OZ, "au": 160 * _IMPERIAL_FL_OZ},
    "drop": dict.fromkeys(COUNTRIES, 0.05),
}

COUNTED: frozenset[str] = frozenset(
    {"piece", "stick", "packet", "pinch", "dash", "handful", "knob", "clove", "sprig", "leaf", "sheet", "tin", "slice", "zest_of", "juice_of", "bunch", "smidgen"}
)
"""Units that are counted or judged by hand; the pantry turns them into grams with a range."""

UNIT_WORDS: dict[str, str] = {
    "mg": "mg", "milligram": "mg", "milligrams": "mg",
    "g": "g", "gm": "g", "gms": "g", "gr": "g", "gram": "g", "grams": "g", "gramme": "g", "grammes": "g",
    "kg": "kg", "kgs": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg",
    "oz": "oz", "ozs": "oz", "ounce": "oz", "ounces": "oz",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb",
    "ml": "ml", "mls": "ml", "cc": "ml", "millilitre": "ml", "millilitres": "ml", "milliliter": "ml", "milliliters": "ml",
    "cl": "cl", "centilitre": "cl", "centilitres": "cl", "dl": "dl", "decilitre": "dl", "decilitres": "dl", "deciliter": "dl", "deciliters": "dl",
    "l": "l", "lt": "l", "ltr": "l", "litre": "l", "litres": "l", "liter": "l", "liters": "l",
    "cup": "cup", "cups": "cup", "c": "cup",
    "tbsp": "tbsp", "tbsps": "tbsp", "tbs": "tbsp", "tbl": "tbsp", "tblsp": "tbsp", "tablespoon": "tbsp", "tablespoons": "tbsp", "tablespoonful": "tbsp", "tablespoonfuls": "tbsp", "T": "tbsp",
    "dsp": "dsp", "dessertspoon": "dsp", "dessertspoons": "dsp",
    "tsp": "tsp", "tsps": "tsp", "teaspoon": "tsp", "teaspoons": "tsp", "teaspoonful": "tsp", "teaspoonfuls": "tsp", "t": "tsp",
    "fl_oz": "fl_oz", "floz": "fl_oz",
    "pint": "pint", "pints": "pint", "pt": "pint", "quart": "quart", "quarts": "quart", "qt": "quart", "gallon": "gallon", "gallons": "gallon", "gal": "gallon",
    "drop": "drop", "drops": "drop",
    "stick": "stick", "sticks": "stick",
    "packet": "packet", "packets": "packet", "pkt": "packet", "pack": "packet", "package": "packet", "packages": "packet", "sachet": "packet", "sachets": "packet", "envelope": "packet", "envelopes": "packet",
    "pinch": "pinch", "pinches": "pinch", "dash": "dash", "dashes": "dash", "smidgen": "smidgen", "smidgens": "smidgen",
    "handful": "handful", "handfuls": "handful", "knob": "knob", "knobs": "knob",
    "clove": "clove", "cloves": "clove", "sprig": "sprig", "sprigs": "sprig", "leaf": "leaf", "leaves": "leaf", "bunch": "bunch", "bunches": "bunch",
    "sheet": "sheet", "sheets": "sheet", "slice": "slice", "slices": "slice", "tin": "tin", "tins": "tin", "can": "tin", "cans": "tin",
    "piece": "piece", "pieces": "piece",
}  # fmt: skip
"""Words for units as people type them. `T` and `t` keep their case; everything else is looked up in lower case."""

MILLIMETRES: dict[str, float] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4, "″": 25.4}


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
