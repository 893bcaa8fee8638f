"""Spoons, cups, eggs and household weights.

A household weight is met where the published figure lies in our range: ours is then that figure, and otherwise the
nearer end of our range.
"""

from oventide.formula.model import Measures
from oventide.pantry.weights import weigh
from oventide.units.measure import grams_per, millilitres_per
from oventide.units.temperature import celsius_from_fahrenheit, celsius_step_from_fahrenheit_step
from validation.model import Check

US = Measures(spoons="us", eggs="us_large")
MEDIUM = Measures(spoons="us", eggs="eu_m")

Row = tuple[str, float, str, str, str, float]
USDA: tuple[Row, ...] = (
    ("cinnamon, teaspoon", 1, "tsp", "cinnamon_ground", "", 2.6),
    ("cinnamon, tablespoon", 1, "tbsp", "cinnamon_ground", "", 7.8),
    ("salt, teaspoon", 1, "tsp", "salt_table", "", 6.0),
    ("sugar, teaspoon", 1, "tsp", "sugar_granulated", "", 4.2),
    ("sugar, cup", 1, "cup", "sugar_granulated", "", 200),
    ("brown sugar, packed cup", 1, "cup", "sugar_brown", "packed", 220),
    ("icing sugar, cup", 1, "cup", "sugar_icing", "", 120),
    ("butter, tablespoon", 1, "tbsp", "butter_unsalted", "", 14.2),
    ("cardamom, teaspoon", 1, "tsp", "cardamom", "", 2.0),
    ("baking soda, teaspoon", 1, "tsp", "baking_soda", "", 4.6),
)
MILITARY: tuple[Row, ...] = (
    ("sugar, cup", 1, "cup", "sugar_granulated", "", 198.4),
    ("bread flour, sifted cup", 1, "cup", "flour_bread_unenriched", "sifted", 113.4),
    ("dry milk, cup", 1, "cup", "milk_dry_skim", "", 126.0),
    ("salt, tablespoon", 1, "tbsp", "salt_table", "", 18.2),
    ("active dry yeast, cup", 1, "cup", "yeast_active_dry", "", 151.2),
)
LIGHT: tuple[Row, ...] = (
    ("water, cup", 1, "cup", "water_tap", "", 226.8),
    ("egg, cup", 1, "cup", "egg_whole", "", 226.8),
    ("shortening, cup", 1, "cup", "shortening_veg", "", 196.6),
)


def _nearest(row: Row) -> float:
    _, amount, unit, name, preparation, published = row
    found = weigh(amount, unit, name, US, preparation=preparation).grams
    return min(max(published, found.low), found.high)


def _weights(name: str, what: str, source: str, where: str, rows: tuple[Row, ...], miss: str = "") -> Check:
    return Check(
        id=f"measures.{name}",
        room="formula",
        what=what,
        source=source,
        where=where,
        published=tuple(row[-1] for row in rows),
        ours=lambda: [_nearest(row) for row in rows],
        unit="g",
        tolerance=0.05,
        blind=True,
        kind="curve",
        x=tuple(float(at + 1) for at in range(len(rows))),
        x_name="measure",
        labels=tuple(row[0] for row in rows),
        miss=miss,
    )


def _egg(part: str, measures: Measures) -> float:
    return weigh(1, None, part, measures).grams.likely


def _nearest_egg(part: str, published: float) -> float:
    found = weigh(1, None, part, US).grams
    return min(max(published, found.low), found.high)


def _least_eggs() -> list[float]:
    """Content of the least egg of each American class, or the nearest point of our range to it."""
    near = []
    for size, ounces in (("us_medium", 21), ("us_large", 24), ("us_extra_large", 27), ("us_jumbo", 30)):
        found = weigh(1, None, "egg_whole", Measures.model_validate({"spoons": "us", "eggs": size})).grams
        content = 0.89 * ounces * (grams_per("oz") or 0.0) / 12
        near.append(min(max(content, found.low), found.high))
    return near


def _european() -> list[float]:
    ends = []
    for size in ("eu_m", "eu_l"):
        found = weigh(1, None, "egg_whole", Measures.model_validate({"spoons": "us", "eggs": size})).grams
        ends += [found.low / 0.89, found.high / 0.89]
    return ends


CHECKS = (
    Check(
        "measures.spoons", "formula", "spoons and cups of several countries", "spoon-tables",
        "a note reckoned with a units program (US), a recipe writer's table (Australia), old imperial spoons",
        (236.588, 14.787, 4.929, 250, 20, 5, 15, 17.758, 5.919),
        lambda: [
            millilitres_per("cup", "us"), millilitres_per("tbsp", "us"), millilitres_per("tsp", "us"),
            millilitres_per("cup", "au"), millilitres_per("tbsp", "au"), millilitres_per("tsp", "au"),
            millilitres_per("tbsp", "metric"), millilitres_per("tbsp", "imperial"), millilitres_per("tsp", "imperial"),
        ],
        "mL", 6e-4, True, kind="curve", x=tuple(range(1, 10)), x_name="measure",
        labels=("US cup", "US tablespoon", "US teaspoon", "Australian cup", "Australian tablespoon",
                "Australian teaspoon", "metric tablespoon", "imperial tablespoon", "imperial teaspoon"),
    ),
    Check(
        "measures.australian-tablespoons", "formula", "two Australian tablespoons in American ones", "spoon-tables",
        "recipe writer: 40 mL", (2.705,), lambda: 2 * millilitres_per("tbsp", "au") / millilitres_per("tbsp", "us"),
        "tablespoons", 1e-3, True,
    ),
    Check(
        "measures.ten-ounces", "formula", "10 oz", "lean-worksheets", "worksheet, by a factor of 28.35", (283.5,),
        lambda: 10 * (grams_per("oz") or 0.0), "g", 0.1, True,
    ),
    Check(
        "measures.pounds-and-ounces", "formula", "2 lb 8 oz", "lean-worksheets", "worksheet", (1134.0,),
        lambda: 2 * (grams_per("lb") or 0.0) + 8 * (grams_per("oz") or 0.0), "g", 0.5, True,
    ),
    Check(
        "measures.fahrenheit", "formula", "Fahrenheit to Celsius", "common-practice", "definition",
        (0.0, 25.556, 100.0, 176.667), lambda: [celsius_from_fahrenheit(f) for f in (32.0, 78.0, 212.0, 350.0)],
        "°C", 1e-3, True, kind="curve", x=(32, 78, 212, 350), x_name="°F",
    ),
    Check(
        "measures.fahrenheit-step", "formula", "a friction of 35 °F as a step", "common-practice", "definition",
        (19.444,), lambda: celsius_step_from_fahrenheit_step(35.0), "K", 1e-3, True,
    ),
    _weights("usda", "household weights", "usda-sr28", "household measures; from memory but for cinnamon", USDA),
    _weights("military", "weights printed beside volumes", "armed-forces-d036", "card D-036", MILITARY),
    _weights(
        "pint-a-pound", "weights printed beside volumes, by a pint's a pound", "armed-forces-d036", "card D-036", LIGHT,
        miss="The card takes 8 oz to a cup of water and of egg, below any true density: 2.7 and 8.9 g under our range; "
        "its shortening lies 2.2 g under it.",
    ),
    Check(
        "measures.egg-classes", "formula", "least and greatest egg in shell of the European classes M and L",
        "ec-589-2008", "article 4; content is 89 % by egg-composition-page", (53.0, 63.0, 63.0, 73.0), _european,
        "g", 0.01, False, kind="curve", x=(1, 2, 3, 4), x_name="end",
        labels=("M, least", "M, greatest", "L, least", "L, greatest"),
    ),
    Check(
        "measures.egg-58-g", "formula", "content of a 58 g egg: whole, white, yolk", "egg-composition-page", "table",
        (51.6, 33.6, 18.0), lambda: [_egg(part, MEDIUM) for part in ("egg_whole", "egg_white", "egg_yolk")],
        "g", 0.6, True, kind="curve", x=(1, 2, 3), x_name="part", labels=("whole", "white", "yolk"),
        note="Our yolk hardly grows with the egg.",
    ),
    Check(
        "measures.egg-us-large", "formula", "content of a large American egg: whole, white, yolk", "usda-sr28",
        "NDB 01123, 01124, 01125", (50.0, 33.0, 17.0),
        lambda: [_egg(part, US) for part in ("egg_whole", "egg_white", "egg_yolk")],
        "g", 0.6, False, kind="curve", x=(1, 2, 3), x_name="part", labels=("whole", "white", "yolk"),
    ),
    Check(
        "measures.egg-us-least", "formula", "content of the least egg of each American class, within our range",
        "egg-us-classes", "least net ounces a dozen, 89 % of it content",
        tuple(round(0.89 * ounces * 28.349523125 / 12, 2) for ounces in (21, 24, 27, 30)), _least_eggs, "g", 0.05, True,
        kind="curve", x=(21, 24, 27, 30), x_name="oz a dozen",
    ),
    Check(
        "measures.egg-canadian-white", "formula", "white of an egg by a Canadian course's counts", "bc-ingredients",
        "course cards: 47 g whole, 28 g white, 19 g yolk", (28.0,), lambda: _nearest_egg("egg_white", 28.0), "g", 0.05,
        True, miss="Our range for a large egg's white begins 0.9 g higher; the card's whole egg and yolk lie in ours.",
    ),
)  # fmt: skip
