"""The first page: paste a recipe, what is under way, and the formulas and kitchens on the shelf, a page at a time."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from oventide.makeup.model import MakeUp
from oventide.services.leafing import Leaf, Listed, Order, parts, shelf_leaf
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext
from oventide.web.leaf_links import Links, links_of

KITCHENS_SHOWN = 5
UNDER_WAY_SHOWN = 12


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
    saved_at: datetime


@dataclass(frozen=True)
class UnderWay:
    """One bake that is not over: its next alarm, if one is set."""

    key: str
    name: str
    begun_at: datetime
    ready_at: datetime | None
    next_at: datetime | None
    next_words: str
    in_min: int
    """Minutes until then; negative where it was due."""


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    under_way: Annotated[tuple[UnderWay, ...], "Bakes that are not over, the last begun first"]
    formulas: Annotated[tuple[FormulaRow, ...], "Formulas of this page of the list"]
    leaf: Annotated[Leaf[Listed], "Which page of how many, and how many formulas there are"]
    links: Annotated[Links, "Addresses of the other pages and of the other order"]
    words: Annotated[str, "The words that the list was filtered by"]
    order: Annotated[Order, "The order of the list: last saved first, or by name"]
    kitchens: Annotated[tuple[KitchenRow, ...], "A few kitchens, last saved first"]
    more_kitchens: Annotated[int, "How many kitchens there are besides"]


def yields_of(makeup: MakeUp) -> str:
    """What the make-up says of pieces and tin, in words; empty where it says nothing."""
    from oventide.makeup.tins import name_of

    said = []
    if makeup.pieces:
        said.append(f"{makeup.pieces} pieces")
    if makeup.tin:
        said.append(f"{makeup.tins} × {name_of(makeup.tin)}" if makeup.tins > 1 else name_of(makeup.tin))
    return ", ".join(said)


def _yields(text: str | None) -> str:
    return yields_of(MakeUp.model_validate_json(text)) if text else ""


def _under_way(ask: Ask) -> tuple[UnderWay, ...]:
    rows = ask.bakes.under_way()
    if not rows:
        return ()
    here = ask.now.tzinfo
    alarms = [alarm for alarm in ask.bakes.alarms(ask.now).alarms if not alarm.heard]
    found = []
    for row in rows[:UNDER_WAY_SHOWN]:
        alarm = next((each for each in alarms if each.bake == row.key), None)
        found.append(
            UnderWay(
                key=row.key,
                name=row.name,
                begun_at=row.started_at.astimezone(here),
                ready_at=row.ready_at.astimezone(here) if row.ready_at else None,
                next_at=alarm.at.astimezone(here) if alarm else None,
                next_words=alarm.words if alarm else "",
                in_min=round((alarm.at - ask.now).total_seconds() / 60) if alarm else 0,
            )
        )
    return tuple(found)


def handle(ask: Ask) -> Page:
    """The page, or for htmx the list alone."""
    words = ask.query.get("q", "").strip()[:200]
    order: Order = "name" if ask.query.get("by") == "name" else "saved"
    leaf = shelf_leaf(ask.shelf, "product", words, order, ask.number("page") or 1)
    makeups: Mapping[str, str] = parts(ask.shelf, "product", leaf, "$.makeup")
    kitchens = shelf_leaf(ask.shelf, "kitchen")
    return Page(
        Shown(
            under_way=() if ask.part else _under_way(ask),
            formulas=tuple(
                FormulaRow(row.key, row.name, _yields(makeups.get(row.key)), row.number, row.saved_at, row.note)
                for row in leaf.rows
            ),
            leaf=leaf,
            links=links_of("/", {"q": words, "by": "name" if order == "name" else ""}, leaf.page, leaf.pages),
            words=words,
            order=order,
            kitchens=tuple(KitchenRow(row.key, row.name, row.saved_at) for row in kitchens.rows[:KITCHENS_SHOWN]),
            more_kitchens=max(0, kitchens.of - KITCHENS_SHOWN),
        ),
        part=ask.part,
    )
