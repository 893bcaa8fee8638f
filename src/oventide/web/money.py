"""Money as people read it: two decimals, the currency behind it, a range where there is one."""

from decimal import ROUND_HALF_UP, Decimal

from oventide.services.prices import Money

CENT = Decimal("0.01")
WHOLE = frozenset({"JPY", "KRW", "VND", "ISK", "CLP", "HUF"})
"""Currencies that are paid without small coins."""


def _plain(value: Decimal, currency: str) -> str:
    return f"{value.quantize(Decimal(1) if currency in WHOLE else CENT, ROUND_HALF_UP)}"


def told(money: Money) -> str:
    """An amount, with its range where coins show one.

    >>> told(Money(Decimal("1.645"), Decimal("1.7022"), Decimal("1.77"), "EUR"))
    '1.65–1.77\\u202fEUR, likely 1.70\\u202fEUR'
    >>> told(Money(Decimal("0.099"), Decimal("0.099"), Decimal("0.099"), "EUR"))
    '0.10\\u202fEUR'
    """
    low, likely, high = (_plain(value, money.currency) for value in (money.low, money.likely, money.high))
    if low == high:
        return f"{likely}\u202f{money.currency}"
    return f"{low}–{high}\u202f{money.currency}, likely {likely}\u202f{money.currency}"
