"""What a component is made of, by balance over its lines."""

from collections.abc import Iterable

from oventide.evidence.parameters import load
from oventide.formula.model import Frozen, Line
from oventide.pantry import ingredients
from oventide.pantry.ingredients import Ingredient
from oventide.pantry.own import Pantry


class Composition(Frozen):
    """Masses in a component [g], likely values. Unknown contributions are named in `unknown`, never silently zero.

    `water_g` is all water, the flour's own moisture included (physics wants that); `added_water_g` is the water
    that a baker counts (everything but the flour's own), split by where it comes from.
    """

    mass_g: float
    flour_g: float
    water_g: float
    added_water_g: float
    water_from_liquid_g: float
    """water, juice, plant drinks …"""
    water_from_egg_g: float
    water_from_butter_g: float
    water_from_dairy_g: float
    water_from_other_g: float
    fat_g: float
    milk_fat_g: float
    sugars_g: float
    sucrose_g: float
    """Sucrose, known or taken (granulated, icing, brown sugar); each counts as two osmoles in yeasted dough."""
    lactose_g: float
    starch_g: float
    """Carbohydrate that is neither sugar nor fibre."""
    fibre_g: float
    protein_g: float
    milk_protein_g: float
    egg_g: float
    salt_g: float
    ash_g: float
    alcohol_g: float
    yeast_dry_matter_g: float
    yeast_kind: str
    """"instant", "active_dry", "fresh", "mixed" or "none"."""
    spice_g: float
    """Cinnamon and other spices that slow yeast."""
    unknown: tuple[str, ...] = ()
    """Sentences: which line lacks which figure."""


SLOW_SPICES = frozenset(
    (
        "cinnamon_ground",
        "cinnamon_stick",
        "cinnamon_sugar_9_1",
        "cloves_ground",
        "allspice",
        "mixed_spice",
        "pumpkin_pie_spice",
        "mustard_powder",
    )
)
"""Spices that slow yeast. Cardamom, ginger and nutmeg are not among them: small doses were seen to speed it."""

_SPICE_SHARE = {"cinnamon_sugar_9_1": 0.1}
_SUMS = (
    "flour", "water", "added_water", "water_from_liquid", "water_from_egg", "water_from_butter", "water_from_dairy",
    "water_from_other", "fat", "milk_fat", "sugars", "sucrose", "lactose", "starch", "fibre", "protein",
    "milk_protein", "egg", "salt", "ash", "alcohol", "yeast_dry_matter", "spice",
)  # fmt: skip
_NEEDED = ("water", "fat", "sugars", "protein", "carbohydrate", "fibre", "salt")
_YEAST_KINDS = {
    "yeast_fresh": "fresh",
    "yeast_liquid": "fresh",
    "yeast_active_dry": "active_dry",
    "yeast_instant_dry": "instant",
    "yeast_osmotolerant": "instant_osmotolerant",
}


def ingredient_of(line: Line, pantry: Pantry | None = None) -> Ingredient | None:
    """The ingredient of a line, own packets first; None where it was not recognised or has left the pantry."""
    if line.ingredient is None:
        return None
    if pantry is not None:
        return pantry.ingredient(line.ingredient) if pantry.knows(line.ingredient) else None
    return ingredients.ingredient(line.ingredient) if ingredients.known(line.ingredient) else None


def is_butter(item: Ingredient) -> bool:
    """Whether its fat is milk fat: butter, ghee, browned butter."""
    return item.category == "fat" and "milk" in item.allergens


def is_dairy(item: Ingredient) -> bool:
    """Milk, cream, yoghurt, cheese."""
    return item.category in ("dairy", "cheese")


def yeast_kind(item: Ingredient, pantry: Pantry | None = None) -> str:
    """The kind of a yeast, own packets by what they are like."""
    own = pantry.own_of(item.id) if pantry is not None else None
    return _YEAST_KINDS.get(own.like if own is not None and own.like else item.id, "instant")


def _lactose(item: Ingredient) -> float | None:
    """Lactose per 100 g where the table leaves it open: plain dairy has no other sugar."""
    if item.lactose is not None:
        return item.lactose
    plain = (is_dairy(item) or is_butter(item)) and item.id not in (
        "milk_condensed_sweet",
        "milk_lactose_free",
        "pastry_cream",
    )
    return item.sugars if plain else None


def _sucrose(item: Ingredient) -> float | None:
    """Sucrose per 100 g where the table leaves it open: the crystal sugars are sucrose."""
    if item.sucrose is not None:
        return item.sucrose
    if item.id.startswith(("sugar_", "sprinkles")) or (item.category == "sugar" and (item.water or 100.0) < 0.2):
        return None if item.id.startswith("dextrose") else item.sugars
    return None


def _own_moisture(item: Ingredient) -> float:
    """Water per 100 g that is the flour's own, which bakers do not count."""
    if item.is_flour:
        return item.water or 0.0
    if not item.flour_share:
        return 0.0
    # The share counts flour as weighed, its moisture in it.
    return item.flour_share * load("formula").value("flour.moisture") / 100.0


def _water_source(item: Ingredient) -> str:
    if item.category == "egg":
        return "egg"
    if item.category == "fat":
        return "butter"
    if is_dairy(item):
        return "dairy"
    return "liquid" if item.category == "liquid" or item.id == "sourdough_starter_100" else "other"


def _missing(item: Ingredient) -> list[str]:
    return [name for name in _NEEDED if getattr(item, name) is None]


def _salt(item: Ingredient, grams: float) -> float:
    """Salt itself [g]. The label's sodium × 2.5 would make 98 g of 100 g of salt; salt of the salt cellar is salt.

    The sodium of raising agents is no salt to yeast or taste.
    """
    if item.category == "leavening":
        return 0.0
    if item.category == "salt":
        return grams * (100.0 - (item.water or 0.0)) / 100.0
    return grams * item.salt / 100.0 if item.salt is not None else 0.0


def _contribution(item: Ingredient, grams: float) -> dict[str, float]:
    """What `grams` of an ingredient bring to each mass of a composition [g]; unknown figures bring nothing."""

    def of(figure: float | None) -> float:
        return grams * figure / 100.0 if figure is not None else 0.0

    water, own = of(item.water), of(_own_moisture(item))
    added = max(water - own, 0.0)
    milk = is_butter(item) or is_dairy(item)
    starch = 0.0
    if item.carbohydrate is not None:
        # Sugars that are not known stay here: the mass is there, whatever it is made of.
        starch = max(of(item.carbohydrate) - of(item.sugars) - of(item.fibre), 0.0)
    lactose = _lactose(item)
    found = {
        "flour": of(item.flour_share),
        "water": water,
        "added_water": added,
        f"water_from_{_water_source(item)}": added,
        "fat": of(item.fat),
        "milk_fat": of(item.fat) if milk else 0.0,
        "sugars": of(item.sugars),
        "sucrose": of(_sucrose(item)),
        "lactose": of(lactose),
        "starch": starch,
        "fibre": of(item.fibre),
        "protein": of(item.protein),
        "milk_protein": of(item.protein) if milk else 0.0,
        "egg": grams if item.category == "egg" and (item.water or 0.0) > 10.0 else 0.0,
        "salt": _salt(item, grams),
        "ash": of(item.ash if item.ash is not None else item.salt),
        "alcohol": of(item.alcohol),
        "spice": grams * _SPICE_SHARE.get(item.id, 1.0) if item.id in SLOW_SPICES else 0.0,
    }
    if item.category == "yeast" and item.water is not None:
        found["yeast_dry_matter"] = grams - water
    return found


def compose(lines: Iterable[Line], pantry: Pantry | None = None) -> Composition:
    """Masses in a component by balance over its lines: Σ m·x/100, likely weights.

    What is not known adds nothing and is named in `unknown`: a line without a weight, a line whose ingredient was
    not recognised (its weight still counts in `mass_g`), a figure that the ingredient's row lacks. Two figures are
    not asked for line by line: ash, taken as the salt where a row has none, and alcohol, which a row has only
    where there is some. All fat of the fat category carries its water as "butter" water.

    >>> from oventide.units.estimate import Estimate
    >>> def of(name, grams):
    ...     return Line(text=name, name=name, ingredient=name, grams=Estimate.certain(grams))
    >>> dough = compose([of("flour_bread_unenriched", 500), of("milk_whole_unfort", 250), of("butter_unsalted", 90)])
    >>> round(dough.added_water_g, 1), round(dough.water_from_dairy_g, 1), round(dough.water_from_butter_g, 1)
    (236.5, 220.3, 16.1)
    """
    sums: dict[str, float] = {}
    mass = 0.0
    unknown: list[str] = []
    kinds: set[str] = set()
    for line in lines:
        if line.grams is None:
            unknown.append(f"“{line.text.strip()}” has no weight: it is left out.")
            continue
        grams = line.grams.likely
        mass += grams
        item = ingredient_of(line, pantry)
        if item is None:
            unknown.append(f"“{line.text.strip()}” was not recognised: of its {grams:g} g only the weight counts.")
            continue
        missing = _missing(item)
        if missing:
            unknown.append(f"“{line.text.strip()}” ({item.name}): {', '.join(missing)} not known and not counted.")
        for name, value in _contribution(item, grams).items():
            sums[name] = sums.get(name, 0.0) + value
        if item.category == "yeast":
            kinds.add(yeast_kind(item, pantry))
    kind = "none" if not kinds else kinds.pop() if len(kinds) == 1 else "mixed"
    masses = {f"{name}_g": sums.get(name, 0.0) for name in _SUMS}
    return Composition(mass_g=mass, yeast_kind=kind, unknown=tuple(unknown), **masses)
