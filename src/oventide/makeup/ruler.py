"""The cut marks as a paper ruler, 1:1: printed, cut out, glued together, laid beside the log.

Strips fit the printable width of A4 and Letter; each page carries a bar of 100 mm, because printers shrink pages.
"""

from typing import Literal

from oventide.errors import refuse
from oventide.makeup.model import Geometry
from oventide.makeup.svg import COPPER, INK, TIDE, Canvas

Paper = Literal["a4", "letter"]
PAPERS_MM: dict[str, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height (ISO 216; 8.5 × 11 in)."""
EDGE_MM = 15.0
"""Left free on every side: more than any office printer needs."""
STRIP_MM = 170.0
TAB_MM = 8.0
BAND_MM = 16.0
STRIP_PITCH_MM = 34.0
HEAD_MM = 46.0
CHECK_MM = 100.0
CUT_WORD_MM = 16.0
"""Narrower pieces get the bare number of the cut."""


def counted(pieces: int) -> str:
    """A count in words.

    >>> counted(1), counted(9)
    ('1 piece', '9 pieces')
    """
    return "1 piece" if pieces == 1 else f"{pieces} pieces"


def strips_of(log_mm: float) -> list[tuple[float, float]]:
    """Where each strip begins and ends on the log [mm].

    >>> strips_of(300)
    [(0.0, 170.0), (170.0, 300)]
    """
    starts = [STRIP_MM * index for index in range(max(-(-int(log_mm * 1000) // int(STRIP_MM * 1000)), 1))]
    return [(start, min(start + STRIP_MM, log_mm)) for start in starts]


def ruler_svg(made: Geometry, paper: Paper = "a4") -> tuple[str, ...]:
    """One SVG for each page, with its size in mm. Print at 100 %."""
    if paper not in PAPERS_MM:
        raise refuse("paper", paper, "This paper is not known.", f"Choose one of: {', '.join(PAPERS_MM)}.")
    width, height = PAPERS_MM[paper]
    strips = strips_of(made.log_length_mm)
    on_page = int((height - EDGE_MM - HEAD_MM) // STRIP_PITCH_MM)
    pages = [strips[first : first + on_page] for first in range(0, len(strips), on_page)]
    drawn = []
    for number, page in enumerate(pages):
        canvas = Canvas(
            width, height, f"Paper ruler for cutting the log, page {number + 1} of {len(pages)}",
            f"Log of {made.log_length_mm:.0f} mm, {counted(made.pieces_per_sheet)} of {made.piece_height_mm:.1f} mm. "
            f"Marks at {', '.join(f'{mark:.1f}' for mark in made.cut_marks_mm)} mm from the left end.",
            4.2,
        )  # fmt: skip
        canvas.line_mm = 0.25
        _head(canvas, made, number, len(pages))
        for row, (start, end) in enumerate(page):
            index = number * on_page + row
            _strip(canvas, made, start, end, HEAD_MM + row * STRIP_PITCH_MM, index, index == len(strips) - 1)
        drawn.append(canvas.svg(real_size=True))
    return tuple(drawn)


def _head(canvas: Canvas, made: Geometry, number: int, pages: int) -> None:
    x, y = EDGE_MM, EDGE_MM + 5
    canvas.text(
        x, y, f"Cut ruler: {counted(made.pieces_per_sheet)} from {made.log_length_mm:.0f} mm", size=6, bold=True
    )
    if pages > 1:
        canvas.text(canvas.width - EDGE_MM, y, f"page {number + 1} of {pages}", anchor="end")
    y += 8
    canvas.line((x, y), (x + CHECK_MM, y), "ov-check", heavy=3)
    for end in (x, x + CHECK_MM):
        canvas.line((end, y - 2.5), (end, y + 2.5), "ov-check", heavy=3)
    canvas.text(x + CHECK_MM + 4, y + 1.5, "must measure 100 mm")
    canvas.text(x, y + 8, "Print at 100 %, not fitted to the page. Cut out, glue A on A, lay beside the log.")


def _strip(canvas: Canvas, made: Geometry, start: float, end: float, top: float, index: int, last: bool) -> None:
    """One strip: the band with mm ticks along its lower edge, cut marks, and a tab to glue the next one on."""
    left = EDGE_MM
    length = end - start
    canvas.rect(left, top, length, BAND_MM, "ov-band", fill="#ffffff", heavy=1.2)
    if not last:
        canvas.rect(left + length, top, TAB_MM, BAND_MM, "ov-tab", stroke=INK, dashed=True)
        canvas.text(left + length + TAB_MM / 2, top + BAND_MM / 2 + 1.5, _letter(index), anchor="middle")
    low = top + BAND_MM
    ticks = range(_ceil(start), int(end) + 1)
    for tick in ticks:
        x = left + tick - start
        tall = 4.0 if tick % 10 == 0 else 2.8 if tick % 5 == 0 else 1.6
        canvas.line((x, low), (x, low - tall), "ov-tick", heavy=0.8)
    for number, mark in enumerate(made.cut_marks_mm, start=1):
        if start <= mark < end or (last and mark == end):
            x = left + mark - start
            canvas.line((x, top - 2), (x, low + 2), "ov-cut", stroke=COPPER, heavy=3.2)
            canvas.text(x, low + 6.4, f"{mark:.0f}", anchor="middle", fill=INK, bold=True, size=4.4)
            canvas.text(x, top - 3.2, _cut_name(made, number), anchor="middle", fill=TIDE, size=4)
    for tick in ticks:
        if tick % 20 == 0 and start + 4 <= tick <= end - 3:
            canvas.text(left + tick - start, low - 4.8, f"{tick}", anchor="middle", size=4, halo=True)
    if index > 0:
        canvas.text(left + 2.2, top + 5, _letter(index - 1), halo=True)
    if made.cut_marks_mm == ():
        canvas.text(left + 4, low + 6.4, "one piece, no cut")


def _cut_name(made: Geometry, number: int) -> str:
    """ "cut 3", or the bare number where pieces are too narrow for the word."""
    return f"cut {number}" if made.piece_height_mm >= CUT_WORD_MM else f"{number}"


def _letter(index: int) -> str:
    return chr(ord("A") + index % 26)


def _ceil(value: float) -> int:
    return int(value) if value == int(value) else int(value) + 1
