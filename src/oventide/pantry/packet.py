"""The baker's own packet of an ingredient: what it cost, what it holds, which lot it is. The rest is unknown."""

from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from pydantic import Field

from oventide.formula.model import Frozen, Measures
from oventide.pantry.own import OwnIngredient
from oventide.pantry.weights import weigh
from oventide.units.estimate import Estimate

PackUnit = Literal["g", "kg", "ml", "l", "piece"]
PACK_UNITS: tuple[PackUnit, ...] = get_args(PackUnit)
PRINTED = ("water", "energy", "protein", "fat", "saturates", "carbohydrate", "sugars", "fibre", "salt")
"""Figures that a packet may print, per 100 g (energy in kcal)."""


class Packet(Frozen):
    """One packet, as it was bought."""

    ingredient: str = Field(pattern=r"^[a-z0-9_]{1,60}$")
    brand: str = Field(default="", max_length=120)
    price: Decimal | None = Field(default=None, ge=0, le=Decimal(1_000_000), max_digits=12, decimal_places=4)
    """For one pack."""
    currency: str = Field(default="", pattern=r"^([A-Z]{3})?$")
    pack: Decimal | None = Field(default=None, gt=0, le=Decimal(1_000_000), max_digits=12, decimal_places=4)
    """How much one pack holds, in `unit`."""
    unit: PackUnit = "g"
    lot: str = Field(default="", max_length=120)
    best_before: date | None = None
    shop: str = Field(default="", max_length=120)
    allergens: str = Field(default="", max_length=400)
    """As printed; it stands beside the usual ones, and does not take their place."""
    notes: str = Field(default="", max_length=2000)
    water: float | None = Field(default=None, ge=0, le=100)
    energy: float | None = Field(default=None, ge=0, le=900)
    protein: float | None = Field(default=None, ge=0, le=100)
    fat: float | None = Field(default=None, ge=0, le=100)
    saturates: float | None = Field(default=None, ge=0, le=100)
    carbohydrate: float | None = Field(default=None, ge=0, le=100)
    sugars: float | None = Field(default=None, ge=0, le=100)
    fibre: float | None = Field(default=None, ge=0, le=100)
    salt: float | None = Field(default=None, ge=0, le=100)

    def grams(self) -> Estimate | None:
        """Weight of what one pack holds; None where its size is not given or cannot be weighed from it.

        >>> Packet(ingredient="butter_unsalted", pack=Decimal("0.25"), unit="kg").grams().likely
        250.0
        >>> Packet(ingredient="egg_whole", pack=Decimal(10), unit="piece").grams().is_certain
        False
        """
        if self.pack is None:
            return None
        return weigh(float(self.pack), self.unit, self.ingredient, Measures()).grams

    @property
    def prints_composition(self) -> bool:
        """Whether any of the packet's own figures was typed in."""
        return any(getattr(self, name) is not None for name in PRINTED)

    def as_own(self, name: str) -> OwnIngredient:
        """As an ingredient of the baker's own: the packet's figures, the rest as in the built-in table."""
        figures = {figure: getattr(self, figure) for figure in PRINTED}
        return OwnIngredient(id=self.ingredient, name=name, like=self.ingredient, **figures)
