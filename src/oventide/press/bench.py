"""The bench sheet on paper: A4 or Letter, one page whenever that stays legible, by typst.

Words of the baker travel as JSON data and are never part of the typst source, so a name cannot become a command.
Fonts are those inside the typst wheel (and any in press/fonts), so that the paper looks alike on every machine.
"""

import json
from importlib.resources import as_file, files
from pathlib import Path

import typst

from oventide.press.model import BenchSheet, Paper

_RATIOS = (1.0, 0.95, 0.9, 0.85, 0.8, 0.76)
"""Sizes tried for one page, largest first. At the last one the clock is 16 pt, text 7.6 pt and nothing below 7 pt."""
_RATIO_TWO_PAGES = 0.95
FACES = ("Libertinus Serif",)
TYPST_PAPER = {"a4": "a4", "letter": "us-letter"}


def page_count(source: bytes, inputs: dict[str, str], root: Path) -> int:
    """Pages that a document takes, asked of its `<pages>` mark."""
    answer = typst.query(
        source, "<pages>", field="value", one=True, root=str(root), sys_inputs=inputs, ignore_system_fonts=True
    )
    return int(json.loads(answer))


def render_pdf(sheet: BenchSheet, paper: Paper = "a4") -> bytes:
    """The sheet as a PDF: at the largest size that fits one page, or else on as many pages as a legible size needs."""
    room = files("oventide.press")
    inputs = {
        "sheet": sheet.model_dump_json(),
        "paper": TYPST_PAPER[paper],
        "faces": json.dumps(FACES),
        "pages": "1",
    }
    with as_file(room) as root:
        source = root.joinpath("sheet.typ").read_bytes()
        for ratio in _RATIOS:
            inputs["ratio"] = str(ratio)
            if page_count(source, inputs, root) == 1:
                break
        else:
            inputs |= {"ratio": str(_RATIO_TWO_PAGES), "pages": "2"}
        return typst.compile(source, format="pdf", root=str(root), sys_inputs=inputs, ignore_system_fonts=True)
