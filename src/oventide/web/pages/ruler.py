"""The cut marks as a ruler on the screen, 1 : 1 where the screen tells its size truly, and on paper."""

from dataclasses import dataclass
from typing import Annotated

from markupsafe import Markup

from oventide.services import making_up
from oventide.web.ask import Ask, Page
from oventide.web.context import PageContext

STRIP_MM = 180.0
"""A strip fits A4 and Letter upright, with margins."""
TALL_MM = 34.0


@dataclass(frozen=True)
class Strip:
    """One strip of the ruler: from where to where on the log [mm], and its drawing."""

    start_mm: float
    end_mm: float
    svg: Markup


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    key: Annotated[str, "The formula's address on the shelf"]
    number: Annotated[int, "Which revision is open"]
    newest: Annotated[int, "The newest revision's number"]
    name: Annotated[str, "The formula's name"]
    pieces: Annotated[int, "How many pieces are cut"]
    log_length_mm: Annotated[float, "Length of the log [mm]"]
    marks_mm: Annotated[tuple[float, ...], "Where the knife goes, from the left end of the log [mm]"]
    strips: Annotated[tuple[Strip, ...], "Strips to print and lay end to end"]


def strip_svg(start: float, end: float, marks: tuple[float, ...]) -> Markup:
    """A strip with centimetres below and knife marks above, in real millimetres."""
    length = end - start
    parts = [
        f'<svg class="ruler" xmlns="http://www.w3.org/2000/svg" width="{length + 12:.2f}mm" height="{TALL_MM}mm" '
        f'viewBox="-6 0 {length + 12:.2f} {TALL_MM}" role="img" aria-label="Ruler from {start:.0f} to {end:.0f} mm">'
        f'<path d="M0 24H{length:.2f}" stroke="#000" stroke-width=".5"/>'
    ]
    for millimetre in range(int(start), int(end) + 1):
        x = millimetre - start
        tall = 5.0 if millimetre % 10 == 0 else 3.5 if millimetre % 5 == 0 else 2.0
        parts.append(f'<path d="M{x:.2f} 24v{tall}" stroke="#000" stroke-width=".25"/>')
        if millimetre % 50 == 0:
            parts.append(f'<text x="{x:.2f}" y="33" font-size="4" text-anchor="middle" fill="#000">{millimetre}</text>')
    for count, mark in enumerate(marks, start=1):
        if start - 1e-6 <= mark <= end + 1e-6:
            x = mark - start
            parts.append(
                f'<path d="M{x:.2f} 6V24" stroke="#000" stroke-width=".6"/>'
                f'<path d="M{x - 1.8:.2f} 6h3.6l-1.8 3.4z" fill="#000"/>'
                f'<text x="{x:.2f}" y="5" font-size="4.4" text-anchor="middle" fill="#000">{count}</text>'
            )
    parts.append("</svg>")
    return Markup("".join(parts))


def handle(ask: Ask) -> Page:
    """The ruler for the make-up that was saved."""
    saved = ask.shelf.product(ask.path["key"], ask.number("revision"))
    answer = making_up.make_up(saved.content, drawings=False)
    length = answer.log_length_mm
    strips, start = [], 0.0
    while start < length - 1e-6:
        end = min(start + STRIP_MM, length)
        strips.append(Strip(start, end, strip_svg(start, end, answer.cut_marks_mm)))
        start = end
    return Page(
        Shown(
            saved.key, saved.number, saved.newest, saved.content.name, answer.pieces, length,
            answer.cut_marks_mm, tuple(strips),
        )
    )  # fmt: skip
