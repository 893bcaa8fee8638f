"""Headings of a pasted recipe: components, sections, yields."""

import re
from dataclasses import dataclass
from typing import Literal

from oventide.formula.model import ComponentKind
from oventide.intake.amounts import measure_at, quantity_at, tokens
from oventide.intake.clean import even, without_bullet, without_emphasis

Section = Literal["ingredients", "method", "notes"]

_SECTIONS: tuple[tuple[Section, str], ...] = (
    (
        "ingredients",
        r"(?:the )?(?:ingredients?(?: list)?|you(?:'ll| will)? need|what you(?:'ll| will)? "
        r"need|shopping list|formula|weights)(?: \(.*\))?",
    ),
    (
        "method",
        r"(?:the )?(?:methods?|directions?|instructions?|steps?|preparation|procedure|process|"
        r"how to(?: make(?: it| them)?| do it)?|what to do|to make(?: the \w+)?|"
        r"making(?: the \w+)?|prep(?:aration)? steps|technique|assembly|baking instructions|make-?up)",
    ),
    (
        "notes",
        r"(?:notes?|tips?|storage|cook'?s notes?|recipe notes?|variations?|equipment|to store|"
        r"nutrition|make[- ]ahead|substitutions?|faq|about)",
    ),
)
_SECTION = tuple((name, re.compile(rf"^{pattern}\s*[:\-–—]?$", re.IGNORECASE)) for name, pattern in _SECTIONS)
_SECTION_PART = re.compile(
    r"^(?:ingredients?|you(?:'ll| will)? need)\s*(?:for(?: the)?|[-–:(])\s*(.+?)\)?:?$", re.IGNORECASE
)

_KINDS: tuple[tuple[ComponentKind, str], ...] = (
    ("wash", r"egg ?wash|\bwash\b|brushing|eggwash"),
    ("preferment", r"\bsponge|poolish|\bbiga\b|pre-?ferment|levain|\bstarter\b|tangzhong|yudane|water "
                   r"roux|\broux\b|soaker|scald"),
    ("dough", r"\bdoughs?\b"),
    ("filling", r"filling|stuffing|\bfill\b"),
    ("glaze", r"glaz|icing|frosting|syrup|drizzle|\bice\b"),
    ("topping", r"topping|crumb|streusel|sprinkl|finish|garnish|decorat|\btop\b|to serve|dusting"),
    ("spread", r"spread|\bpaste\b|smear|butter layer|\bschmear"),
    ("dough", r"\bbuns?\b|\brolls?\b|\bbread|\bbase\b|\bmain\b|\bswirls?\b|\bscrolls?\b|\bsnails?\b|"
              r"\bknots?\b|\bwheels?\b|\bpinwheels?\b"),
    ("filling", r"custard|\bcream\b|jam|compote|\bcurd|butter|sugar|frangipane|mixture|cheese|apple|nut|fruit"),
)  # fmt: skip
_KIND = tuple((kind, re.compile(pattern, re.IGNORECASE)) for kind, pattern in _KINDS)

_YIELD = re.compile(
    r"^(?:recipe )?(?:makes?|yields?|serves?|servings?|portions?|quantity|for|enough "
    r"for)\b\s*:?\s*(?:about |approx\.? |around )?(.+)$",
    re.IGNORECASE,
)
_NUMBER_OF = re.compile(
    r"\b(\d{1,3}|six|eight|nine|ten|twelve|a dozen)\b(?: to \d+|[-–]\d+)? ?(?:small |"
    r"large |medium |soft |sweet |big |good )?(?:[a-z-]+ )?(?:"
    r"rolls?|buns?|snails?|pieces?|swirls?|whirls?|wheels?|knots?|scrolls?|twists?|coils?|"
    r"pinwheels?|spirals?|portions?|servings?|people|pcs)\b",
    re.IGNORECASE,
)
_FACT = re.compile(
    r"^(?:prep(?:aration)?(?: time)?|cook(?:ing)?(?: time)?|bak(?:e|ing) time|total(?: "
    r"time)?|active(?: time)?|proving time|rising time|resting time|time|ready in|"
    r"difficulty|"
    r"skill level|course|cuisine|calories|author|source|from|tin|pan|tray|mould|equipment|"
    r"oven|category|keywords?|print|jump to|rate|photo|by)\b\s*[:\-–]?",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Heading:
    """A heading: which section it opens, or which component."""

    name: str
    section: Section | None = None
    kind: ComponentKind | None = None
    certain: bool = True


def bare_heading(line: str) -> str:
    """The words of a line without marks.

    >>> bare_heading("— **DOUGH:** —"), bare_heading("## For the filling")
    ('DOUGH', 'For the filling')
    """
    text = without_emphasis(without_bullet(without_emphasis(even(line))))
    return text.strip(" -–—=*_#:~|•·.").strip()


def kind_of(name: str) -> ComponentKind | None:
    """The kind of component that a heading names.

    >>> kind_of("For the almond spread"), kind_of("Maple glaze"), kind_of("Rolls"), kind_of("Monday")
    ('spread', 'glaze', 'dough', None)
    """
    for kind, pattern in _KIND:
        if pattern.search(name):
            return kind
    return None


def heading(line: str) -> Heading | None:
    """What a line opens, or None where it is no heading.

    >>> heading("FILLING:").kind, heading("Directions").section, heading("100 g butter")
    ('filling', 'method', None)
    """
    raw = even(line)
    name = bare_heading(line)
    if not name or len(name) > 70:
        return None
    for section, pattern in _SECTION:
        if pattern.match(name):
            part = re.search(r"\((.+)\)", name)
            kind = kind_of(part[1]) if part else None
            return Heading(part[1] if part and kind else name, section, kind)
    part = _SECTION_PART.match(name)
    if part and kind_of(part[1]):
        return Heading(part[1].strip(), "ingredients", kind_of(part[1]))
    words = name.split()
    if re.match(r"^(?:all (?:of )?(?:the|your)\b|the whole\b|\d)", name, re.IGNORECASE):
        return None
    if len(words) > 8 or any(token.kind == "num" for token in tokens(re.sub(r"\(.*?\)", "", name))):
        return None
    first_word = raw.lstrip("#*_ -–—•").split(" ")[0].lower() if raw.strip("#*_ -–—•") else ""
    marked = (
        raw.rstrip("*_ ").endswith(":")
        or raw.startswith("#")
        or bool(re.match(r"^(\*\*|__|—|–|==|--).+(\*\*|__|—|–|==|--):?$", raw))
        or (name.isupper() and len(name) > 3)
        or bool(re.match(r"^(?:for|to) (?:the |finish|decorate|serve|glaze|top|fill)", name, re.IGNORECASE))
    )
    kind = kind_of(re.sub(r"\(.*?\)", "", name))
    measure, _ = measure_at(tokens(name), 0)
    if measure is not None or raw.endswith("."):
        return None
    if re.match(
        r"^for (?:dusting|greasing|brushing|sprinkling|rolling|kneading)|^to (?:taste|serve|dust)$", name, re.IGNORECASE
    ):
        return None
    if (
        re.search(
            r",|\bfor (?:dusting|greasing|brushing|sprinkling|serving|rolling)|\bto (?:taste|dust|"
            r"serve|sprinkle|brush)\b",
            name,
        )
        and not marked
    ):
        return None
    if kind is not None and (marked or len(words) <= 4):
        if not marked and first_word in _VERBS - _NOUNS_TOO:
            return None
        return Heading(name, None, kind, marked)
    if marked and len(words) <= 5 and first_word not in _VERBS:
        return Heading(
            name, None, None, raw.startswith("#") or raw.endswith(":") or "**" in raw or raw.startswith(("—", "–"))
        )
    return None


_VERBS = frozenset(
    [
        "mix",
        "knead",
        "combine",
        "roll",
        "cut",
        "slice",
        "bake",
        "place",
        "put",
        "set",
        "arrange",
        "spread",
        "brush",
        "sprinkle",
        "scatter",
        "cover",
        "leave",
        "let",
        "heat",
        "preheat",
        "chill",
        "refrigerate",
        "make",
        "warm",
        "melt",
        "beat",
        "whisk",
        "stir",
        "add",
        "pour",
        "glaze",
        "drizzle",
        "cool",
        "remove",
        "turn",
        "rise",
        "prove",
        "proof",
        "dust",
        "serve",
        "store",
        "dissolve",
        "cream",
        "rub",
        "sift",
        "bring",
        "cook",
        "simmer",
        "boil",
        "shape",
        "form",
        "divide",
        "punch",
        "knock",
        "fold",
        "transfer",
        "return",
        "grease",
        "line",
        "egg",
        "wash",
        "drain",
        "soak",
        "fill",
        "ice",
        "top",
        "finish",
        "press",
        "pat",
        "stretch",
        "sheet",
        "bulk",
        "rest",
        "fridge",
        "tray",
        "wrap",
        "freeze",
        "start",
        "using",
        "in",
        "on",
        "once",
        "when",
        "meanwhile",
        "next",
        "day",
        "while",
        "after",
        "then",
        "repeat",
        "weigh",
        "scale",
        "measure",
        "prepare",
        "day",
        "night",
        "activate",
        "sprinkle",
        "dot",
        "sit",
        "stand",
        "work",
        "gently",
        "out",
        "first",
        "final",
        "second",
        "toast",
        "peel",
        "chop",
        "grate",
        "crumble",
        "mash",
    ]
)


_NOUNS_TOO = frozenset(
    [
        "final",
        "first",
        "second",
        "egg",
        "ice",
        "top",
        "sheet",
        "day",
        "night",
        "cream",
        "peel",
        "toast",
        "soak",
        "crumble",
        "mash",
        "fill",
        "bulk",
        "finish",
    ]
)
"""Words of the list above that also open a component's name."""


def starts_with_verb(line: str) -> bool:
    """Whether a line opens like an instruction.

    >>> starts_with_verb("Roll out the dough"), starts_with_verb("500 g flour")
    (True, False)
    """
    first = re.match(r"[A-Za-z-]+", bare_heading(line))
    return bool(first) and first is not None and first.group().lower() in _VERBS


def pieces_of(line: str) -> int | None:
    """The number of pieces that a line of yield names, or None where the line is no yield.

    >>> pieces_of("Makes about 12"), pieces_of("9 snails, 20 cm square tin"), pieces_of("Salt")
    (12, 9, None)
    """
    text = bare_heading(line)
    inner = re.search(r"\((?:makes|serves|yields?|for)[^)]*\)", text, re.IGNORECASE)
    counted = _NUMBER_OF.search(text)
    stated = _YIELD.match(text) or (_YIELD.match(inner.group().strip("()")) if inner else None)
    if counted is not None and (stated or inner or re.match(r"^[^,]{0,40}(?:,|$|[-–—])", text)):
        value, _, _ = quantity_at(tokens(counted[1]), 0)
        return None if value is None else int(value)
    if stated:
        value, _, _ = quantity_at(tokens(stated[1]), 0)
        if value is not None and 1 <= value <= 500 and value == int(value):
            end = tokens(stated[1])
            if len(end) > 1 and end[1].low in {
                "g",
                "kg",
                "ml",
                "cm",
                "hours",
                "hour",
                "min",
                "minutes",
                "%",
                "days",
                "tray",
                "tin",
                "batch",
                "loaf",
            }:
                return None
            return int(value)
    return None


def is_yield(line: str) -> bool:
    """Whether a line tells how much the recipe makes."""
    text = bare_heading(line)
    return len(text) < 80 and bool(
        re.match(r"^(?:recipe )?(?:makes?|yields?|serves?|servings?)\b", text, re.IGNORECASE) or pieces_of(line)
    )


def is_fact(line: str) -> bool:
    """Whether a line states a fact about the recipe: times, tin, author."""
    text = bare_heading(line)
    return (
        len(text) < 120
        and bool(_FACT.match(text))
        and (":" in text or "–" in text or bool(re.match(r"^(?:prep|cook|total|ready)", text, re.I)))
    )
