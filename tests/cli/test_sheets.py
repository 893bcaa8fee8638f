"""`oventide sheet` and `oventide ruler`: which sheet, which language, which paper; the sheets that need no forecast."""

from pathlib import Path

import pypdfium2
import pytest
from typer.testing import CliRunner

from oventide.cli.main import app
from oventide.services.demo_bake import demo_files

run = CliRunner().invoke


@pytest.fixture
def formula(tmp_path: Path) -> str:
    path = tmp_path / "coils.toml"
    name = next(name for name in demo_files() if name.endswith("coils.toml"))
    path.write_bytes(demo_files()[name])
    return str(path)


def text_of(path: Path) -> str:
    document = pypdfium2.PdfDocument(path)
    pages = (document[number].get_textpage().get_text_range() for number in range(len(document)))
    return " ".join(" ".join(pages).replace("\u00a0", " ").split())


@pytest.mark.parametrize(
    ("language", "words"),
    [("en", "flour, which is 100 %"), ("de", "Stockgare"), ("fr", "pointage"), ("it", "puntata"), ("es", "amasado")],
)
def test_a_formula_sheet_comes_in_the_language_asked(formula, tmp_path, language, words):
    out = tmp_path / "sheet.pdf"
    done = run(app, ["sheet", formula, "-o", str(out), "--kind", "formula", "--language", language])
    assert done.exit_code == 0, done.output
    assert words in text_of(out)


def test_degrees_and_ounces(formula, tmp_path):
    out = tmp_path / "sheet.pdf"
    done = run(app, ["sheet", formula, "-o", str(out), "--kind", "formula", "--units", "us", "--degrees", "F",
                     "--paper", "letter"])  # fmt: skip
    assert done.exit_code == 0, done.output
    text = text_of(out)
    assert "338 °F" in text
    assert "270 g 9.5 oz" in text
    assert pypdfium2.PdfDocument(out)[0].get_size() == pytest.approx((612, 792), abs=0.5)


def test_a_ruler_in_german(formula, tmp_path):
    out = tmp_path / "ruler.pdf"
    assert run(app, ["ruler", formula, "-o", str(out), "--language", "de"]).exit_code == 0
    assert "Ende der Rolle" in text_of(out)


@pytest.mark.parametrize(("option", "given"), [("--kind", "poster"), ("--language", "tlh"), ("--degrees", "kelvin")])
def test_what_cannot_be_printed_is_said_with_its_option(formula, tmp_path, option, given):
    out = tmp_path / "sheet.pdf"
    done = run(app, ["sheet", formula, "-o", str(out), option, given])
    assert done.exit_code == 2
    assert option.removeprefix("--") in done.output
    assert given in done.output
    assert not out.exists()
