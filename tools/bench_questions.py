"""Write docs/bench-questions.md: what bakers ask at the bench, each answered by one command that is run here.

    python tools/bench_questions.py            runs every command and writes the page
    python tools/bench_questions.py 6 14       runs these and prints what they say

The demo's formula and kitchen are invented. A test runs the commands of the page again and compares.
"""

import os
import shlex
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from typer.testing import CliRunner

DOCS = Path(__file__).resolve().parent.parent / "docs"
PAGE = DOCS / "bench-questions.md"
COILS = "lantern-quay-poppy-coils.toml"
KITCHEN = "--kitchen lantern-quay-kitchen.toml"
WIDTH = "100"


@dataclass(frozen=True)
class Question:
    """A question of the bench and the command that answers it."""

    number: int
    asked: str
    command: str


QUESTIONS = (
    Question(
        1, "Mixed at 21:00, dough 25.5 °C, 4 kg in one box 12 cm deep, fridge 5 °C: at 7 °C inside when, how risen "
        "at 07:00?",
        f"oventide chill {COILS} {KITCHEN} --dough 4kg --at 25.5C --depth 12cm --fridge 5C --hours 10h",
    ),
    Question(
        2, "The same as four slabs of 1 kg, 4 cm thick, in film: and now?",
        f"oventide chill {COILS} {KITCHEN} --dough 4kg --pieces 4 --at 25.5C --depth 4cm --wall none --cover film "
        "--fridge 5C --hours 10h",
    ),
    Question(
        12, "200 g sugar and 20 g cinnamon on 200 g butter, a sheet of 45 × 60 cm, 12 h cold: will it weep?",
        f"oventide weep {COILS} --spread '200 g butter' --strewn '200 g sugar' --strewn '20 g ground cinnamon' "
        "--sheet 45x60cm --hours 12h --fridge 5C",
    ),
    Question(
        3, "Buns out of the fridge at 4 °C, the tin covered: bake when, in a kitchen of 18 °C, and of 26 °C?",
        f"oventide proof {COILS} {KITCHEN} --fridge 4C --room 18C --room 26C",
    ),
    Question(
        5, "1.2 kg of dough, a sheet of 45 × 60 cm, nine pieces, a 23 cm tin: thickness, turns, height, trim?",
        f"oventide makeup {COILS} --dough-g 1200 --sheet 45x60cm --pieces 9 --tin square:23cm --trim 10",
    ),
    Question(
        6, "The same bun in a round tin of 24 cm: how many, how heavy, how long?",
        f"oventide travel {COILS} {KITCHEN} --to-tin round:24cm",
    ),
    Question(8, "The eggs are of class S today.", f"oventide travel {COILS} --to-eggs eu_s"),
    Question(9, "Only fresh yeast in the house.", f"oventide travel {COILS} {KITCHEN} --to-yeast fresh"),
    Question(10, "A flour of 10.5 % protein and not of 12.5 %.", f"oventide travel {COILS} --protein '12.5>10.5'"),
    Question(
        11, "Milk becomes oat drink, butter becomes a spread of 70 % fat.",
        f"oventide travel {COILS} {KITCHEN} --instead 'whole milk=oat drink' --instead 'butter=baking spread'",
    ),
    Question(
        13, "The middle has 84 °C after 25 minutes and the tops are pale: bake on, cover, or stop?",
        f"oventide probe {COILS} {KITCHEN} --core 84C --after 25min --tops pale",
    ),
    Question(
        13, "The same, and the tops are dark already?",
        f"oventide probe {COILS} {KITCHEN} --core 84C --after 25min --tops dark",
    ),
    Question(
        14, "Figures of a fan oven, and a still oven here: what setting, when to turn?",
        f"oventide travel {COILS} {KITCHEN} --to-oven static",
    ),
    Question(15, "A dark steel tin was borrowed.", f"oventide travel {COILS} {KITCHEN} --to-material dark_metal"),
    Question(
        16, "A glaze of 300 g icing sugar and 45 g milk on a crust of 60 °C: thin coat or soak?",
        f"oventide glaze {COILS} --line '300 g icing sugar' --line '45 g whole milk' --surface 60C",
    ),
    Question(
        23, "The salt was forgotten in a mix of 6 kg, and found at shaping.",
        f"oventide rescue {COILS} {KITCHEN} --forgot salt --found shaping --dough 6kg",
    ),
)  # fmt: skip

HEAD = """# Bench questions

What a baker asks with floury hands, each answered by one command: a value with its range, the reason, and what to do.
Made by `tools/bench_questions.py`, which runs every command on the [demo's](commands.md) invented formula and kitchen
(`oventide demo DIR` writes both); a test runs them again. Ranges hold nine kitchens in ten.
"""


def answer(command: str, folder: Path) -> str:
    """What a command prints, run in a folder that holds the demo's files."""
    from oventide.cli.main import app

    here = Path.cwd()
    os.chdir(folder)
    try:
        # width and colour are the terminal's own business: here they are set, so that the page is the same everywhere
        result = CliRunner(env={"COLUMNS": WIDTH, "NO_COLOR": "1", "TERM": "dumb"}).invoke(
            app, shlex.split(command)[1:]
        )
    finally:
        os.chdir(here)
    if result.exit_code != 0:
        raise SystemExit(f"{command}\n{result.stderr}{result.exception or ''}")
    return "\n".join(line.rstrip() for line in result.stdout.strip().splitlines())


def demo_folder(folder: Path) -> Path:
    """The demo's files, written to a folder."""
    from oventide.services.demo_bake import demo_files

    for name, content in demo_files().items():
        (folder / name).write_bytes(content)
    return folder


def main(arguments: list[str]) -> int:
    """Run the questions that were named, or all of them and write the page."""
    wanted = {int(argument) for argument in arguments}
    parts = [HEAD]
    with tempfile.TemporaryDirectory() as name:
        folder = demo_folder(Path(name))
        for question in sorted(QUESTIONS, key=lambda each: each.number):
            if wanted and question.number not in wanted:
                continue
            print(f"{question.number}: {question.command}", file=sys.stderr)
            said = answer(question.command, folder)
            parts.append(f"## {question.number}. {question.asked}\n\n```console\n$ {question.command}\n{said}\n```\n")
    if wanted:
        print("\n".join(parts[1:]))
        return 0
    PAGE.write_text("\n".join(parts), "utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
