"""What people type in a field or behind an option, turned into figures: sizes, tins, clock times, numbers."""

import math
import re

from oventide.errors import refuse
from oventide.formula.model import EGG_CLASSES, EggClass
from oventide.makeup.model import Tin, TinShape
from oventide.units.measure import MILLIMETRES
from oventide.units.number import parse_number

_TIN_WORDS: dict[str, TinShape] = {
    "square": "square",
    "rectangle": "rectangle",
    "rectangular": "rectangle",
    "round": "round",
    "sheet_pan": "sheet_pan",
    "sheet-pan": "sheet_pan",
    "tray": "sheet_pan",
}
TIN_DEPTH_MM = 50.0
LONGEST_MM = 2000.0
"""No sheet or tin in a bakery is longer than two metres."""
_TIN_REMEDY = "Write it like square:20cm, rectangle:20x30cm, round:24cm or round:9in:2in (the last is the depth)."
_SIZE_REMEDY = "Write it like 30x40cm, 300x400mm or 12x16in: width along the log, then the length that is rolled up."
_LENGTH = re.compile(r"^\s*(?P<number>.+?)\s*(?P<unit>mm|cm|m|inches|inch|in|\"|″)?\s*$", re.IGNORECASE)


def _signed(text: str) -> float | None:
    """A number with or without a minus sign, so that a negative one is refused for its size and not for its sign."""
    bare = text.strip()
    negative = bare.startswith(("-", "−"))
    value = parse_number(bare[1:] if negative else bare)
    return None if value is None else (-value if negative else value)


def number(text: str | float | None, field: str, low: float, high: float, unit: str = "") -> float | None:
    """A number within [low, high], or None where nothing was given.

    >>> number("1 1/2", "factor", 0, 100), number(None, "factor", 0, 100)
    (1.5, None)
    """
    if text is None:
        return None
    value = _signed(text) if isinstance(text, str) else float(text)
    span = f"between {low:,.10g} and {high:,.10g}{' ' + unit if unit else ''}"
    if value is None or not math.isfinite(value):
        raise refuse(field, text, "This is not a number that can be read.", f"Give a number {span}.")
    if not low <= value <= high:
        raise refuse(field, text, f"It must lie {span}.", "Check the figure and its unit.")
    return value


def whole_number(text: str | int | None, field: str, low: int, high: int) -> int | None:
    """A whole number within [low, high], or None where nothing was given."""
    value = number(text, field, low, high)
    if value is None:
        return None
    if value != int(value):
        raise refuse(field, text, "It must be a whole number.", f"Give a whole number between {low} and {high}.")
    return int(value)


def _lengths_mm(text: str, field: str, given: str, remedy: str, count: tuple[int, ...]) -> list[float]:
    """Lengths joined by x, the last unit holding for those without one [mm]."""
    parts = re.split(r"\s*[x×*]\s*", text.strip(), flags=re.IGNORECASE)
    matches = [_LENGTH.match(part) for part in parts]
    last_unit = matches[-1].group("unit") if matches[-1] else None
    if len(parts) not in count or last_unit is None:
        raise refuse(field, given, "A size needs one or two numbers and a unit.", remedy)
    lengths = []
    for match in matches:
        value = parse_number(match.group("number")) if match else None
        if match is None or value is None:
            raise refuse(field, given, "There is no number here that can be read.", remedy)
        millimetres = value * MILLIMETRES[(match.group("unit") or last_unit).lower()]
        if not 0 < millimetres <= LONGEST_MM:
            raise refuse(field, given, f"A length must lie above 0 and up to {LONGEST_MM / 10:.0f} cm.", remedy)
        lengths.append(round(millimetres, 4))
    return lengths


def sheet_mm(text: str | None, field: str = "sheet") -> tuple[float, float] | None:
    """Width along the log and the length that is rolled up [mm], from a text like 30x40cm.

    >>> sheet_mm("30x40cm"), sheet_mm("12 x 16 in")
    ((300.0, 400.0), (304.8, 406.4))
    """
    if text is None:
        return None
    width, length = _lengths_mm(text, field, text, _SIZE_REMEDY, (2,))
    return width, length


def tin(text: str | None, field: str = "tin") -> Tin | None:
    """A tin from a text like square:20cm, rectangle:20x30cm or round:24cm:5cm, the last being the depth.

    >>> tin("square:20cm").length_mm, tin("rectangle:20x30cm:4.5cm").depth_mm
    (200.0, 45.0)
    """
    if text is None:
        return None
    parts = [part.strip() for part in text.split(":")]
    shape = _TIN_WORDS.get(parts[0].lower())
    if shape is None or not 2 <= len(parts) <= 3:
        raise refuse(field, text, "A tin is a shape, a size and perhaps a depth, with colons between.", _TIN_REMEDY)
    sides = _lengths_mm(parts[1], field, text, _TIN_REMEDY, (2,) if shape in ("rectangle", "sheet_pan") else (1, 2))
    if len(sides) == 2 and shape in ("square", "round") and sides[0] != sides[1]:
        raise refuse(field, text, f"A {shape} tin has one size; two different ones were given.", _TIN_REMEDY)
    depth = _lengths_mm(parts[2], field, text, _TIN_REMEDY, (1,))[0] if len(parts) == 3 else TIN_DEPTH_MM
    return Tin(shape=shape, length_mm=max(sides), width_mm=min(sides), depth_mm=depth)


def clock(text: str | None, field: str = "ready_by") -> str | None:
    """A time of day as HH:MM, 24 h.

    >>> clock("7:30"), clock("07.30"), clock("1930"), clock("7:30 pm"), clock("12:05 am")
    ('07:30', '07:30', '19:30', '19:30', '00:05')
    """
    if text is None or not text.strip():
        return None
    match = re.fullmatch(r"\s*(\d{1,2})\s*[:.h]?\s*(\d{2})\s*([ap]m)?\s*", text.lower())
    hour, minute, half = (int(match[1]), int(match[2]), match[3]) if match else (99, 99, None)
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half == "pm" else 0)
    elif half:
        hour = 99
    if hour > 23 or minute > 59:
        raise refuse(
            field,
            text,
            "A time of day runs from 00:00 to 23:59.",
            "Write it in 24 hours, like 07:30 or 19:05.",
        )
    return f"{hour:02d}:{minute:02d}"


def pair(text: str | None, field: str, low: float, high: float) -> tuple[float, float] | None:
    """Two figures, here and there, from a text like 12.5>10.5.

    >>> pair("12.5 > 10.5", "protein", 0, 100)
    (12.5, 10.5)
    """
    if text is None:
        return None
    parts = re.split(r">|→|\bto\b", text)
    if len(parts) != 2:
        raise refuse(field, text, "Two figures are needed, here and there.", "Write it like 12.5>10.5.")
    here, there = (number(part, field, low, high) for part in parts)
    assert here is not None
    assert there is not None
    return here, there


def swaps(texts: list[str] | None, field: str = "instead") -> tuple[tuple[str, str], ...]:
    """Pairs of ingredients from texts like 'whole milk=oat drink'.

    >>> swaps(["whole milk = oat drink"])
    (('whole milk', 'oat drink'),)
    """
    found = []
    for text in texts or []:
        old, sign, new = (part.strip() for part in text.partition("="))
        if not (old and sign and new):
            raise refuse(field, text, "Two ingredients are needed.", "Write it like 'whole milk=oat drink'.")
        found.append((old, new))
    return tuple(found)


def egg_class(text: str | None, field: str) -> EggClass | None:
    """An egg's class as it is named."""
    if text is None:
        return None
    for known in EGG_CLASSES:
        if known == text.strip().lower():
            return known
    raise refuse(field, text, "This class of egg is not known.", f"Choose one of: {', '.join(EGG_CLASSES)}.")


_DEGREES = re.compile(r"^(?P<number>.*?)\s*°?\s*(?P<unit>[cf])?\s*$", re.IGNORECASE)


def celsius(text: str | None, field: str, low: float, high: float) -> float | None:
    """A temperature [°C] from a text like 25.5, 25.5C or 78F.

    >>> celsius("25.5", "dough", 0, 50), celsius("77 °F", "dough", 0, 50)
    (25.5, 25.0)
    """
    if text is None:
        return None
    match = _DEGREES.match(text.strip())
    value = _signed(match["number"]) if match else None
    if match is None or value is None:
        raise refuse(field, text, "This is not a temperature that can be read.", "Write it like 25.5C or 78F.")
    if (match["unit"] or "c").lower() == "f":
        value = round((value - 32.0) / 1.8, 4)
    if not low <= value <= high:
        raise refuse(
            field, text, f"It must lie between {low:g} and {high:g} °C.", "Check the figure and its unit, °C or °F."
        )
    return value


_SPANS = {"h": 60.0, "hour": 60.0, "hours": 60.0, "min": 1.0, "minutes": 1.0, "m": 1.0, "d": 1440.0}


def minutes(text: str | None, field: str, low: float, high: float, usual: str = "min") -> float | None:
    """A length of time [min] from a text like 25, 25min or 10h; `usual` is the unit of a bare number.

    >>> minutes("10h", "night", 0, 3000), minutes("25", "after", 0, 300), minutes("2", "night", 0, 3000, "h")
    (600.0, 25.0, 120.0)
    """
    if text is None:
        return None
    match = re.fullmatch(r"\s*(.*?)\s*([a-z]*)\s*", text.lower())
    value = _signed(match[1]) if match else None
    factor = _SPANS.get(match[2] or usual) if match else None
    if value is None or factor is None:
        raise refuse(field, text, "This is not a length of time that can be read.", "Write it like 25min or 10h.")
    if not low <= value * factor <= high:
        raise refuse(
            field, text, f"It must lie between {low:g} and {high:g} minutes.", "Check the figure and its unit."
        )
    return value * factor


def grams(text: str | None, field: str, low: float, high: float) -> float | None:
    """A mass [g] from a text like 1200, 1200g or 1.2kg.

    >>> grams("1.2kg", "dough", 0, 9999), grams("850 g", "dough", 0, 9999)
    (1200.0, 850.0)
    """
    if text is None:
        return None
    match = re.fullmatch(r"\s*(.*?)\s*(kg|g)?\s*", text.lower())
    value = _signed(match[1]) if match else None
    if match is None or value is None:
        raise refuse(field, text, "This is not a weight that can be read.", "Write it like 850g or 1.2kg.")
    value = value * (1000.0 if match[2] == "kg" else 1.0)
    if not low <= value <= high:
        raise refuse(
            field, text, f"It must lie between {low:,.10g} and {high:,.10g} g.", "Check the figure and its unit."
        )
    return value


def millimetres(text: str | None, field: str, low: float, high: float) -> float | None:
    """A length [mm] from a text like 12cm, 40mm or 2in; the unit is needed.

    >>> millimetres("12cm", "depth", 1, 500)
    120.0
    """
    if text is None:
        return None
    value = _lengths_mm(text, field, text, "Write it like 12cm, 40mm or 2in.", (1,))[0]
    if not low <= value <= high:
        raise refuse(field, text, f"It must lie between {low:g} and {high:g} mm.", "Check the figure and its unit.")
    return value
