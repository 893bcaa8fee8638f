"""From the name that a baker typed to an ingredient of the pantry.

The name is broken into words; the largest known name whose words are all there wins, provided that what is left
over is only preparation ("softened", "finely chopped"). Anything else is offered, never chosen.
"""

import itertools
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Literal

from rapidfuzz import fuzz, process
from rapidfuzz.distance import DamerauLevenshtein

from oventide.formula.model import Frozen
from oventide.pantry.ingredients import everything, ingredient, table
from oventide.pantry.own import Pantry

Certainty = Literal["exact", "synonym", "near", "none"]

_MOST_OFFERED = 5
_LONGEST_NAME = 200


class Found(Frozen):
    """What a typed name was read as.

    `ingredient_id` is None unless the name is known (exact or synonym). `assumed` are sentences for the baker,
    `offered` pantry ids that are near, `set_aside` the words that were read as preparation or size.
    """

    ingredient_id: str | None
    certainty: Certainty
    assumed: tuple[str, ...] = ()
    offered: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Known:
    ingredient_id: str
    assumed: str
    words: tuple[str, ...]
    shown: bool
    choices: tuple[str, ...] = ()


_TAIL = re.compile(
    r"\b(?:plus|for|soaked in|steeped in|dissolved in|mixed with|at \d+\w*|to taste|to serve|to finish|as needed|"
    r"as required|if |at room|at about|cut in|cut into|preferably|optional|such as|about|approx|approximately|"
    r"depending|until|straight from|taken from|removed from|heated to|warmed to|weighed|see note|see above|or more|"
    r"or to)\b.*$"
)
_OF_FRUIT = re.compile(r"\b(zest|juice|rind|peel)\b(?: \w+){0,3}? (?:of|from)\b.*?\b(lemon|orange|lime|clementine)s?\b")
_FRUIT_FIRST = re.compile(r"^(?:\w+ )?(lemon|orange|lime)s?\b[,( ].*?\b(zest|juice)(?:e?d)?\b")
_SEPARATE = re.compile(r"[^\w%]+")
_FILLER = frozenset(
    ("of", "the", "a", "an", "and", "in", "with", "on", "by", "as", "de", "la", "le", "du", "des", "d", "l", "s")
)
_PLURALS = {"leaves": "leaf", "halves": "half", "molasses": "molasses", "loaves": "loaf", "potatoes": "potato"} | {
    "tomatoes": "tomato", "mangoes": "mango", "swiss": "swiss", "couscous": "couscous", "peaches": "peach",
    "radishes": "radish", "bunches": "bunch", "boxes": "box",
}  # fmt: skip


def _bare(text: str) -> str:
    """Lower case, no accents, one kind of apostrophe."""
    flat = unicodedata.normalize("NFKD", text.lower().replace("’", "'").replace("æ", "ae").replace("œ", "oe"))
    return "".join(letter for letter in flat if not unicodedata.combining(letter))


def _singular(word: str) -> str:
    if word in _PLURALS:
        return _PLURALS[word]
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us")):
        return word[:-1]
    return word


def words_of(text: str) -> tuple[str, ...]:
    """The words of a name as they are compared: lower case, singular, without accents, signs and fillers.

    >>> words_of("Crème fraîche (full-fat)"), words_of("confectioners’ sugar")
    (('creme', 'fraiche', 'full', 'fat'), ('confectioner', 'sugar'))
    """
    plain = _bare(text).replace("'s", "").replace("s'", "").replace("'", "")
    pieces = (piece.strip("%_") for piece in _SEPARATE.split(plain))
    return tuple(_singular(piece) for piece in pieces if piece and piece not in _FILLER)


@cache
def _roles() -> dict[str, frozenset[str]]:
    return {row["role"]: frozenset(_singular(_bare(word)) for word in row["words"].split()) for row in table("words")}


@cache
def _built_in() -> tuple[_Known, ...]:
    rows: list[_Known] = []
    for item in everything():
        rows.append(_Known(item.id, "", words_of(item.name), True))
    for row in table("names"):
        for name in row["names"].split("|"):
            if row["id"] == "?":
                rows.append(_Known("", "", words_of(name), False, tuple(row["assumed"].split())))
            else:
                rows.append(_Known(row["id"], row["assumed"], words_of(name), False))
    return tuple(rows)


def _index(rows: Iterable[_Known]) -> dict[frozenset[str], _Known]:
    """By set of words; the first row with a set stands, rows with a stated assumption give way to none."""
    found: dict[frozenset[str], _Known] = {}
    for row in rows:
        key = frozenset(row.words)
        if key not in found:
            found[key] = row
    return found


@cache
def _built_in_index() -> dict[frozenset[str], _Known]:
    # Synonyms first: they carry the assumption that goes with a bare word such as "butter".
    return _index(sorted(_built_in(), key=lambda row: row.shown))


@cache
def _vocabulary() -> frozenset[str]:
    return frozenset(word for row in _built_in() for word in row.words)


@cache
def _words_by_id() -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for row in _built_in():
        found.setdefault(row.ingredient_id, set()).update(row.words)
    return {name: frozenset(words) for name, words in found.items()}


@cache
def names_of() -> dict[str, tuple[str, ...]]:
    """The other names that each ingredient is recognised by, as they stand in the table.

    >>> "bread flour" in names_of()["flour_bread_unenriched"]
    True
    """
    found: dict[str, list[str]] = {}
    for row in table("names"):
        if row["id"] != "?":
            found.setdefault(row["id"], []).extend(row["names"].split("|"))
    return {ingredient_id: tuple(dict.fromkeys(names)) for ingredient_id, names in found.items()}


def is_word(word: str) -> bool:
    """Whether a single word means something in the names of ingredients or their preparation.

    >>> is_word("walnuts"), is_word("smoked"), is_word("nub")
    (True, True, False)
    """
    known = _vocabulary() | frozenset().union(*_roles().values())
    return all(part in known for part in words_of(word))


def _is_generic(row: _Known) -> bool:
    """Whether a name is one word for a whole family (flour, milk, cheese), so that a strange word may change it."""
    return len(row.words) < 2 and (not row.words or row.words[0] in _roles()["generic"])


def _heads(words: tuple[str, ...], row: _Known) -> bool:
    """Whether the known name holds the last word of the whole name that is no preparation: its head, in English."""
    heads = [word for word in words if not _strippable(word)]
    return bool(heads) and heads[-1] in row.words and not _is_generic(row)


def _own_index(pantry: Pantry | None) -> dict[frozenset[str], _Known]:
    if pantry is None:
        return {}
    rows = []
    for own in pantry.own:
        for name in (own.name, *own.names):
            rows.append(_Known(own.id, "", words_of(name), True))
    return _index(rows)


@lru_cache(maxsize=4096)
def _is_slip(word: str) -> bool:
    """Whether a strange word is one letter away from a word of the pantry, so that it is no mill's own name."""
    return len(word) >= 5 and any(
        len(name) >= 4 and DamerauLevenshtein.distance(word, name, score_cutoff=1) <= 1 for name in _vocabulary()
    )


def _strippable(word: str) -> bool:
    return word in _roles()["preparation"] or any(sign.isdigit() for sign in word)


def _largest(words: tuple[str, ...], index: dict[frozenset[str], _Known]) -> tuple[_Known, tuple[str, ...]] | None:
    """The known name with most words among `words`, and the words left over. Later words win a tie."""
    have = frozenset(words)
    best: tuple[tuple[int, int, int], _Known] | None = None
    for key, row in index.items():
        if key and key <= have:
            rest = [word for word in words if word not in key]
            unread = sum(not _strippable(word) for word in rest)
            rank = (len(key), -unread, max(position for position, word in enumerate(words) if word in key))
            if best is None or rank > best[0]:
                best = (rank, row)
    if best is None:
        return None
    key = frozenset(best[1].words)
    return best[1], tuple(word for word in words if word not in key)


def _nearest(words: tuple[str, ...], pantry: Pantry | None) -> tuple[tuple[str, ...], bool]:
    """Ids that are near, best first, and whether the best is a likely slip of the finger."""
    wanted = " ".join(word for word in words if not _strippable(word)) or " ".join(words)
    if not wanted:
        return (), False
    rows = [*_built_in(), *(_own_index(pantry).values())]
    names = [" ".join(row.words) for row in rows]
    hits = process.extract(wanted, names, scorer=fuzz.token_sort_ratio, limit=25, score_cutoff=70)
    offered: list[str] = []
    slip = False
    for name, _, position in hits:
        distance = DamerauLevenshtein.distance(wanted, name)
        if distance <= (2 if len(name) >= 7 else 1) and len(name) >= 4:
            slip = True
        for ingredient_id in rows[position].choices or (rows[position].ingredient_id,):
            if ingredient_id not in offered:
                offered.append(ingredient_id)
    return tuple(offered[:_MOST_OFFERED]), slip


def _shown(ingredient_id: str, pantry: Pantry | None) -> str:
    return pantry.ingredient(ingredient_id).name if pantry is not None else ingredient(ingredient_id).name


def _accept(
    words: tuple[str, ...], index: dict[frozenset[str], _Known], pantry: Pantry | None, lenient: int
) -> Found | tuple[str, ...]:
    """A certain reading of these words, or the ids that a partial reading points at.

    Lenient: a word of kind ("smoked"), or a maker's own word beside a name that stands for one thing only, may be left
    out if it is said; at 2, so may a word that names something else, where the known name ends the whole name and is
    no word for a family ("rum raisins" are raisins). A word that other names of the same ingredient use ("quick-rise" beside instant yeast) says
    nothing new.
    """
    largest = _largest(words, index)
    if largest is None:
        return ()
    row, rest = largest
    if row.choices:
        return row.choices
    own = _words_by_id().get(row.ingredient_id, frozenset()) - _roles()["blocker"]
    unread = [word for word in rest if not _strippable(word) and word not in own]
    kinds = [word for word in unread if word in _roles()["kind"]]
    strange = [word for word in unread if word not in kinds]
    blocked = [word for word in strange if word in _vocabulary() or word in _roles()["blocker"] or _is_slip(word)]
    if "free" in unread:
        return ()  # gluten-free flour is neither flour nor gluten
    if (
        lenient > 1
        and _heads(words, row)
        and not any(
            word in _roles()["blocker"] | _roles()["change"] or (word not in _vocabulary() and _is_slip(word))
            for word in strange
        )
    ):
        blocked = []
    if blocked or (unread and not lenient) or (strange and _is_generic(row)):
        return (row.ingredient_id,)
    assumed = [row.assumed.format(shown=_shown(row.ingredient_id, pantry))] if row.assumed else []
    if unread:
        left, shown = " ".join(unread), _shown(row.ingredient_id, pantry)
        assumed.append(f"“{left}” is not a kind that the pantry knows here; {shown} is taken")
    aside = tuple(word for word in rest if _strippable(word))
    certainty: Certainty = "exact" if row.shown and not rest else "synonym"
    return Found(ingredient_id=row.ingredient_id, certainty=certainty, assumed=tuple(assumed), set_aside=aside)


def _readings(name: str) -> list[tuple[str, ...]]:
    """Ways to look at a name, fullest first: with its brackets and after-comma words, then without them."""
    plain = _bare(name[:_LONGEST_NAME])
    fruit = _OF_FRUIT.search(plain)
    if fruit:
        plain = f"{fruit.group(2)} {'juice' if fruit.group(1) == 'juice' else 'zest'}"
    plain = re.sub(r"\bfree[- ]range\b", " ", plain)
    plain = re.split(r"\+", plain, maxsplit=1)[0] or plain
    peeled = _FRUIT_FIRST.match(plain)
    if peeled and not ("zest" in plain and "juice" in plain):
        plain = f"{peeled.group(1)} {peeled.group(2)}"
    outside = re.sub(r"\([^)]*\)?", " ", plain)
    texts = [plain, outside, _TAIL.sub("", plain), _TAIL.sub("", outside)]
    head, *after = re.split(r"[,;:–—]| - ", outside, maxsplit=1)
    if after:
        texts += [_TAIL.sub("", after[0]) + " " + head, _TAIL.sub("", head)]
    seen: list[tuple[str, ...]] = []
    for text in texts:
        words = words_of(text)
        if words and words not in seen:
            seen.append(words)
    return seen


def _with_rest(name: str, found: Found) -> Found:
    """Say what stands after a plus sign and was not read."""
    _, sign, rest = name[:_LONGEST_NAME].partition("+")
    if not (sign and rest.strip()):
        return found
    sentence = f"“{rest.strip()}” after the plus sign is not in this weight: give it a line of its own"
    return found.model_copy(update={"assumed": (*found.assumed, sentence)})


def find(name: str, pantry: Pantry | None = None) -> Found:
    """The ingredient that a typed name means.

    >>> find("unsalted butter, softened").ingredient_id, find("confectioners' sugar").ingredient_id
    ('butter_unsalted', 'sugar_icing')
    >>> slip = find("cardamonm")
    >>> slip.ingredient_id, slip.certainty, slip.offered[0]
    (None, 'near', 'cardamom')
    """
    pointed: list[str] = []
    readings = _readings(name)
    indexes = [index for index in (_own_index(pantry), _built_in_index()) if index]
    for index, lenient, words in itertools.product(indexes, (0, 1, 2), readings):
        answer = _accept(words, index, pantry, lenient)
        if isinstance(answer, Found):
            return _with_rest(name, answer)
        pointed += [ingredient_id for ingredient_id in answer if ingredient_id not in pointed]
    either = re.split(r"\bor\b|/", _bare(name[:_LONGEST_NAME]), maxsplit=1)
    if len(either) == 2 and either[0].strip():
        tail = either[1].split()[-1:] if either[1].split() else []
        for first in (either[0], " ".join([either[0], *tail])):
            taken = find(first, pantry)
            if taken.ingredient_id is not None:
                sentence = f"of “{name.strip()}” the first is taken: {_shown(taken.ingredient_id, pantry)}"
                return taken.model_copy(update={"assumed": (*taken.assumed, sentence), "certainty": "synonym"})
    near, slip = _nearest(readings[-1] if readings else (), pantry)
    offered = tuple(dict.fromkeys([*near, *pointed] if slip else [*pointed, *near]))[:_MOST_OFFERED]
    certainty: Certainty = "near" if slip or pointed else "none"
    return Found(ingredient_id=None, certainty=certainty, offered=offered)
