"""Whose cups and spoons a text means: only from evidence in the text, and said so."""

import re

from oventide.formula.model import Line, Measures

_EVIDENCE: tuple[tuple[str, str, str], ...] = (
    (
        "au",
        r"20 ?ml (?:table|each|tbsp)|tablespoons? \(20 ?ml|20 ?ml tablespoon|\(20 ?ml each\)|fan-forced",
        "the text mentions {}",
    ),
    (
        "us",
        r"\bsticks? (?:of )?(?:\([^)]*\) )?(?:cold |soft |softened |melted )?(?:unsalted |salted )?butter|"
        r"\d ?sticks?\b|all[- ]purpose|\bap flour\b|kosher salt|confectioners|powdered sugar|"
        r"heavy (?:whipping )?cream|half-and-half|plastic wrap|\d ?°? ?F\b|[\d-]inch",
        "the text says {}",
    ),
)
_SPOONS = re.compile(
    r"\b(?:cups?|tbsps?|tablespoons?|tsps?|teaspoons?|pints?|quarts?|fl\.? ?oz|sticks?|c\.)\b|\d ?[cTt]\b",
    re.IGNORECASE,
)


def guess(text: str) -> tuple[Measures, str]:
    """Measures that the text gives evidence for, and the sentence that says which evidence.

    >>> guess("2 cups all-purpose flour")[0].spoons, guess("2 cups plain flour")[0].spoons
    ('us', 'metric')
    """
    default = Measures()
    if not _SPOONS.search(text):
        return default, ""
    for country, pattern, sentence in _EVIDENCE:
        found = re.search(pattern, text, re.IGNORECASE)
        if found:
            words = sentence.format(f"“{even_quote(found.group())}”")
            if country == "us":
                return Measures(spoons="us", eggs="us_large"), f"US cups, spoons and eggs taken: {words}"
            return Measures(
                spoons="au", eggs=default.eggs
            ), f"Australian cups and spoons taken (tablespoon 20 mL): {words}"
    return default, "Metric cups and spoons taken (250, 15, 5 mL): the text does not say whose"


def even_quote(text: str) -> str:
    """A short quote in one line."""
    return re.sub(r"\s+", " ", text).strip(" (")


def stated(line: Line, why: str) -> Line:
    """The line with the sentence on whose spoons were taken, where its unit depends on that."""
    if (
        not why
        or line.unit not in {"cup", "tbsp", "tsp", "dsp", "fl_oz", "pint", "quart", "gallon", "stick"}
        or why in line.assumed
    ):
        return line
    return line.model_copy(update={"assumed": (*line.assumed, why)})


def sentence_of(lines: list[Line]) -> str:
    """The sentence on spoons that lines carry, or none."""
    marks = ("US cups,", "Australian cups", "Metric cups")
    return next((note for line in lines for note in line.assumed if note.startswith(marks)), "")
