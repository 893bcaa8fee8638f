"""Every sheet on paper, by its model: which template sets it, as PDF or as pictures of its pages."""

from oventide.press import bench, ruler
from oventide.press.model import BenchSheet, FormulaSheet, Handout, Paper, WallSheet
from oventide.press.printing import asked_words, compile_pdf, compile_svg, fitted, inputs_for
from oventide.press.ruler import RulerSheet

_FORMULA_RATIOS = (1.0, 0.95, 0.9, 0.86)
"""Text of 10.5 to 9 pt, and nothing below 7.5 pt."""
AnySheet = BenchSheet | FormulaSheet | WallSheet | Handout | RulerSheet
_TEMPLATES: dict[type, str] = {
    BenchSheet: bench.TEMPLATE,
    FormulaSheet: "formula.typ",
    WallSheet: "wall.typ",
    Handout: "handout.typ",
    RulerSheet: ruler.TEMPLATE,
}


def words_of(kind: type[AnySheet]) -> tuple[str, ...]:
    """Messages that the paper of such a sheet says."""
    return asked_words(_TEMPLATES[kind])


def _inputs(sheet: AnySheet, paper: Paper) -> dict[str, str]:
    if isinstance(sheet, BenchSheet):
        return bench.inputs_of(sheet, paper)
    if isinstance(sheet, RulerSheet):
        return ruler.inputs_of(sheet, paper)
    if isinstance(sheet, FormulaSheet):
        return fitted(_TEMPLATES[FormulaSheet], sheet, paper, _FORMULA_RATIOS)
    return inputs_for(sheet.model_dump_json(), paper)


def sheet_pdf(sheet: AnySheet, paper: Paper = "a4") -> bytes:
    """The sheet as a PDF."""
    return compile_pdf(_TEMPLATES[type(sheet)], _inputs(sheet, paper))


def sheet_pictures(sheet: AnySheet, paper: Paper = "a4") -> tuple[bytes, ...]:
    """The sheet as it will be printed: an SVG of each page."""
    return compile_svg(_TEMPLATES[type(sheet)], _inputs(sheet, paper))
