"""Messages gathered from the sources into oventide.pot, and the catalogues of the languages brought up to it.

    python tools/catalogues.py            write the template and bring every catalogue up to it
    python tools/catalogues.py --check    say what is stale or lacking, and change nothing

Messages are: what stands in a call of `say` or `say_many` (Python, templates, scripts of the bench), in a call of `w`
in the sheets of typst, and the sentences of lower rooms listed in words/told.txt.
"""

import ast
import re
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "src" / "oventide"
CATALOGUES = PACKAGE / "words" / "catalogue"
TEMPLATE = CATALOGUES / "oventide.pot"
LANGUAGES = ("fr", "de", "it", "es")
WRITTEN = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
"""Dates of the heads stay as they are, so that a catalogue changes only where its words do."""
HEAD = "Messages of Oventide. Translations were written with the program; nobody has read them for the trade yet."
_TYPST = re.compile(r"\bw\(\s*\"((?:[^\"\\]|\\.)*)\"")
_MARKUP = re.compile(r"(?:\b|_)say\(\s*(\"(?:[^\"\\]|\\.)*\"|'(?:[^'\\]|\\.)*')")
Found = tuple[str | tuple[str, str], str]
"""A message (or its two forms), and the file that it stands in."""


def name_of(path: Path) -> str:
    """The file, as the catalogues name it."""
    return path.relative_to(ROOT).as_posix()


def python_messages(path: Path) -> Iterator[Found]:
    """Constant first arguments of a speaker's `say`, and the two of its `say_many`."""
    text = path.read_text("utf-8")
    bare = "speaker.say" in text  # a module may give the speaker's voice a short name
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call):
            continue
        called = (
            node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "") if bare else ""
        )
        texts = [arg.value for arg in node.args[:2] if isinstance(arg, ast.Constant) and isinstance(arg.value, str)]
        if called == "say" and texts:
            yield texts[0], name_of(path)
        elif called == "say_many" and len(texts) == 2:
            yield (texts[0], texts[1]), name_of(path)


def markup_messages(path: Path) -> Iterator[Found]:
    """Messages of a page's template."""
    for quoted in _MARKUP.findall(path.read_text("utf-8")):
        yield str(ast.literal_eval(quoted)), name_of(path)


def script_messages(path: Path) -> Iterator[Found]:
    """Messages of a script: say("…", …), and sayMany("…", "…", …)."""
    keywords = {"say": None, "sayMany": (1, 2)}
    for _, message, _, _ in extract("javascript", BytesIO(path.read_bytes()), keywords=keywords):
        yield (message if isinstance(message, str) else (message[0], message[1])), name_of(path)


def typst_messages(path: Path) -> Iterator[Found]:
    """Messages of a sheet."""
    for text in _TYPST.findall(path.read_text("utf-8")):
        yield text, name_of(path)


def told_messages() -> Iterator[Found]:
    """Sentences of lower rooms, each with the module that builds it."""
    place = ""
    for line in (PACKAGE / "words" / "told.txt").read_text("utf-8").splitlines():
        if line.startswith("[") and line.endswith("]"):
            place = f"src/oventide/{line[1:-1]}"
        elif line and not line.startswith("#"):
            yield line, place


def gathered() -> list[Found]:
    """Every message with its place, each pair once, in the order of the files."""
    found: list[Found] = []
    for path in sorted(PACKAGE.rglob("*.py")):
        if path.parent.name != "words":
            found += python_messages(path)
    for path in sorted((PACKAGE / "web" / "templates").glob("*.html")):
        found += markup_messages(path)
    for path in sorted((PACKAGE / "web" / "static" / "bench").rglob("*.js")):
        found += script_messages(path)
    for path in sorted((PACKAGE / "press").glob("*.typ")):
        found += typst_messages(path)
    return [pair for pair in dict.fromkeys([*found, *told_messages()]) if pair[0]]


def template() -> Catalog:
    """The catalogue without translations."""
    catalogue = Catalog(
        project="Oventide", version="1", charset="utf-8", header_comment=f"# {HEAD}", fuzzy=False,
        creation_date=WRITTEN, revision_date=WRITTEN,
    )  # fmt: skip
    for message, place in gathered():
        catalogue.add(message, locations=[(place, 0)])
    return catalogue


def written(catalogue: Catalog) -> bytes:
    """A catalogue as its file holds it."""
    out = BytesIO()
    write_po(out, catalogue, width=116, include_lineno=False, ignore_obsolete=True)
    return out.getvalue()


def brought_up(language: str, fresh: Catalog) -> Catalog:
    """A language's catalogue with the messages of the template; translations that are no longer asked for go."""
    path = CATALOGUES / f"{language}.po"
    if path.exists():
        with path.open("rb") as file:
            catalogue = read_po(file, locale=language)
    else:
        catalogue = Catalog(
            locale=language, project="Oventide", version="1", charset="utf-8", header_comment=f"# {HEAD}",
            fuzzy=False, creation_date=WRITTEN, revision_date=WRITTEN,
        )  # fmt: skip
    catalogue.update(fresh, no_fuzzy_matching=True, update_header_comment=True, update_creation_date=False)
    catalogue.fuzzy = False
    return catalogue


def lacking(catalogue: Catalog) -> list[str]:
    """Messages of a catalogue that have no translation."""
    return [
        str(message.id)
        for message in catalogue
        if message.id and not (all(message.string) if isinstance(message.string, (tuple, list)) else message.string)
    ]


def main() -> int:
    """Bring the files up to the sources, or say what is not."""
    checking = "--check" in sys.argv[1:]
    fresh = template()
    files = {TEMPLATE: written(fresh)}
    short = 0
    for language in LANGUAGES:
        catalogue = brought_up(language, fresh)
        files[CATALOGUES / f"{language}.po"] = written(catalogue)
        missing = lacking(catalogue)
        short += len(missing)
        print(f"{language}: {len(catalogue)} messages, {len(missing)} without a translation")
    stale = [path.name for path, content in files.items() if not path.exists() or path.read_bytes() != content]
    if checking:
        print("stale: " + ", ".join(stale) if stale else "up to date")
        return 1 if stale or short else 0
    for path, content in files.items():
        path.write_bytes(content)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
