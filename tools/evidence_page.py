"""Write the documentation's page of figures and sources from the evidence files, each time it is built.

MkDocs calls `on_files` (see mkdocs.yml). The page is never committed, so it cannot be behind the data.
"""

import tomllib
from html import escape
from pathlib import Path
from typing import Any

from oventide.evidence import parameters

DATA = Path(parameters.__file__).parent / "data"
PAGE = "evidence.md"
GRADES = {
    "exact": "by definition",
    "given": "given by the baker",
    "read": "read in the source",
    "fitted": "fitted to figures of the source",
    "remembered": "from memory, not looked up",
    "assumed": "our choice, to be learnt from logged bakes",
}


def rooms() -> list[str]:
    """Rooms that have a parameter file."""
    return [
        path.stem
        for path in sorted(DATA.glob("*.toml"))
        if not path.stem.startswith("sources") and not is_table(path) and not is_words(path)
    ]


def is_table(path: Path) -> bool:
    """Whether a file carries tables instead of single figures."""
    return path.stem.endswith(("_tables", "-tables"))


def is_words(path: Path) -> bool:
    """Whether a file carries words and ranges instead of figures: causes of spread, ranges of laws."""
    return path.stem in ("causes", "validity")


def cell(text: object) -> str:
    """A text inside a table cell."""
    return escape(str(text)).replace("|", "\\|").replace("\n", " ")


def source_link(key: str) -> str:
    """A link to the source further down on the page, or a dash."""
    return f"[{cell(key)}](#{key})" if key else "–"


def figures(room: str) -> list[str]:
    """The table of one room's figures."""
    lines = [
        "| figure | what | value | range | unit | grade | source | holds for |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for name, figure in parameters.load(room).parameters.items():
        span = "–" if figure.low == figure.high else f"{figure.low:g} to {figure.high:g}"
        source = source_link(figure.source) + (f", {cell(figure.where)}" if figure.where else "")
        row = [
            f"`{name}`",
            cell(figure.what),
            f"{figure.value:g}",
            span,
            cell(figure.unit),
            figure.grade,
            source,
            cell(figure.valid) or "–",
        ]
        lines.append("| " + " | ".join(row) + " |")
    return lines


def tables(path: Path) -> list[str]:
    """What a file of tables holds, without its rows."""
    lines = ["| table | what | columns | rows | grade | source | holds for |", "|---|---|---|---|---|---|---|"]
    content: dict[str, dict[str, Any]] = tomllib.loads(path.read_text("utf-8"))
    for name, table in content.items():
        columns = ", ".join(f"{column} [{unit}]" for column, unit in zip(table["columns"], table["units"], strict=True))
        row = [f"`{name}`", cell(table["what"]), cell(columns), str(len(table["rows"])), table["grade"]]
        lines.append(
            "| " + " | ".join([*row, source_link(table.get("source", "")), cell(table.get("valid", "")) or "–"]) + " |"
        )
    return lines


def render() -> str:
    """The whole page, in Markdown."""
    lines = ["# Figures and sources", ""]
    lines += [
        "Every figure of a model, as the program reads it. The range is about nine in ten of what is plausible.",
        "",
    ]
    lines += [f"- **{grade}**: {words}" for grade, words in GRADES.items()]
    for room in rooms():
        lines += ["", f"## {room}", "", f"From `src/oventide/evidence/data/{room}.toml`.", "", *figures(room)]
    for path in sorted(DATA.glob("*.toml")):
        if is_table(path):
            lines += ["", f"## {path.stem}", "", *tables(path)]
    lines += [
        "",
        "## Sources",
        "",
        "Each source with the way in which it was seen. Where that says abstract, excerpt or memory, take it so.",
        "",
    ]
    for key, source in sorted(parameters.sources().items()):
        printed = ". ".join(part for part in (source.author, source.title, source.where, source.year) if part)
        lines.append(f'- <a id="{key}"></a>**{cell(key)}**: {cell(printed)}. *Seen: {cell(source.seen)}.*')
    return "\n".join(lines) + "\n"


def on_files(files: Any, config: Any) -> Any:
    """MkDocs event: add the page to the files of this build."""
    from mkdocs.structure.files import File

    files.append(File.generated(config, PAGE, content=render()))
    return files


if __name__ == "__main__":
    print(render())
