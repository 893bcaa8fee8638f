"""What the repository does not say: machine paths, registries, verdict words, machine words on a screen."""

import ast
import re
from pathlib import Path

import pytest

MACHINE_PATH = re.compile(r"(?<![\w.}\])])/(?:work|root|tmp|home|Users)/[\w.]")
REGISTRIES = (".".join(("pypi", "org")), ".".join(("pythonhosted", "org")), ".".join(("npmjs", "org")))
VERDICTS = re.compile(
    r"\b(perfect(?:ly)?|guarantee[sd]?|fool-?proof|no-fail|allergen-free|safe(?:ly)?|legal(?:ly)?|healthy|oops|compliant|approved)\b",
    re.IGNORECASE,
)
MACHINE_WORDS = re.compile(
    r"\b(submit(?:ted)?|invalid|pipelines?|dashboards?|workflows?|optimi[sz]e[sd]?|AI|smart|engine|SKU)\b"
)
EXCLAMATION = re.compile(r"[A-Za-z]!(?=\s|$)")
SCREEN_ROOMS = {"errors", "formula", "kitchen", "makeup", "forecast", "press", "services", "web", "cli"}


def visible(template: str) -> str:
    """The words of a page template: no script, style, comment, tag or Jinja part."""
    for pattern in (
        r"<script\b.*?</script>",
        r"<style\b.*?</style>",
        r"<!--.*?-->",
        r"\{#.*?#\}",
        r"\{%.*?%\}",
        r"\{\{.*?\}\}",
    ):
        template = re.sub(pattern, " ", template, flags=re.DOTALL | re.IGNORECASE)
    return re.sub(r"<[^>]*>", " ", template)


def sentences(tree: ast.Module) -> list[tuple[int, str]]:
    """Texts of a module that a person may read: constants with a space in them, docstrings left out."""
    docstrings = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    # a text that stands alone as a statement documents the field above it
    docstrings |= {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    return [
        (node.lineno, node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, str)
        and " " in node.value
        and id(node) not in docstrings
    ]


def faults(text: str) -> list[str]:
    """Words of a text that a baker should not meet."""
    found = [match.group() for pattern in (VERDICTS, MACHINE_WORDS, EXCLAMATION) for match in pattern.finditer(text)]
    return sorted(set(found))


@pytest.mark.parametrize(
    "text", ["A perfect bun", "Invalid value".lower(), "submit the form", "made by AI", "Done! Next"]
)
def test_the_check_sees_the_words(text: str) -> None:
    assert faults(text)


def test_the_check_reads_a_template_as_a_person_does() -> None:
    assert (
        faults(visible('<button type="submit" class="smart">Keep {{ value|safe }}</button><script>a = !b</script>'))
        == []
    )
    assert faults(visible("<p>An <b>invalid</b> line</p>")) == ["invalid"]


def test_no_machine_path_is_in_any_file(text_files) -> None:
    found = [
        f"{path}:{number}"
        for path, text in text_files.items()
        if path.name != Path(__file__).name
        for number, line in enumerate(text.splitlines(), start=1)
        if MACHINE_PATH.search(line)
    ]
    assert found == [], "\n".join(found)


def test_no_registry_is_named(text_files) -> None:
    found = [str(path) for path, text in text_files.items() for host in REGISTRIES if host in text]
    assert found == [], "\n".join(found)


def test_pages_use_the_bakers_words(root: Path) -> None:
    found = [
        f"{path.relative_to(root)} {words}"
        for path in sorted((root / "src" / "oventide").rglob("*.html"))
        if (words := faults(visible(path.read_text("utf-8"))))
    ]
    assert found == [], "\n".join(found)


def test_messages_use_the_bakers_words(modules) -> None:
    found = [
        f"{m.name}:{line} {words}"
        for m in modules
        if m.room in SCREEN_ROOMS
        for line, text in sentences(m.tree)
        if (words := faults(text))
    ]
    assert found == [], "\n".join(found)


def test_pages_ask_for_nothing_outside_this_machine(root: Path) -> None:
    outside = re.compile(
        r"""(?:src|href|action)\s*=\s*["']?(?:https?:)?//|url\(\s*["']?(?:https?:)?//|@import\s+["']https?:"""
    )
    found = [
        f"{path.relative_to(root)}:{number}"
        for kind in ("*.html", "*.css", "*.js")
        for path in sorted((root / "src" / "oventide" / "web").rglob(kind))
        if "vendor" not in path.parts
        for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1)
        if outside.search(line)
    ]
    assert found == [], "\n".join(found)


def test_documents_give_no_verdicts(text_files) -> None:
    found = []
    for path, text in text_files.items():
        if path.suffix == ".md":
            prose = re.sub(r"```.*?```|`[^`]*`", " ", text, flags=re.DOTALL)
            words = [match.group() for pattern in (VERDICTS, EXCLAMATION) for match in pattern.finditer(prose)]
            found += [f"{path} {sorted(set(words))}"] if words else []
    assert found == [], "\n".join(found)
