"""English sentences told again in another language: the message they were made from is found, its values carried over.

The rooms below the use cases build their sentences in English and know of no language. A sentence of theirs is a
message of the catalogue with values in its places, so it can be found again. The baker's own words are no message of
the catalogue and stay as they are.
"""

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

_PLACE = re.compile(r"\{(\w+)\}")
_SPACES = re.compile(r"[\u00a0\u202f]")
_NUMBER = re.compile(r"(?<![\d:.])(\d+)\.(\d+)(?![\d:.])")
_TIGHT_PERCENT = re.compile(r"(?<=\d)%")
_QUANTITY = re.compile(
    r"[≈~<>×+−±-]?\s?\d[\d.,:–×+\s−-]*"
    r"(?:\s?(?:g|kg|mg|mm|cm|cm²|m|ml|mL|l|L|oz|lb|%|°C|°F|K|h|min|s|ΔE|g/cm²|g/mL|kJ/kg|Pa·s))?(?:\s\d+\s?min)?"
)
_FEW_LETTERS = 7
"""A message with fewer letters of its own than this is recognised only where its values are figures or messages."""
_DEEPEST = 4
_SPLITS = (
    (re.compile(r"(?<=[.?…])\s+(?=\S)"), " "),
    (re.compile(r";\s+"), "; "),
    (re.compile(r":\s+"), ": "),
    (re.compile(r"\s·\s"), " · "),
    (re.compile(r",\s+"), ", "),
)
"""Where a text may be taken apart, the widest joints first, and how its parts are joined again."""


def localised(text: str, language: str) -> str:
    """Decimal commas where the language has them.

    >>> localised("2.5 g, 07:30, 1.5–2.0, 95%", "de"), localised("2.5 g", "en")
    ('2,5 g, 07:30, 1,5–2,0, 95 %', '2.5 g')
    """
    return text if language == "en" else _TIGHT_PERCENT.sub(" %", _NUMBER.sub(r"\1,\2", text))


class _Pattern(NamedTuple):
    message: str
    literal: str
    """The longest stretch without a place, looked for first."""
    shapes: tuple[re.Pattern[str], ...]
    """Where two places stand side by side, the first takes as few words as it may, or else as many."""
    letters: int


def _pattern(message: str) -> _Pattern:
    parts = _PLACE.split(message)
    literals, shape, seen = parts[::2], "", set[str]()
    for index, part in enumerate(parts):
        if index % 2 == 0:
            shape += re.escape(part)
        elif part in seen:
            shape += f"(?P={part})"
        else:
            seen.add(part)
            shape += f"(?P<{part}>.+?)"
    shapes = [shape]
    if any(not literal.strip() for literal in literals[1:-1]):
        shapes.append(shape.replace(">.+?)", ">.+)"))
    letters = sum(character.isalpha() for literal in literals for character in literal)
    return _Pattern(message, max(literals, key=len), tuple(re.compile(each, re.DOTALL) for each in shapes), letters)


class Retelling:
    """The way from English sentences into one language.

    >>> german = Retelling({"core {low} to {high} °C": "Kern {low} bis {high} °C", "open": "offen"}, "de")
    >>> german("core 91.5 to 96 °C"), german("open"), german("Mother's slab")
    ('Kern 91,5 bis 96 °C', 'offen', "Mother's slab")
    """

    def __init__(self, said: Mapping[str, str], language: str) -> None:
        self._said = {_SPACES.sub(" ", message): form for message, form in said.items()}
        self._language = language
        patterns = (_pattern(message) for message in self._said if _PLACE.search(message))
        self._patterns = sorted(patterns, key=lambda pattern: -pattern.letters)
        self._told = lru_cache(maxsize=8192)(self._find)

    def __call__(self, text: str) -> str:
        """The text in the language, as much of it as is known."""
        return self._told(_SPACES.sub(" ", text).strip(), 0)[0] if text.strip() else text

    def knows(self, text: str) -> bool:
        """Whether the whole text is made of messages and figures."""
        return self._told(_SPACES.sub(" ", text).strip(), 0)[1] if text.strip() else True

    def _find(self, text: str, depth: int) -> tuple[str, bool]:
        """What it is in the language, and whether all of it was known."""
        if not any(character.isalpha() for character in text) or _QUANTITY.fullmatch(text):
            return localised(text, self._language), True
        whole = self._exactly(text)
        if whole is not None:
            return whole, True
        best: tuple[str, bool] | None = None
        if depth < _DEEPEST:
            for found in self._by_pattern(text, depth):
                if found[1]:
                    return found
                best = best or found
            parts = self._by_parts(text, depth)
            if parts is not None and (parts[1] or best is None):
                return parts
        return best or (text, False)

    def _exactly(self, text: str) -> str | None:
        form = self._said.get(text)
        if form is None and text[:1].isupper():
            lower = self._said.get(text[:1].lower() + text[1:])
            return None if lower is None else lower[:1].upper() + lower[1:]
        if form is None and text.endswith("."):
            bare = self._said.get(text[:-1])
            return None if bare is None else f"{bare}."
        return form

    def _by_pattern(self, text: str, depth: int) -> Iterator[tuple[str, bool]]:
        for pattern in self._patterns:
            if pattern.literal not in text:
                continue
            for shape in pattern.shapes:
                match = shape.fullmatch(text)
                if match is None:
                    break
                values = {name: self._told(value, depth + 1) for name, value in match.groupdict().items()}
                known = all(whole for _, whole in values.values())
                if pattern.letters >= _FEW_LETTERS or known:
                    form = self._said[pattern.message].format(**{name: told for name, (told, _) in values.items()})
                    yield form, known

    def _by_parts(self, text: str, depth: int) -> tuple[str, bool] | None:
        """A text of several sentences or phrases, each told by itself; None where not one of them is known."""
        for joint, between in _SPLITS:
            parts = joint.split(text)
            if len(parts) < 2:
                continue
            told = [self._told(part, depth + 1) for part in parts]
            if any(form != part for (form, _), part in zip(told, parts, strict=True)):
                joined = " : " if between == ": " and self._language == "fr" else between
                return joined.join(form for form, _ in told), all(known for _, known in told)
        return None
