"""The sheet gathered from a product without a forecast: weights, make-up and the formula's own words and aims."""

from datetime import UTC, datetime

import pytest

from oventide.services.answers import Scaling
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.papers import sheet_pdf
from oventide.services.reading import read_recipe_text
from oventide.services.sheets import bench_sheet

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def sheet():
    return bench_sheet(demo_product(), demo_kitchen(), printed=NOON)


def test_the_formulas_aims_and_places_are_on_the_sheet(sheet):
    by_name = {step.name: step for step in sheet.steps}
    assert by_name["Proof"].target == "risen × 1.7 (1.5–2.0)"
    assert by_name["Bake open"].target.replace("\u00a0", " ") == "core 93 °C (90–96)"
    assert "27" in by_name["Proof"].detail
    assert "4.5" in by_name["Fridge"].detail
    assert "170" in by_name["Bake covered"].detail
    assert by_name["Make the sponge"].clock == "before"
    assert sheet.printed == "25 Nov 2026, 12:00"


def test_scaled_sheet_weighs_and_cuts_what_was_asked():
    scaled = bench_sheet(demo_product(), demo_kitchen(), scaling=Scaling(pieces=24), printed=NOON)
    assert scaled.batch.startswith("24 pieces")
    flour = next(row for block in scaled.blocks for row in block.rows if row.weight == "540 g")
    assert flour.ingredient == "strong white flour"
    assert any("× 2" in sentence for sentence in scaled.assumed)


def test_eggs_are_counted_and_ranges_stand_beside_the_line(sheet):
    egg = next(row for block in sheet.blocks for row in block.rows if row.ingredient == "egg")
    assert "1 × whole egg" in egg.note
    assert "47 to 56\u00a0g" in egg.note


def test_oven_temperatures_are_whole_degrees():
    dough = "Dough\n500 g bread flour\n300 g water\n9 g salt\n5 g instant yeast\n"
    text = dough + "Method\nKnead 10 minutes. Bake at 350°F for 25 minutes."
    sheet = bench_sheet(read_recipe_text(text), printed=NOON)
    bakes = [step.detail for step in sheet.steps if step.name.startswith("Bake")]
    assert bakes
    assert all("177" in detail and "176.7" not in detail for detail in bakes)


def test_a_line_without_a_weight_is_printed_and_said():
    text = "Dough\n500 g bread flour\n300 g water\n9 g salt\n5 g instant yeast\na little stardust\n"
    sheet = bench_sheet(read_recipe_text(text), printed=NOON)
    shown = [row for block in sheet.blocks for row in block.rows if row.weight == "—"]
    assert [row for row in shown if "stardust" in row.note] or "a little stardust" in " ".join(sheet.unread)
    assert sheet_pdf(sheet).startswith(b"%PDF")
