"""The commands of docs/bench-questions.md, run again: they answer, and they say what the page says.

Words must be the same; figures within a tenth or a unit of the last digit shown, since machines round differently.
"""

import importlib.util
import re
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def _tool():
    spec = importlib.util.spec_from_file_location("bench_questions_tool", ROOT / "tools" / "bench_questions.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


TOOL = _tool()
BLOCK = re.compile(r"```console\n\$ (?P<command>[^\n]+)\n(?P<said>.*?)\n```", re.DOTALL)
EXAMPLES = [(found["command"], found["said"]) for found in BLOCK.finditer(TOOL.PAGE.read_text("utf-8"))]


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    return TOOL.demo_folder(tmp_path_factory.mktemp("demo"))


def test_the_page_has_every_question() -> None:
    assert [command for command, _ in EXAMPLES] == [
        question.command for question in sorted(TOOL.QUESTIONS, key=lambda each: each.number)
    ]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("command", "said"), EXAMPLES, ids=[command.split()[1] + str(i) for i, (command, _) in enumerate(EXAMPLES)]
)
def test_the_command_says_what_the_page_says(command: str, said: str, folder: Path) -> None:
    found = TOOL.answer(command, folder)
    words = [" ".join(NUMBER.sub("#", text).split()) for text in (found, said)]
    assert words[0] == words[1]
    for now, then in zip(NUMBER.findall(found), NUMBER.findall(said), strict=True):
        last = 10.0 ** -len(then.partition(".")[2])
        assert float(now) == pytest.approx(float(then), rel=0.1, abs=max(1.01 * last, 0.0)), (now, then)


@pytest.mark.parametrize(
    ("arguments", "field"),
    [
        (["travel"], "travel"),
        (["travel", "--to-tin", "heart:20cm"], "to_tin"),
        (["travel", "--protein", "12"], "protein"),
        (["travel", "--instead", "milk"], "instead"),
        (["travel", "--instead", "strong white flour=water"], "instead"),
        (["chill"], "depth"),
        (["chill", "--floor", "1x1cm"], "floor"),
        (["glaze", "--surface", "60C", "--line", "9999999999 g icing sugar"], "component.glaze"),
        (["chill", "--depth", "4"], "depth"),
        (["chill", "--depth", "4cm", "--cover", "hat"], "cover"),
        (["chill", "--depth", "4cm", "--dough", "much"], "dough"),
        (["weep", "--hours", "soon"], "hours"),
        (["weep", "--strewn", "20 g salt"], "spread"),
        (["proof", "--room", "90C"], "room"),
        (["probe", "--core", "84", "--after", "0"], "after"),
        (["probe", "--core", "hot", "--after", "20min"], "core"),
        (["glaze", "--surface", "900C"], "surface"),
        (["glaze", "--surface", "60C", "--line", "some sugar"], "glaze"),
        (["rescue", "--forgot", "love"], "forgotten"),
        (["makeup", "--dough-g", "-5"], "dough_g"),
    ],
)
def test_what_cannot_be_answered_is_refused_by_field(arguments: list[str], field: str, call, formula) -> None:
    result = call(arguments[0], formula, *arguments[1:])
    assert result.exit_code == 2, (result.stdout, result.stderr)
    assert result.stdout == ""
    assert result.stderr.startswith(field), result.stderr
