"""Whatever is handed to a command, the answer is a refusal with field, value and remedy: exit code 2, an empty
standard output, no traceback, and no file left half."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

RECIPE = """Lantern Quay poppy coils

For the dough
300 g strong white flour
170 g whole milk
30 g sugar
45 g butter
6 g salt
4 g instant yeast

For the filling
150 g poppy seeds
60 g honey
"""


def refused(result, *words: str) -> str:
    """The complaint of a refusal, with the marks that each must have."""
    assert result.exit_code == 2, (result.exit_code, result.output, result.exception)
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    for word in words:
        assert word in result.stderr
    for line in result.stderr.strip().splitlines():
        assert ": " in line
        assert line.endswith((".", "…", ")", "?")), line
    return result.stderr


COMMANDS = [["read"], ["weigh"], ["makeup"], ["foresee"]]


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("as_json", [[], ["--json"]])
class TestFilesThatCannotBeRead:
    def test_missing(self, call, command, as_json, tmp_path):
        refused(call(*command, tmp_path / "nothing.toml", *as_json), "formula", "nothing.toml", "stored name")

    def test_folder(self, call, command, as_json, tmp_path):
        refused(call(*command, tmp_path, *as_json), "formula", "folder")

    def test_binary(self, call, command, as_json, tmp_path):
        (tmp_path / "photo.jpg").write_bytes(bytes(range(256)) * 9)
        refused(call(*command, tmp_path / "photo.jpg", *as_json), "formula", "UTF-8")

    def test_nul(self, call, command, as_json, tmp_path):
        (tmp_path / "nul.txt").write_bytes(RECIPE.encode() + b"\0\0")
        refused(call(*command, tmp_path / "nul.txt", *as_json), "UTF-8")

    def test_empty(self, call, command, as_json, tmp_path):
        (tmp_path / "empty.txt").write_text(" \n\n")
        refused(call(*command, tmp_path / "empty.txt", *as_json))

    def test_half_written_toml(self, call, command, as_json, tmp_path, formula):
        text = formula.read_text("utf-8")
        (tmp_path / "half.toml").write_text(text[: text.rindex('"')], "utf-8")
        refused(call(*command, tmp_path / "half.toml", *as_json))

    def test_half_written_json(self, call, command, as_json, tmp_path):
        (tmp_path / "half.json").write_text('{"@context": "https://schema.org", "@type": "Recipe", "name": "Co')
        refused(call(*command, tmp_path / "half.json", *as_json))

    def test_unknown_stored_name(self, call, command, as_json):
        refused(call(*command, "harbour plaits", *as_json), "formula", "harbour plaits", "shelf")


def test_40_mb_file(call, tmp_path):
    big = tmp_path / "big.txt"
    with big.open("wb") as file:
        file.truncate(40_000_000)
    refused(call("read", big), "1 MB")


def test_40_mb_paste(call):
    refused(call("read", "-", stdin=RECIPE * (40_000_000 // len(RECIPE))), "1 MB")


def test_a_file_without_rights(call, tmp_path):
    if os.geteuid() == 0:
        pytest.skip("root may read everything")
    secret = tmp_path / "secret.txt"
    secret.write_text(RECIPE)
    secret.chmod(0)
    refused(call("read", secret), "cannot be read")


@pytest.mark.parametrize("stdin", ["", "   \n\t\n", "\ufeff"])
def test_empty_paste(call, stdin):
    refused(call("read", "-", stdin=stdin))


@pytest.mark.parametrize(
    ("options", "field"),
    [
        (["--pieces", "-3"], "pieces"),
        (["--pieces", "0"], "pieces"),
        (["--pieces", "many"], "pieces"),
        (["--pieces", "1.5"], "pieces"),
        (["--pieces", "1000000"], "pieces"),
        (["--dough-g", "-500"], "dough_g"),
        (["--dough-g", "nan"], "dough_g"),
        (["--dough-g", "1e400"], "dough_g"),
        (["--flour-g", "0"], "flour_g"),
        (["--factor", "0"], "factor"),
        (["--factor", "inf"], "factor"),
        (["--piece-g", "x"], "piece_g"),
        (["--dough-g", "900", "--factor", "2"], "scaling"),
        (["--flour-g", "900", "--pieces", "12"], "scaling"),
    ],
)
def test_odd_sizes_of_a_batch(call, formula, options, field):
    refused(call("weigh", formula, "--json", *options), field)


@pytest.mark.parametrize(
    "tin", ["square", "square:20", "hexagon:20cm", "square:20x30cm", "round:0cm", "20cm", ":::", ""]
)
def test_odd_tins(call, formula, tin):
    refused(
        call("makeup", formula, "--sheet", "40x30cm", "--pieces", "12", "--tin", tin, "--json"), "tin", "square:20cm"
    )


def test_a_tin_smaller_than_one_piece(call, formula):
    refused(call("makeup", formula, "--sheet", "40x30cm", "--pieces", "12", "--tin", "square:3cm", "--json"), "tin")


@pytest.mark.parametrize("sheet", ["30", "30x", "0x30cm", "-30x30cm", "30x30furlong", "9999x30cm"])
def test_odd_sheets(call, formula, sheet):
    refused(call("makeup", formula, "--sheet", sheet, "--json"), "sheet")


@pytest.mark.parametrize("clock", ["25:99", "24:00", "noon", "7", "-1:00"])
def test_odd_clocks(call, formula, kitchen, clock):
    refused(call("foresee", formula, "--kitchen", kitchen, f"--ready-by={clock}", "--json"), "ready_by", clock)


@pytest.mark.parametrize(
    ("options", "field"),
    [
        (["--members", "0"], "members"),
        (["--members", "1000000"], "members"),
        (["--seed", "-1"], "seed"),
        (["--seed", "x"], "seed"),
        (["--kitchen", "no-such-kitchen.toml"], "kitchen"),
        (["--kitchen", "."], "kitchen"),
    ],
)
def test_odd_forecasts(call, formula, options, field):
    refused(call("foresee", formula, *options, "--json"), field)


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("room = 18\nfridge = 19.5", "kitchen.fridge"),
        ("room = 210", "kitchen.room"),
        ("room = '21-20-19'", "kitchen.room"),
        ("fridge = ", "kitchen"),
        ("cooler = 4", "kitchen.cooler"),
    ],
)
def test_odd_kitchens(call, formula, tmp_path, text, field):
    (tmp_path / "kitchen.toml").write_text(text)
    refused(call("foresee", formula, "--kitchen", tmp_path / "kitchen.toml", "--json"), field)


def test_an_oven_at_900_degrees(call, formula, kitchen, tmp_path):
    hot = tmp_path / "hot.toml"
    text = formula.read_text("utf-8")
    assert "170" in text
    hot.write_text(text.replace("170", "900"), "utf-8")
    refused(call("foresee", hot, "--kitchen", kitchen, "--json"), "900")


def test_no_flour(call):
    text = "For the dough\n200 g milk\n50 g butter\n4 g yeast\n"
    for command in ("weigh", "makeup"):
        refused(call(command, "-", "--json", stdin=text), "flour")


@pytest.mark.parametrize("line", ["-300 g strong white flour", "900000000 g strong white flour"])
def test_negative_and_absurd_weights(call, line):
    refused(call("weigh", "-", "--json", stdin=RECIPE.replace("300 g strong white flour", line)))


def test_an_unknown_unit_is_not_guessed(call):
    result = call("read", "-", "--json", stdin=RECIPE.replace("170 g whole milk", "3 firkins whole milk"))
    assert result.exit_code == 0
    answer = json.loads(result.stdout)
    lines = [line for component in answer["components"] for line in component["lines"] if "firkins" in line["text"]]
    unread = [text for text in answer["unread"] if "firkins" in text]
    assert lines or unread
    assert all(line["grams"] is None for line in lines)


def test_more_butter_than_flour_is_said(call):
    result = call("weigh", "-", "--json", stdin=RECIPE.replace("45 g butter", "345 g butter"))
    if result.exit_code == 2:
        refused(result, "butter")
    else:
        balance = json.loads(result.stdout)["balance"]
        assert any(finding["measure"].startswith("fat") and finding["standing"] == "above" for finding in balance)


@pytest.mark.parametrize(
    "options", [["--paper", "a5"], ["--units", "stone"], ["--spoons", "mars"], ["--eggs", "ostrich"]]
)
def test_choices(call, formula, tmp_path, options):
    refused(call("sheet", formula, "-o", tmp_path / "sheet.pdf", *options), "Choose one of")
    assert list(tmp_path.glob("*.pdf*")) == []


def test_a_sheet_into_a_folder_that_is_not_there(call, formula, tmp_path):
    refused(call("sheet", formula, "--members", "8", "-o", tmp_path / "none" / "sheet.pdf"), "output")
    refused(call("sheet", formula, "--members", "8", "-o", tmp_path), "output", "folder")


def test_demo_writes_over_nothing_unasked(call, tmp_path):
    (tmp_path / "lantern-quay-kitchen.toml").write_text("mine")
    refused(call("demo", tmp_path), "lantern-quay-kitchen.toml", "--force")
    assert [path.name for path in tmp_path.glob("*.toml")] == ["lantern-quay-kitchen.toml"]
    assert (tmp_path / "lantern-quay-kitchen.toml").read_text() == "mine"


@pytest.mark.parametrize("port", ["0", "65536", "x"])
def test_odd_ports(call, port):
    refused(call("serve", "--port", port), "port")


def test_a_port_in_use(call):
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        refused(call("serve", "--port", taken.getsockname()[1]), "port", "in use")


@pytest.mark.parametrize("arguments", [["bake"], ["weigh"], ["weigh", "x", "--turbo"]])
def test_unknown_words_are_told_with_exit_2(call, arguments):
    result = call(*arguments)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Traceback" not in result.output


def test_endless_input_is_refused_by_a_real_process():
    if not Path("/dev/zero").exists():
        pytest.skip("no endless file here")
    command = [sys.executable, "-c", "from oventide.cli.main import run; run()", "read", "/dev/zero"]
    ended = subprocess.run(command, capture_output=True, text=True, timeout=30, check=False)
    assert ended.returncode == 2
    assert ended.stdout == ""
    assert "1 MB" in ended.stderr
