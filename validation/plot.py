"""A curve of the book as a small drawing: what was published as dots with their tolerance, ours as a line."""

import math
from html import escape
from itertools import pairwise

from validation import printed
from validation.model import Outcome

WIDTH, HEIGHT = 560, 300
LEFT, RIGHT, TOP, BOTTOM = 68, 16, 34, 52
INK, RULE, DOT, LINE = "#10242f", "#c9c6ba", "#a4501f", "#1f6f78"


def ticks(low: float, high: float, wanted: int = 5) -> list[float]:
    """Round figures that cover low to high.

    >>> ticks(0.0, 9.3)
    [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]
    """
    span = high - low or abs(high) or 1.0
    rough = span / wanted
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(step for step in (1.0, 2.0, 2.5, 5.0, 10.0) if step * power >= 0.85 * rough) * power
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [round(step * count, 12) for count in range(first, last + 1)]


def _decades(low: float, high: float) -> list[float]:
    first, last = math.floor(math.log10(low) + 1e-9), math.ceil(math.log10(high) - 1e-9)
    return [10.0**power for power in range(first, last + 1)]


class Axis:
    """From figures to places on the paper."""

    def __init__(self, values: list[float], start: float, end: float, logarithmic: bool = False) -> None:
        self.logarithmic = logarithmic
        self.ticks = (_decades if logarithmic else ticks)(min(values), max(values))
        self.low, self.high = self._scale(self.ticks[0]), self._scale(self.ticks[-1])
        self.start, self.end = start, end

    def _scale(self, value: float) -> float:
        return math.log10(max(value, 1e-300)) if self.logarithmic else value

    def at(self, value: float) -> float:
        share = (self._scale(value) - self.low) / ((self.high - self.low) or 1.0)
        return round(self.start + min(1.0, max(0.0, share)) * (self.end - self.start), 1)


def _text(x: float, y: float, words: str, anchor: str = "middle", more: str = "") -> str:
    return f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}"{more}>{escape(words)}</text>'


def svg(outcome: Outcome) -> str:
    """The drawing."""
    check = outcome.check
    points = sorted(zip(check.x, check.published, outcome.ours, strict=True))
    reach = [check.tolerance * (abs(value) if check.relative else 1.0) for _, value, _ in points]
    finite = [value for _, _, value in points if math.isfinite(value)]
    values = [value for _, value, _ in points] + finite
    logarithmic = min(values) > 0 and max(values) / min(values) > 100
    spread = (
        [] if logarithmic else [v + sign * r for (_, v, _), r in zip(points, reach, strict=True) for sign in (1, -1)]
    )
    across = Axis([x for x, _, _ in points], LEFT, WIDTH - RIGHT)
    up = Axis(values + spread, HEIGHT - BOTTOM, TOP, logarithmic)
    came_out = "met" if outcome.ok else "missed"
    told = f"{check.what}: published {printed.published(check)}; ours {printed.ours(outcome)} {check.unit}; {came_out}"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" font-family="sans-serif" '
        f'font-size="13" fill="{INK}" role="img" aria-labelledby="t d">',
        f'<title id="t">{escape(check.what)} [{escape(check.unit)}] over {escape(check.x_name)}</title>',
        f'<desc id="d">{escape(told)}</desc>',
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>',
    ]
    for tick in up.ticks:
        y = up.at(tick)
        lines.append(f'<path d="M{LEFT} {y:g}H{WIDTH - RIGHT}" stroke="{RULE}"/>')
        lines.append(_text(LEFT - 8, y + 4, f"{tick:g}", "end"))
    for tick in across.ticks:
        x = across.at(tick)
        lines.append(f'<path d="M{x:g} {HEIGHT - BOTTOM}v5" stroke="{INK}"/>')
        lines.append(_text(x, HEIGHT - BOTTOM + 20, f"{tick:g}"))
    lines.append(f'<path d="M{LEFT} {HEIGHT - BOTTOM}H{WIDTH - RIGHT}" stroke="{INK}"/>')
    lines.append(_text((LEFT + WIDTH - RIGHT) / 2, HEIGHT - 10, check.x_name))
    lines.append(_text(8, 20, f"{check.unit}", "start"))
    lines += _legend()
    for (x, value, _), r in zip(points, reach, strict=True):
        top, base = up.at(value + r), up.at(value - r) if not logarithmic or value > r else up.at(up.ticks[0])
        if base - top > 8:
            lines.append(f'<path d="M{across.at(x):g} {top:g}V{base:g}" stroke="{DOT}" stroke-width="1.5"/>')
    ours = [(across.at(x), up.at(value)) for x, _, value in points if math.isfinite(value)]
    if len(ours) > 1 and any(a != b for a, b in pairwise(ours)):
        path = "L".join(f"{x:g} {y:g}" for x, y in ours)
        lines.append(f'<path d="M{path}" fill="none" stroke="{LINE}" stroke-width="2.5"/>')
    lines += [f'<circle cx="{across.at(x):g}" cy="{up.at(v):g}" r="4.5" fill="{DOT}"/>' for x, v, _ in points]
    return "\n".join([*lines, "</svg>"]) + "\n"


def _legend() -> list[str]:
    x = WIDTH - RIGHT - 210
    return [
        f'<circle cx="{x}" cy="16" r="4.5" fill="{DOT}"/>',
        _text(x + 10, 20, "published", "start"),
        f'<path d="M{x + 104} 16h24" stroke="{LINE}" stroke-width="2.5"/>',
        _text(x + 134, 20, "ours", "start"),
    ]
