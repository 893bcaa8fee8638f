"""The cut marks as a paper ruler, 1 : 1, in strips that a sheet of A4 or Letter can hold."""

import json
import math
from itertools import pairwise
from typing import Any

from oventide.errors import refuse
from oventide.formula.model import Frozen
from oventide.press.model import Paper
from oventide.press.printing import compile_pdf, inputs_for

STRIP_MM: dict[Paper, float] = {"a4": 260.0, "letter": 250.0}
"""Longest strip: the paper's long side (297 or 279.4 mm) less the margins that printers need."""
LONGEST_MM = 2500.0
TEMPLATE = "ruler.typ"
CHECK_BAR_MM = 100.0
TICK_MM = 5.0


class RulerSheet(Frozen):
    """A ruler and its words, in its language."""

    title: str
    language: str = "en"
    words: tuple[tuple[str, str], ...] = ()
    note: str = ""
    """The log's length and the number of cuts and pieces."""
    log_length_mm: float
    cut_marks_mm: tuple[float, ...]


def _shown(millimetres: float) -> str:
    return f"{millimetres:.1f}".removesuffix(".0")


def joints(log_length_mm: float, cut_marks_mm: tuple[float, ...], strip_mm: float) -> list[float]:
    """Where the strips begin and end [mm from the end of the log]: halfway between two cuts where one fits.

    >>> joints(300, (100, 200), 260)
    [0.0, 150.0, 300.0]
    >>> joints(300, (), 260)
    [0.0, 260.0, 300.0]
    """
    between = [(left + right) / 2 for left, right in pairwise(cut_marks_mm)]
    found = [0.0]
    while log_length_mm - found[-1] > strip_mm + 1e-9:
        within = [place for place in between if found[-1] + 1 < place <= found[-1] + strip_mm]
        found.append(float(within[-1] if within else found[-1] + strip_mm))
    return [*found, float(log_length_mm)]


def strips(log_length_mm: float, cut_marks_mm: tuple[float, ...], strip_mm: float) -> list[dict[str, Any]]:
    """The ruler in strips no longer than `strip_mm`, each with its ticks, cuts and joints [mm].

    >>> [[round(cut["at"], 3) for cut in part["cuts"]] for part in strips(300, (100, 200), 260)]
    [[100.0], [50.0]]
    """
    places = joints(log_length_mm, cut_marks_mm, strip_mm)
    last = len(places) - 2
    parts: list[dict[str, Any]] = []
    for index, (begin, end) in enumerate(pairwise(places)):
        cuts: list[dict[str, Any]] = [
            {"at": mark - begin, "name": str(number), "words": _shown(mark)}
            for number, mark in enumerate(cut_marks_mm, start=1)
            if begin - 1e-6 <= mark <= end + 1e-6
        ]
        ticks = []
        for step in range(math.ceil(begin / TICK_MM - 1e-9), math.floor(end / TICK_MM + 1e-9) + 1):
            at = step * TICK_MM - begin
            crowded = any(abs(at - place) < 4 for place in (0.0, end - begin, *(float(cut["at"]) for cut in cuts)))
            words = str(round(step * TICK_MM)) if step % 10 == 0 and not crowded else ""
            ticks.append({"at": at, "tall": 7 if step % 2 == 0 else 4, "words": words})
        # 0 is the end of the log; joints are counted from 1
        edges = [{"at": 0.0, "joint": index}, {"at": end - begin, "joint": 0 if index == last else index + 1}]
        parts.append({"length": end - begin, "ticks": ticks, "cuts": cuts, "edges": edges})
    return parts


def inputs_of(sheet: RulerSheet, paper: Paper = "a4") -> dict[str, str]:
    """What the ruler's template is given: strips, with a bar of 100 mm to check the printer's scale."""
    if not 0 < sheet.log_length_mm <= LONGEST_MM:
        raise refuse(
            "makeup.log_length_mm",
            _shown(sheet.log_length_mm),
            f"A paper ruler is printed for logs up to {LONGEST_MM:.0f} mm.",
            "Give the sheet's width in mm, cm or in.",
        )
    data = {
        **sheet.model_dump(mode="json"),
        "check_bar": round(CHECK_BAR_MM),
        "parts": strips(sheet.log_length_mm, sheet.cut_marks_mm, STRIP_MM[paper]),
    }
    return inputs_for(json.dumps(data), paper)


def render_ruler(sheet: RulerSheet, paper: Paper = "a4") -> bytes:
    """The ruler as a PDF in landscape."""
    return compile_pdf(TEMPLATE, inputs_of(sheet, paper))
