"""The choice of sheets: each in each language, its look and its PDF; without scripts too."""

import re
from io import BytesIO

import pypdfium2
import pytest

from oventide.press.model import SHEET_KINDS
from oventide.words.catalogue import LANGUAGES
from oventide.words.speaker import Speaker


@pytest.mark.parametrize("kind", SHEET_KINDS)
def test_a_sheet_stands_as_text_in_its_own_language(client, key, kind):
    answer = client.get(f"/formulas/{key}/sheet?ready_by=07%3A30&kind={kind}&language=de")
    assert answer.status_code == 200
    article = answer.text[answer.text.index('<article class="paper-sheet"') : answer.text.index("</article>")]
    assert 'lang="de"' in article
    assert '<html lang="en">' in answer.text
    if kind != "ruler":
        assert "backstarkes Weizenmehl" in article
        assert "abwiegen" in article
    assert "strong white flour" not in article


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_pdf_carries_its_language_in_its_name(client, key, language):
    answer = client.get(f"/formulas/{key}/sheet.pdf?kind=formula&language={language}&units=oz-f")
    assert answer.headers["content-type"] == "application/pdf"
    tail = "" if language == "en" else f"-{language}"
    assert f'filename="{key}-formula-sheet{tail}.pdf"' in answer.headers["content-disposition"]
    text = pypdfium2.PdfDocument(BytesIO(answer.content))[0].get_textpage().get_text_range()
    assert Speaker(language).say("baker’s %").replace("\u00a0", " ") in text.replace("\u00a0", " ")
    assert "°F" in text


def test_the_look_shows_every_page_and_leads_back(client, key):
    answer = client.get(f"/formulas/{key}/sheet/look?kind=handout&language=fr&paper=letter&ready_by=07%3A30")
    pages = re.findall(r'<img src="data:image/svg\+xml;base64,[^"]+" alt="([^"]+)"', answer.text)
    assert len(pages) >= 2
    assert pages[0].endswith(f"page 1 of {len(pages)}, as it will be printed")
    assert re.search(r'href="/formulas/[^"]+/sheet\?[^"]*kind=handout&amp;paper=letter&amp;language=fr', answer.text)
    part = client.get(f"/formulas/{key}/sheet/look?kind=formula", headers={"HX-Request": "true"})
    assert "<html" not in part.text
    assert part.text.count("<img") == 1


def test_the_device_s_language_and_units_are_the_first_choice(client, key):
    client.cookies.set("oventide_paper", "it")
    client.cookies.set("oventide_degree", "f")
    page = client.get(f"/formulas/{key}/sheet?kind=formula").text
    assert '<option value="it" selected>Italiano</option>' in page
    assert '<option value="f" selected>' in page
    assert "338" in page


@pytest.mark.parametrize("asked", ["kind=poster", "language=tlh", "paper=a3", "units=stone"])
def test_what_no_printer_knows_falls_back_to_the_usual(client, key, asked):
    page = client.get(f"/formulas/{key}/sheet?{asked}")
    assert page.status_code == 200
    assert '<option value="bench" selected>' in page.text
    assert '<option value="en" selected>' in page.text


def test_a_formula_sheet_waits_for_no_forecast(client, key, monkeypatch):
    from oventide.services import foreseeing

    monkeypatch.setattr(foreseeing, "foresee", lambda *_, **__: pytest.fail("nothing is to be foreseen"))
    assert client.get(f"/formulas/{key}/sheet?kind=formula").status_code == 200
    assert client.get(f"/formulas/{key}/sheet.pdf?kind=ruler").status_code == 200


def test_a_language_may_be_kept_for_paper(client, key):
    page = client.get(f"/formulas/{key}/sheet?kind=formula&language=es").text
    assert re.search(r'Always print in <span lang="es">Español</span> here', page)
    client.post("/language", data={"paper": "es", "back": "/"})
    again = client.get(f"/formulas/{key}/sheet?kind=formula").text
    assert '<option value="es" selected>Español</option>' in again
    assert "Always print" not in again
