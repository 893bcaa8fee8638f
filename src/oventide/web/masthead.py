"""The way round: the words of the masthead, by the trade, and which of them a page belongs to."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Way:
    """One word of the masthead."""

    address: str
    word: str
    roots: tuple[str, ...]
    """Beginnings of the addresses that belong to it."""


WORK = (
    Way("/", "Formulas", ("/formulas", "/paste", "/reading", "/compare")),
    Way("/bench", "Bench", ("/bench",)),
    Way("/bakes", "Bakes", ("/bakes",)),
    Way("/pantry", "Pantry", ("/pantry",)),
    Way("/kitchens", "Kitchens", ("/kitchens",)),
)
ASIDE = (Way("/find", "Find", ("/find",)), Way("/about", "About", ("/about",)))


def current(way: Way, address: str) -> str:
    """What aria-current says of a way on a page: "page" on its own page, "true" on one that belongs to it, else "".

    >>> current(WORK[0], "/"), current(WORK[0], "/formulas/coils/tide"), current(WORK[0], "/formulary")
    ('page', 'true', '')
    """
    path = address.partition("?")[0]
    if path == way.address:
        return "page"
    return "true" if any(path == root or path.startswith(f"{root}/") for root in way.roots) else ""
