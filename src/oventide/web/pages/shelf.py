"""The first page: paste a recipe, or take a formula or a kitchen from the shelf."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from oventide.services.shelf import Saved
from oventide.timeline.procedure import Product
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext


@dataclass(frozen=True)
class FormulaRow:
    """One formula on the shelf."""

    key: str
    name: str
    yields: str
    number: int
    saved_at: datetime
    note: str


@dataclass(frozen=True)
class KitchenRow:
    """One kitchen on the shelf."""

    key: str
    name: str
    room_c: float
    fridge_c: float
    assumed: int


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    formulas: Annotated[tuple[FormulaRow, ...], "Formulas, last saved first"]
    kitchens: Annotated[tuple[KitchenRow, ...], "Kitchens, last saved first"]


def yields_of(product: Product) -> str:
    """What the make-up says of pieces and tin, in words; empty where it says nothing."""
    from oventide.makeup.tins import name_of

    makeup = product.makeup
    parts = []
    if makeup.pieces:
        parts.append(f"{makeup.pieces} pieces")
    if makeup.tin:
        parts.append(f"{makeup.tins} × {name_of(makeup.tin)}" if makeup.tins > 1 else name_of(makeup.tin))
    return ", ".join(parts)


def _formula_row(saved: Saved[Product]) -> FormulaRow:
    return FormulaRow(saved.key, saved.content.name, yields_of(saved.content), saved.number, saved.saved_at, saved.note)


def handle(ask: Ask) -> Page:
    """The page."""
    return Page(
        Shown(
            formulas=tuple(_formula_row(saved) for saved in ask.shelf.products()),
            kitchens=tuple(
                KitchenRow(
                    saved.key, saved.content.name, saved.content.room.likely, saved.content.fridge.likely,
                    len(saved.content.assumed),
                )
                for saved in ask.shelf.kitchens()
            ),
        )
    )  # fmt: skip
