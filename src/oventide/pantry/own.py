"""The baker's own ingredients and packets, which stand before the built-in ones.

[[ingredient]]
name = "Mill Lane strong white"
like = "flour_bread_unenriched"     # what it is not said about is taken from this one
names = ["house flour"]
protein = 12.8                      # g per 100 g
allergens = ["gluten (wheat)"]
cup_g = 130                         # one US cup
packet_g = 1500
"""

import tomllib
from typing import Any

from pydantic import Field, ValidationError

from oventide.errors import Complaint, Refusal, refuse
from oventide.formula.model import Frozen
from oventide.pantry import ingredients
from oventide.pantry.ingredients import Category, Ingredient

_FIGURES = (
    "water", "energy", "protein", "fat", "saturates", "carbohydrate", "sugars", "fibre", "starch", "sucrose",
    "lactose", "salt", "ash", "alcohol",
)  # fmt: skip


class OwnIngredient(Frozen):
    """An ingredient or packet of the baker's own. Figures are g per 100 g (energy kcal), as the packet says."""

    id: str = Field(pattern=r"^[a-z0-9_]{1,60}$")
    name: str = Field(min_length=1, max_length=120)
    names: tuple[str, ...] = ()
    like: str = ""
    category: Category | None = None
    flour_share: float | None = Field(default=None, ge=0, le=100)
    water: float | None = Field(default=None, ge=0, le=100)
    energy: float | None = Field(default=None, ge=0, le=900)
    protein: float | None = Field(default=None, ge=0, le=100)
    fat: float | None = Field(default=None, ge=0, le=100)
    saturates: float | None = Field(default=None, ge=0, le=100)
    carbohydrate: float | None = Field(default=None, ge=0, le=100)
    sugars: float | None = Field(default=None, ge=0, le=100)
    fibre: float | None = Field(default=None, ge=0, le=100)
    starch: float | None = Field(default=None, ge=0, le=100)
    sucrose: float | None = Field(default=None, ge=0, le=100)
    lactose: float | None = Field(default=None, ge=0, le=100)
    salt: float | None = Field(default=None, ge=0, le=100)
    ash: float | None = Field(default=None, ge=0, le=100)
    alcohol: float | None = Field(default=None, ge=0, le=100)
    allergens: tuple[str, ...] | None = None
    cup_g: float | None = Field(default=None, gt=0, le=1000)
    """Weight of one US cup (236.6 mL) as this baker fills it."""
    piece_g: float | None = Field(default=None, gt=0, le=10000)
    packet_g: float | None = Field(default=None, gt=0, le=50000)

    def as_ingredient(self) -> Ingredient:
        """With what the packet does not say taken from the ingredient that it is like; otherwise unknown."""
        base = ingredients.ingredient(self.like) if self.like else None
        figures: dict[str, float | None] = {}
        for field in _FIGURES:
            own = getattr(self, field)
            figures[field] = own if own is not None or base is None else getattr(base, field)
        category: Category = self.category or (base.category if base else "other")
        share = self.flour_share
        if share is None:
            share = base.flour_share if base else (100.0 if category == "flour" else 0.0)
        allergens = self.allergens if self.allergens is not None else (base.allergens if base else ())
        note = f"own packet; what it does not say is taken from {base.name}" if base else "own packet"
        return Ingredient(
            id=self.id, name=self.name, category=category, flour_share=share, allergens=allergens, note=note,
            source="", grade="given", **figures,
        )  # fmt: skip


class Pantry(Frozen):
    """The built-in ingredients with the baker's own before them."""

    own: tuple[OwnIngredient, ...] = ()

    def own_of(self, ingredient_id: str) -> OwnIngredient | None:
        """The baker's own ingredient of this id, or None."""
        return next((item for item in self.own if item.id == ingredient_id), None)

    def ingredient(self, ingredient_id: str) -> Ingredient:
        """Own first, then built in; refused where neither has it."""
        own = self.own_of(ingredient_id)
        return own.as_ingredient() if own is not None else ingredients.ingredient(ingredient_id)

    def knows(self, ingredient_id: str) -> bool:
        """Whether `ingredient` would answer."""
        return self.own_of(ingredient_id) is not None or ingredients.known(ingredient_id)


def _complaints(position: int, error: ValidationError, row: dict[str, Any]) -> list[Complaint]:
    found = []
    for detail in error.errors():
        field = ".".join(str(part) for part in detail["loc"])
        found.append(
            Complaint(
                f"ingredient.{position}.{field}",
                str(row.get(field, "")),
                f"{detail['msg']}.",
                "Write figures as g per 100 g, between 0 and 100 (energy: kcal), and only keys that are listed.",
            )
        )
    return found


def read_own(text: str) -> Pantry:
    """A pantry from the TOML text of the baker's own ingredients.

    >>> own = read_own('[[ingredient]]\\nname = "House butter"\\nlike = "butter_unsalted"\\nfat = 84.0\\nwater = 15')
    >>> own.ingredient("house_butter").fat, own.ingredient("house_butter").protein
    (84.0, 0.85)
    """
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise refuse("pantry", "", f"The file stops making sense as TOML: {error}.", "Mend that line.") from None
    rows = content.pop("ingredient", [])
    if content or not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise refuse(
            "pantry", ", ".join(content), "Only [[ingredient]] tables are read here.", "Take the other keys out."
        )
    own: list[OwnIngredient] = []
    complaints: list[Complaint] = []
    for position, row in enumerate(rows, start=1):
        name = str(row.get("name", ""))
        made_id = "_".join("".join(sign if sign.isalnum() and sign.isascii() else " " for sign in name.lower()).split())
        try:
            item = OwnIngredient.model_validate({"id": made_id, **row})
            if item.like and not ingredients.known(item.like):
                complaints.append(
                    Complaint(
                        f"ingredient.{position}.like", item.like, "The pantry has no ingredient of this id.",
                        "Leave `like` out, or name an ingredient of the built-in pantry.",
                    )
                )  # fmt: skip
            own.append(item)
        except ValidationError as error:
            complaints += _complaints(position, error, row)
    ids = [item.id for item in own]
    for twice in sorted({item for item in ids if ids.count(item) > 1}):
        complaints.append(Complaint("ingredient", twice, "This id stands twice.", "Give one of them another name."))
    if complaints:
        raise Refusal(complaints)
    return Pantry(own=tuple(own))
