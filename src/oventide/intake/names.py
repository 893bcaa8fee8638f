"""What is left of an ingredient line without its amount: the ingredient's name, and how it is prepared."""

import re
from dataclasses import dataclass

PREPARATION_WORDS = frozenset(
    [
        "enough",
        "scant",
        "softened",
        "melted",
        "chopped",
        "cold",
        "chilled",
        "sifted",
        "grated",
        "finely",
        "coarsely",
        "roughly",
        "thinly",
        "freshly",
        "diced",
        "cubed",
        "sliced",
        "crushed",
        "peeled",
        "cored",
        "warmed",
        "warm",
        "lukewarm",
        "tepid",
        "hot",
        "cool",
        "cooled",
        "beaten",
        "lightly",
        "whisked",
        "packed",
        "firmly",
        "loosely",
        "lightly-beaten",
        "ripe",
        "drained",
        "rinsed",
        "soaked",
        "plumped",
        "minced",
        "mashed",
        "boiled",
        "cooked",
        "strained",
        "sieved",
        "crumbled",
        "shredded",
        "zested",
        "juiced",
        "halved",
        "quartered",
        "pitted",
        "stoned",
        "shelled",
        "skinned",
        "deseeded",
        "separated",
        "well",
        "room-temperature",
        "toasted",
        "extra",
        "some",
        "additional",
        "frozen",
        "thawed",
        "rum-soaked",
        "browned",
        "scalded",
        "bloomed",
        "divided",
        "optional",
        "active",
        "bubbly",
        "handwarm",
        "very",
        "tightly",
        "torn",
        "snipped",
        "squeezed",
        "pureed",
        "riced",
        "steamed",
        "wilted",
        "sautéed",
        "caramelised",
        "caramelized",
        "shaved",
        "slightly",
        "barely",
    ]
)
"""Words that say how an ingredient is prepared, not which one it is."""

FILLERS = frozenset(
    [
        "free-range",
        "organic",
        "good-quality",
        "quality",
        "best",
        "unwaxed",
        "store-bought",
        "shop-bought",
        "homemade",
        "home-made",
        "favourite",
        "favorite",
        "your",
        "my",
        "good",
        "the",
        "of",
        "a",
        "an",
    ]
)
"""Words that change neither the ingredient nor what is done with it."""

SIZES = frozenset(["small", "medium", "large", "extra-large", "xl", "jumbo", "big"])

_TRAILING = re.compile(
    r"\s(?:for (?!all\b)|at room\b|at rt\b|at about\b|mixed (?:with|in)\b|dissolved\b|"
    r"soaked\b|steeped\b|in (?:oil|brine|syrup|water|"
    r"small|pieces|cubes|chunks|slices)\b|as (?:needed|required|necessary|desired)\b|if (?!not\b)|until\b|plus\b|to "
    r"(?:taste|serve|dust|finish|glaze|sprinkle|brush|decorate|drizzle|top|grease|make|roll|coat|garnish|line|cover|"
    r"scatter|bind|mix)\b|cut (?:into|in)\b|with\b|from (?:the|a|above|your)\b|divided\b|"
    r"the same\b|per\b|or (?:as|so|to)\b)",
    re.IGNORECASE,
)
_DASH = re.compile(r"\s[-–—]\s|[–—]")
_GROUP = re.compile("[\ue000-\ue0ff]")


@dataclass(frozen=True)
class NameParts:
    """The name to look up first, other wordings to try, and the preparation as written."""

    name: str
    full: str
    """The name with the words of preparation that stood directly at it."""
    beside: tuple[str, ...]
    """Short pieces after a comma or in brackets, which may belong to the name."""
    others: tuple[str, ...]
    preparation: tuple[str, ...]
    alternative: str = ""
    """What stood after "or"."""


def _tidy(text: str) -> str:
    return re.sub(r" {2,}", " ", text).strip(" ,.;:-–—=*/+&|…·@")


def _peel(name: str) -> tuple[str, list[str]]:
    """Take words of preparation off both ends of a name.

    >>> _peel("finely grated fresh ginger")
    ('fresh ginger', ['finely grated'])
    >>> _peel("eggs lightly beaten")
    ('eggs', ['lightly beaten'])
    """
    words = name.split()
    front, back = 0, len(words)
    while front < back - 1 and _prepares(words, front, back):
        front += 1
    while back > front + 1 and _bare(words[back - 1]) in PREPARATION_WORDS:
        back -= 1
        if back > front + 1 and words[back - 1].lower() in {"and", "&", "then"}:
            back -= 1
    found = [" ".join(part) for part in (words[:front], words[back:]) if part]
    return " ".join(words[front:back]), found


def _bare(word: str) -> str:
    return word.lower().strip(",.;:()")


def _prepares(words: list[str], at: int, end: int) -> bool:
    word = _bare(words[at])
    if word in PREPARATION_WORDS:
        following = _bare(words[at + 1]) if at + 1 < end else ""
        return (word, following) not in {("cooked", "ham"), ("active", "dry"), ("active", "dried")}
    if word in {"fresh", "frozen"} and at + 2 < end and _bare(words[at + 1]) in {"or", "frozen", "fresh"}:
        return True
    if word in {"or", "and", "&"} and at > 0:
        follower = _bare(words[at + 1]) if at + 1 < end else ""
        return follower in PREPARATION_WORDS or follower in {"frozen", "fresh"}
    return word in {"frozen", "fresh"} and at > 0 and words[at - 1].lower() in {"or", "and"}


def split_name(text: str, groups: list[str]) -> NameParts:
    """Name and preparation of the text beside an amount. `groups` are the texts that stood in brackets.

    >>> parts = split_name("softened butter, cut up", [])
    >>> parts.name, parts.full, parts.preparation
    ('butter', 'softened butter', ('softened', 'cut up'))
    """
    notes: list[str] = []
    inside: list[str] = []
    for mark in _GROUP.findall(text):
        content = _tidy(groups[ord(mark) - 0xE000])
        inside += [piece for piece in (_tidy(part) for part in content.split(",")) if piece]
    bare = _tidy(_GROUP.sub(" ", text))
    alternative = ""
    pieces = [_tidy(piece) for piece in _DASH.sub(",", bare).replace(";", ",").split(",")]
    pieces = [piece for piece in pieces if piece]
    head = pieces[0] if pieces else ""
    rest = pieces[1:]
    while rest and head.lower() and all(_bare(word) in PREPARATION_WORDS for word in head.split()):
        notes.append(head)  # cold, cubed butter
        head, rest = rest[0], rest[1:]
    trailing = _TRAILING.search(" " + head)
    if trailing:
        at = trailing.start()
        tail = _tidy((" " + head)[at:])
        head = _tidy((" " + head)[:at])
        rest = [tail, *rest]
    if " or " in head.lower():
        at = head.lower().index(" or ")
        left, right = head[:at], head[at + 4 :]
        _, peeled = _peel(head)
        if not any(" or " in part for part in peeled):
            alternative = right
            head = left
    elif re.search(r"\w\s?/\s?[A-Za-z]", head):
        head, alternative = (_tidy(part) for part in re.split(r"/", head, maxsplit=1))
    full = head
    name, peeled = _peel(head)
    name = " ".join(word for word in name.split() if _bare(word) not in FILLERS) or name
    others: list[str] = []
    if alternative and len(alternative.split()) > 1:
        others.append(f"{name} {alternative.split()[-1]}")
    short = [piece for piece in (*rest, *inside) if len(piece.split()) <= 4 and not re.search(r"\d\s*[°cCfF]", piece)]
    for piece in inside:
        if piece.lower().startswith("or ") and not alternative:
            alternative = piece[3:]
    written = tuple(
        _tidy(part) for part in (*peeled, *notes, *rest, *inside) if part[3:] != alternative or not alternative
    )
    return NameParts(_tidy(name), _tidy(full), tuple(short), (*others, *short), written, alternative)
