"""Sizes in a method: a sheet of 30 × 40 cm, 12x18 inches, 5 mm thick, a 23 cm square tin."""

import re
from dataclasses import dataclass

from oventide.intake.amounts import figure
from oventide.intake.rules import rule
from oventide.makeup.model import Tin, TinShape
from oventide.units.measure import MILLIMETRES

_NUMBER = r"(\d{1,4}(?:[.,]\d{1,2}|[-\s]\d/\d|\s?[½¼¾])?)"
_UNIT = r"(cm|mm|centimet(?:re|er)s?|inches|inch|in\b\.?|\"|″|”|'')?"
_TWO = re.compile(
    (
        rf"(?<![\d.,/]){_NUMBER}\s?-?{_UNIT}(?: (?:wide|long|deep))?\s?(?:x|×|\*|by)\s?{_NUMBER}\s?-?{_UNIT}(?:\s?(?:x|×|"
        rf"by)\s?{_NUMBER}\s?-?{_UNIT})?"
    ),
    re.IGNORECASE,
)
_ONE = re.compile(
    rf"(?<![\d.,/x×]){_NUMBER}\s?-?(cm|mm|centimet(?:re|er)s?|inches|inch|in\b\.?|\"|″|”)(?![a-z])", re.IGNORECASE
)
_TIN_WORD = re.compile(
    r"\b(?:tins?|pans?|dish|dishes|springform|skillet|ring|frame|brownie pan|casserole)\b", re.IGNORECASE
)
_TRAY_WORD = re.compile(r"\b(?:trays?|baking sheets?|sheet pans?|sheet-pans?|cookie sheets?)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Size:
    """Two lengths [mm], or three, and where they stand. `guessed` where no unit was written."""

    first_mm: float
    second_mm: float
    third_mm: float | None
    start: int
    end: int
    guessed: bool = False


def _millimetres(text: str, unit: str | None) -> float:
    value = figure(text.replace("-", " ")) or 0.0
    word = (unit or "cm").lower().rstrip(".")
    word = "cm" if word.startswith("centi") else "in" if word in {"”", "''"} else word
    return value * MILLIMETRES[word]


def rectangles(text: str) -> list[Size]:
    """Sizes of two or three lengths. Where no unit is written, centimetres are taken.

    >>> [(size.first_mm, size.second_mm) for size in rectangles("a 30 x 40 cm sheet in a 9x13 inch tin")]
    [(300.0, 400.0), (228.6, 330.2)]
    """
    found: list[Size] = []
    for match in _TWO.finditer(text):
        first, unit1, second, unit2, third, unit3 = match.groups()
        unit = unit3 or unit2 or unit1
        lengths = [_millimetres(first, unit1 or unit), _millimetres(second, unit2 or unit)]
        depth = _millimetres(third, unit3 or unit) if third else None
        if min(lengths) <= 0:
            continue
        found.append(Size(lengths[0], lengths[1], depth, match.start(), match.end(), unit is None))
    return found


def lengths(text: str) -> list[tuple[float, int, int]]:
    """Single lengths [mm] with their places."""
    taken = [(size.start, size.end) for size in rectangles(text)]
    return [
        (_millimetres(match[1], match[2]), match.start(), match.end())
        for match in _ONE.finditer(text)
        if not any(start <= match.start() < end for start, end in taken)
    ]


def thickness_mm(text: str) -> float | None:
    """A thickness [mm]: ``about 5 mm thick``, ``to a thickness of 1 cm``.

    >>> thickness_mm("roll to 24 × 36 cm, 6 mm thick")
    6.0
    """
    for value, start, end in lengths(text):
        if re.match(r"[ -]?(?:in thickness|thick)", text[end:]) or re.search(
            r"thick(?:ness)? (?:of )?(?:about )?$", text[:start]
        ):
            return value
    return None


_COUNT = re.compile(r"\b(two|three|four|2|3|4)\b(?! ?(?:x|×|cm|mm|inch|in\b|\d))", re.IGNORECASE)


def read_tin(text: str) -> tuple[Tin | None, int, tuple[str, ...]]:
    """The tin that a text names, how many of them, and what was assumed.

    >>> read_tin("a greased 9-inch square baking pan")[0].length_mm
    228.6
    >>> tin = read_tin("a buttered 20 x 30 cm tin")[0]
    >>> tin.shape, tin.length_mm, tin.width_mm
    ('rectangle', 300.0, 200.0)
    """
    for word in [*_TIN_WORD.finditer(text), *_TRAY_WORD.finditer(text)]:
        from_, to = max(0, word.start() - 70), min(len(text), word.end() + 40)
        clause_start = max(text.rfind(mark, from_, word.start()) for mark in (". ", "; "))
        near = text[max(from_, clause_start + 1) : to]
        tin, assumed = _tin_in(near, bool(_TRAY_WORD.fullmatch(word.group())))
        if tin is not None:
            count = _COUNT.search(near[: near.lower().find(word.group().lower()) + 1])
            number = {"two": 2, "three": 3, "four": 4}.get(count[1].lower(), 0) or int(count[1]) if count else 1
            plural = word.group().lower().endswith("s")
            return tin, number if plural else 1, assumed
    return None, 1, ()


def _tin_in(near: str, tray: bool) -> tuple[Tin | None, tuple[str, ...]]:
    depth_rule = rule("tin_depth")
    depth = depth_rule.figure("mm")
    assumed: tuple[str, ...] = (depth_rule.text,)
    deep = next((value for value, _, end in lengths(near) if re.match(r"[ -]?deep", near[end:])), None)
    two = [size for size in rectangles(near) if not size_is_piece(size)]
    if two:
        size = two[0]
        if size.third_mm or deep:
            depth, assumed = size.third_mm or deep or depth, ()
        long, short = max(size.first_mm, size.second_mm), min(size.first_mm, size.second_mm)
        shape: TinShape = "sheet_pan" if tray else "square" if long == short else "rectangle"
        if size.guessed:
            assumed = (*assumed, "Tin size without a unit taken as cm")
        return Tin(shape=shape, length_mm=long, width_mm=short, depth_mm=depth), assumed
    ones = [
        value
        for value, _, end in lengths(near)
        if not re.match(r"[ -]?(?:deep|thick|apart|border|gap)", near[end:]) and value >= 100
    ]
    if not ones or tray:
        return None, ()
    if deep:
        depth, assumed = deep, ()
    side = ones[0]
    lowered = near.lower()
    if (
        re.search(
            r"\bround|\bspringform|\bskillet|\bcake (?:tin|pan)|\bpie|\bcircular|\bring\b|\bsandwich tin|\bdiameter",
            lowered,
        )
        and "square" not in lowered
    ):
        shape = "round"
        if "round" not in lowered and "spring" not in lowered and "diameter" not in lowered:
            assumed = (*assumed, "Cake tin taken as round")
    else:
        shape = "square"
        if "square" not in lowered:
            assumed = (*assumed, "Tin with one length taken as square")
    return Tin(shape=shape, length_mm=side, width_mm=side, depth_mm=depth), assumed


def size_is_piece(size: Size) -> bool:
    """Whether a size is too small for a tin."""
    return max(size.first_mm, size.second_mm) < 120
