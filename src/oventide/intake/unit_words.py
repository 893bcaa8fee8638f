"""Words of amounts: containers, spellings of units, qualifiers, number words."""

from oventide.units.number import WORDS

CONTAINERS: dict[str, str] = {
    **dict.fromkeys(("tin", "tins", "can", "cans"), "tin"),
    **dict.fromkeys(
        (
            "packet", "packets", "pkt", "pack", "packs", "package", "packages", "pkg", "pkgs", "sachet", "sachets",
            "envelope", "envelopes", "block", "blocks", "tub", "tubs", "jar", "jars", "bag", "bags", "box", "boxes",
            "carton", "cartons", "bottle", "bottles", "cube", "cubes", "cake", "cakes", "container", "containers",
            "bar", "bars", "tube", "tubes", "brick", "pot", "pots",
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
    "percent": "%",
}  # fmt: skip


QUALIFIERS = frozenset(
    [
        "about",
        "approx",
        "approximately",
        "around",
        "circa",
        "ca",
        "roughly",
        "nearly",
        "almost",
        "heaped",
        "heaping",
        "rounded",
        "scant",
        "level",
        "generous",
        "generously",
        "good",
        "big",
        "small",
        "large",
        "medium",
        "full",
        "overflowing",
        "bare",
        "barely",
        "very",
        "brimming",
    ]
)

SHOWN_QUALIFIERS = frozenset(
    [
        "about",
        "approx",
        "approximately",
        "around",
        "circa",
        "ca",
        "roughly",
        "nearly",
        "almost",
        "heaped",
        "heaping",
        "rounded",
        "scant",
        "level",
        "generous",
        "bare",
        "barely",
        "brimming",
        "overflowing",
    ]
)

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
