"""Values as TOML text, and TOML text as values with errors in plain words. Standard library only."""

import math
import re
import tomllib
from collections.abc import Mapping
from typing import Any

from oventide.errors import Complaint, Refusal, refuse
from oventide.units.estimate import Estimate
from oventide.units.measure import MILLIMETRES

_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}
_SPAN = re.compile(
    r"^\s*(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)(?:\s*(?:-|–|to|\.\.)\s*(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?))?"
    r"(?:\s*(?:-|–|to|\.\.)\s*(-?\d+(?:\.\d+)?(?:e[+-]?\d+)?))?\s*$"
)


def quoted(text: str) -> str:
    """A basic TOML string.

    >>> quoted('a "b"')
    '"a \\\\"b\\\\""'
    """
    out = "".join(
        _ESCAPES.get(sign) or (f"\\u{ord(sign):04x}" if ord(sign) < 32 or ord(sign) == 127 else sign) for sign in text
    )
    return f'"{out}"'


def number(value: float) -> str:
    """A figure that reads back as itself; whole figures without a point.

    >>> number(12.0), number(0.1)
    ('12', '0.1')
    """
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(float(value))


def value(item: object) -> str:
    """Any value of ours in one line: text, figures, truth, lists, small tables."""
    if isinstance(item, bool):
        return "true" if item else "false"
    if isinstance(item, str):
        return quoted(item)
    if isinstance(item, int | float):
        return number(item)
    if isinstance(item, Mapping):
        return "{ " + ", ".join(f"{key} = {value(entry)}" for key, entry in item.items()) + " }"
    if isinstance(item, list | tuple):
        return "[" + ", ".join(value(entry) for entry in item) + "]"
    raise TypeError(f"{type(item)} has no TOML form here")


def strings(items: tuple[str, ...]) -> str:
    """A list of sentences, one a line."""
    return "[\n" + "".join(f"  {quoted(item)},\n" for item in items) + "]"


def load(text: str, field: str) -> dict[str, Any]:
    """The tables of a TOML text, or a refusal that names the line."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        said = str(error)
        place = re.search(r"at line (\d+), column (\d+)", said)
        line = int(place[1]) if place else len(text.splitlines())
        lines = text.splitlines()
        shown = lines[line - 1].strip() if 0 < line <= len(lines) else ""
        what = re.sub(r"\s*\(at .*\)$", "", said)
        raise refuse(
            field,
            shown,
            f"Line {line} is not finished or not TOML: {what.lower()}.",
            f'Look at line {line}: text stands in "quotes", lists in [brackets], a table begins with [name].',
        ) from None
    except ValueError:
        raise refuse(field, "", "A figure in it has too many digits.", "Write plain figures.") from None
    except RecursionError:
        raise refuse(field, "", "The brackets are nested too deep.", "Write it flat.") from None


def _finite(item: float, field: str, whole: object = None) -> None:
    """Refuse nan, inf and figures that no float holds."""
    try:
        good = math.isfinite(item)
    except OverflowError:
        good = False
    if not good:
        raise refuse(
            field,
            str(item if whole is None else whole)[:40],
            "This is no figure that can be measured.",
            "Write a plain figure.",
        )


def span(item: object, field: str) -> tuple[float, float, float]:
    """Low, likely and high of ``22``, ``"4-6"`` or ``"4-5-7"``; a range of two has its middle as likely.

    >>> span("4-6", "fridge"), span("-5 to 5", "oven_offset"), span(22, "room")
    ((4.0, 5.0, 6.0), (-5.0, 0.0, 5.0), (22.0, 22.0, 22.0))
    """
    if isinstance(item, int | float) and not isinstance(item, bool):
        _finite(item, field)
        return float(item), float(item), float(item)
    if isinstance(item, list) and len(item) == 3 and all(
        isinstance(part, int | float) and not isinstance(part, bool) for part in item
    ):  # fmt: skip
        for part in item:
            _finite(part, field, item)
        low, likely, high = (float(part) for part in item)
        if not low <= likely <= high:
            raise refuse(
                field, item, "A range goes from low to high.", "Put the lowest figure first, the highest last."
            )
        return low, likely, high
    match = _SPAN.match(item) if isinstance(item, str) and len(item) < 200 else None
    if match is None:
        raise refuse(
            field, item, 'A figure, or a range such as "4-6", is expected.', 'Write 22, "4-6", "4-5-7" or [4, 5, 7].'
        )
    first, second, third = match.groups()
    low = float(first)
    _finite(low, field, item)
    if second is None:
        return low, low, low
    high = float(third if third is not None else second)
    for figure in (low, float(second), high):
        _finite(figure, field, item)
    likely = float(second) if third is not None else (low + high) / 2
    if not low <= likely <= high:
        raise refuse(field, item, "A range goes from low to high.", "Put the lower figure first.")
    return low, likely, high


def span_text(low: float, likely: float, high: float) -> object:
    """The shortest form that reads back as the same three figures."""
    if low == likely == high:
        return likely
    if (low + high) / 2 == likely and _again(f"{number(low)} to {number(high)}") == (low, likely, high):
        return (
            f"{number(low)} to {number(high)}"
            if low < 0 or "e-" in number(low) + number(high)
            else f"{number(low)}-{number(high)}"
        )
    return f"{number(low)} to {number(likely)} to {number(high)}"


def _again(text: str) -> tuple[float, float, float]:
    return span(text, "")


def estimate(item: object, field: str) -> Estimate:
    """An estimate from a figure, a range, or a table with low, likely, high, grade and source."""
    if isinstance(item, Mapping):
        try:
            return Estimate.model_validate(dict(item))
        except ValueError:
            raise refuse(
                field,
                dict(item),
                "An estimate has low, likely and high, in this order of size.",
                'Write "4-5-7", or low, likely and high.',
            ) from None
    low, likely, high = span(item, field)
    return Estimate(low=low, likely=likely, high=high)


def estimate_text(item: Estimate) -> object:
    """An estimate in its shortest form; one with a grade or a source of its own as a table."""
    if item.grade == "given" and not item.source:
        return span_text(item.low, item.likely, item.high)
    table: dict[str, object] = {"low": item.low, "likely": item.likely, "high": item.high, "grade": item.grade}
    return table | ({"source": item.source} if item.source else {})


def only(table: Mapping[str, object], allowed: tuple[str, ...], field: str) -> None:
    """Refuse keys that nothing reads."""
    unknown = [key for key in table if key not in allowed]
    if unknown:
        raise Refusal(
            Complaint(
                f"{field}.{key}".strip("."),
                str(table[key])[:60],
                f"'{key}' is not read here.",
                f"Known are: {', '.join(allowed)}.",
            )
            for key in unknown
        )


_FIGURE = r"(\d+(?:\.\d+)?(?:e[+-]?\d+)?)"


def sizes_mm(text: str, field: str) -> list[float]:
    """Lengths [mm] of ``30 x 40 cm``."""
    found = re.match(
        rf"^\s*{_FIGURE}(?:\s*[x×]\s*{_FIGURE})?(?:\s*[x×]\s*{_FIGURE})?\s*(mm|cm|m|in|inch|inches)\s*$", text
    )
    if found is None:
        raise refuse(
            field,
            text,
            'A size such as "30 x 40 cm" is expected.',
            "Write the lengths with x between, then mm, cm or in.",
        )
    factor = MILLIMETRES[found[4]]
    values = [float(part) for part in found.groups()[:3] if part is not None]
    return values if factor == 1.0 else [round(value * factor, 9) for value in values]
