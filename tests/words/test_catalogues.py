"""Catalogues are whole: every message, every place of a value, every ingredient; and as each language is written."""

import csv
import re
import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from oventide.pantry.ingredients import everything
from oventide.words.catalogue import LANGUAGES, catalogue

OTHERS = tuple(language for language in LANGUAGES if language != "en")
PLACE = re.compile(r"\{\w*\}")


def pairs(language: str) -> list[tuple[str, str]]:
    """Message and translation, each form by itself."""
    found = []
    for message in catalogue(language):
        if message.id:
            ids = message.id if isinstance(message.id, (list, tuple)) else (message.id,)
            said = message.string if isinstance(message.string, (list, tuple)) else (message.string,)
            found += [(ids[min(place, len(ids) - 1)], str(form or "")) for place, form in enumerate(said)]
    return found


def test_catalogues_are_up_to_the_sources(root: Path) -> None:
    tool = root / "tools" / "catalogues.py"
    done = subprocess.run([sys.executable, str(tool), "--check"], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("language", OTHERS)
def test_every_message_has_its_words_and_its_places(language: str) -> None:
    wrong = [
        f"{message!r} → {said!r}"
        for message, said in pairs(language)
        if not said.strip() or sorted(PLACE.findall(message)) != sorted(PLACE.findall(said))
    ]
    assert wrong == [], "\n".join(wrong)
    fuzzy = [message.id for message in catalogue(language) if message.id and message.fuzzy]
    assert fuzzy == []


@pytest.mark.parametrize("language", OTHERS)
def test_a_sentence_of_several_words_is_translated(language: str) -> None:
    same = [
        message
        for message, said in pairs(language)
        if message == said and len(re.findall(r"[a-z]{3,}", PLACE.sub("", message))) > 2
    ]
    assert same == []


@pytest.mark.parametrize("language", OTHERS)
def test_sentences_end_as_theirs_do(language: str) -> None:
    wrong = [
        f"{message!r} → {said!r}"
        for message, said in pairs(language)
        if message[-1] in ".?:" and said[-1] != message[-1]
    ]
    assert wrong == [], "\n".join(wrong)


def test_french_signs_are_tied_to_their_words() -> None:
    wrong = [
        said
        for _, said in pairs("fr")
        if re.search(r"[^\u00a0\u202f\d][:;?!»%](?=\s|$)| [:;?!»%]|«[^\u00a0]", said) or "'" in said or '"' in said
    ]
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_quotation_marks_are_the_language_s_own(language: str) -> None:
    opening = {"fr": "«", "de": "„", "it": "«", "es": "«"}[language]
    wrong = [
        said
        for message, said in pairs(language)
        if "“" in message and (opening not in said or (language != "de" and "“" in said))
    ]
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_no_exclamation_and_no_machine_words(language: str) -> None:
    words = {
        "fr": r"\b(valider|soumettre|synchronis\w+|tableau de bord|invalide)\b",
        "de": r"\b(absenden|ungültig|Synchron\w+|Dashboard|Workflow)\b",
        "it": r"\b(inviare|sincronizz\w+|invalido|cruscotto)\b",
        "es": r"\b(enviar|sincroniz\w+|inválido|tablero)\b",
    }[language]
    wrong = [said for _, said in pairs(language) if "!" in said or "¡" in said or re.search(words, said, re.I)]
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_letters_with_their_marks_are_there(language: str) -> None:
    text = " ".join(said for _, said in pairs(language))
    assert all(letter in text for letter in {"fr": "éèêàçœû", "de": "äöüßÜ", "it": "àèìòù", "es": "áéíóúñ¿"}[language])


def test_every_ingredient_of_the_pantry_has_its_name() -> None:
    text = files("oventide.words").joinpath("ingredients.csv").read_text("utf-8")
    rows = {row["id"]: row for row in csv.DictReader(text.splitlines())}
    assert {item.id: item.name for item in everything()} == {key: row["en"] for key, row in rows.items()}
    empty = [f"{key} {language}" for key, row in rows.items() for language in OTHERS if not row[language].strip()]
    assert empty == []
    for language in OTHERS:
        same = [key for key, row in rows.items() if row[language] == row["en"]]
        assert len(same) < 60, (language, same)  # chia, tofu, tahini and their like


def test_sentences_of_lower_rooms_are_still_built_there(root: Path) -> None:
    """Each longer word of a listed sentence stands in the module that it is listed under."""
    text, name, stale = "", "", []
    for line in (root / "src/oventide/words/told.txt").read_text("utf-8").splitlines():
        if line.startswith("["):
            name = line[1:-1]
            text = (root / "src" / "oventide" / name).read_text("utf-8").lower()
        elif line and not line.startswith("#"):
            gone = [word for word in re.findall(r"[a-z]{5,}", PLACE.sub(" ", line).lower()) if word not in text]
            stale += [f"{name}: {line} ({', '.join(gone)})"] if gone else []
    assert stale == [], "\n".join(stale)


def test_the_template_has_no_words_twice() -> None:
    with files("oventide.words").joinpath("catalogue", "oventide.pot").open("rb") as file:
        ids = [message.id for message in read_po(file) if message.id]
    assert len(ids) == len(set(map(str, ids)))
