"""A search over all that there is: formulas, kitchens, bakes, the pantry, the trade's words and the pages themselves.

What is found is told with where it matched. A word that nothing holds is taken for a slip of the pen and the nearest
one that something does hold is looked for instead; that is said.
"""

import json
import threading
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import islice
from typing import Any, Literal
from weakref import WeakKeyDictionary

from oventide.journal.finding import CLOSE, COLUMNS, OPEN, Doc, Hit, Index
from oventide.journal.following import NewRevision, NotedBake, bakes_after, revisions_after
from oventide.journal.store import Journal
from oventide.services.finding_help import STANDING, standing, standing_mark
from oventide.services.leafing import folded, mended
from oventide.services.shelf import Shelf

Group = Literal["Formulas", "Bakes", "Kitchens", "Pantry", "Words", "Pages"]
GROUPS: dict[str, Group] = {
    "product": "Formulas", "bake": "Bakes", "kitchen": "Kitchens", "ingredient": "Pantry", "packet": "Pantry",
    "word": "Words", "page": "Pages",
}  # fmt: skip
EACH = 5
ALL = 60
MOST_WORDS = 8
LONGEST_WORD = 40
AROUND = 46
"""Letters that are shown on each side of what matched."""
WHERE = {"lines": "line", "method": "step", "notes": "note", "said": "reading", "dates": ""}
"""What a column is called beside its words; one without a name is looked in, and not shown."""
WHERE_BY_KIND = {
    "ingredient": {"lines": "also called", "notes": "about", "said": "allergens"},
    "packet": {"lines": "packet"},
    "word": {"lines": "meaning"},
    "page": {"lines": "says"},
    "kitchen": {"lines": "has"},
    "bake": {"lines": ""},
}

Pieces = tuple[tuple[str, bool], ...]
"""A text in pieces, each with whether it matched."""


@dataclass(frozen=True)
class Where:
    """A place that matched: what it is, and its words."""

    what: str
    pieces: Pieces


@dataclass(frozen=True)
class Found:
    """One thing that was found, with its address and where it matched."""

    kind: str
    key: str
    address: str
    name: Pieces
    at: str
    detail: str
    where: tuple[Where, ...]


@dataclass(frozen=True)
class Section:
    """What was found of one group, best first, and how many there are in all."""

    group: Group
    kind: str
    count: int
    found: tuple[Found, ...]


@dataclass(frozen=True)
class Answer:
    """What was found. `meant` is what was looked for where a slip was mended, else empty."""

    sections: tuple[Section, ...]
    meant: str
    count: int


def address_of(kind: str, key: str) -> str:
    """Where a thing stands.

    >>> address_of("bake", "coils-2"), address_of("word", "kerf"), address_of("page", "/paste")
    ('/bakes/coils-2', '/glossary#kerf', '/paste')
    """
    if kind == "page":
        return key
    roots = {"product": "/formulas/", "kitchen": "/kitchens/", "bake": "/bakes/", "ingredient": "/pantry/",
             "packet": "/pantry/", "word": "/glossary#"}  # fmt: skip
    return roots[kind] + key


def pieces_of(text: str, around: int | None = None) -> Pieces:
    """A text with signs around what matched, in pieces; cut to what stands around the first match.

    >>> pieces_of(f"140 g {OPEN}poppy{CLOSE} seeds")
    (('140 g ', False), ('poppy', True), (' seeds', False))
    """
    if around is not None and len(text) > 2 * around + 20:
        first = max(text.find(OPEN), 0)
        begin = max(0, first - around)
        end = min(len(text), first + around + 20)
        if OPEN in text[begin:end] and text[begin:end].count(OPEN) > text[begin:end].count(CLOSE):
            end = text.find(CLOSE, end) + 1
        text = ("… " if begin else "") + text[begin:end].strip() + (" …" if end < len(text) else "")
    pieces: list[tuple[str, bool]] = []
    for at, part in enumerate(text.split(OPEN)):
        hit, closed, rest = part.partition(CLOSE)
        if at and closed:
            pieces.append((hit, True))
            part = rest
        if part:
            pieces.append((part, False))
    return tuple(pieces)


def _found(hit: Hit) -> Found:
    texts = dict(zip(COLUMNS, hit.columns, strict=True))
    words = WHERE | WHERE_BY_KIND.get(hit.kind, {})
    places = (
        Where(words[column], pieces_of(line, AROUND))
        for column in COLUMNS[1:]
        for line in texts[column].split("\n")
        if OPEN in line and words[column]
    )
    return Found(
        kind=hit.kind,
        key=hit.key,
        address=address_of(hit.kind, hit.key),
        name=pieces_of(texts["name"]),
        at=hit.at,
        detail=hit.detail,
        where=tuple(islice(places, 2)),
    )


def _clean(text: str) -> str:
    return "".join(sign for sign in text if sign >= " " or sign == "\n")


def _cleaned(doc: Doc) -> Doc:
    texts = {column: _clean(getattr(doc, column)) for column in COLUMNS}
    return Doc(kind=doc.kind, key=doc.key, at=doc.at, detail=doc.detail, parts=doc.parts, **texts)


def _product(row: NewRevision, content: Mapping[str, Any]) -> Doc:
    formula = content["formula"]
    lines = [line["text"] for part in formula["components"] for line in part["lines"]]
    steps = [" ".join(filter(None, (step["name"], step["text"]))) for step in content["procedure"]["steps"]]
    makeup = content["makeup"]
    return Doc(
        "product", row.key, row.name,
        lines="\n".join([part["name"] for part in formula["components"]] + lines),
        method="\n".join(filter(None, steps)),
        notes="\n".join(filter(None, [content["notes"], *content["unread"], row.notes])),
        at=row.saved_at,
        detail=f"{makeup['pieces']} pieces" if makeup.get("pieces") else "",
        parts=tuple(
            sorted({line["ingredient"] for part in formula["components"] for line in part["lines"]} - {None})
        ),
    )  # fmt: skip


def _kitchen(row: NewRevision, content: Mapping[str, Any]) -> Doc:
    words = {"convection": "fan oven", "static": "oven without fan", "deck": "deck oven", "hand": "mixing by hand",
             "planetary": "stand mixer", "spiral": "spiral mixer"}  # fmt: skip
    kinds = (content["oven_kind"], content["mixer"], f"{content['bench']} bench", f"{content['tin']} tins")
    lines = "\n".join(words.get(kind, kind).replace("_", " ") for kind in kinds)
    return Doc("kitchen", row.key, row.name, lines=lines, notes=row.notes, at=row.saved_at)


def _packet(row: NewRevision, content: Mapping[str, Any]) -> Doc:
    told = ("brand", "lot", "shop", "allergens", "notes")
    lines = "\n".join(str(content[name]) for name in told if content.get(name))
    return Doc("packet", row.key, f"Packet of {row.name}", lines=lines, notes=row.notes, at=row.saved_at)


READERS: dict[str, Callable[[NewRevision, Mapping[str, Any]], Doc]] = {
    "product": _product, "kitchen": _kitchen, "packet": _packet,
}  # fmt: skip
UNITS = {"dough temperature": "°C", "core": "°C", "surface": "°C", "rise since mixing": "×",
         "rise since shaping": "×", "jar height": "mm", "bowl weight": "g"}  # fmt: skip


def _revision(row: NewRevision) -> Doc:
    try:
        return READERS[row.kind](row, json.loads(row.content))
    except (KeyError, TypeError, ValueError, AttributeError):
        return Doc(row.kind, row.key, row.name, notes=row.notes, at=row.saved_at)  # of another version: by its name


def _said(entry: Mapping[str, Any]) -> str:
    if entry["deed"] == "reading" and entry.get("value") is not None:
        quantity = entry.get("quantity") or ""
        return f"{quantity} {entry['value']:g} {UNITS.get(quantity, '')}"
    return entry.get("mark") or ""


def _shown_day(day: str) -> str:
    on = date.fromisoformat(day)
    return f"{on:%a} {on.day} {on:%b %Y}"


def day_words(day: str) -> str:
    """A day as people may look for it.

    >>> day_words("2026-03-05")
    '2026-03-05 Thursday 5 March 2026 Thu Mar'
    """
    on = date.fromisoformat(day)
    return f"{day} {on:%A} {on.day} {on:%B %Y} {on:%a %b}"


def _bake(row: NotedBake) -> Doc:
    entries = [json.loads(content) for content in row.entries]
    undone = {entry.get("of") for entry in entries if entry["deed"] == "undo"}
    counted = [entry for entry in entries if entry["uid"] not in undone]
    scores = [f"{entry['score']} of 5" for entry in counted if entry.get("score")]
    return Doc(
        "bake", row.key, row.name,
        lines=row.found_by,
        notes="\n".join(entry["text"] for entry in counted if entry.get("text")),
        said="\n".join(filter(None, (_said(entry) for entry in counted))),
        dates=day_words(row.day),
        at=row.started_at,
        detail=", ".join([_shown_day(row.day), *scores[-1:]]),
    )  # fmt: skip


class Finding:
    """The search over one journal. Its index follows the journal, whoever saves."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal
        path = journal.path
        self._index = Index(None if path is None else path.with_name(f"{path.stem}.finding{path.suffix}"))
        self._turn = threading.Lock()
        self._seen: tuple[int, ...] | None = None

    def close(self) -> None:
        """Let the index go."""
        self._index.close()

    def catch_up(self) -> bool:
        """Read on to where the journal stands; False where another thread is at it."""
        mark = self._journal.mark()
        if mark == self._seen:
            return True
        if not self._turn.acquire(blocking=False):
            return False
        try:
            for docs, marks, drop in self._new():
                with self._index.writing() as index:
                    index.drop_kinds(drop)
                    index.put(_cleaned(doc) for doc in docs)
                    for what, value in marks.items():
                        index.set_mark(what, str(value))
            self._seen = mark
        finally:
            self._turn.release()
        return True

    def _new(self) -> Iterator[tuple[tuple[Doc, ...], dict[str, int | str], tuple[str, ...]]]:
        """What is new, in parts: the things, how far the index comes with them, and kinds whose place they take."""
        if self._index.mark("standing") != standing_mark():
            yield standing(), {"standing": standing_mark()}, STANDING
        for mark, rows in revisions_after(self._journal, int(self._index.mark("revision") or 0)):
            yield tuple(_revision(row) for row in rows), {"revision": mark}, ()
        begun, noted = (int(self._index.mark(what) or 0) for what in ("bake", "entry"))
        for bake, entry, bakes in bakes_after(self._journal, begun, noted):
            yield tuple(_bake(row) for row in bakes), {"bake": bake, "entry": entry}, ()

    def find(self, typed: str, only: str = "") -> Answer:
        """What holds every word that was typed; the last may be begun only. `only` names one kind, for all of it."""
        self.catch_up()
        words, meant = self._words(typed)
        counts, hits = self._index.find(meant, ALL if only else EACH)
        sections = []
        for kind, group in GROUPS.items():
            found = tuple(_found(hit) for hit in hits if hit.kind == kind)
            if found and only in ("", kind):
                sections.append(Section(group, kind, counts[kind], found))
        return Answer(tuple(sections), " ".join(meant) if meant != words else "", sum(counts.values()))

    def _words(self, typed: str) -> tuple[list[str], list[str]]:
        """The words of what was typed, and those with slips mended."""
        words = [word for word in (_word(text) for text in folded(typed).split()) if word][:MOST_WORDS]
        return words, [word if self._index.holds(word) else mended(word, self._index.vocabulary()) for word in words]

    def meant(self, typed: str) -> str:
        """What was typed with its slips mended; empty where there was none to mend."""
        self.catch_up()
        words, meant = self._words(typed)
        return " ".join(meant) if meant != words else ""

    def made_of(self, ingredient_id: str, limit: int) -> tuple[int, tuple[tuple[str, str], ...]]:
        """How many formulas have an ingredient, and key and name of those saved last."""
        self.catch_up()
        return self._index.made_of(ingredient_id, limit)

    def uses(self) -> dict[str, int]:
        """For each ingredient, how many formulas have it."""
        self.catch_up()
        return self._index.counts_of_parts()


def _word(text: str) -> str:
    """A word with something in it that can be looked for; else nothing.

    >>> _word('"butter"'), _word("--")
    ('butter', '')
    """
    shown = "".join(sign for sign in text if sign.isprintable())
    bare = shown.strip("\"'“”‘’()[]{},;:*").replace('"', "")[:LONGEST_WORD]
    return bare if any(sign.isalnum() for sign in bare) else ""


_OPENED: WeakKeyDictionary[Journal, Finding] = WeakKeyDictionary()
_OPENING = threading.Lock()


def finding_of(shelf: Shelf) -> Finding:
    """The search over a shelf; one for each journal that is open."""
    with _OPENING:
        return _OPENED.setdefault(shelf.journal, Finding(shelf.journal))
