"""Built-in ingredients: what 100 g of each holds. A missing figure is None (unknown), never zero.

Three tables of facts lie in `data/`: composition.csv (USDA SR28 rows by NDB number, and rows derived from
them or from memory, each marked), kinds.csv (our short name, category, flour share and allergens, common
knowledge of the trade) and remembered.csv (ingredients outside the USDA extract, all from memory).
"""

import csv
from functools import cache
from importlib.resources import files
from typing import Literal, get_args

from oventide.errors import refuse
from oventide.formula.model import Frozen
from oventide.units.estimate import Grade

Category = Literal[
    "flour", "sugar", "fat", "dairy", "egg", "yeast", "leavening", "salt", "spice", "nut", "seed", "fruit",
    "vegetable", "cheese", "meat", "chocolate", "liquid", "starch", "other",
]  # fmt: skip
CATEGORIES: tuple[Category, ...] = get_args(Category)

SALT_PER_SODIUM = 2.5
"""Salt declared on a label = sodium × 2.5 (EU Regulation 1169/2011, Annex I)."""


class Ingredient(Frozen):
    """One ingredient. Figures are g per 100 g, energy in kcal per 100 g; None means not known.

    `flour_share` is the flour in 100 g that counts in baker's percentages (100 for flours, 50 for a starter of
    equal flour and water). An allergen that ends in "?" depends on the maker: read the packet.
    """

    id: str
    name: str
    category: Category
    usda: str = ""
    water: float | None = None
    energy: float | None = None
    protein: float | None = None
    fat: float | None = None
    saturates: float | None = None
    carbohydrate: float | None = None
    """By difference: sugars, starch and fibre together, as the USDA counts."""
    sugars: float | None = None
    fibre: float | None = None
    starch: float | None = None
    sucrose: float | None = None
    lactose: float | None = None
    salt: float | None = None
    ash: float | None = None
    alcohol: float | None = None
    flour_share: float = 0.0
    allergens: tuple[str, ...] = ()
    note: str = ""
    source: str = ""
    grade: Grade = "remembered"

    @property
    def is_flour(self) -> bool:
        """Whether all of it counts as flour in baker's percentages."""
        return self.flour_share == 100.0


_COLUMNS = {
    "water": "water_g",
    "energy": "energy_kcal",
    "protein": "protein_g",
    "fat": "fat_g",
    "saturates": "sat_fat_g",
    "carbohydrate": "carbs_g",
    "sugars": "sugars_g",
    "fibre": "fibre_g",
    "starch": "starch_g",
    "sucrose": "sucrose_g",
    "lactose": "lactose_g",
    "ash": "ash_g",
    "alcohol": "alcohol_g",
}
_GRADES: dict[str, Grade] = {"READ": "read", "DERIVED": "fitted", "FROM MEMORY": "remembered"}
_SOURCES = {"READ": "usda-sr28", "DERIVED": "derived-composition", "FROM MEMORY": "remembered-composition"}
_DOUBTED: dict[str, tuple[str, ...]] = {
    # The source files all carbohydrate of these syrups under sugars; a DE 42 syrup holds about a third of that.
    "glucose_syrup_corn_light": ("sugars",),
    "syrup_corn_dark": ("sugars",),
    # 28.4 g saturates in 29.7 g fat is not plausible for a hazelnut spread.
    "choc_hazelnut_spread": ("saturates",),
    # 6.8 g sugars is several times what other cereals hold; its parts are doubted with it.
    "flour_spelt_whole_grain": ("sugars", "sucrose", "lactose"),
    # Acid counted as carbohydrate by difference.
    "cream_of_tartar": ("carbohydrate",),
}


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """Rows of a table in `data/`, read once."""
    text = files("oventide.pantry").joinpath("data", f"{name}.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def _figure(text: str | None) -> float | None:
    return float(text) if text else None


def _allergens(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _ingredient(kind: dict[str, str], row: dict[str, str], source: str, grade: Grade) -> Ingredient:
    figures = {field: _figure(row.get(column)) for field, column in _COLUMNS.items()}
    for field in _DOUBTED.get(kind["id"], ()):
        figures[field] = None
    sodium_mg = _figure(row.get("sodium_mg"))
    category = kind["category"]
    if category not in CATEGORIES:
        raise ValueError(f"{kind['id']}: {category!r} is no category of the pantry")
    usda = row.get("usda_id", "")
    return Ingredient(
        id=kind["id"],
        name=kind["shown"],
        category=category,
        usda=usda if usda.startswith("NDB") else "",
        salt=None if sodium_mg is None else sodium_mg * SALT_PER_SODIUM / 1000.0,
        flour_share=float(kind["flour_share"]),
        allergens=_allergens(kind["allergens"]),
        note=row.get("flag") or row.get("note") or "",
        source=source,
        grade=grade,
        **figures,
    )


@cache
def _by_id() -> dict[str, Ingredient]:
    composition = {row["id"]: row for row in table("composition")}
    found: dict[str, Ingredient] = {}
    for kind in table("kinds"):
        row = composition[kind["id"]]
        grade = _GRADES[row["read_or_memory"]]
        if grade != "read":
            row = row | {"flag": "; ".join(text for text in (row["flag"], row["source"]) if text)}
        found[kind["id"]] = _ingredient(kind, row, _SOURCES[row["read_or_memory"]], grade)
    for row in table("remembered"):
        found[row["id"]] = _ingredient(row, row, "remembered-composition", "remembered")
    return found


def everything() -> tuple[Ingredient, ...]:
    """Every built-in ingredient."""
    return tuple(_by_id().values())


def known(ingredient_id: str) -> bool:
    """Whether the built-in pantry has this id."""
    return ingredient_id in _by_id()


def ingredient(ingredient_id: str) -> Ingredient:
    """The built-in ingredient of this id.

    >>> butter = ingredient("butter_unsalted")
    >>> butter.water, butter.fat, butter.usda, butter.allergens
    (17.94, 81.11, 'NDB 01145', ('milk',))
    """
    try:
        return _by_id()[ingredient_id]
    except KeyError:
        raise refuse(
            "ingredient",
            ingredient_id,
            "This ingredient is not in the pantry.",
            "Choose one of the names that are offered, or add your own ingredient with its figures.",
        ) from None
