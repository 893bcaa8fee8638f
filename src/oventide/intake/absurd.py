"""Amounts that no recipe can mean: below zero, or heavier than a line can be."""

import re

from oventide.formula.model import Line
from oventide.units.measure import GRAMS

HEAVIEST_G = 1_000_000.0
"""One line weighs at most a tonne [g]."""

MINUS = ("An amount is above zero; this one has a minus.", "Write the amount without the minus.")
_MINUS_INSIDE = re.compile(r"[:=|]\s?-\d|\s-\d+(?:[.,]\d+)?\s?(?:g|kg|ml|oz|lb)\b")
_RANGE = re.compile(r"\d\s?-\d")


def weight_complaints(line: Line) -> list[tuple[str, str]]:
    """What is amiss with a line's amount: problem and remedy of each complaint."""
    found = []
    if _MINUS_INSIDE.search(line.text) and not _RANGE.search(line.text):
        found.append(MINUS)
    known = line.grams.likely if line.grams is not None else (line.amount or 0) * GRAMS.get(line.unit or "", 0)
    if known > HEAVIEST_G:
        words = f"{known / 1000:,.0f} kg is more than one line can weigh here (1,000 kg)."
        found.append((words, "Check the figure and its unit."))
    return found
