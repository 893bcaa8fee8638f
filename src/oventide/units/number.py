"""Numbers as people write them: 1 1/2, 1½, 1,5, 2-3, about 40, a dozen."""

import re
from fractions import Fraction

VULGAR: dict[str, Fraction] = {
    "¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3),
    "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8),
}  # fmt: skip

WORDS: dict[str, Fraction] = {
    "a": Fraction(1), "an": Fraction(1),
    "one": Fraction(1), "two": Fraction(2), "three": Fraction(3), "four": Fraction(4),
    "five": Fraction(5), "six": Fraction(6), "seven": Fraction(7), "eight": Fraction(8), "nine": Fraction(9),
    "ten": Fraction(10), "eleven": Fraction(11), "twelve": Fraction(12), "dozen": Fraction(12), "half": Fraction(1, 2),
    "quarter": Fraction(1, 4),
}  # fmt: skip

_VULGAR = "".join(VULGAR)
_DECIMAL = r"\d+(?:[.,]\d+)?"
NUMBER_PATTERN = rf"(?:\d+\s+\d+\s*[/⁄]\s*\d+|\d+\s*[/⁄]\s*\d+|\d+\s*[{_VULGAR}]|[{_VULGAR}]|{_DECIMAL})"
"""Matches one number: mixed, fraction, vulgar fraction, decimal with point or comma."""


def parse_number(text: str) -> float | None:
    """One number, or None. A comma before exactly three digits is a thousands mark, otherwise a decimal comma.

    >>> parse_number("1 1/2"), parse_number("2½"), parse_number("1,5"), parse_number("1,250"), parse_number("oven")
    (1.5, 2.5, 1.5, 1250.0, None)
    """
    stripped = text.strip().replace("⁄", "/")
    if stripped.lower() in WORDS:
        return float(WORDS[stripped.lower()])
    if stripped and stripped[-1] in VULGAR:
        head = stripped[:-1].strip()
        if head and not head.isdigit():
            return None
        return float(Fraction(head or 0) + VULGAR[stripped[-1]])
    mixed = re.fullmatch(r"(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)", stripped)
    if mixed:
        whole, above, below = mixed.groups()
        return float(Fraction(whole or 0) + Fraction(int(above), int(below))) if int(below) else None
    if re.fullmatch(r"[1-9]\d{0,2}(,\d{3})+(\.\d+)?", stripped):
        return float(stripped.replace(",", ""))
    if re.fullmatch(_DECIMAL, stripped):
        return float(stripped.replace(",", "."))
    return None
