"""The bench sheet on paper: A4 or Letter, one page whenever that stays legible, by typst.

Words of the baker travel as JSON data and are never part of the typst source, so a name cannot become a command.
Fonts are those inside the typst wheel (and any in press/fonts), so that the paper looks alike on every machine.
"""

import json
from functools import cache
from importlib.resources import as_file, files

import typst

from oventide.press.model import BenchSheet, Paper

_RATIOS = (1.0, 0.95, 0.9, 0.85, 0.81, 0.78, 0.75, 0.72)
"""Sizes tried for one page, largest first. At the last one the clock is 15 pt, text 7.2 pt and nothing below 7 pt."""
_RATIO_TWO_PAGES = 0.95
FACES = ("Atkinson Hyperlegible Next", "Libertinus Serif")
TITLE_FACES = ("Besley", "Libertinus Serif")
"""The look's own faces (press/fonts); the second, inside the typst wheel, has the signs that the first lacks."""
TYPST_PAPER = {"a4": "a4", "letter": "us-letter"}


@cache
def _fonts() -> typst.Fonts:
    """The fonts inside the wheel and those of this room, read once; none of the machine's own."""
    with as_file(files("oventide.press").joinpath("fonts")) as folder:
        return typst.Fonts(include_system_fonts=False, font_paths=[str(folder)])


def compile_pdf(template: str, inputs: dict[str, str]) -> bytes:
    """A template of this room with its data, as a PDF."""
    with as_file(files("oventide.press")) as root:
        return typst.compile(
            str(root / template),
            format="pdf",
            root=str(root),
            sys_inputs=inputs,
            font_paths=_fonts(),
        )


def page_count(template: str, inputs: dict[str, str]) -> int:
    """Pages that a document takes, asked of its `<pages>` mark."""
    with as_file(files("oventide.press")) as root:
        answer = typst.query(
            str(root / template),
            "<pages>",
            field="value",
            one=True,
            root=str(root),
            sys_inputs=inputs,
            font_paths=_fonts(),
        )
    return int(json.loads(answer))


def render_pdf(sheet: BenchSheet, paper: Paper = "a4") -> bytes:
    """The sheet as a PDF: at the largest size that fits one page, or else on as many pages as a legible size needs."""
    inputs = {
        "sheet": sheet.model_dump_json(),
        "paper": TYPST_PAPER[paper],
        "faces": json.dumps(FACES),
        "title_faces": json.dumps(TITLE_FACES),
        "pages": "1",
    }
    for ratio in _RATIOS:
        inputs["ratio"] = str(ratio)
        if page_count("sheet.typ", inputs) == 1:
            return compile_pdf("sheet.typ", inputs)
    return compile_pdf("sheet.typ", inputs | {"ratio": str(_RATIO_TWO_PAGES), "pages": "2"})
