"""Catalogues of the languages: what each message is called there, read once from the .po files beside this module."""

import csv
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

LANGUAGES: dict[str, str] = {
    "en": "English",
    "fr": "Français",
    "de": "Deutsch",
    "it": "Italiano",
    "es": "Español",
}
"""Languages of paper and bench, each by its own name. English is what the messages are written in."""
ENGLISH = "en"
BENCH_SCRIPTS = "web/static/bench/"


class Messages(NamedTuple):
    """One language: by message, what is said; one form, or a form for each kind of number."""

    said: dict[str, str]
    many: dict[str, tuple[str, ...]]
    """By the singular message: the forms, in the order of the language's own rule."""
    rule: str
    """Which form goes with a number n, as gettext writes it."""


def known_language(asked: str | None) -> str:
    """The language that is asked for, or English.

    >>> known_language("de"), known_language("tlh"), known_language(None)
    ('de', 'en', 'en')
    """
    return asked if asked in LANGUAGES else ENGLISH


@cache
def catalogue(language: str) -> Catalog:
    """The catalogue as it stands in its file; for English the template, which holds no translations."""
    name = "oventide.pot" if language == ENGLISH else f"{language}.po"
    with files("oventide.words").joinpath("catalogue", name).open("rb") as file:
        return read_po(file, locale=None if language == ENGLISH else language)


@cache
def messages(language: str) -> Messages:
    """Every message of a language, ready to be looked up."""
    said: dict[str, str] = {}
    many: dict[str, tuple[str, ...]] = {}
    for message in catalogue(language):
        if not message.id:
            continue
        if isinstance(message.id, (list, tuple)):
            one, more = message.id[0], message.id[1]
            forms = tuple(str(form or "") for form in message.string or ())
            many[one] = forms if forms and all(forms) else (one, more)
        else:
            said[message.id] = str(message.string or message.id)
    return Messages(said, many, catalogue(language).plural_expr if language != ENGLISH else "(n != 1)")


@cache
def bench_messages(language: str) -> dict[str, str]:
    """What the scripts at the bench say: only the messages that stand in them."""
    found: dict[str, str] = {}
    for message in catalogue(language):
        if message.id and any(BENCH_SCRIPTS in place for place, _ in message.locations):
            one = message.id[0] if isinstance(message.id, (list, tuple)) else message.id
            found[one] = messages(language).said.get(one, one)
    return found


@cache
def ingredient_names(language: str) -> dict[str, str]:
    """By the pantry's id, what an ingredient is called in a language."""
    text = files("oventide.words").joinpath("ingredients.csv").read_text("utf-8")
    return {row["id"]: row[language] for row in csv.DictReader(text.splitlines())}
