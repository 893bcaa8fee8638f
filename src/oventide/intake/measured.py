"""Where the amount of a line stands: in front, behind, in brackets, twice; and which of several is taken."""

import re
from dataclasses import dataclass, replace

from oventide.intake.amounts import Measure, is_measured, measure_at, tokens, unit_at
from oventide.intake.names import PREPARATION_WORDS
from oventide.units.measure import GRAMS, MILLILITRES

_METRIC = ("g", "kg", "mg")


@dataclass(frozen=True)
class Measured:
    """A line on its way: the measure, what it says, and the text that is left for the name."""

    measure: Measure | None
    rest: str
    assumed: tuple[str, ...] = ()
    preparation: tuple[str, ...] = ()


def choice(measure: Measure) -> int:
    """Which of several amounts of one thing is taken: metric weight, other weight, volume, count, share."""
    if measure.unit in _METRIC:
        return 0
    return {"mass": 1, "volume": 2, "count": 3, "share": 4}[measure.rank] + (measure.unit is None)


def lift_groups(text: str) -> tuple[str, list[str]]:
    """Take bracketed texts out, leaving one mark each; an unclosed bracket runs to the end."""
    text = re.sub("[\ue000-\uf8ff]", " ", text)  # signs of our own for brackets
    groups: list[str] = []
    out: list[str] = []
    depth, start = 0, 0
    for at, sign in enumerate(text):
        if sign in "([":
            if depth == 0:
                out.append(text[start:at])
                start = at + 1
            depth += 1
        elif sign in ")]" and depth:
            depth -= 1
            if depth == 0:
                out.append(" " + chr(0xE000 + len(groups)) + " ")
                groups.append(text[start:at])
                start = at + 1
    if depth:
        out.append(" " + chr(0xE000 + len(groups)) + " ")
        groups.append(text[start:])
    else:
        out.append(text[start:])
    if len(groups) > 20:
        return text, []
    return re.sub(" {2,}", " ", "".join(out)).strip(), groups


def group_measures(content: str) -> list[Measure]:
    """The amounts in brackets, or none where the brackets hold a remark."""
    found: list[Measure] = []
    for piece in re.split(r"[;,]| or |=|(?<!\d)/|/(?!\d)| / ", content):
        parts = tokens(piece)
        if not parts:
            continue
        measure, end = measure_at(parts, 0, words=False)
        if measure is None and found and _only_prepares(piece):
            continue
        if measure is None or (end < len(parts) and parts[end].text in "°º"):
            return []
        tail = [part.low for part in parts[end:]]
        if tail and not set(tail) <= {
            "each",
            "total",
            "in",
            "weight",
            "net",
            "eggs",
            "egg",
            "a",
            "piece",
            "drained",
            "without",
            "shell",
            "shelled",
            "peeled",
            "-",
            "or",
            "so",
            ".",
        }:
            return []
        found.append(replace(measure, of="each" in tail))
    return found


def _only_prepares(piece: str) -> bool:
    words = re.findall(r"[\w-]+", piece.lower())
    return bool(words) and all(word in PREPARATION_WORDS or word in {"soft", "and"} for word in words)


def remark(content: str) -> str:
    """What stands in brackets besides amounts: the words of preparation in ``(about 100 g, softened)``."""
    pieces = [piece.strip(" !.") for piece in re.split(r"[;,]", content)[1:]]
    return ", ".join(piece for piece in pieces if _only_prepares(piece))


_BY_EYE = re.compile(
    r"^((?:an? )?(?:(?:good|generous|little|small|big|tiny) )?"
    r"(?:splash|drizzle|glug|dollop|scraping|grating|sprinkling|sprinkle|dusting|squeeze|swirl|grind|twist|slick))s?"
    r"(?: of)? (?=[a-zà-ÿ])",
    re.IGNORECASE,
)
"""Amounts that are judged by eye: kept as words, without a weight."""


def leading(marked: str, groups: list[str]) -> Measured | None:
    """The line begins with its amount."""
    parts = tokens(marked)
    few = re.match(
        r"^(a few|several|some) (?=drops?|sprigs?|leaves|slices?|pinches|handfuls?)(\w+)( of)? ", marked, re.I
    )
    if few:
        unit, _, _ = unit_at(tokens(few[2]), 0)
        return Measured(Measure(float("nan"), unit), marked[few.end() :], (), (few[1],))
    judged = _BY_EYE.match(marked)
    if judged:
        return Measured(None, marked[judged.end() :], (), (judged[1].lower(),))
    measure, at = measure_at(parts, 0)
    if measure is None or re.match(r"^0{1,4}(?![\d.,/])", marked):
        return None  # 00 flour
    first = parts[at - 1] if at else None
    vague = ("a little", "a bit", "a touch", "a splash", "a drizzle", "a glug", "a good", "a generous", "a lot")
    by_article = measure.unit is None and first is not None and first.kind == "word" and first.low in {"a", "an"}
    if by_article and marked.lower().startswith(vague):
        opening = " ".join(marked.split()[:2])
        return Measured(None, marked[len(opening) :], (), (opening,))
    if at < len(parts) and parts[at].text in "°º":
        return None
    assumed: list[str] = list(measure.assumed)
    preparation: list[str] = []
    while at < len(parts):
        sign = parts[at]
        if sign.kind == "sym" and "\ue000" <= sign.text <= "\ue0ff":
            others = group_measures(groups[ord(sign.text) - 0xE000])
            if not others:
                break
            groups[ord(sign.text) - 0xE000] = remark(groups[ord(sign.text) - 0xE000])
            at += 1
            packed, after, word = unit_at(parts, at)
            best = min(others, key=choice)
            if measure.unit is None and packed in {"tin", "packet"} and is_measured(best):
                at = after
                if measure.amount != 1:
                    assumed.append(f"{measure.amount:g} {word} of {best.amount:g} {best.unit} each")
                measure = best.times(measure.amount)
            else:
                measure = prefer(measure, others, assumed)
            continue
        if sign.text in {"/", "|", "="}:
            other, after = measure_at(parts, at + 1, words=False)
            if other is None or other.unit is None:
                break
            measure, at = prefer(measure, [other], assumed), after
            continue
        if sign.low in {"+", "plus", "and", "&"}:
            other, after = measure_at(parts, at + 1)
            if other is None or other.rank == "share":
                break
            following = parts[after].low if after < len(parts) else ""
            if following == "for":
                end = min(after + 2, len(parts))
                preparation.append(marked[sign.start : parts[end - 1].end])
                assumed.append(f"Not counted: {marked[sign.start : parts[end - 1].end]}")
                at = end
                continue
            summed = added(measure, other)
            if summed is None:
                break
            assumed.append(f"{marked[parts[0].start : parts[after - 1].end]} taken together")
            measure, at = summed, after
            continue
        break
    rest = marked[parts[at - 1].end :] if at else marked
    return Measured(measure, rest, tuple(assumed), tuple(preparation))


def prefer(measure: Measure, others: list[Measure], assumed: list[str]) -> Measure:
    """The best known of amounts that stand for the same thing."""
    candidates = [measure, *(other.times(measure.amount) if other.of else other for other in others)]
    best = min(candidates, key=choice)
    if best is not measure:
        beside = "" if measure.unit is None and measure.amount == 1 else f"; {shown_amount(measure)} stands beside it"
        assumed.append(f"{shown_amount(best)} taken{beside}")
        return replace(best, qualifiers=measure.qualifiers)
    return measure


def shown_amount(measure: Measure) -> str:
    span = f"{measure.amount:.4g}" + (f"-{measure.high:.4g}" if measure.high is not None else "")
    return f"{span} {measure.container or measure.unit or 'pieces'}"


def added(first: Measure, second: Measure) -> Measure | None:
    """The sum in the first unit (both weights, or both volumes), or None."""
    if first.unit is None and second.unit in GRAMS:
        first = replace(first, unit=second.unit)
    if first.unit == second.unit and first.unit is not None:
        return replace(first, amount=first.amount + second.amount)
    if first.unit == "stick" and second.unit in {"tbsp", "tsp"} and first.high is None and second.high is None:
        more = second.amount if second.unit == "tbsp" else second.amount / 3
        return replace(first, amount=first.amount * 8 + more, unit="tbsp")  # a stick is 8 tablespoons by its wrapper
    for table in (GRAMS, {unit: by["metric"] for unit, by in MILLILITRES.items()}):
        if first.unit in table and second.unit in table and first.high is None and second.high is None:
            factor = _SPOONS.get((first.unit, second.unit), table[second.unit] / table[first.unit])
            return replace(first, amount=first.amount + second.amount * factor)
    return None


_SPOONS: dict[tuple[str | None, str | None], float] = {
    ("tbsp", "tsp"): 1 / 3, ("cup", "tbsp"): 1 / 16, ("cup", "tsp"): 1 / 48, ("tsp", "tbsp"): 3.0,
}  # fmt: skip
"""How spoons are counted where they stand together: 16 tablespoons to the cup, 3 teaspoons to the tablespoon."""


def trailing_amount(marked: str, groups: list[str]) -> Measured | None:
    """The name comes first: ``butter: 100 g``, ``Flour 500g``, ``eggs x 3``."""
    parts = tokens(marked)
    best: tuple[int, int, int, Measure] | None = None
    at = 0
    while at < len(parts):
        token = parts[at]
        mark = token.kind == "sym" and "\ue000" <= token.text <= "\ue0ff"
        if mark:
            inside = group_measures(groups[ord(token.text) - 0xE000])
            weighed = [measure for measure in inside if is_measured(measure)]
            if weighed and (best is None or best[0] > 0):
                best = (0 + choice(weighed[0]), at, at + 1, weighed[0])
            at += 1
            continue
        if token.kind != "num" and token.low not in {"about", "approx", "~", "x", "×"}:
            at += 1
            continue
        start = at
        if token.low in {"x", "×"}:
            at += 1
        measure, end = measure_at(parts, at, words=False)
        if measure is None:
            at = max(at, start) + 1
            continue
        following = parts[end].text if end < len(parts) else ""
        if following in "°º" and following:
            at = end + 1
            continue
        if measure.unit is None:
            before = parts[start - 1].text if start else ""
            alone = (
                not following
                or parts[end].low in PREPARATION_WORDS
                or following in {"+", ",", ";"}
                or "\ue000" <= following <= "\ue0ff"
            )
            if not (token.low in {"x", "×"} or alone or before in {"-", "–", ":", "="}) or before.lower() in {
                "type",
                "no",
                "tipo",
                "typ",
            }:
                at = end
                continue
        while end < len(parts) and parts[end].text in {"+", "/"}:
            other, after = measure_at(parts, end + 1, words=False)
            summed = (
                None
                if other is None
                else (added(measure, other) if parts[end].text == "+" else prefer(measure, [other], []))
            )
            if summed is None:
                break
            measure, end = summed, after
        order = choice(measure)
        if best is None or order <= best[0]:
            best = (order, start, end, measure)
        at = max(end, at + 1)
    if best is None:
        return None
    _, start, end, measure = best
    assumed = list(measure.assumed)
    said: tuple[str, ...] = ()
    if end - start == 1 and parts[start].text >= "\ue000" and parts[start].kind == "sym":
        said = (remark(groups[ord(parts[start].text) - 0xE000]),)
        groups[ord(parts[start].text) - 0xE000] = remark(groups[ord(parts[start].text) - 0xE000])
    before = marked[: parts[start].start]
    after_text = marked[parts[end - 1].end :]
    share = re.search(r"(\d+(?:[.,]\d+)?) ?%\s*$", before) or re.match(r"^\s*[,|/]?\s*(\d+(?:[.,]\d+)?) ?%", after_text)
    if share and measure.unit != "%":
        assumed.append(f"{share[1]} % stands beside it")
        if share.string is before:
            before = before[: share.start()]
        else:
            after_text = after_text[share.end() :]
    end_mark = re.match(r"^\s*([\ue000-\ue0ff])", after_text)
    if end_mark and (others := group_measures(groups[ord(end_mark[1]) - 0xE000])):
        groups[ord(end_mark[1]) - 0xE000] = remark(groups[ord(end_mark[1]) - 0xE000])
        measure = prefer(measure, others, assumed)
    joint = before.rstrip(" :-–—=,.…·|")
    tail = after_text.lstrip(" ,;:-–—.")
    if joint and tail:
        rest = (
            f"{joint}, {tail}"
            if not after_text.startswith(" ") or before.rstrip()[-1:] in {",", ":", "-", "–"}
            else f"{joint} {tail}"
        )
    else:
        rest = joint or tail
    return Measured(measure, rest, tuple(assumed), said)
