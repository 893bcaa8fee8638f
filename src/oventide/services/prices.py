"""What the ingredients of a product cost, in decimal money, from the packets that were bought.

Ingredients alone: no loss, energy, rent or wage. A price that is not known stays unknown and is named; nothing is
guessed for it. Sums in two currencies are not added together.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from oventide.formula.parts import names_part
from oventide.pantry.ingredients import ingredient, known
from oventide.pantry.packet import Packet
from oventide.services.packets import newest_packets
from oventide.services.shelf import Shelf
from oventide.timeline.procedure import Product
from oventide.units.estimate import Estimate

FREE = frozenset({"water_tap"})
"""From the tap; counted as nothing where no packet of it was bought, and said."""


@dataclass(frozen=True)
class Money:
    """An amount with its range, in one currency."""

    low: Decimal
    likely: Decimal
    high: Decimal
    currency: str

    def shared(self, among: int) -> "Money":
        """A part of it."""
        return Money(self.low / among, self.likely / among, self.high / among, self.currency)


@dataclass(frozen=True)
class Price:
    """What a gram costs, by the newest packet that tells it."""

    ingredient: str
    per_g: Money
    bought_at: datetime
    revision: int
    by_piece: bool = False
    """Bought by the piece, so that a line that counts pieces costs what they cost, whatever each weighs."""

    @property
    def per_kg(self) -> Money:
        """What a kilogram costs."""
        one = self.per_g
        return Money(one.low * 1000, one.likely * 1000, one.high * 1000, one.currency)


@dataclass(frozen=True)
class LineCost:
    """What one line costs; `cost` is None where that is not known, and `missing` says what lacks."""

    component: int
    line: int
    text: str
    ingredient: str | None
    cost: Money | None
    missing: str = ""


@dataclass(frozen=True)
class Cost:
    """What a product's ingredients cost. `totals` and `per_piece` hold what is known, by currency."""

    lines: tuple[LineCost, ...]
    totals: tuple[Money, ...]
    pieces: int | None
    per_piece: tuple[Money, ...]
    missing: tuple[str, ...]
    """What is not in the sums: each line once, with what lacks."""
    assumed: tuple[str, ...]

    @property
    def is_whole(self) -> bool:
        """Whether every line is in the sums."""
        return not self.missing


Prices = Mapping[str, Price]


def _decimal(value: float) -> Decimal:
    return Decimal(str(round(value, 3)))


def _times(grams: Estimate, per_g: Money) -> Money:
    """Grams times a price. Both ranges are taken at their ends together: what is paid cannot lie outside.

    >>> one = Money(Decimal("0.008"), Decimal("0.008"), Decimal("0.008"), "EUR")
    >>> _times(Estimate.certain(250.0), one).likely
    Decimal('2.0000')
    """
    return Money(
        _decimal(grams.low) * per_g.low, _decimal(grams.likely) * per_g.likely, _decimal(grams.high) * per_g.high,
        per_g.currency,
    )  # fmt: skip


def total(amounts: Iterable[Money]) -> tuple[Money, ...]:
    """Sums by currency. Likely amounts add; half ranges of independent lines add in quadrature.

    >>> euro = Money(Decimal(9), Decimal(10), Decimal(11), "EUR")
    >>> [round(money.high, 2) for money in total([euro, euro])]
    [Decimal('21.41')]
    """
    by_currency: dict[str, list[Money]] = {}
    for money in amounts:
        by_currency.setdefault(money.currency, []).append(money)
    sums = []
    for currency, each in by_currency.items():
        likely = sum((money.likely for money in each), Decimal(0))
        below = sum(((money.likely - money.low) ** 2 for money in each), Decimal(0)).sqrt()
        above = sum(((money.high - money.likely) ** 2 for money in each), Decimal(0)).sqrt()
        sums.append(Money(likely - below, likely, likely + above, currency))
    return tuple(sums)


def price_of(packet: Packet, bought_at: datetime, revision: int) -> Price | None:
    """What a gram of this packet costs; None where its price, currency or size is not known."""
    grams = packet.grams()
    if packet.price is None or not packet.currency or grams is None or grams.low <= 0:
        return None
    ends = (packet.price / _decimal(grams.high), packet.price / _decimal(grams.likely),
            packet.price / _decimal(grams.low))  # fmt: skip
    return Price(packet.ingredient, Money(*ends, packet.currency), bought_at, revision, packet.unit == "piece")


def prices_of(shelf: Shelf) -> dict[str, Price]:
    """The price of every ingredient that a packet was bought of."""
    found: dict[str, Price] = {}
    for saved in newest_packets(shelf):
        price = price_of(saved.content, saved.saved_at, saved.number)
        if price is not None:
            found[saved.content.ingredient] = price
    return found


def cost_of(product: Product, prices: Prices) -> Cost:
    """What the ingredients of a product cost: line by line, in all, and for each piece."""
    lines: list[LineCost] = []
    missing: dict[str, None] = {}
    assumed: dict[str, None] = {}
    for at, component in enumerate(product.formula.components):
        for position, line in enumerate(component.lines):
            if component.kind == "dough" and names_part(line, product.formula):
                continue  # it stands for another component, whose own lines are counted
            name = ingredient(line.ingredient).name if line.ingredient and known(line.ingredient) else line.name
            price = prices.get(line.ingredient or "")
            cost, lacks = None, ""
            if line.ingredient is None:
                lacks = f"{line.text}: which ingredient it is"
            elif line.grams is None:
                lacks = f"{line.text}: its weight"
            elif price is not None:
                cost = _times(line.grams, price.per_g)
                if price.by_piece and line.unit in (None, "piece") and line.amount_high is None:
                    cost = Money(cost.likely, cost.likely, cost.likely, cost.currency)
            elif line.ingredient in FREE:
                assumed[f"{name} from the tap is counted as nothing."] = None
            else:
                lacks = f"{name}: its price"
            if lacks:
                missing[lacks] = None
            lines.append(LineCost(at, position, line.text, line.ingredient, cost, lacks))
    totals = total(line.cost for line in lines if line.cost is not None)
    pieces = product.makeup.pieces
    if totals:
        assumed["Ingredients alone: no loss, energy, rent or wage."] = None
    if len(totals) > 1:
        assumed["Packets were bought in more than one currency; their sums stand apart."] = None
    return Cost(
        lines=tuple(lines),
        totals=totals,
        pieces=pieces,
        per_piece=tuple(money.shared(pieces) for money in totals) if pieces else (),
        missing=tuple(missing),
        assumed=tuple(assumed),
    )
