"""The trade's words as they are used here, and the names that mean the same."""

import csv
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

HELP = Path(__file__).parent / "help"


@dataclass(frozen=True)
class Word:
    """A word, what it means here, and its place on the page."""

    key: str
    word: str
    meaning: str


@cache
def words() -> tuple[Word, ...]:
    """Every word, in the order of the alphabet.

    >>> next(each.meaning for each in words() if each.word == "kerf")
    'width that a cut takes away'
    """
    with (HELP / "glossary.csv").open(encoding="utf-8", newline="") as file:
        rows = [(row["word"], row["meaning"]) for row in csv.DictReader(file)]
    return tuple(Word(re.sub(r"[^a-z]+", "-", word.lower()).strip("-"), word, meaning) for word, meaning in rows)


@cache
def same() -> tuple[str, ...]:
    """Names that mean the same, each group as one line.

    >>> "proof = prove" in same()
    True
    """
    return tuple((HELP / "same.txt").read_text(encoding="utf-8").splitlines())
