"""Addresses of the pages of a long list."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

BESIDE = 2
"""Pages that are named on each side of the one that is open."""


@dataclass(frozen=True)
class Links:
    """Where the other pages of a list are. A page that is not there has an empty address."""

    before: str
    after: str
    numbers: tuple[tuple[int, str], ...]
    """Pages to name, with their address; 0 stands for a gap."""
    by_saved: str
    by_name: str


def _address(path: str, query: Mapping[str, str | int]) -> str:
    told = {name: value for name, value in query.items() if value not in ("", None)}
    return f"{path}?{urlencode(told)}" if told else path


def links_of(path: str, query: Mapping[str, str], page: int, pages: int) -> Links:
    """The addresses around a page.

    >>> found = links_of("/", {"q": "poppy", "by": ""}, 2, 3)
    >>> found.before, found.after, [number for number, _ in found.numbers]
    ('/?q=poppy', '/?q=poppy&page=3', [1, 2, 3])
    >>> [number for number, _ in links_of("/", {}, 10, 25).numbers]
    [1, 0, 8, 9, 10, 11, 12, 0, 25]
    """

    def to(number: int) -> str:
        return _address(path, {**query, "page": number if number > 1 else ""})

    named = [n for n in range(1, pages + 1) if n in (1, pages) or abs(n - page) <= BESIDE]
    numbers: list[tuple[int, str]] = []
    for last, number in zip([0, *named], named, strict=False):
        if number - last > 1:
            numbers.append((0, ""))
        numbers.append((number, to(number)))
    return Links(
        before=to(page - 1) if page > 1 else "",
        after=to(page + 1) if page < pages else "",
        numbers=tuple(numbers),
        by_saved=_address(path, {**query, "by": ""}),
        by_name=_address(path, {**query, "by": "name"}),
    )
