"""Every sheet in every language on both papers, read back from its PDF."""

import re
from datetime import UTC, datetime
from functools import cache
from typing import cast

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from oventide.forecast.model import Forecast, Reading, StepForecast, Window
from oventide.forecast.words import step_words
from oventide.press.model import PAPERS, SHEET_KINDS, Handout, Paper, SheetKind, WallSheet
from oventide.services.demo_bake import demo_kitchen, demo_product
from oventide.services.foreseeing import usual_kitchen
from oventide.services.papers import Order, sheet_for, sheet_pdf, sheet_pictures
from oventide.services.sheet_voice import Voice, in_fahrenheit
from oventide.services.weighing import weigh
from oventide.words.catalogue import LANGUAGES, messages
from oventide.words.speaker import Speaker

NOON = datetime(2026, 11, 25, 4, 12, tzinfo=UTC)
STEPPED: tuple[SheetKind, ...] = ("bench", "wall", "handout")
MOST_PAGES = {"bench": 2, "wall": 6, "formula": 1, "handout": 3, "ruler": 1}
SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
LEAST_PT = 6.9
PRINTED = [pytest.param(language, marks=() if language in ("en", "de") else pytest.mark.slow) for language in LANGUAGES]
TRANSLATED = [param for param in PRINTED if param.values[0] != "en"]


@cache
def forecast() -> Forecast:
    """Invented figures on the demo's own steps, with the words that a forecast gives them."""
    steps, minute = [], 0.0
    for index, step in enumerate(demo_product().procedure.steps):
        words = step_words(step, 170.0)
        end = minute + (step.minutes.likely if step.minutes else 10.0)
        steps.append(
            StepForecast(
                index=index, kind=step.kind, name=words.name, action=words.action, target=words.target,
                outside=words.outside, cautions=words.cautions, where=step.where, covered=step.covered,
                air_c=step.air_c, start=Window(earliest_min=minute, likely_min=minute, latest_min=minute + 5),
                end=Window(earliest_min=end - 1, likely_min=end, latest_min=end + 12),
                start_clock=f"{(18 + int(minute) // 60) % 24:02d}:{int(minute) % 60:02d}"
                + (" the day before" if minute < 360 else ""),
                readings=(
                    Reading(name="core", unit="°C", p5=20.4, p50=22, p95=24.2, because=""),
                    Reading(name="butter that is solid", unit="%", p5=21, p50=25, p95=31, because=""),
                ),
            )
        )  # fmt: skip
        minute = end
    return Forecast(
        product="", kitchen="", members=200, seed=1, steps=tuple(steps), tides=(), sources=("practice",),
        assumed=("The liquid whose temperature is chosen: whole milk.",),
    )  # fmt: skip


def voice(language: str, **units: bool) -> Voice:
    return Voice(Speaker(language), **units)


@cache
def sheet(kind: SheetKind, language: str, paper: Paper = "a4", fahrenheit: bool = False):
    order = Order(kind, paper, voice(language, fahrenheit=fahrenheit))
    return sheet_for(
        order, demo_product(), demo_kitchen(), forecast(), ready_by="09:30", revision="revision 3", printed=NOON
    )


@cache
def pdf(kind: SheetKind, language: str, paper: Paper = "a4") -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(sheet_pdf(sheet(kind, language, paper), paper))


def pages_of(document: pypdfium2.PdfDocument) -> list[str]:
    """The text of each page, words joined by one space."""
    read = [document[number].get_textpage().get_text_range() for number in range(len(document))]
    return [plain(text.replace("\ufffe", "-")) for text in read]


def plain(text: str) -> str:
    return " ".join(re.sub(r"[\u00a0\u202f\u2011]", " ", text).split())


def squeezed(text: str) -> str:
    """Without any space, since a cell may break a line anywhere between words."""
    return re.sub(r"[\s\u00a0\u202f]", "", text)


@pytest.mark.parametrize("language", PRINTED)
@pytest.mark.parametrize("kind", [kind for kind in SHEET_KINDS if kind != "ruler"])
def test_every_ingredient_and_every_step_is_on_the_paper(kind, language):
    text = squeezed(" ".join(pages_of(pdf(kind, language))))
    speaker = Speaker(language)
    assert squeezed(demo_product().name) in text
    for component in weigh(demo_product()).components:
        for line in component.lines:
            assert squeezed(speaker.ingredient(line.ingredient, line.name or line.text)) in text
            assert squeezed(speaker.figure(f"{line.grams:.10g} g")) in text
    if kind in STEPPED:
        for step in demo_product().procedure.steps:
            if step.kind == "keep":  # nothing is done then; its cautions stand below the steps
                continue
            assert squeezed(speaker.retell(step.name)) in text
            assert squeezed(step.text) in text or kind == "wall"


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_no_english_sentence_is_left_but_the_bakers_own(kind, language):
    text = squeezed(" ".join(pages_of(pdf(kind, language)))).lower()
    for step in demo_product().procedure.steps:
        text = text.replace(squeezed(step.text).lower(), "|") if step.text else text
    left = [
        stretch.strip()
        for message, said in messages(language).said.items()
        for stretch in re.split(r"\{\w+\}", message)
        if len(re.findall(r"[A-Za-z]{2,}", stretch)) >= 3 and stretch not in said and squeezed(stretch).lower() in text
    ]
    assert left == []


@pytest.mark.parametrize("language", PRINTED)
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_pages_are_of_the_paper_and_no_more_than_they_need(kind, paper, language):
    document = pdf(kind, language, paper)
    assert 1 <= len(document) <= MOST_PAGES[kind]
    short, long = (side / 72 * 25.4 for side in sorted(document[0].get_size()))
    assert (short, long) == pytest.approx(SIZES[paper], abs=0.1)
    if len(document) > 1:
        say = Speaker(language).say
        for number, text in enumerate(pages_of(document), start=1):
            assert say("page {page} of {pages}", page=number, pages=len(document)) in text


def test_the_english_bench_sheet_keeps_to_one_page():
    assert [len(pdf("bench", "en", paper)) for paper in PAPERS] == [1, 1]


@pytest.mark.parametrize("language", PRINTED)
@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_a_pdf_says_its_title_and_language_and_is_tagged(kind, language):
    content = sheet_pdf(sheet(kind, language))
    assert b"/StructTreeRoot" in content
    assert b"/Lang" in content
    assert f"({language})".encode() in content or f"<{language}>".encode() in content
    assert pypdfium2.PdfDocument(content).get_metadata_dict()["Title"] == demo_product().name


def size_pt(page: pypdfium2.PdfTextPage, index: int) -> float:
    """Size of a character as it is drawn: the font's own times what the page scales it by."""
    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFText_GetMatrix(page, index, matrix)
    return float(pdfium.FPDFText_GetFontSize(page, index)) * abs(matrix.d)


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_no_letter_is_too_small_to_read(kind, language):
    document = pdf(kind, language)
    for number in range(len(document)):
        page = document[number].get_textpage()
        letters = [
            index
            for index in range(page.count_chars())
            if chr(pdfium.FPDFText_GetUnicode(page, index)).isalnum() and not pdfium.FPDFText_IsGenerated(page, index)
        ]
        sizes = [size_pt(page, index) for index in letters]
        assert min(size for size in sizes if size > 0) >= LEAST_PT


def heights_mm(document: pypdfium2.PdfDocument, words: str) -> float:
    """Height of the tallest character of some words, wherever they first stand [mm]."""
    for number in range(len(document)):
        page = document[number].get_textpage()
        found = page.search(words).get_next()
        if found is not None:
            boxes = [page.get_charbox(index) for index in range(found[0], found[0] + found[1])]
            return float(max(top - bottom for _, bottom, _, top in boxes)) / 72 * 25.4
    raise AssertionError(words)


@pytest.mark.parametrize("paper", PAPERS)
def test_the_wall_sheet_is_read_at_two_metres(paper):
    document = pdf("wall", "en", paper)
    assert heights_mm(document, "270") >= 10.0  # a two-hundredth of two metres
    assert heights_mm(document, "18:00") >= 10.0
    assert heights_mm(document, "poppy seeds") >= 8.0


def left_mm(document: pypdfium2.PdfDocument, words: str) -> float:
    page = document[0].get_textpage()
    found = page.search(words).get_next()
    assert found is not None
    return float(page.get_charbox(found[0])[0]) / 72 * 25.4


def test_the_wall_sheet_has_its_quantities_at_the_left_edge_and_grams_only():
    document = pdf("wall", "en")
    assert left_mm(document, "90 g") < left_mm(document, "whole milk") < left_mm(document, "who")
    text = " ".join(pages_of(document))
    assert " oz" not in text
    assert "baker" not in text.lower()
    assert "printed 25 Nov 2026, 04:12, revision 3" in text
    made = cast(WallSheet, sheet("wall", "en"))
    assert made.steps[1].day == "the day before"
    assert made.steps[-1].day == ""


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("paper", PAPERS)
def test_no_step_is_split_over_two_pages(paper, language):
    made = cast(Handout, sheet("handout", language, paper))
    texts = [squeezed(text) for text in pages_of(pdf("handout", language, paper))]
    for step in made.steps:
        parts = [squeezed(part) for part in (step.words, step.outside, *step.cautions) if part]
        at = [{number for number, text in enumerate(texts) if part in text} for part in parts]
        assert all(at), step.name
        assert not at or set.intersection(*at), step.name


def test_the_kitchen_card_asks_eight_questions_and_is_filled_from_a_kitchen():
    filled, blank = (
        cast(Handout, sheet_for(Order("handout"), demo_product(), kitchen, printed=NOON)).card
        for kitchen in (demo_kitchen(), usual_kitchen())
    )
    assert len(filled) == len(blank) == 8
    answers = [plain(line.answer) for line in filled]
    assert answers[0] == "18 to 22 °C"
    assert answers[1] == "3 to 6.5 °C"
    assert answers[2] == "fan; −8 to 4 °C"
    assert answers[7] == "8 m"
    assert [line.answer for line in blank] == [""] * 8
    assert plain(blank[2].written_for) == "fan, 170 °C"
    assert blank[5].written_for == "EU M"
    assert blank[6].written_for == "instant yeast"


def test_the_formula_sheet_counts_flour_as_a_hundred():
    text = " ".join(pages_of(pdf("formula", "en")))
    assert "flour, which is 100 % 360 g" in text
    for words in ("dough temperature 24 °C (22–26)", "scaling weight 91 g", "core 93 °C (90–96)", "pieces 12",
                  "risen × 1.7 (1.5–2.0)", "9 h to 11 h"):  # fmt: skip
        assert words in text, words


@pytest.mark.parametrize("kind", STEPPED)
@pytest.mark.parametrize("language", LANGUAGES)
def test_degrees_may_be_fahrenheit(kind, language):
    made = sheet(kind, language, fahrenheit=True)
    text = plain(made.model_dump_json())
    assert "°C" not in text.replace(Speaker(language).say("core, {degree}", degree="°C"), "")
    assert "338 °F" in text
    assert "199 °F (194–205)" in text


@pytest.mark.parametrize(
    ("celsius", "fahrenheit"),
    [
        ("Kern 91 bis 96 °C", "Kern 196 bis 205 °F"),
        ("cœur 93 °C (90–96)", "cœur 199 °F (194–205)"),
        ("20 (18 a 22) °C", "68 (64 a 72) °F"),
        ("de −2 à 4,5 °C", "de 28 à 40 °F"),
        ("10 K", "10 K"),
        ("12:30, 5 g", "12:30, 5 g"),
    ],
)
def test_celsius_of_a_sentence_becomes_fahrenheit(celsius, fahrenheit):
    assert in_fahrenheit(celsius) == fahrenheit


def test_ounces_stand_beside_the_grams():
    made = sheet_for(Order("formula", "a4", voice("de", ounces=True)), demo_product(), printed=NOON)
    text = " ".join(pages_of(pypdfium2.PdfDocument(sheet_pdf(made))))
    assert "270 g 9,5 oz" in text


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_pictures_show_as_many_pages_as_are_printed(kind):
    pictures = sheet_pictures(sheet(kind, "en"))
    assert len(pictures) == len(pdf(kind, "en"))
    assert all(picture.startswith(b"<svg") for picture in pictures)


def test_a_step_of_the_bakers_own_name_is_told_by_its_kind():
    assert voice("de").step_name("Wake the dough", "temper") == "Temperieren · Wake the dough"
    assert voice("de").step_name("Proof", "proof") == "Stückgare"
    assert voice("en").step_name("Wake the dough", "temper") == "Wake the dough"


def test_preparations_are_told_and_own_ones_stay():
    assert voice("fr").joined(("soft", "ground, as Ada does it", "")) == "mou, moulu, as Ada does it"
