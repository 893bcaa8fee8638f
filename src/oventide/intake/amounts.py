"""Amounts as people write them: tokens, quantities, and measures (a quantity with its unit).

A measure is read by a hand-written scanner over tokens, left to right, without backtracking beyond one measure.
"""

import re
from dataclasses import dataclass, field, replace
from typing import Literal

from oventide.intake.unit_words import (
    ALONE,
    CONTAINERS,
    FRACTION_WORDS,
    MORE_UNITS,
    NUMBER_WORDS,
    QUALIFIERS,
    SCALED,
    SHOWN_QUALIFIERS,
    SPOONS_OF,
)
from oventide.units.measure import COUNTED, GRAMS, MILLILITRES, unit_from_word
from oventide.units.number import NUMBER_PATTERN, WORDS, parse_number

_TOKEN = re.compile(
    rf"(?P<num>\d+-\d+/\d+|{NUMBER_PATTERN}(?:,\d{{3}})*|\.\d+)"
    r"|(?P<word>[A-Za-zÀ-ÖØ-öø-ÿ'’]+\.?)"
    r"|(?P<sym>[^\sA-Za-z\d])"
)

Rank = Literal["mass", "volume", "share", "count"]


@dataclass(frozen=True)
class Token:
    """A figure, a word or a sign, with its place in the text."""

    kind: str
    text: str
    start: int
    end: int

    @property
    def low(self) -> str:
        return self.text.lower().rstrip(".")


@dataclass(frozen=True)
class Measure:
    """A quantity with its unit, and where in the tokens it stood."""

    amount: float
    unit: str | None
    high: float | None = None
    qualifiers: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    container: str | None = None
    of: bool = field(default=False)

    @property
    def rank(self) -> Rank:
        if self.unit in GRAMS:
            return "mass"
        if self.unit in MILLILITRES:
            return "volume"
        return "share" if self.unit == "%" else "count"

    def times(self, factor: float) -> "Measure":
        return replace(self, amount=self.amount * factor, high=None if self.high is None else self.high * factor)


def tokens(text: str) -> list[Token]:
    """The tokens of a line.

    >>> [token.text for token in tokens("1 1/2 c. milk, 35°C")]
    ['1 1/2', 'c.', 'milk', ',', '35', '°', 'C']
    """
    return [
        Token(match.lastgroup or "sym", match.group(), match.start(), match.end()) for match in _TOKEN.finditer(text)
    ]


def figure(text: str) -> float | None:
    """One figure, also ``1-1/2`` and ``.5``.

    >>> figure("1-1/2"), figure(".5"), figure("1,000")
    (1.5, 0.5, 1000.0)
    """
    if text.startswith("."):
        return parse_number("0" + text)
    mixed = re.fullmatch(r"(\d+)-(\d+/\d+)", text)
    return parse_number(f"{mixed[1]} {mixed[2]}") if mixed else parse_number(text)


def unit_at(parts: list[Token], at: int) -> tuple[str | None, int, str | None]:
    """The unit that starts at a token: unit, next token, container word. (None, at, None) where there is none."""
    if at >= len(parts):
        return None, at, None
    token = parts[at]
    word = token.low
    if token.kind == "num":
        return None, at, None
    following = parts[at + 1].low if at + 1 < len(parts) else ""
    after = parts[at + 2].low if at + 2 < len(parts) else ""
    if word in {"fl", "fluid"} and following in {"oz", "ozs", "ounce", "ounces"}:
        return "fl_oz", at + 2, None
    if word in {"fl", "fluid"} and following == "." and after in {"oz", "ounce", "ounces"}:
        return "fl_oz", at + 3, None
    if (word, following) in SPOONS_OF:
        return SPOONS_OF[word, following], at + 2, None
    if word in {"nut", "walnut"} and following == "of":
        return "knob", at + 1, None
    if word in SCALED:
        return word, at + 1, None
    if word in CONTAINERS:
        return CONTAINERS[word], at + 1, word
    unit = MORE_UNITS.get(word) or unit_from_word(token.text)
    if unit == "tin" or unit == "packet":
        return unit, at + 1, word
    if token.text in {"C", "T", "t", "c"} and at > 0 and parts[at - 1].low == "°":
        return None, at, None
    return unit, at + 1 if unit else at, None


def _value_at(parts: list[Token], at: int) -> tuple[float | None, int]:
    """One value: a figure, or words for one."""
    if at >= len(parts):
        return None, at
    token = parts[at]
    word = token.low
    follow = [part.low for part in parts[at + 1 : at + 6]] + [""] * 5
    if token.kind == "num":
        value = figure(token.text)
        if value is None:
            return None, at
        if follow[0] in {"and", "&"} and at + 2 < len(parts):
            second, third = parts[at + 2], follow[2]
            fraction = figure(second.text) if second.kind == "num" else None
            if fraction is not None and fraction < 1 and value == int(value):
                return value + fraction, at + 3
            if second.low == "a" and third in FRACTION_WORDS:
                return value + FRACTION_WORDS[third], at + 4
        if follow[0] == "dozen":
            return value * 12, at + 2
        return value, at + 1
    if word in {"half", "quarter"}:
        share = FRACTION_WORDS[word]
        if follow[0] in {"a", "an"} and follow[1] == "dozen":
            return share * 12, at + 3
        if follow[0] == "dozen":
            return share * 12, at + 2
        if follow[0] in {"a", "an"}:
            return share, at + 2
        if follow[0] == "of" and follow[1] in {"a", "an"}:
            return share, at + 3
        return share, at + 1
    if word == "dozen":
        return 12.0, at + 1
    if word in {"three", "two", "one"} and follow[0] in {"quarters", "thirds", "quarter", "third", "half"}:
        value = {"one": 1, "two": 2, "three": 3}[word] * FRACTION_WORDS[follow[0]]
        skip = 2 + (follow[1] == "of") + (follow[1] == "of" and follow[2] in {"a", "an"})
        skip += follow[1] in {"a", "an"}
        return value, at + skip
    if word in {"a", "an", "the"} and follow[0] in {"quarter", "third", "half"} and word != "the":
        skip = 2 + (follow[1] == "of") + (follow[1] == "of" and follow[2] in {"a", "an"})
        return FRACTION_WORDS[follow[0]], at + skip
    if word in {"a", "an"} and follow[0] == "dozen":
        return 12.0, at + 2
    if word in {"a", "an"} and follow[0] == "couple":
        return 2.0, at + 2 + (follow[1] == "of")
    if word in NUMBER_WORDS:
        value = float(WORDS[word])
        if follow[0] == "and" and follow[1] == "a" and follow[2] in FRACTION_WORDS:
            return value + FRACTION_WORDS[follow[2]], at + 4
        return value, at + 1
    if word in {"a", "an"} and at + 1 < len(parts):
        return 1.0, at + 1
    return None, at


def measure_at(parts: list[Token], at: int, words: bool = True) -> tuple[Measure | None, int]:
    """The measure that starts at a token, and the token after it.

    >>> measure_at(tokens("about 2-3 heaped tbsp honey"), 0)[0]
    Measure(amount=2.0, unit='tbsp', high=3.0, qualifiers=('about', 'heaped'), assumed=(), container=None, of=False)
    >>> measure_at(tokens("1 x 400g tin"), 0)[0].amount
    400.0
    """
    qualifiers: list[str] = []
    here = at
    here = _qualifiers(parts, here, qualifiers)
    between = here < len(parts) and parts[here].low == "between"
    here += between
    if here >= len(parts) or (parts[here].kind != "num" and not words):
        return None, at
    low, here = _value_at(parts, here)
    if low is None:
        bare, _, _ = unit_at(parts, here)
        if bare is None or len(parts[here].low) < 3 or not (qualifiers or parts[here].low in ALONE):
            return None, at
        low = 1.0
    from_words = parts[here - 1].kind != "num"
    high: float | None = None
    first_unit: str | None = None
    unit, after_unit, container = unit_at(parts, here)
    if unit is not None and container is None and not from_words:
        first_unit = unit
    range_at = after_unit if first_unit else here
    if range_at < len(parts) and parts[range_at].low in {"-", "–", "—", "to", "or", "and", "bis", "till"}:
        sign = parts[range_at].low
        second, next_at = (None, range_at)
        if range_at + 1 < len(parts) and (sign != "and" or between):
            follower = parts[range_at + 1]
            if follower.kind == "num" or follower.low in NUMBER_WORDS:
                second, next_at = _value_at(parts, range_at + 1)
        if second is not None and second > low:
            same, after_same, _ = unit_at(parts, next_at)
            if first_unit is None or same == first_unit or (same is None and sign in "-–—"):
                high, here = second, next_at
                if first_unit is not None and same is None:
                    after_same = next_at
                if first_unit is None:
                    unit, after_unit, container = unit_at(parts, here)
                else:
                    unit, after_unit = first_unit, after_same
    if here < len(parts) and parts[here].low in {"x", "×", "*"} and high is None:
        inner, inner_end = measure_at(parts, here + 1, words=False)
        if inner is not None and inner.unit is not None:
            total = inner.times(low)
            note = f"{low:g} × {inner.amount:g} {inner.unit}" if low != 1 else ""
            return replace(total, assumed=(*inner.assumed, *((note,) if note else ()))), inner_end
        if inner is None:
            return Measure(low, None, None, tuple(qualifiers)), here + 1
    if unit is None and high is None and here < len(parts) and parts[here].kind == "num":
        inner, inner_end = measure_at(parts, here, words=False)
        if inner is not None and inner.container is not None:  # 1 8-oz package
            note = f"{low:g} {inner.container} of {inner.amount:g} {inner.unit} each"
            return replace(inner.times(low), assumed=(note,) if low != 1 else ()), inner_end
    sized: list[str] = []
    sizes = _qualifiers(parts, here, sized, sized=True) if unit is None else here
    if unit is None and sizes != here:
        unit, after_unit, container = unit_at(parts, sizes)
        if unit is None:
            return Measure(low, None, high, tuple(qualifiers)), here
        qualifiers += sized
    if unit is None and here + 1 < len(parts) and parts[here].low in {"-", "–"}:
        hyphened, after_hyphen, container = unit_at(parts, here + 1)
        if hyphened in GRAMS or hyphened in MILLILITRES:
            unit, after_unit = hyphened, after_hyphen
    if unit is None:
        return Measure(low, None, high, tuple(qualifiers)), here
    return _finish(parts, low, high, unit, after_unit, container, qualifiers)


def _finish(
    parts: list[Token], low: float, high: float | None, unit: str, at: int, container: str | None, qualifiers: list[str]
) -> tuple[Measure, int]:
    """What may follow the unit: a full stop, a smaller unit (1 lb 2 oz), the packing of a sized amount."""
    if at < len(parts) and parts[at].text == "." and at + 1 < len(parts):
        at += 1
    measure = Measure(low, unit, high, tuple(qualifiers), (), container)
    if unit in SCALED:
        told, factor, note = SCALED[unit]
        return replace(measure.times(factor), unit=told, assumed=(note,)), at
    if unit == "lb" and high is None:
        ounces, after = measure_at(parts, at, words=False)
        if ounces is not None and ounces.unit == "oz" and ounces.high is None:
            note = f"{low:g} lb {ounces.amount:g} oz taken together"
            return Measure(low * 16 + ounces.amount, "oz", None, tuple(qualifiers), (note,)), after
    if unit == "kg" and high is None:
        grams, after = measure_at(parts, at, words=False)
        if grams is not None and grams.unit == "g" and grams.high is None and grams.amount < 1000:
            return Measure(low * 1000 + grams.amount, "g", None, tuple(qualifiers)), after
    if unit in GRAMS or unit in MILLILITRES:
        packed, after, word = unit_at(parts, at)
        if packed in {"tin", "packet"} and word is not None and word not in {"cake", "pot"}:
            return replace(measure, container=word), after
        if unit == "ml" and packed in {"tbsp", "tsp", "cup"}:
            return measure, after
    return measure, at


def _qualifiers(parts: list[Token], at: int, found: list[str], sized: bool = False) -> int:
    """Skip words such as about, heaped, ~; `found` keeps those that matter."""
    while at < len(parts):
        word = parts[at].low
        following = parts[at + 1].low if at + 1 < len(parts) else ""
        if (
            word == "a"
            and following in SHOWN_QUALIFIERS | {"large", "small", "good", "big"}
            and not sized
            and (following in SHOWN_QUALIFIERS or (at + 2 < len(parts) and parts[at + 2].low in ALONE))
        ):
            at += 1
            continue
        if word in {"~", "≈", "±", "c"} and at + 1 < len(parts) and parts[at + 1].kind == "num":
            found.append("about")
            at += 1
        elif (word, following) in {
            ("up", "to"),
            ("at", "least"),
            ("at", "most"),
            ("just", "under"),
            ("just", "over"),
            ("a", "bit"),
        } and (word != "a" or (at + 2 < len(parts) and parts[at + 2].low in {"over", "under", "less"})):
            found.append(f"{word} {following}")
            at += 2
        elif word in {"large", "small", "big", "good"} and following in ALONE and not sized:
            found.append(word)  # large pinch
            at += 1
        elif word in SHOWN_QUALIFIERS or (sized and word in QUALIFIERS):
            found.append(word)
            at += 1
        elif word == "." and found:
            at += 1
        else:
            break
    return at


def quantity_at(parts: list[Token], at: int) -> tuple[float | None, float | None, int]:
    """A bare quantity, maybe a range, without a unit: low, high or None, next token.

    >>> quantity_at(tokens("1 to 1 1/2 hours"), 0)
    (1.0, 1.5, 3)
    """
    low, here = _value_at(parts, at)
    if low is None:
        return None, None, at
    if here + 1 < len(parts) and parts[here].low in {"-", "–", "—", "to", "or"}:
        follower = parts[here + 1]
        if follower.kind == "num" or follower.low in NUMBER_WORDS:
            high, after = _value_at(parts, here + 1)
            if high is not None and high > low:
                return low, high, after
    return low, None, here


def is_measured(measure: Measure | None) -> bool:
    """Whether a measure is a weight or a volume."""
    return measure is not None and measure.rank in ("mass", "volume")


def is_counted(unit: str | None) -> bool:
    """Whether a unit is counted or judged by hand."""
    return unit is not None and unit in COUNTED
