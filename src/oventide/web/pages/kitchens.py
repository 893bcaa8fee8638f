"""The kitchens beside each other: each figure on one scale, what was measured and what is assumed."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from oventide.kitchen.model import Kitchen
from oventide.services.leafing import Leaf, Listed, shelf_leaf
from oventide.services.shelf import Saved
from oventide.web.ask import Ask, Page
from oventide.web.choices import BENCHES, FRIDGES, MIXERS, OVENS, TINS
from oventide.web.context import PageContext
from oventide.web.leaf_links import Links, links_of
from oventide.web.pages.kitchen import values_of
from oventide.web.range_marks import POINTS, STEPS, Axis, Bar, axis_of, bar_of, is_given

SIDE_BY_SIDE = 12
CHOSEN = {"oven_kind": ("Oven", OVENS), "mixer": ("Mixing", MIXERS), "fridge_kind": ("Fridge air", FRIDGES),
          "bench": ("Bench", BENCHES), "tin": ("Tins", TINS)}  # fmt: skip


@dataclass(frozen=True)
class Column:
    """One kitchen: its address, name, when it was saved, how many figures were given of how many."""

    key: str
    name: str
    saved_at: datetime
    given: int
    of: int


@dataclass(frozen=True)
class Compared:
    """One figure over the kitchens, each on the same axis."""

    label: str
    axis: Axis
    rows: tuple[tuple[str, Bar], ...]


@dataclass(frozen=True)
class Kind:
    """One choice over the kitchens: name of the kitchen, what it has, whether that was given."""

    label: str
    rows: tuple[tuple[str, str, bool], ...]


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    kitchens: Annotated[tuple[Column, ...], "The kitchens of this page, last saved first"]
    figures: Annotated[tuple[Compared, ...], "Figure by figure, the kitchens on one scale"]
    kinds: Annotated[tuple[Kind, ...], "Oven, mixer and so on, kitchen by kitchen"]
    leaf: Annotated[Leaf[Listed], "Which page of how many, and how many kitchens there are"]
    links: Annotated[Links, "Addresses of the other pages"]


def _given(saved: Saved[Kitchen], values: dict[str, str]) -> tuple[int, int]:
    names = [name for name in (*POINTS, *STEPS) if getattr(saved.content, name) is not None]
    given = sum(is_given(getattr(saved.content, name)) for name in names)
    return given + sum(bool(values[name]) for name in CHOSEN), len(names) + len(CHOSEN)


def handle(ask: Ask) -> Page:
    """The page."""
    leaf = shelf_leaf(ask.shelf, "kitchen", page=ask.number("page") or 1, size=SIDE_BY_SIDE)
    opened = [ask.shelf.kitchen(row.key) for row in leaf.rows]
    values = {saved.key: values_of(saved.content, ask.units) for saved in opened}
    figures = []
    for name, label in {**POINTS, **STEPS}.items():
        with_it = [(saved, getattr(saved.content, name)) for saved in opened]
        with_it = [(saved, estimate) for saved, estimate in with_it if estimate is not None]
        if with_it:
            step = name in STEPS
            axis = axis_of((estimate for _, estimate in with_it), step, ask.units)
            rows = tuple((saved.content.name, bar_of(estimate, axis, is_given(estimate), step, ask.units))
                         for saved, estimate in with_it)  # fmt: skip
            figures.append(Compared(label, axis, rows))
    kinds = tuple(
        Kind(label, tuple((saved.content.name, dict(options).get(getattr(saved.content, name), ""),
                           bool(values[saved.key][name])) for saved in opened))
        for name, (label, options) in CHOSEN.items()
    )  # fmt: skip
    return Page(
        Shown(
            kitchens=tuple(
                Column(saved.key, saved.content.name, saved.saved_at, *_given(saved, values[saved.key]))
                for saved in opened
            ),
            figures=tuple(figures) if opened else (),
            kinds=kinds if opened else (),
            leaf=leaf,
            links=links_of("/kitchens", {}, leaf.page, leaf.pages),
        )
    )
