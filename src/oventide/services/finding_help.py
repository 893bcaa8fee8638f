"""What can be found besides what the baker stored: the pantry's ingredients, the trade's words, the pages."""

import hashlib
from functools import cache

from oventide.journal.finding import Doc
from oventide.pantry.ingredients import everything
from oventide.pantry.names import names_of
from oventide.services.glossary import same, words

STANDING = ("ingredient", "word", "page")
PAGES = (
    ("/paste", "Paste a recipe", "text of a recipe, read line by line, from a file, new formula"),
    ("/kitchens/new", "Add a kitchen", "room, fridge, oven, mixer, altitude, scale, thermometer"),
    ("/kitchens", "Compare kitchens", "room, fridge, oven, what is known and what is assumed"),
    ("/bench", "Bench", "begin a bake, alarms, weigh, readings, timers, steps under way"),
    ("/bakes", "Bakes that were made", "records, log, notes, tasting, scores, diary"),
    ("/pantry", "Pantry", "ingredients, composition, density, allergens, price, packet, lot, cost"),
    ("/glossary", "Words", "glossary, what the trade's words mean here"),
    ("/about", "About", "what this does and does not, how to read a range, licence"),
    ("/about#cautions", "Cautions", "raw flour, raw egg, heat, burns, mixers, allergens, cooling, keeping"),
)


@cache
def standing() -> tuple[Doc, ...]:
    """Everything of these kinds."""
    other = names_of()
    docs = [
        Doc("ingredient", item.id, item.name, lines="\n".join(other.get(item.id, ())), notes=item.note,
            said=", ".join(item.allergens), detail=item.category)
        for item in everything()
    ]  # fmt: skip
    like = {word.strip(): line for line in same() for word in line.replace("≈", "=").split("=")}
    docs += [
        Doc("word", word.key, word.word, lines="\n".join(filter(None, (word.meaning, like.get(word.word, "")))))
        for word in words()
    ]
    docs += [Doc("page", address, name, lines=text) for address, name, text in PAGES]
    return tuple(docs)


@cache
def standing_mark() -> str:
    """Changes with any of it, so that an index of an older version is told the new."""
    return hashlib.sha256(repr(standing()).encode()).hexdigest()[:16]
