"""The bench sheet on paper: A4 or Letter, one page whenever that stays legible."""

from oventide.press.model import BenchSheet, Paper
from oventide.press.printing import compile_pdf, fitted

TEMPLATE = "sheet.typ"
_RATIOS = (1.0, 0.95, 0.9, 0.85, 0.81, 0.78, 0.75, 0.72)
"""Sizes tried for one page, largest first. At the last one the clock is 15 pt, text 7.2 pt and nothing below 7 pt."""


def inputs_of(sheet: BenchSheet, paper: Paper) -> dict[str, str]:
    """The sheet at the largest size that fits one page, or else on as many pages as a legible size needs."""
    return fitted(TEMPLATE, sheet, paper, _RATIOS)


def render_pdf(sheet: BenchSheet, paper: Paper = "a4") -> bytes:
    """The sheet as a PDF."""
    return compile_pdf(TEMPLATE, inputs_of(sheet, paper))
