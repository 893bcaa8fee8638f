"""The pantry's answer for the name on a line: with words beside it, as prepared, or less words that mean nothing."""

import re
from dataclasses import replace
from functools import lru_cache

from oventide.intake.names import PREPARATION_WORDS, SIZES, NameParts
from oventide.intake.respell import lookalikes
from oventide.pantry.ingredients import ingredient
from oventide.pantry.names import Found, find


@lru_cache(maxsize=4096)
def find_once(name: str) -> Found:
    """The pantry's answer for a name, remembered: a recipe asks for the same names again and again."""
    return find(name)


def look_up(parts: NameParts) -> tuple[Found, NameParts]:
    """The pantry's answer for the name; with words beside it where these say which kind is meant.

    A word beside the name that turned out to belong to it (``milk, full fat``) leaves the preparation.
    """
    known = [find_once(name) for name in (parts.full, parts.name) if name]
    best = next((found for found in known if found.ingredient_id is not None), None)
    if best is None or best.assumed:
        for piece in parts.beside:
            closer = find_once(f"{piece} {parts.name}")
            plainer = find_once(parts.name)
            if closer.ingredient_id is None or (best is not None and len(closer.assumed) >= len(best.assumed)):
                continue
            if closer.ingredient_id != plainer.ingredient_id or plainer.assumed:
                only_prepares = all(word.lower() in PREPARATION_WORDS for word in piece.split())
                kept = tuple(part for part in parts.preparation if part != piece or only_prepares)
                return closer, replace(parts, preparation=kept)
    if best is not None:
        return best, parts
    for other in parts.others:
        found = find_once(other)
        if found.ingredient_id is not None:
            return found, parts
    return (known or [find_once("")])[0], parts


_PREPARED: tuple[tuple[str, str, str], ...] = (
    ("potato_raw", r"\b(?:mashed|riced|pur[eé]ed)\b", "potato_mashed"),
    ("potato_raw", r"\b(?:boiled|cooked|steamed)\b", "potato_boiled_flesh"),
    ("bacon_raw", r"\b(?:fried|cooked|crisped)\b", "bacon_cooked"),
    ("hazelnuts", r"\b(?:roasted|toasted)\b", "hazelnuts_roasted"),
    ("hazelnuts", r"^(?:finely )?ground\b", "hazelnuts_ground"),
    ("almonds", r"^(?:finely )?ground\b", "almonds_ground"),
)
"""What a way of preparing makes of an ingredient, where the pantry has a row for it."""


def as_prepared(found: Found, shown: str) -> tuple[Found, str]:
    """The ingredient as it goes into the bowl: a potato that is boiled and mashed is mashed potato."""
    for raw, words, ready in _PREPARED:
        if found.ingredient_id == raw and re.search(words, shown, re.IGNORECASE):
            note = f"“{shown}” read as {ingredient(ready).name}: the weight is that of the prepared food"
            return found.model_copy(update={"ingredient_id": ready}), note
    return found, ""


def without_strange_words(name: str) -> tuple[Found, str, str] | None:
    """A name without words in front that mean nothing here (a maker's word, an unknown measure), if the rest is known.

    Scanner's letters are put right first. Gives what was found, the name read, and what is to be said of it.
    """
    for other in lookalikes(name):
        found = find_once(other)
        if found.ingredient_id is not None:
            return found, other, f"“{name}” read as {other}"
    return None


def unknown_unit(name: str) -> tuple[str, str] | None:
    """``3 bushels flour``: the name without its first word is an ingredient, so the word is a measure nobody knows."""
    word, _, rest = name.partition(" ")
    rest = re.sub(r"^of ", "", rest)
    if (
        rest
        and word.lower() not in SIZES
        and find_once(word).ingredient_id is None
        and find_once(rest).ingredient_id is not None
    ):
        return word, rest
    return None
