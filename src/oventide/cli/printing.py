"""What a command is asked to print: which sheet, on which paper, in which language and units."""

from typing import cast

from oventide.cli.opening import choice
from oventide.press.model import PAPERS, SHEET_KINDS, Paper, SheetKind
from oventide.services.papers import Order
from oventide.services.sheet_voice import Voice
from oventide.words.catalogue import LANGUAGES
from oventide.words.speaker import Speaker


def order_asked(kind: str, language: str, paper: str, units: str = "metric", degrees: str = "c") -> Order:
    """The order, with complaints that name the option."""
    return Order(
        kind=cast(SheetKind, choice(kind, "kind", SHEET_KINDS)),
        paper=cast(Paper, choice(paper, "paper", PAPERS)),
        voice=Voice(
            Speaker(choice(language, "language", tuple(LANGUAGES))),
            fahrenheit=choice(degrees.lower(), "degrees", ("c", "f")) == "f",
            ounces=choice(units, "units", ("metric", "us")) == "us",
        ),
    )
