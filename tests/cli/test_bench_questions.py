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
