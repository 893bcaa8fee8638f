"""A line that holds several ingredients, cut where one ends and the next begins."""

import re
from dataclasses import dataclass

from oventide.intake.amounts import measure_at, tokens

_FRUIT_START = re.compile(
    r"^(?:(?:the|finely|coarsely|freshly|grated|squeezed) ){0,3}(?:zest|rind|juice)\b", re.IGNORECASE
)
_FRUITS = r"(?:lemons?|limes?|oranges?|grapefruits?|clementines?|mandarins?|tangerines?|satsumas?)"
_PART = r"(?:zest|rind|peel|juice)"
_OF_FRUIT = re.compile(
    rf"^(?P<pre>.{{0,60}}?)\b(?P<first>{_PART})(?: (?:and|&|\+) "
    rf"(?P<middle>.{{0,30}}?)(?P<second>{_PART}))? (?:of |from |(?=(?:a |half|the "
    rf")?[\d½¼¾]))"
    rf"(?P<amount>.{{0,30}}?)\b(?P<fruit>{_FRUITS})\b(?P<tail>.*)$",
    re.IGNORECASE,
)
_FRUIT_AFTER = re.compile(
    rf"^(?P<amount>.{{0,40}}?)\b(?P<fruit>{_FRUITS})(?P<own>'s|’s|s'|s’)?(?P<comma>,)? "
    rf"?\(?(?P<middle>(?:(?:finely|freshly|coarsely|the|grated|just|only) ){{0,3}})"
    rf"(?P<first>zested|juiced|{_PART})(?: only)?(?: (?:and|&|\+) (?P<second>zested|juiced|{_PART}))?\)?(?P<tail>.*)$",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class FruitPart:
    """Zest or juice of a counted fruit."""

    part: str
    fruit: str
    amount: str
    preparation: str


def _has_name(text: str) -> bool:
    """Whether words of a name are left beside the amount."""
    parts = tokens(text)
    measure, end = measure_at(parts, 0)
    rest = parts[end:] if measure is not None else parts
    words = [part for part in rest if part.kind == "word" and part.low not in {"x", "of", "about", "plus", "and", "to"}]
    return bool(words) and words[0].low not in {"for", "more", "extra", "each", "per", "total", "or"}


def _starts_one(text: str) -> bool:
    """Whether a text opens a new ingredient: amount, unit or figure, and a name."""
    bare = re.sub(r"^(?:plus|and|\+|&) ", "", text.strip(), flags=re.IGNORECASE)
    if _FRUIT_START.match(bare) and " of " in bare + " ":
        return True
    parts = tokens(bare)
    if not parts:
        return False
    measure, end = measure_at(parts, 0)
    if measure is None or (end < len(parts) and parts[end].text in "°º%"):
        return False
    if parts[0].kind != "num" and measure.unit is None and parts[0].low in {"a", "an", "half"}:
        return False
    following = parts[end].low if end < len(parts) else ""
    if following in {
        "min",
        "mins",
        "minutes",
        "minute",
        "hours",
        "hour",
        "h",
        "cm",
        "mm",
        "inch",
        "inches",
        "pieces",
        "times",
    }:
        return False
    return _has_name(bare)


def _has_amount(text: str) -> bool:
    return any(token.kind == "num" for token in tokens(text)) or _starts_one(text)


def _ends_with_amount(text: str) -> bool:
    parts = tokens(text)
    for at, part in enumerate(parts):
        if part.kind == "num":
            measure, end = measure_at(parts, at, words=False)
            if measure is not None and measure.unit is not None and end == len(parts) and at > 0:
                return any(other.kind == "word" for other in parts[:at])
    return False


def _outside(text: str, pattern: re.Pattern[str]) -> list[re.Match[str]]:
    """Matches that do not stand in brackets."""
    depth, depths = 0, []
    for sign in text:
        depth += sign in "(["
        depths.append(depth)
        depth -= sign in ")]" and depth > 0
    return [match for match in pattern.finditer(text) if depths[match.start()] == 0]


_EACH = re.compile(r"^(.{1,30}?)\s+each(?: of)?:?\s+([^()]{3,80}(?:,| and | & )[^()]{3,60})$", re.IGNORECASE)
_JOINT = re.compile(
    r"; ?| (?:lightly )?(?:beaten|mixed|whisked) with (?=[\d½¼]|an? )|, (?:and |plus )?| (?:\+|plus|and|&) |, ?(?=\d+ ?(?:g|ml|kg)\b)",
    re.IGNORECASE,
)


_ENOUGH = 150
"""An ingredient is told within so many characters; more is not looked at, so that long prose costs no time."""


def several(text: str) -> list[str]:
    """The ingredients of a line, each on its own.

    >>> several("2 large eggs, plus 1 yolk"), several("1 cup plus 2 tbsp flour")
    (['2 large eggs', '1 yolk'], ['1 cup plus 2 tbsp flour'])
    >>> several("Flour 500 g, water 300 g, salt 10 g")
    ['Flour 500 g', 'water 300 g', 'salt 10 g']
    """
    shared = _EACH.match(text)
    if shared:
        measure, end = measure_at(tokens(shared[1]), 0)
        if measure is not None and end == len(tokens(shared[1])):
            return [
                f"{shared[1]} {name.strip()}"
                for name in re.split(r",\s*(?:and\s+)?|\s+and\s+|\s*&\s*", shared[2])
                if name.strip()
            ]
    joints = _outside(text, _JOINT)[:60]
    cut: list[str] = []
    start = 0
    for at, joint in enumerate(joints):
        left = text[start : joint.start()]
        ends = joints[at + 1].start() if at + 1 < len(joints) else len(text)
        right = text[joint.end() : ends]
        whole_right = text[joint.end() : joint.end() + 90]
        first = left[:_ENOUGH]
        if not left.strip() or not _has_name(first):
            continue
        opens = _starts_one(whole_right) and (bool(cut) or _has_amount(first))
        listed = _ends_with_amount(left[-_ENOUGH:]) and _ends_with_amount(right[-_ENOUGH:])
        semicolon = joint.group().startswith(";") and (bool(cut) or _has_amount(first))
        if opens or listed or semicolon:
            cut.append(left.strip())
            start = joint.end()
    cut.append(text[start:].strip())
    return [re.sub(r"^(?:plus|and) ", "", part, flags=re.IGNORECASE) for part in cut if part.strip(" .,;")] or [text]


def fruit_parts(text: str) -> list[FruitPart]:
    """Zest and juice of counted fruit; empty where the line is about something else.

    >>> [(part.part, part.fruit, part.amount) for part in fruit_parts("finely grated zest and juice of 1 lemon")]
    [('zest', 'lemon', '1'), ('juice', 'lemon', '1')]
    >>> fruit_parts("2 tsp lemon zest")
    []
    """
    match = _OF_FRUIT.match(text) or _FRUIT_AFTER.match(text)
    if match is None:
        return []
    groups = match.groupdict()
    amount, pre = (groups["amount"] or "").strip(), (groups.get("pre") or "").strip()
    counted, _ = measure_at(tokens(amount), 0) if amount else (None, 0)
    if pre:
        measured, _ = measure_at(tokens(pre), 0)
        if measured is not None:
            return []
    if "pre" not in groups:
        turned = groups["first"].lower().endswith("d") or groups["comma"] or groups["own"]
        if counted is None or counted.unit is not None or not (turned or groups["second"] or "(" in text):
            return []
    fruit = groups["fruit"].lower().removesuffix("s")
    tail = groups["tail"].strip(" ,.();-")
    found: list[FruitPart] = []
    for name in ("first", "second"):
        word = (groups[name] or "").lower()
        if not word:
            continue
        part = "juice" if word.startswith("juic") else "zest"
        how = [
            re.sub(r"\b(?:the|of)\b", "", pre).strip() if name == "first" else "",
            (groups["middle"] or "").strip() if name == "first" or "pre" in groups else "",
        ]
        if word.endswith("ed"):
            how.append(word)
        if name == "first" and groups["second"] and "pre" in groups:
            how = how[:1]
        found.append(
            FruitPart(part, fruit, amount or "1", " ".join([*(piece for piece in how if piece), tail]).strip())
        )
    return found
