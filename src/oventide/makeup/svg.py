"""SVG as plain strings: one canvas in mm, one look for every make-up drawing.

Ink on white with two accents, crust copper and tide blue-green. Every element has a class, so that a page's style
sheet can restyle it, and presentation attributes, so that it prints as it is without one.
"""

import math
import re
import textwrap
from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

INK = "#10242f"
COPPER = "#a4501f"
TIDE = "#1f6f78"
DOUGH = "#f6ecdd"
SPREAD = "#e6c3a6"
FONT = "system-ui, 'Liberation Sans', Arial, sans-serif"
LEAST_TEXT_MM = 4.0
_CHARACTER = 0.55
"""Mean width of a character over the font's size, on the safe side for sans serif figures and lower case."""

Point = tuple[float, float]


def figure(value: float) -> str:
    """A coordinate, short: three decimals and no trailing noughts.

    >>> figure(12.5), figure(-0.0001), figure(3)
    ('12.5', '0', '3')
    """
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class Canvas:
    """Collects elements, then writes one SVG. The drawing area is `width` × `height` [mm], y downwards."""

    def __init__(self, width: float, height: float, title: str, description: str, text_mm: float | None = None) -> None:
        self.width, self.height = width, height
        self.title, self.description = title, description
        self.text_mm = max(LEAST_TEXT_MM, width / 42) if text_mm is None else max(LEAST_TEXT_MM, text_mm)
        self.line_mm = max(0.25, width / 700)
        self._parts: list[str] = []

    def rect(
        self, x: float, y: float, width: float, height: float, cls: str, *, fill: str = "none", stroke: str = INK,
        heavy: float = 1.0, radius: float = 0.0, dashed: bool = False,
    ) -> None:  # fmt: skip
        """A rectangle with its upper left corner at (x, y)."""
        round_corner = f' rx="{figure(radius)}"' if radius else ""
        self._parts.append(
            f'<rect class="{cls}" x="{figure(x)}" y="{figure(y)}" width="{figure(width)}" height="{figure(height)}"'
            f"{round_corner} {self._paint(fill, stroke, heavy, dashed)}/>"
        )

    def circle(
        self, x: float, y: float, radius: float, cls: str, *, fill: str = "none", stroke: str = INK,
        heavy: float = 1.0, dashed: bool = False,
    ) -> None:  # fmt: skip
        """A circle."""
        self._parts.append(
            f'<circle class="{cls}" cx="{figure(x)}" cy="{figure(y)}" r="{figure(radius)}" '
            f"{self._paint(fill, stroke, heavy, dashed)}/>"
        )

    def line(
        self, start: Point, end: Point, cls: str, *, stroke: str = INK, heavy: float = 1.0, dashed: bool = False
    ) -> None:
        """A straight line."""
        (x1, y1), (x2, y2) = start, end
        self._parts.append(
            f'<line class="{cls}" x1="{figure(x1)}" y1="{figure(y1)}" x2="{figure(x2)}" y2="{figure(y2)}" '
            f"{self._paint('none', stroke, heavy, dashed)}/>"
        )

    def path(
        self,
        points: Sequence[Point],
        cls: str,
        *,
        stroke: str = INK,
        stroke_mm: float | None = None,
        fill: str = "none",
    ) -> None:
        """An open path through points; `stroke_mm` is its real width."""
        data = "M" + "L".join(f"{figure(x)} {figure(y)}" for x, y in points)
        width = self.line_mm if stroke_mm is None else stroke_mm
        self._parts.append(
            f'<path class="{cls}" d="{data}" fill="{fill}" stroke="{stroke}" stroke-width="{figure(width)}" '
            'stroke-linejoin="round" stroke-linecap="butt"/>'
        )

    def arrow(self, start: Point, end: Point, cls: str, *, stroke: str = INK, heavy: float = 1.0) -> None:
        """A line with a filled head at its end."""
        (x1, y1), (x2, y2) = start, end
        length = math.hypot(x2 - x1, y2 - y1)
        if length == 0:
            return
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        head = min(self.text_mm * 0.55, length / 2)
        base = (x2 - ux * head, y2 - uy * head)
        self.line(start, base, cls, stroke=stroke, heavy=heavy)
        wing = head * 0.4
        corners = [end, (base[0] - uy * wing, base[1] + ux * wing), (base[0] + uy * wing, base[1] - ux * wing)]
        shown = " ".join(f"{figure(x)},{figure(y)}" for x, y in corners)
        self._parts.append(f'<polygon class="{cls}" points="{shown}" fill="{stroke}" stroke="none"/>')

    def text(
        self, x: float, y: float, words: str, *, cls: str = "ov-text", anchor: str = "start", size: float | None = None,
        fill: str = INK, bold: bool = False, halo: bool = False,
    ) -> None:  # fmt: skip
        """Horizontal text with its base line at y. A halo of white keeps it legible over lines."""
        size = self.text_mm if size is None else max(size, LEAST_TEXT_MM)
        weight = ' font-weight="700"' if bold else ""
        around = f' stroke="#ffffff" stroke-width="{figure(size * 0.28)}" paint-order="stroke"' if halo else ""
        self._parts.append(
            f'<text class="{cls}" x="{figure(x)}" y="{figure(y)}" font-size="{figure(size)}" text-anchor="{anchor}" '
            f'fill="{fill}"{weight}{around}>{escape(words)}</text>'
        )

    def width_of(self, words: str, size: float | None = None) -> float:
        """About how wide a text is [mm]."""
        return len(words) * _CHARACTER * (self.text_mm if size is None else size)

    def paragraph(self, x: float, y: float, words: str, width: float) -> float:
        """Text broken into lines of at most `width`; returns the base line after the last one."""
        for line in wrapped(words, width, self.text_mm):
            self.text(x, y, line)
            y += self.text_mm * 1.35
        return y

    def measure(self, start: Point, end: Point, words: str, side: float) -> None:
        """A dimension line between two points, horizontal or vertical, with its figure at `side` mm beside it."""
        (x1, y1), (x2, y2) = start, end
        middle = ((x1 + x2) / 2, (y1 + y2) / 2)
        self.arrow(middle, start, "ov-measure", stroke=TIDE)
        self.arrow(middle, end, "ov-measure", stroke=TIDE)
        if abs(y2 - y1) < abs(x2 - x1):
            self.text(middle[0], middle[1] + side, words, anchor="middle", halo=True)
        else:
            anchor = "start" if side > 0 else "end"
            self.text(middle[0] + side, middle[1] + self.text_mm * 0.35, words, anchor=anchor, halo=True)

    def _paint(self, fill: str, stroke: str, heavy: float, dashed: bool) -> str:
        width = self.line_mm * heavy
        dash = f' stroke-dasharray="{figure(width * 6)} {figure(width * 4)}"' if dashed else ""
        return f'fill="{fill}" stroke="{stroke}" stroke-width="{figure(width)}"{dash}'

    def svg(self, real_size: bool = False) -> str:
        """The whole document. With `real_size` it carries its width and height in mm, for printing 1:1."""
        size = f' width="{figure(self.width)}mm" height="{figure(self.height)}mm"' if real_size else ""
        view = f"0 0 {figure(self.width)} {figure(self.height)}"
        label = quoteattr(self.title)
        return "\n".join(
            [
                f'<svg xmlns="http://www.w3.org/2000/svg" class="ov-drawing" viewBox="{view}"{size} role="img" '
                f'aria-label={label} font-family="{FONT}">',
                f"<title>{escape(self.title)}</title>",
                f"<desc>{escape(self.description)}</desc>",
                f'<rect class="ov-paper" width="{figure(self.width)}" height="{figure(self.height)}" fill="#ffffff"/>',
                *self._parts,
                "</svg>",
            ]
        )


def wrapped(words: str, width: float, size: float) -> list[str]:
    """Lines of a text that are at most `width` mm wide at a font size; a figure keeps its unit beside it."""
    words = re.sub(r"(?<=\d) (?=(mm|cm|g|%|g/cm²)\b|%)", "\N{NO-BREAK SPACE}", words)
    return textwrap.wrap(words, max(int(width / (_CHARACTER * size)), 8), break_long_words=False)


def text_height(words: str, width: float, size: float) -> float:
    """Height that a paragraph takes [mm]."""
    return len(wrapped(words, width, size)) * size * 1.35
