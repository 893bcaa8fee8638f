"""What the ingredients of two formulas cost, side by side; a price that is not known is named, never guessed."""

from dataclasses import dataclass

from oventide.services.prices import Cost, Money, cost_of, prices_of
from oventide.services.shelf import Shelf
from oventide.timeline.procedure import Product
from oventide.web.beside import Row
from oventide.web.money import told


@dataclass(frozen=True)
class CostBeside:
    """Costs as rows, what is not in them, and what was assumed."""

    rows: tuple[Row, ...]
    unknown: tuple[str, ...]
    assumed: tuple[str, ...]


def _words(money: Money | None) -> str:
    return "not known" if money is None else told(money)


def _by(one: Money, other: Money) -> Money:
    by = abs(other.likely - one.likely)
    return Money(by, by, by, other.currency)


def _change(one: Money | None, other: Money | None, whole: bool) -> str:
    if one is None or other is None:
        return ""
    by = other.likely - one.likely
    if by == 0:
        return "the same"
    words = f"{told(_by(one, other))} {'more' if by > 0 else 'less'}"
    return words if whole else f"{words}, of what is known"


def _by_currency(sums: tuple[Money, ...]) -> dict[str, Money]:
    return {money.currency: money for money in sums}


def _rows(name: str, one: tuple[Money, ...], other: tuple[Money, ...], whole: bool) -> list[Row]:
    here, there = _by_currency(one), _by_currency(other)
    rows = []
    for currency in dict.fromkeys([*here, *there]):
        change = _change(here.get(currency), there.get(currency), whole)
        rows.append(Row(name, _words(here.get(currency)), _words(there.get(currency)), change, change != "the same"))
    return rows


def costs_beside(shelf: Shelf, one: Product, other: Product) -> CostBeside:
    """What both cost: for each piece and in all; by the newest packets."""
    prices = prices_of(shelf)
    costs: tuple[Cost, Cost] = (cost_of(one, prices), cost_of(other, prices))
    whole = costs[0].is_whole and costs[1].is_whole
    return CostBeside(
        rows=(
            *_rows("Ingredients of one piece", costs[0].per_piece, costs[1].per_piece, whole),
            *_rows("Ingredients of all", costs[0].totals, costs[1].totals, whole),
        ),
        unknown=tuple(dict.fromkeys((*costs[0].missing, *costs[1].missing))),
        assumed=tuple(dict.fromkeys((*costs[0].assumed, *costs[1].assumed))),
    )
