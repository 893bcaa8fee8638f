"""A voice: messages with values, numbers and dates as the language writes them, English sentences told again."""

from datetime import UTC, date, datetime

import pytest

from oventide.words.catalogue import LANGUAGES
from oventide.words.retelling import Retelling
from oventide.words.speaker import Speaker

MOMENT = datetime(2026, 3, 5, 4, 7, tzinfo=UTC)


@pytest.mark.parametrize(
    ("language", "number"), [("en", "12.5"), ("de", "12,5"), ("fr", "12,5"), ("it", "12,5"), ("es", "12,5")]
)
def test_numbers_have_the_language_s_sign(language, number):
    speaker = Speaker(language)
    assert speaker.number(12.5) == number
    assert speaker.number(12.0, 1) == number.replace("5", "0")
    assert speaker.number(125_000) == "125000"


def test_dates_are_written_as_there_and_clocks_have_24_hours():
    shown = {language: Speaker(language).day(date(2026, 3, 5)) for language in LANGUAGES}
    assert shown == {
        "en": "5 Mar 2026",
        "fr": "5 mars 2026",
        "de": "05.03.2026",
        "it": "5 mar 2026",
        "es": "5 mar 2026",
    }
    assert all(Speaker(language).clock(MOMENT.replace(hour=16)) == "16:07" for language in LANGUAGES)


def test_things_in_a_row():
    assert Speaker("de").listed(["Weizen", "Milch", "Ei"]) == "Weizen, Milch und Ei"
    assert Speaker("es").listed(["trigo", "leche"]) == "trigo y leche"


def test_a_language_nobody_speaks_is_english():
    assert Speaker("tlh").language == "en"
    assert Speaker("tlh").retell("core 91 to 96 °C") == "core 91 to 96 °C"


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("core 91.5 to 96 °C", "Kern 91,5 bis 96 °C"),
        ("18:53 the day before", "18:53 am Vortag"),
        ("12 pieces × 91.5 g", "12 Stück × 91,5 g"),
        ("in the fridge 4.5 °C, covered", "im Kühlschrank 4,5 °C, abgedeckt"),
        ("Runs off: let the buns cool a little or make it stiffer. Sits stiff: warm the glaze.",
         "Läuft ab: Stücke etwas abkühlen lassen oder Glasur steifer machen. Sitzt steif auf: Glasur erwärmen."),
        ("Fridge: 4.5 (3 to 6.5) °C is assumed.", "Kühlschrank: 4,5 (3 bis 6,5) °C ist angenommen."),
        ("The liquid whose temperature is chosen: whole milk.",
         "Die Flüssigkeit, deren Temperatur gewählt wird: Vollmilch."),
        ("gluten (wheat)", "Gluten (Weizen)"),
        ("dough temperature 31.0 was noted for a step that has not begun: it is not used yet.",
         "Teigtemperatur 31,0 wurde für einen Schritt notiert, der noch nicht begonnen hat: "
         "Es wird noch nicht verwendet."),
        ("Inside 91 to 95 °C by the forecast, the top golden to golden brown.",
         "Innen laut Vorausschau 91 bis 95 °C, oben golden bis goldbraun."),
        ("Into the fridge for 1 h 20 min", "Für 1 h 20 min in den Kühlschrank"),
        ("dough temperature", "Teigtemperatur"),
        ("2.5 g", "2,5 g"),
        ("07:30", "07:30"),
    ],
)  # fmt: skip
def test_english_sentences_are_told_in_german(english, german):
    speaker = Speaker("de")
    assert speaker.retell(english).replace("\u00a0", " ") == german
    assert speaker.knows(english)


@pytest.mark.parametrize(
    "own",
    ["Mother's slab, as she did it", "Butter and honey first, then the filling.", "Brush to the edge", "{low}", "a {b"],
)
def test_the_baker_s_own_words_stay(own):
    for language in LANGUAGES:
        assert Speaker(language).retell(own) == own
    assert not Speaker("de").knows(own)


def test_a_message_with_few_letters_is_no_trap():
    """`{low} to {high}` must not take a baker's sentence apart."""
    assert Speaker("de").retell("Add the butter to the dough") == "Add the butter to the dough"


def test_a_value_may_hold_braces_and_signs():
    told = Speaker("de").retell("weight not known: {grams} %s \\1 of stardust")
    assert told == "Gewicht nicht bekannt: {grams} %s \\1 of stardust"


def test_the_longest_message_wins():
    retelling = Retelling(
        {"{a} is here": "x {a}", "the fridge is here": "Kühlschrank da", "{a} is {b} here": "y {a} {b}"}, "de"
    )
    assert retelling("the fridge is here") == "Kühlschrank da"


@pytest.mark.parametrize("language", [name for name in LANGUAGES if name != "en"])
def test_a_thing_and_a_deed_of_one_english_word_are_two(language):
    speaker = Speaker(language)
    assert speaker.thing("Spread") != speaker.retell("Spread")
    assert speaker.thing("Glaze") != speaker.retell("Glaze")


def test_ingredients_by_the_pantry_or_as_written():
    assert Speaker("it").ingredient("poppy_seed", "poppy seeds") == "semi di papavero"
    assert Speaker("en").ingredient("poppy_seed", "my poppy seeds") == "my poppy seeds"
    assert Speaker("it").ingredient(None, "stardust") == "stardust"
    assert Speaker("it").ingredient("of_my_own", "Ada's flour") == "Ada's flour"
