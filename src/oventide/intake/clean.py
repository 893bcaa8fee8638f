"""Pasted text made even: spaces, dashes, bullets, emphasis and table rows. Nothing here understands anything.

Every pattern in this room is linear in its input: no nested or overlapping repeats.
"""

import re

from oventide.errors import refuse

MOST_BYTES = 1_000_000
"""A recipe longer than this is refused before it is read [bytes]."""

_SPACES = re.compile(r"[\t\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000\ufeff ]+")
_INVISIBLE = re.compile(r"[\u200b-\u200f\u00ad\u2060]")
_BULLET = re.compile(r"^(?:\[[ xX✓]?\]|\( \)|[•·●○◦▪▫■□☐☑☒✓✔▢◻◽➤►▸‣⁃∙*+]|[-–—](?=[\s\d½¼¾⅓⅔⅛A-Za-z])|o (?=\d))\s*")
_NUMBERING = re.compile(r"^(?:step\s+)?\d{1,2}\s?(?:[.)](?=\s|$|[A-Za-z])|:(?=\s))\s*", re.IGNORECASE)
_STEP_WORD = re.compile(
    r"^step\s+(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten)\s?[.:)\-–]?\s*", re.IGNORECASE
)
_RULE = re.compile(r"^[\s|:=_*~#.\-–—]+$")
_CONTROL = re.compile(r"[\x00-\x08\x0e-\x1f\x7f]")


def check_size(text: str, field: str = "text") -> None:
    """Refuse what cannot be a recipe, before anything reads it: nothing, far too much, or no text at all."""
    if len(text) > MOST_BYTES:
        raise refuse(
            field,
            f"{len(text) / 1e6:.1f} MB",
            "A recipe is read up to 1 MB of text.",
            "Paste only the recipe: its ingredients and its method.",
        )
    if not text.strip("\ufeff \t\r\n\v\f") or not text.strip():
        raise refuse(field, "", "There is nothing to read.", "Paste the ingredients and the method, or open a file.")
    broken = len(_CONTROL.findall(text)) + text.count("\ufffd")
    if broken > 2 + len(text) // 200:
        raise refuse(
            field,
            f"{broken} characters that are no text",
            "This is not text; it looks like a picture, a PDF or a packed file.",
            "Open the recipe where you can read it, and copy its words.",
        )


def even(line: str) -> str:
    """One line with plain single spaces.

    >>> even(" 500\\u00a0g \\t flour ")
    '500 g flour'
    """
    return _SPACES.sub(" ", _INVISIBLE.sub("", _CONTROL.sub(" ", line))).strip()


def is_rule(line: str) -> bool:
    """Whether a line only draws a rule, such as ``-----`` or ``|---|---|``."""
    return bool(_RULE.match(line)) and any(mark in line for mark in "-=_*~–—#|.:")


def cells(line: str) -> list[str]:
    """The cells of a table row, or the whole line as one cell.

    >>> cells("| Flour | 500 g | 100 % |")
    ['Flour', '500 g', '100 %']
    """
    if "|" not in line:
        return [line]
    return [cell for cell in (part.strip() for part in line.split("|")) if cell]


def without_emphasis(line: str) -> str:
    """Without markdown marks: ``**Dough**`` is ``Dough``."""
    bare = re.sub(r"^#{1,6}\s*", "", line)
    bare = bare.replace("**", "").replace("__", "").replace("`", "")
    if len(bare) > 2 and bare[0] == bare[-1] and bare[0] in "*_":
        bare = bare[1:-1]
    return bare.strip()


def without_bullet(line: str) -> str:
    """Without bullet, tick box or dash in front. A minus before a figure is taken as a dash in a list.

    >>> without_bullet("• 60g honey"), without_bullet("[ ] 1 egg"), without_bullet("- 10 g salt")
    ('60g honey', '1 egg', '10 g salt')
    """
    bare = line
    for _ in range(3):
        shorter = _BULLET.sub("", bare, count=1)
        if shorter == bare:
            break
        bare = shorter
    return bare


def number_in_front(line: str) -> bool:
    """Whether a line is numbered as a step: ``1. Mix``, ``2) Roll``, ``Step 3: Bake``."""
    return bool(_NUMBERING.match(line) or _STEP_WORD.match(line))


def without_numbering(line: str) -> str:
    """Without a number of a list in front.

    >>> without_numbering("3) 45 g sugar"), without_numbering("1.5 kg flour")
    ('45 g sugar', '1.5 kg flour')
    """
    return _NUMBERING.sub("", _STEP_WORD.sub("", line, count=1), count=1)


def sentences(text: str) -> list[str]:
    """Sentences of a paragraph; a point inside a figure or after a short unit does not end one.

    >>> sentences("Bake at 180 C for approx. 25 min. Cool on a rack.")
    ['Bake at 180 C for approx. 25 min.', 'Cool on a rack.']
    """
    found: list[str] = []
    start = 0
    for mark in re.finditer(r"[.!?](?=\s)|;(?=\s)", text):
        before = text[start : mark.start()].rsplit(" ", 1)[-1].lower()
        after = text[mark.end() :].lstrip()[:1]
        if mark.group() == "." and (
            before in {"approx", "ca", "c", "tbsp", "tsp", "oz", "fl", "no", "e.g", "i.e", "temp", "hr", "hrs"}
            or (before in {"min", "mins", "in"} and after.islower())
        ):
            continue
        found.append(text[start : mark.end()].strip())
        start = mark.end()
    found.append(text[start:].strip())
    return [sentence for sentence in found if sentence.strip(" .;")]
