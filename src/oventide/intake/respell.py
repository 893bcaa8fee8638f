"""A line respelled before it is scanned: letters read for figures, words run together, hundreds written out.

Only the spelling changes, never the meaning; the line's own text is kept as it was.
"""

import re
from collections.abc import Callable

from oventide.units.number import WORDS

_GLUED = re.compile(r"^(\d+(?:[.,/]\d+)?|[½¼¾⅓⅔⅛])([a-zà-ÿ]+)(.*)$", re.IGNORECASE)
_UNITS = ("g", "kg", "gm", "gms", "gr", "gram", "grams", "ml", "cl", "dl", "l", "oz", "lb", "lbs", "tbsp", "tbsps", "tbs",
          "tsp", "tsps", "cup", "cups")  # fmt: skip
_COUNTED = re.compile(r"^(\d+|[½¼¾])([a-zà-ÿ]{3,})", re.IGNORECASE)
_LETTER_ONE = re.compile(r"(?<![\w'’])[lI|](?=\s*/\s*\d)|^[lI|](?= [a-z½¼¾])|(?<![\w'’])[lI](?=\d{1,3}\b)")
_LETTER_NOUGHT = re.compile(r"(?<=\d)[OoQ](?=[\dOo]*\s?(?:g|kg|ml|gm|gr)\b)")
_LETTER_FIVE = re.compile(r"^[S](?=[\dOo]{1,3} ?(?:g|kg|ml|oz)\b)")
_M_ONE = re.compile(r"(?<=\d)() ?m1\b")
_POINT_APART = re.compile(r"\b(tbsp|tsp|tbs|tbl|c|oz|lb|pkt|pkg|pt|qt) \.(?= |$)", re.IGNORECASE)
_TEENS = ("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_SMALL: dict[str, int] = (
    {word: int(value) for word, value in WORDS.items() if value >= 1 and word not in {"a", "an", "dozen"}}
    | {word: 13 + at for at, word in enumerate(_TEENS)}
    | {word: 20 + 10 * at for at, word in enumerate(_TENS)}
)
_ANY = "|".join(sorted(_SMALL, key=len, reverse=True))
_WRITTEN = re.compile(
    rf"\b(?:(?P<hundreds>{_ANY}|a) hundred(?: (?:and )?(?P<tens>{_ANY})(?:[ -](?P<ones>{_ANY}))?)?"
    rf"|(?P<alone>{'|'.join((*_TEENS, *_TENS))})(?:[ -](?P<unit>{_ANY}))?)\b",
    re.IGNORECASE,
)
_AS_NEEDED = re.compile(r"^(?:(.+?),?\s+q\.? ?(?:b|s)\.?|(q\.? ?(?:b|s)\.?)(?: of)? (.+))$", re.IGNORECASE)
_SIZE_OF = re.compile(
    r"^(?:a (?:piece|lump|knob) of )?(.{3,20}?),? (?:about )?the size of an? (?:wal)?nut$", re.IGNORECASE
)
_CAN_NUMBER = re.compile(r"#\d+(?:½|\.5| 1/2)? (?=can\b|cans\b|tin\b)()", re.IGNORECASE)
_SIZE_WORDS = {"sm": "small", "med": "medium", "lg": "large", "lge": "large", "lrg": "large"}
_SIZE = re.compile(r"\b(sm|med|lge|lrg|lg)\b\.?", re.IGNORECASE)
_PARTS = {"half": "1/2", "quarter": "1/4", "third": "1/3"}
_MIXED = re.compile(rf"\b(?P<whole>{_ANY}|\d+) and (?:an?|one)[ -](?P<part>half|quarter|third)\b", re.IGNORECASE)
_SHARES = re.compile(r"\b(one|two|three)-(half|quarters?|thirds?)\b", re.IGNORECASE)
_FRUIT_AMOUNT_LAST = re.compile(
    r"^(lemons?|limes?|oranges?|grapefruits?|clementines?),? "
    r"((?:(?:finely )?grated )?(?:zest|juice|rind|peel)(?: and (?:zest|juice))?)"
    r"(?: only)? of (\d[\d/ ½¼]*|[½¼]|one|two|three|half)$",
    re.IGNORECASE,
)
_LOOKALIKES = (("q", "g"), ("9", "g"), ("0", "o"), ("1", "l"), ("rn", "m"), ("vv", "w"), ("5", "s"))


def _figures(match: re.Match[str]) -> str:
    found = {name: (word or "").lower() for name, word in match.groupdict().items()}
    if found["alone"]:
        return str(_SMALL[found["alone"]] + _SMALL.get(found["unit"], 0))
    hundreds = 1 if found["hundreds"] == "a" else _SMALL[found["hundreds"]]
    return str(100 * hundreds + _SMALL.get(found["tens"], 0) + _SMALL.get(found["ones"], 0))


def _share(match: re.Match[str]) -> str:
    return f"{_SMALL[match[1].lower()]}/{_PARTS[match[2].lower().removesuffix('s')][-1]}"


def respelled(text: str, known: Callable[[str], bool]) -> str:
    """The line with figures as figures and a space between amount, unit and name.

    `known` says whether a name is an ingredient: words are pulled apart only where an ingredient stands behind.

    >>> respelled("Two hundred and fifty grams of flour", lambda name: True)
    '250 grams of flour'
    >>> respelled("2tbspsugar", lambda name: name == "sugar"), respelled("I/2 tsp . salt", lambda name: False)
    ('2 tbsp sugar', '1/2 tsp. salt')
    """
    line = _LETTER_NOUGHT.sub("0", _LETTER_ONE.sub("1", text))
    line = _LETTER_FIVE.sub("5", _M_ONE.sub(r"\1 ml", line))
    line = _AS_NEEDED.sub(lambda found: f"{found[1] or ''}{found[3] or ''}, to taste", line)
    line = _SIZE_OF.sub(r"1 knob \1", line)
    line = _POINT_APART.sub(r"\1.", line)
    line = _CAN_NUMBER.sub(r"\1", line)
    line = _SIZE.sub(lambda found: _SIZE_WORDS[found[1].lower()], line)
    line = _MIXED.sub(lambda found: f"{_SMALL.get(found[1].lower(), found[1])} {_PARTS[found[2].lower()]}", line)
    line = _SHARES.sub(_share, line)
    line = _WRITTEN.sub(_figures, line)
    line = _FRUIT_AMOUNT_LAST.sub(r"\2 of \3 \1", line)
    glued = _GLUED.match(line)
    if glued and glued[2].lower() not in _UNITS and not known(glued[2]):
        for unit in _UNITS:
            name = glued[2][len(unit) :]
            if glued[2].lower().startswith(unit) and len(name) > 2 and known(f"{name}{glued[3]}"):
                return f"{glued[1]} {unit} {name}{glued[3]}"
    counted = _COUNTED.match(line)
    if counted and known(counted[2]):
        return f"{counted[1]} {line[counted.start(2) :]}"
    return line


def lookalikes(name: str) -> list[str]:
    """A name with letters that a scanner takes for each other put right, one kind at a time.

    >>> lookalikes("eqqs")
    ['eggs']
    """
    return [name.replace(wrong, right) for wrong, right in _LOOKALIKES if wrong in name]
