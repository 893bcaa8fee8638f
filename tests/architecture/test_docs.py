"""What the documents promise is there: files, commands, names with units, evidence, schema."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
CODE = re.compile(r"`([^`\n]+)`")
MAKE = re.compile(r"\bmake ([a-z][a-z-]*)")
TOP_FILES = ("README.md", "CONTRIBUTING.md", "CHANGELOG.md")


def documents(root: Path) -> list[Path]:
    """The documents at the top and under docs/."""
    return [root / name for name in TOP_FILES] + sorted((root / "docs").rglob("*.md"))


def make_targets(root: Path) -> set[str]:
    return set(re.findall(r"^([a-z][a-z-]*):", (root / "Makefile").read_text("utf-8"), re.MULTILINE))


def commands() -> set[str]:
    """The names of oventide's commands, as the terminal knows them."""
    from typer.main import get_command

    from oventide.cli.main import app

    group = get_command(app)
    return set(group.commands)  # type: ignore[attr-defined]


def code_in(text: str) -> Iterator[str]:
    """What stands in code spans and code blocks."""
    fenced = re.findall(r"```[a-z]*\n(.*?)```", text, re.DOTALL)
    yield from fenced
    yield from CODE.findall(re.sub(r"```.*?```", "", text, flags=re.DOTALL))


def test_every_relative_link_leads_somewhere(root: Path) -> None:
    broken = [
        f"{path.relative_to(root)} -> {target}"
        for path in documents(root)
        for target in LINK.findall(path.read_text("utf-8"))
        if "://" not in target and not target.startswith(("#", "mailto:"))
        if not (path.parent / target.partition("#")[0]).exists() and target.partition("#")[0] != "evidence.md"
    ]
    assert broken == [], "\n".join(broken)


def test_every_path_of_where_to_change_exists(root: Path) -> None:
    text = (root / "docs" / "where-to-change.md").read_text("utf-8")
    paths = [span for span in CODE.findall(text) if "/" in span and " " not in span and "<" not in span]
    assert len(paths) > 20
    assert [path for path in paths if not (root / path).exists()] == []


def test_where_to_change_names_every_evidence_file(root: Path) -> None:
    text = (root / "docs" / "where-to-change.md").read_text("utf-8")
    data = root / "src" / "oventide" / "evidence" / "data"
    assert [path.name for path in sorted(data.glob("*.toml")) if path.name not in text] == []


def test_every_make_command_in_the_documents_exists(root: Path) -> None:
    targets = make_targets(root)
    unknown = {
        f"{path.name}: make {name}"
        for path in documents(root)
        for code in code_in(path.read_text("utf-8"))
        for name in MAKE.findall(code)
        if name not in targets
    }
    assert unknown == set(), "\n".join(unknown)


def test_every_oventide_command_in_the_documents_exists(root: Path) -> None:
    known = commands()
    unknown = {
        f"{path.relative_to(root)}: oventide {name}"
        for path in documents(root)
        for code in code_in(path.read_text("utf-8"))
        for name in re.findall(r"(?:^|[\s/])oventide ([a-z][a-z-]*)", code)
        if name not in known
    }
    assert unknown == set(), "\n".join(unknown)


def test_the_handbook_or_the_reference_names_every_command(root: Path) -> None:
    text = "\n".join(path.read_text("utf-8") for path in documents(root))
    assert [name for name in sorted(commands()) if f"oventide {name}" not in text] == []


def test_ci_runs_the_list_of_make_check(root: Path) -> None:
    makefile = (root / "Makefile").read_text("utf-8")
    script = (root / ".ci" / "run").read_text("utf-8")
    listed = re.search(r"^check: (.+)$", makefile, re.MULTILINE)
    run = re.search(r"^for stage in (.+); do$", script, re.MULTILINE)
    assert listed is not None
    assert run is not None
    assert listed.group(1).split() == run.group(1).split()


def test_every_page_is_in_the_contents(root: Path) -> None:
    nav = (root / "mkdocs.yml").read_text("utf-8")
    pages = {str(path.relative_to(root / "docs")) for path in (root / "docs").rglob("*.md")}
    pages = {
        page for page in pages if not page.startswith(("models/", "validation/"))
    }  # tools/model_pages.py adds those
    assert [
        page for page in sorted(pages) if not re.search(rf"(?:^|[\s:]){re.escape(page)}\s*$", nav, re.MULTILINE)
    ] == []


def test_the_evidence_page_shows_every_figure(root: Path) -> None:
    sys.path.insert(0, str(root / "tools"))
    try:
        import evidence_page
    finally:
        sys.path.pop(0)
    from oventide.evidence import parameters

    page = evidence_page.render()
    for room in evidence_page.rooms():
        for name in parameters.load(room).parameters:
            assert f"`{name}`" in page
    for key in parameters.sources():
        assert f'id="{key}"' in page


def test_the_picture_of_the_floors_is_fresh(root: Path) -> None:
    tool = root / "tools" / "floors_svg.py"
    done = subprocess.run([sys.executable, str(tool), "--check"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_the_schema_in_the_documents_is_fresh(root: Path) -> None:
    tool = root / "tools" / "schema.py"
    done = subprocess.run([sys.executable, str(tool), "--check"], capture_output=True, text=True, check=False, cwd=root)
    assert done.returncode == 0, done.stdout + done.stderr


# --- names with units -------------------------------------------------------------------------------------------


def endings(root: Path) -> tuple[set[str], set[str]]:
    """The endings with a unit, and the plain names without one, that the glossary lists."""
    text = (root / "docs" / "glossary.md").read_text("utf-8")
    units = re.search(r"## Endings of names(.*?)\n## ", text, re.DOTALL)
    plain = re.search(r"## Names without a unit(.*?)(?:\n## |\Z)", text, re.DOTALL)
    assert units is not None
    assert plain is not None
    return set(re.findall(r"`(_[a-z0-9_]+)`", units.group(1))), set(re.findall(r"`([a-z0-9_]+)`", plain.group(1)))


def float_fields(tree: ast.Module) -> Iterator[str]:
    """Fields of classes that carry a plain number."""
    number = re.compile(r"float( \| None)?|tuple\[float, \.\.\.\]")
    for node in ast.walk(tree):
        fields = node.body if isinstance(node, ast.ClassDef) else []
        for field in fields:
            named = isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)
            if named and number.fullmatch(ast.unparse(field.annotation)):
                yield f"{node.name}.{field.target.id}"


CONTRACTS = {
    "oventide.formula.model", "oventide.formula.composition", "oventide.kitchen.model", "oventide.makeup.model",
    "oventide.timeline.procedure", "oventide.forecast.model", "oventide.services.answers",
}  # fmt: skip


def test_the_glossary_knows_the_unit_of_every_plain_number(root: Path, modules) -> None:
    with_unit, plain = endings(root)
    unknown = []
    for module in modules:
        if module.name in CONTRACTS:
            for name in float_fields(module.tree):
                field = name.partition(".")[2]
                if field not in plain and not any(field.endswith(ending) for ending in with_unit):
                    unknown.append(f"{module.name}:{name}")
    assert unknown == [], "\n".join(unknown)


@pytest.mark.parametrize("name", ["README.md", "CONTRIBUTING.md"])
def test_the_two_commands_stand_in_the_open(root: Path, name: str) -> None:
    text = (root / name).read_text("utf-8")
    assert "make run" in text
    assert "make test" in text
