"""Templates and their data made into pages, by typst: PDF for paper, SVG for a look at it before it is printed.

Words of the baker travel as JSON data and are never part of the typst source, so a name cannot become a command.
Fonts are those of this room and those inside the typst wheel, so that the paper looks alike on every machine.
Every PDF has its title, its language and its structure, and is checked against PDF/UA-1 while it is made.
"""

import json
import re
from functools import cache, lru_cache
from importlib.resources import as_file, files

import typst

from oventide.press.model import Paper, Printed

FACES = ("Atkinson Hyperlegible Next", "Libertinus Serif")
TITLE_FACES = ("Besley", "Libertinus Serif")
"""The look's own faces (press/fonts); the second, inside the typst wheel, has the signs that the first lacks."""
TYPST_PAPER = {"a4": "a4", "letter": "us-letter"}
_RATIO_OF_MORE_PAGES = 0.95
_ASKED = re.compile(r"\bw\(\s*\"((?:[^\"\\]|\\.)*)\"")


@cache
def _fonts() -> typst.Fonts:
    """The fonts inside the wheel and those of this room, read once; none of the machine's own."""
    with as_file(files("oventide.press").joinpath("fonts")) as folder:
        return typst.Fonts(include_system_fonts=False, font_paths=[str(folder)])


@cache
def asked_words(template: str) -> tuple[str, ...]:
    """Messages that a template says in the sheet's language, those shared by all sheets with them."""
    room = files("oventide.press")
    text = room.joinpath(template).read_text("utf-8") + room.joinpath("common.typ").read_text("utf-8")
    return tuple(dict.fromkeys(_ASKED.findall(text)))


def inputs_for(content: str, paper: Paper, **more: str) -> dict[str, str]:
    """What a template is given: the sheet as JSON, the paper, the faces."""
    return {
        "sheet": content,
        "paper": TYPST_PAPER[paper],
        "faces": json.dumps(FACES),
        "title_faces": json.dumps(TITLE_FACES),
        **more,
    }


def compile_pdf(template: str, inputs: dict[str, str]) -> bytes:
    """A template of this room with its data, as a tagged PDF."""
    with as_file(files("oventide.press")) as root:
        return typst.compile(
            str(root / template),
            format="pdf",
            root=str(root),
            sys_inputs=inputs,
            font_paths=_fonts(),
            pdf_standards="ua-1",
        )


def compile_svg(template: str, inputs: dict[str, str]) -> tuple[bytes, ...]:
    """The same as a picture of each page."""
    return _pictures(template, json.dumps(inputs))


@lru_cache(maxsize=8)
def _pictures(template: str, inputs: str) -> tuple[bytes, ...]:
    # the pages of one look are asked for one by one
    with as_file(files("oventide.press")) as root:
        made = typst.compile(
            str(root / template), format="svg", root=str(root), sys_inputs=json.loads(inputs), font_paths=_fonts()
        )
    return tuple(made) if isinstance(made, list) else (made,)


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


@lru_cache(maxsize=16)
def fitted(template: str, sheet: Printed, paper: Paper, ratios: tuple[float, ...]) -> dict[str, str]:
    """The largest size at which the sheet fits one page; where none does, a legible one on as many pages as it takes.

    `ratios` fall. A smaller sheet never takes more pages, so the search is by halves.
    """
    content = sheet.model_dump_json()
    tried = [inputs_for(content, paper, pages="1", ratio=str(ratio)) for ratio in ratios]
    if page_count(template, tried[-1]) > 1:
        return inputs_for(content, paper, pages="2", ratio=str(_RATIO_OF_MORE_PAGES))
    first, last = 0, len(tried) - 1
    while first < last:
        middle = (first + last) // 2
        if page_count(template, tried[middle]) == 1:
            last = middle
        else:
            first = middle + 1
    return tried[last]
