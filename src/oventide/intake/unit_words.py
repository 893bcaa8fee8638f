"""Words of amounts: containers, spellings of units, qualifiers, number words."""

from oventide.units.number import WORDS

CONTAINERS: dict[str, str] = {
    **dict.fromkeys(("tin", "tins", "can", "cans"), "tin"),
    **dict.fromkeys(
        (
            "packet", "packets", "pkt", "pack", "packs", "package", "packages", "pkg", "pkgs", "sachet", "sachets",
            "envelope", "envelopes", "block", "blocks", "tub", "tubs", "jar", "jars", "bag", "bags", "box", "boxes",
            "carton", "cartons", "bottle", "bottles", "cube", "cubes", "cake", "cakes", "container", "containers",
            "bar", "bars", "tube", "tubes", "brick", "pot", "pots", "punnet", "punnets", "pck", "pk", "pks", "pkts", "sach",
        ),
        "packet",
    ),
}  # fmt: skip
"""Words for what an ingredient is sold in. Where a size stands beside it, the size is the amount."""


MORE_UNITS: dict[str, str] = {
    "grms": "g", "grm": "g", "gramm": "g", "kgm": "kg", "lbs": "lb", "#": "lb", "tblsps": "tbsp", "tbspn": "tbsp",
    "tblspn": "tbsp", "tbls": "tbsp", "tblespoon": "tbsp", "spn": "tsp", "teasp": "tsp", "tspn": "tsp", "ts": "tsp",
    "desertspoon": "dsp", "dessertspoonful": "dsp", "dspn": "dsp", "cupful": "cup", "cupfuls": "cup", "pts": "pint",
    "pinchful": "pinch", "millis": "ml", "%": "%", "el": "tbsp", "tl": "tsp", "msk": "tbsp", "tsk": "tsp",
    "percent": "%", "krm": "ml", "nos": "piece", "pcs": "piece", "pc": "piece", "ea": "piece",
}  # fmt: skip


SCALED: dict[str, tuple[str, float, str]] = {
    **dict.fromkeys(("gill", "gills"), ("pint", 0.25, "A gill is a quarter of a pint")),
    **dict.fromkeys(
        ("teacup", "teacups", "teacupful", "teacupfuls"),
        ("ml", 170.0, "A teacup taken as 170 ml (an old kitchen measure of 5 to 7 fluid ounces, common practice)"),
    ),
    **dict.fromkeys(
        ("breakfastcup", "breakfastcups", "breakfastcupful"), ("ml", 284.0, "A breakfast cup taken as half a pint")
    ),
    **dict.fromkeys(
        ("wineglass", "wineglasses", "wineglassful", "wineglassfuls"),
        ("ml", 71.0, "A wineglass taken as 71 ml (an old kitchen measure of 2 to 4 fluid ounces, common practice)"),
    ),
    **dict.fromkeys(("saltspoon", "saltspoons", "saltspoonful"), ("tsp", 0.25, "A saltspoon is a quarter teaspoon")),
    **dict.fromkeys(("katori", "katoris"), ("ml", 150.0, "A katori taken as 150 ml (common practice, 120 to 200 ml)")),
    **dict.fromkeys(("jigger", "jiggers"), ("ml", 44.0, "A jigger taken as 44 ml")),
    **dict.fromkeys(("dkg", "dag", "deka"), ("g", 10.0, "A decagram is 10 g")),
    **dict.fromkeys(
        ("spoonful", "spoonfuls", "spoon", "spoons"), ("tbsp", 1.0, "A spoonful taken as a tablespoon: weigh it")
    ),
    **dict.fromkeys(("shot", "shots"), ("ml", 30.0, "A shot taken as 30 ml (common practice, 25 to 44 ml)")),
    "ppm": ("%", 1e-4, "ppm: parts in a million of the flour"),
}
"""Measures that are told in another one: the unit, how many of it, and the sentence that says so."""

SPOONS_OF: dict[tuple[str, str], str] = {
    **{(word, spoon): "tbsp" for word in ("soup", "big") for spoon in ("spoon", "spoons", "spoonful")},
    **{(word, spoon): "tsp" for word in ("coffee", "tea", "small") for spoon in ("spoon", "spoons", "spoonful")},
    **{("table", spoon): "tbsp" for spoon in ("spoon", "spoons", "spoonful")},
    **{("dessert", spoon): "dsp" for spoon in ("spoon", "spoons", "spoonful")},
}
"""Spoons named in two words."""


_ROUGH = frozenset([
    "about", "approx", "approximately", "around", "circa", "ca", "roughly", "nearly", "almost", "heaped",
    "heaping", "rounded", "scant", "level", "generous", "overflowing", "bare", "barely", "brimming",
])  # fmt: skip

QUALIFIERS = _ROUGH | frozenset([
    "generously", "good", "big", "small", "large", "medium", "full", "very",
])  # fmt: skip

SHOWN_QUALIFIERS = _ROUGH | frozenset([
    "like", "maybe", "say", "australian", "metric", "imperial",
])  # fmt: skip

FRACTION_WORDS = {"half": 0.5, "quarter": 0.25, "third": 1 / 3, "thirds": 1 / 3, "quarters": 0.25}

NUMBER_WORDS = {word for word in WORDS if word not in {"half", "quarter", "dozen", "a", "an"}}


ALONE = frozenset(
    [
        "pinch",
        "pinches",
        "dash",
        "smidgen",
        "handful",
        "knob",
        "teaspoon",
        "tsp",
        "tablespoon",
        "tbsp",
        "cup",
        "sprig",
        "bunch",
        "drop",
        "drops",
        "teaspoonful",
        "tablespoonful",
        "dessertspoon",
    ]
)
"""Units that stand for one when no figure is in front: pinch of salt."""
