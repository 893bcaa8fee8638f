"""Small words for writing SVG: escaped text, rounded figures. Colours live in the stylesheet, by class."""

from collections.abc import Iterable

from markupsafe import escape

Point = tuple[float, float]


def at(value: float) -> str:
    """A coordinate to a tenth.

    >>> at(12.0), at(3.14159)
    ('12', '3.1')
    """
    return f"{value:.1f}".rstrip("0").rstrip(".") or "0"


def path(points: Iterable[Point], closed: bool = False) -> str:
    """Path data through points."""
    return "M" + "L".join(f"{at(x)} {at(y)}" for x, y in points) + ("Z" if closed else "")


def text(x: float, y: float, words: str, size: float = 16, anchor: str = "start", cls: str = "") -> str:
    """A horizontal text."""
    kind = f' class="{cls}"' if cls else ""
    return f'<text x="{at(x)}" y="{at(y)}" font-size="{at(size)}" text-anchor="{anchor}"{kind}>{escape(words)}</text>'


def line(x1: float, y1: float, x2: float, y2: float, cls: str) -> str:
    """A straight line."""
    return f'<path class="{cls}" d="M{at(x1)} {at(y1)}L{at(x2)} {at(y2)}"/>'


def box(x: float, y: float, width: float, height: float, cls: str, fill: str = "") -> str:
    """A rectangle; `fill` names a pattern."""
    pattern = f' fill="url(#{fill})"' if fill else ""
    return (
        f'<rect x="{at(x)}" y="{at(y)}" width="{at(max(width, 0.1))}" height="{at(max(height, 0.1))}" class="{cls}"'
        f"{pattern}/>"
    )


def width_of(words: str, size: float) -> float:
    """About how wide a text is in our type (0.53 of the size a letter)."""
    return len(words) * size * 0.53
