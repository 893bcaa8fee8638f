"""The bench sheet on paper, read back from the PDF."""

import numpy as np
import pytest

from oventide.press.bench import render_pdf
from oventide.press.model import BenchSheet, SheetBlock, SheetRow, SheetStep

# ISO 216 and ANSI Y14.1 sizes in mm
SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_sheet_is_one_page_of_the_paper_asked(sheet, read_pdf, paper):
    pdf = read_pdf(render_pdf(sheet, paper))
    assert pdf.pages == 1
    assert pdf.size_mm() == pytest.approx(SIZES[paper], abs=0.05)


def test_every_weight_and_word_is_on_the_paper(sheet, read_pdf):
    text = read_pdf(render_pdf(sheet)).text()
    for block in sheet.blocks:
        assert block.name in text
        assert block.total_weight in text
        for row in block.rows:
            assert row.ingredient in text
            assert row.weight in text
    for step in sheet.steps:
        for words in (step.clock, step.name, step.target, step.window, step.outside, *step.cautions):
            assert words in text
    for words in (sheet.title, sheet.batch, sheet.ready_by, sheet.printed, *sheet.assumed, *sheet.unread):
        assert words in text
    assert "75 · 150 · 225 mm" in text


@pytest.mark.parametrize(
    "name",
    [
        '#read("/etc/passwd")',
        "*_$<@>`#[]\\",
        '"#panic()"',
        "// not a comment",
        "#set page(width: 1mm)",
        "{{ 7 * 7 }} ${1}",
        "= Heading - list + enum @cite <label>",
    ],
)
def test_the_bakers_words_stay_words(sheet, read_pdf, name):
    row = SheetRow(ingredient=name, weight="12 g", note=name)
    nasty = sheet.model_copy(
        update={
            "title": name,
            "kitchen": name,
            "assumed": (name,),
            "blocks": (SheetBlock(name=name, kind="dough", rows=(row,), total_weight="12 g"),),
        }
    )
    pdf = read_pdf(render_pdf(nasty))
    assert pdf.pages == 1
    assert pdf.text().count(" ".join(name.split())) >= 4
    assert "root:" not in pdf.text()


def long_sheet(sheet: BenchSheet, steps: int) -> BenchSheet:
    step = sheet.steps[0]
    many = tuple(
        step.model_copy(
            update={
                "number": number,
                "name": f"Step{number:03d}",
                "outside": f"first{number:03d} " * 9 + f"last{number:03d}",
            }
        )
        for number in range(steps)
    )
    return sheet.model_copy(update={"steps": many, "start_at": ""})


def test_a_long_sheet_goes_on_with_its_head_repeated_and_no_step_split(sheet, read_pdf):
    pdf = read_pdf(render_pdf(long_sheet(sheet, 30)))
    assert pdf.pages >= 2
    for page in range(pdf.pages):
        text = pdf.text(page)
        assert sheet.title in text
        assert f"page {page + 1} of {pdf.pages}" in text
        if "Step0" in text:
            assert "outside the window" in text
        for number in range(30):
            assert (f"first{number:03d}" in text) == (f"last{number:03d}" in text) == (f"Step{number:03d}" in text)


def text_height_mm(read_pdf, sheet: BenchSheet, words: str) -> float:
    """Height of the tallest character of `words` on the first page [mm]."""
    page = read_pdf(render_pdf(sheet)).document[0].get_textpage()
    found = page.search(words).get_next()
    assert found is not None
    boxes = [page.get_charbox(index) for index in range(found[0], found[0] + found[1])]
    return float(max(top - bottom for _, bottom, _, top in boxes)) / 72 * 25.4


def test_clock_and_target_are_the_largest_figures_of_a_step(sheet, read_pdf):
    clock = text_height_mm(read_pdf, sheet, "08:15")
    target = text_height_mm(read_pdf, sheet, "core 93")
    detail = text_height_mm(read_pdf, sheet, "Above 26")
    assert clock > target > detail
    assert clock >= 4.5  # digits [mm]; about 8 arc minutes at two metres, where 5 is the eye's usual limit


def test_print_shrinks_to_a_floor_and_no_further(sheet, read_pdf):
    heights = [text_height_mm(read_pdf, long_sheet(sheet, steps), "19:10") for steps in (2, 16, 20, 40)]
    assert min(heights) >= 3.4
    assert heights[0] == max(heights)


def test_white_paper_with_a_margin_for_the_pencil(sheet, read_pdf):
    dark = read_pdf(render_pdf(sheet)).dark()
    assert dark.mean() < 0.06
    noted = dark[1150:1300, 1850:1970]  # beside the steps, in the column "noted"
    assert noted.mean() < 0.05
    widest = max(np.diff(np.flatnonzero(np.diff(np.r_[0, row, 0])))[::2].max(initial=0) for row in dark[::10])
    assert widest > 0


def test_steps_may_lack_everything_but_a_name(sheet, read_pdf):
    bare = sheet.model_copy(
        update={"steps": (SheetStep(number=1, clock="", name="Mix"),), "makeup": (), "cut_marks_mm": (), "ready_by": ""}
    )
    assert "Mix" in read_pdf(render_pdf(bare)).text()


def test_a_sheet_without_steps_or_kitchen_is_a_weighing_sheet(sheet, read_pdf):
    bare = sheet.model_copy(update={"steps": (), "kitchen": "", "start_at": "", "ready_by": "", "summary": ()})
    pdf = read_pdf(render_pdf(bare))
    assert pdf.pages == 1
    assert "441 g" in pdf.text()
