"""What a sentence of a method tells the baker to do: events by kind, in the order of the words."""

import re
from dataclasses import dataclass

_KINDS: tuple[tuple[str, str], ...] = (
    (
        "roll",
        r"\broll(?:ed|ing)?(?:\s[\w']+){0,4}?\s(?:back\s)?up\b|\broll(?:ed)?\s(?:it\s|"
        r"the\sdough\s|them\s|each\s)?(?:up\s)?(?:tightly|snugly|"
        r"from\b|along\b|lengthwise|lengthways|widthways)|"
        r"\broll(?:ed)?\s(?:[\w]+\s){0,3}?(?:into|to form|to make)\s(?:a|"
        r"one)\s(?:[\w-]+\s){0,2}"
        r"(?:log|sausage|cylinder|spiral|swiss roll|roulade|snail)|\b(?:swiss roll|jelly roll|"
        r"jelly-roll) (?:fashion|style)|\broll\b(?=\s*\((?:long|short))|"
        r",\sroll(?=[,.;]|$)|\broll\b(?=,?\s(?:and|then)\s(?:cut|slice))|^roll(?=,\s(?:cut|slice))",
    ),
    (
        "sheet",
        r"\broll(?:ed|ing)?(?:\s(?!up\b|tightly|pin|"
        r"into\s\w+\sballs)[\w'-]+){0,6}?\s?(?:out\b|in(?:to)?\sa(?:n)?\b|to\b|about\b|"
        r"(?<!\d)\d{1,3}\s?(?:cm|mm|in|x|×|\"|by)|"
        r"(?:rectang|oblong))|\b(?:pat|press|stretch|flatten|sheet|"
        r"laminate)(?:\s[\w'-]+){0,4}?\s(?:out|into|to|at)\b|\bsheet\b(?=\s\d)|\broll the "
        r"(?:cold |chilled |risen |rested )?dough\b",
    ),
    ("oven", r"(?<!fan )(?<!convection )\boven\b|\bpre-?heat\w*"),
    ("foil", r"\bfoil\b|\blid on\b|\bunder a lid\b|\buncover(?:ed)?\b|\bcover(?:ed)?\b(?= for the first)"),
    ("bake", r"\bbaked?\b(?! ?(?:sheet|tray|tin|pan|dish))|\bcook(?:ed)?\b"),
    (
        "chill",
        r"\brefrigerat\w*|\bchill(?:ed|ing)?\b|(?<!from the )(?<!of the )(?<!from )\bfridge\b|"
        r"\bfreez(?:e|er|ing)\b|\bretard(?:ed|ing)?\b|\bovernight\b|\bcold proof\b",
    ),
    ("warm", r"\b(?:take|remove|bring)\b[^.;]{0,40}\b(?:out of|from) the (?:fridge|refrigerator)|"
             r"\b(?:bring|come|return)\b[^.;]{0,20}\bto room temp\w*|\bout of the fridge\b"),
    (
        "rise",
        r"\brise(?:s|n)?\b|\brising\b|\bpro(?:ve|ves|ved|ving|of|ofs|ofed|ofing)\b|"
        r"\bferment\w*|\bbulk\b|\bdoubl(?:e|ed|es|ing)\b(?! (?:cream|boiler|the (?:recipe|"
        r"quantit)))|\bpuff(?:y|ed)\b|"
        r"\bset aside\b|\b(?:warm|draught-free|draft-free) (?:place|spot)\b|\bleave\b(?! (?:a|"
        r"an|about|out|the (?:edge|border)|\d+ ?(?:cm|mm|in)|some))|\bstand\b(?! mixer)|"
        r"\bsit\b|"
        r"(?:\b(?:let|leave|allow)\b[^.;]{0,40}\brest\b)|^rest\b|\brest(?=s? (?:for|it\b|the "
        r"dough|\d|at\b|in\b|covered|overnight|until|an?\b|half))|\b(?:and|then|to) rest\b(?! "
        r"of)|\bbench rest\b|\bautolyse\b",
    ),
    ("mix", r"\bmix(?:ed|ing)?\b(?! bowl)(?!er)|\bknead(?:ed|ing)?\b|\bcombine\b|\bwork in\b|"
            r"\bbeat\b|\bstir\b|\bwhisk\b|\badd\b"),
    ("cut", r"\bcut\b(?! (?:in|through|the) (?:the )?butter)|\bslic(?:e|ed|ing)\b|\bdivid(?:e|ed)\b|\bportion\b"),
    (
        "tin",
        r"\b(?:place|arrange|set|fit|lay|put|transfer|sit|nestle|pack|stand|pop|"
        r"load)\b(?=[^.;]{0,90}\b(?:tins?|pans?|dish|trays?|sheets?|springform|skillet|paper|"
        r"side up|cut-side)\b)|"
        r"\btray up\b|\bon (?:a|the|two|lined|your)\b(?=[^.;]{0,25}\b(?:trays?|sheets?)\b)|"
        r"\b(?:in|into) (?:a|the|two|an)\b(?=[^.;]{0,40}\b(?:tins?|pans?|dish)\b)|\bpan up\b|"
        r"\btin up\b",
    ),
    ("cool", r"\bcool(?:ed|ing|s)?\b|\b(?:wire )?racks?\b|\bturn (?:them |it )?out\b"),
    ("glaze", r"\bglaz(?:e|ed|ing)\b|\bdrizzl\w+|\bice (?:the|them|when|with)\b|\bfrost(?:ing)?\b|\bpour\b|\bdust\b"),
    ("spread", r"\bspread\b|\bscatter\b|\bsprinkle\b|\bbrush\b|\bsmear\b|\bdot (?:with|over)\b|\btop "
               r"with\b|\bspoon\b|\bfill\b|\bcover with (?:the )?(?:filling|butter|jam|paste)\b"),
    ("keep", r"\bstore\b|\bkeeps?\b(?! (?:warm|kneading|an eye|the|mixing))|\bbest eaten\b"),
)  # fmt: skip
_PATTERNS = tuple((kind, re.compile(pattern, re.IGNORECASE)) for kind, pattern in _KINDS)


@dataclass(frozen=True)
class Event:
    """Something to do, and the words that belong to it: from its own verb to the next one's."""

    kind: str
    words: str
    """The matched words, lower case."""
    text: str
    """The part of the sentence that belongs to it."""


def events(sentence: str) -> list[Event]:
    """The events of a sentence, in order; neighbours of one kind that share a clause are one.

    >>> [event.kind for event in events("Spread with the filling, roll up from the long side and cut into 12")]
    ['spread', 'roll', 'cut']
    """
    if len(sentence) > 2000:
        return []
    found: list[tuple[int, int, str]] = []
    for kind, pattern in _PATTERNS:
        for match in pattern.finditer(sentence):
            if not any(start < match.end() and match.start() < end for start, end, _ in found):
                found.append((match.start(), match.end(), kind))
    found.sort()
    out: list[Event] = []
    for at, (start, end, kind) in enumerate(found):
        first = 0 if at == 0 else start
        last = found[at + 1][0] if at + 1 < len(found) else len(sentence)
        out.append(Event(kind, sentence[start:end].lower(), sentence[first:last]))
    return out
