"""Modules that one can hold in mind, models that say what they are, and no stub that passes for done."""

import ast
import re

MODEL_ROOMS = {"matter", "laws", "makeup", "dough", "bake", "timeline", "forecast"}
LONGEST = 400
BAGS = {"utils", "util", "helpers", "helper", "common", "misc", "tools"}


def public_functions(tree: ast.Module) -> list[ast.FunctionDef]:
    """Functions at the top of a module whose name has no leading underscore."""
    return [node for node in tree.body if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")]


def test_no_module_is_longer_than_one_can_hold_in_mind(modules) -> None:
    long = [f"{m.name}: {m.lines} lines" for m in modules if m.lines > LONGEST]
    assert long == [], "\n".join(long)


def test_there_is_no_helper_bag(modules) -> None:
    assert [m.name for m in modules if m.path.stem in BAGS] == []


def test_every_module_says_what_it_is(modules) -> None:
    silent = [m.name for m in modules if m.lines and not ast.get_docstring(m.tree)]
    assert silent == [], "\n".join(silent)


def test_every_public_function_of_a_model_has_a_docstring(modules) -> None:
    silent = [
        f"{m.name}.{node.name}"
        for m in modules
        if m.room in MODEL_ROOMS
        for node in public_functions(m.tree)
        if not ast.get_docstring(node)
    ]
    assert silent == [], "\n".join(silent)


def test_no_stub_is_left(modules) -> None:
    left = [
        f"{m.name}:{number}"
        for m in modules
        for number, line in enumerate(m.path.read_text("utf-8").splitlines(), start=1)
        if re.search(r"raise NotImplementedError|\b(TODO|FIXME|XXX)\b", line)
    ]
    assert left == [], "\n".join(left)


def test_imports_are_absolute(modules) -> None:
    relative = [
        f"{m.name}:{node.lineno}"
        for m in modules
        for node in ast.walk(m.tree)
        if isinstance(node, ast.ImportFrom) and node.level > 0
    ]
    assert relative == [], "\n".join(relative)
