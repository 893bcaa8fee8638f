"""One ingredient line: amount, unit, ingredient, preparation and grams, with what was assumed.

The grammar is our own: a scanner over tokens (amounts.py), then the name and its preparation (names.py), then the
pantry. A line that holds several ingredients gives several lines (split.py).
"""

import re
from dataclasses import replace
from functools import lru_cache

from oventide.formula.model import EggClass, Line, Measures
from oventide.intake.amounts import Measure, measure_at, tokens, unit_at
from oventide.intake.clean import cells, even, is_rule, without_bullet, without_emphasis, without_numbering
from oventide.intake.lookup import as_prepared, find_once, look_up, unknown_unit, without_strange_words
from oventide.intake.measured import Measured, choice, group_measures, leading, lift_groups, prefer, trailing_amount
from oventide.intake.names import SIZES, NameParts, split_name
from oventide.intake.respell import respelled
from oventide.intake.split import FruitPart, fruit_parts, several
from oventide.pantry.names import Found, is_word
from oventide.pantry.weights import weigh
from oventide.units.estimate import Estimate
from oventide.units.measure import COUNTED, COUNTRIES, millilitres_per

LONGEST = 400
"""A line longer than this is prose [characters]."""

_EGG_SIZES: dict[str, dict[str, EggClass]] = {
    "us": {"medium": "us_medium", "large": "us_large", "extra-large": "us_extra_large", "xl": "us_extra_large",
           "jumbo": "us_jumbo"},
    "eu": {"small": "eu_s", "medium": "eu_m", "large": "eu_l", "extra-large": "eu_xl", "xl": "eu_xl"},
}  # fmt: skip
_WHOLE_OF = re.compile(
    r"^(?:all (?:of )?(?:the |your )?|the whole |1 (?:quantity|batch|recipe|portion)(?: of)? (?:the )?)(.+)$", re.I
)
_SHARES = re.compile(
    r"^(?:made |the |above|sponge|poolish|biga|preferment|levain|starter|tangzhong|soaker|dough|filling|glaze|roux)",
    re.I,
)


def read_line(text: str, measures: Measures | None = None) -> Line:
    """One line as read. Where it holds several ingredients, the first; the others are named in `assumed`.

    >>> line = read_line("1 cup (120 g) icing sugar, sifted")
    >>> line.amount, line.unit, line.preparation
    (120.0, 'g', 'sifted')
    """
    first, *others = read_lines(text, measures)
    if others:
        named = "; ".join(other.text for other in others)
        return first.model_copy(update={"assumed": (*first.assumed, f"The line also holds: {named}")})
    return first


def read_lines(text: str, measures: Measures | None = None) -> tuple[Line, ...]:
    """Every ingredient of a line, in order; at least one line, also where nothing was understood.

    >>> [(line.amount, line.name) for line in read_lines("1 egg + 1 tbsp milk for egg wash")]
    [(1.0, 'egg'), (1.0, 'milk')]
    """
    return _read_lines(text, measures or Measures())


@lru_cache(maxsize=2048)
def _read_lines(text: str, wanted: Measures) -> tuple[Line, ...]:
    bare = plain(text)
    if len(bare) <= LONGEST:
        bare = respelled(bare, lambda name: find_once(name).ingredient_id is not None)
    if len(bare) > LONGEST:
        return (Line(text=text, name=bare[:80], assumed=("The line is too long for an ingredient.",)),)
    row = [cell for cell in cells(bare) if not is_rule(cell)]
    if len(row) > 1:
        if sum(1 for cell in row if _full(cell)) > 1:
            return tuple(line for cell in row for line in read_lines(cell, wanted))
        return (_read_row(text, row, wanted),)
    parts = several(bare)
    found: list[Line] = []
    for part in parts:
        shown = text if len(parts) == 1 else part
        fruits = fruit_parts(part)
        found += [_fruit(shown, fruit, wanted) for fruit in fruits] if fruits else [_one(shown, part, wanted)]
    return tuple(found)


_EGG_PART = re.compile(r"^(?:the )?(yolk|white)s? (?:of|from) (.{1,30}?)\b(eggs?)\b(.*)$", re.IGNORECASE)
_INSIDE_OF = re.compile(
    r"^((?:the )?(?:(?:crushed|ground|scraped) )?(?:seeds?|pulp|flesh|leaves|pips))( of| from) (?=\d|[½¼]|an? |one |two |"
    r"three |four |half )(.+)$",
    re.IGNORECASE,
)
_LENGTH_OF = re.compile(
    (
        r"^(?:an? |one |1 )?\(?(\d+(?:[.,]\d+)?|½)[ -]?(cm|inch|in|mm)\)?[ -](?:long )?(?:piece|"
        r"knob|stick|length|nub|chunk)s?(?: of)? "
    ),
    re.IGNORECASE,
)


def _fruit(text: str, fruit: FruitPart, measures: Measures) -> Line:
    """Zest or juice of counted fruit."""
    counted, _ = measure_at(tokens(fruit.amount), 0)
    amount, high = (1.0, None) if counted is None else (counted.amount, counted.high)
    name = f"{fruit.fruit} {fruit.part}"
    measure = Measure(amount, f"{fruit.part}_of", high)
    return _weighed(
        text,
        name,
        measure,
        find_once(name),
        NameParts(name, name, (), (), ()),
        Measured(measure, "", (), (fruit.preparation,)),
        [],
        measures,
    )


def plain(text: str) -> str:
    """A line without bullet, numbering and emphasis."""
    bare = without_emphasis(without_bullet(without_emphasis(even(text))))
    unnumbered = without_numbering(bare)
    return without_bullet(unnumbered) if unnumbered else bare


def _full(cell: str) -> bool:
    """Whether a table cell holds an ingredient on its own: a measure first, then a name."""
    found = tokens(cell)
    measure, end = measure_at(found, 0)
    return measure is not None and measure.unit != "%" and any(token.kind == "word" for token in found[end:])


def _read_row(text: str, row: list[str], measures: Measures) -> Line:
    """A table row: one cell is the name, the others are amounts; a weight goes before a share."""
    found: list[Measure] = []
    names: list[str] = []
    for cell in row:
        measure, end = measure_at(tokens(cell), 0, words=False)
        if measure is not None and end == len(tokens(cell)):
            found.append(measure)
        else:
            names.append(cell)
    if not names:
        return Line(text=text, name=" ".join(row))
    name = names[0] if len(names) == 1 else ", ".join(names)
    best = min(found, key=choice) if found else None
    notes = tuple(
        f"{measure.amount:g} % stands beside it" for measure in found if measure.unit == "%" and measure is not best
    )
    notes += tuple(
        f"{measure.amount:g} stands beside it without a unit"
        for measure in found
        if measure.unit is None and measure is not best
    )
    if best is None:
        return _one(text, name, measures)
    marked, groups = lift_groups(name)
    return _line(text, Measured(best, marked, notes), groups, measures)


def _one(text: str, bare: str, measures: Measures) -> Line:
    """One ingredient."""
    label = re.match(
        r"^(optional|for [a-z ]{3,30}|to (?:serve|finish|glaze|dust)|plus|and|then|you(?: wi|')ll need)\s?[:\-–]?\s+",
        bare,
        re.I,
    )
    preparation: tuple[str, ...] = ()
    if label and (":" in label.group() or label[1].lower() in {"plus", "and", "then", "optional"}):
        if label[1].lower() not in {"plus", "and", "then"}:
            preparation = (label[1],)
        bare = bare[label.end() :]
    inside = _INSIDE_OF.match(bare)
    if inside:
        bare = inside[3]
        preparation = (*preparation, f"{inside[1]}{inside[2]}".lower().removeprefix("the "))
    egg = _EGG_PART.match(bare)
    if egg:
        bare = f"{egg[2].strip()} egg {egg[1]}s{egg[4]}"
    length = _LENGTH_OF.match(bare)
    if length:
        bare = f"1 {bare[length.end() :]}"
        preparation = (*preparation, f"{length[1]} {length[2]} piece")
    named = re.match(r"^([A-Za-z][A-Za-z ]{2,30}):\s+(?=\S)", bare)
    if named and len(bare) > named.end():
        behind, end = measure_at(tokens(bare[named.end() :]), 0)
        rest = tokens(bare[named.end() :])[end:]
        if (
            behind is not None
            and rest
            and rest[0].kind == "word"
            and find_once(bare[named.end() + rest[0].start :]).ingredient_id is not None
        ):
            other = find_once(named[1])
            if other.ingredient_id is None or "wash" in named[1].lower():
                preparation = (*preparation, named[1])
                bare = bare[named.end() :]
    whole = _WHOLE_OF.match(bare)
    if whole and _SHARES.match(whole[1]):
        amount = 1.0 if bare[0] == "1" else None
        name = re.sub(r"\s*\(.*$", "", whole[1]).strip()
        note = f"All of the {name}: it is weighed where it is made."
        return Line(text=text, name=name, amount=amount, preparation="", assumed=(note,))
    marked, groups = lift_groups(bare)
    read = leading(marked, groups) or trailing_amount(marked, groups) or Measured(None, marked)
    return _line(text, replace(read, preparation=(*preparation, *read.preparation)), groups, measures)


def _line(text: str, read: Measured, groups: list[str], measures: Measures) -> Line:
    """Name, preparation, pantry and weight."""
    measure = read.measure
    assumed = list(read.assumed)
    rest = re.sub(r"^\s*(?:of|the|de|d')\s+|^\s*@\s*", "", read.rest.strip(" .:,-–—=*")).strip()
    if measure is not None and (trailing_group := re.search("[\ue000-\ue0ff]", rest)):
        content = groups[ord(trailing_group.group()) - 0xE000]
        others = group_measures(content)
        if others and not (content.startswith("about") and all(other.unit is None for other in others)):
            groups[ord(trailing_group.group()) - 0xE000] = ""
            measure = prefer(measure, others, assumed)
    share = re.search(r"(?:^|\s)(\d+(?:[.,]\d+)?) ?%(?=\s|$)", rest)
    if share and measure is not None:
        assumed.append(f"{share[1]} % stands beside it")
        rest = (rest[: share.start()] + " " + rest[share.end() :]).strip()
    if alternative := re.search(r"\s(?:or|/)\s(?=\d|[½¼¾⅓⅔])", rest):
        assumed.append(f"Or: {rest[alternative.end() :].strip()}; the first was taken")
        rest = rest[: alternative.start()]
    parts = split_name(rest, groups)
    if measure is not None and not parts.name and measure.unit is not None and measure.unit in COUNTED:
        words = [token for token in tokens(text) if token.kind == "word"]
        parts = replace(parts, name=words[-1].text if words else text)
        measure = replace(measure, unit=None)
    if parts.alternative:
        assumed.append(f"Or {parts.alternative}; the first was taken")
    found, parts = look_up(parts)
    name = parts.name
    if measure is not None and measure.unit is None and (odd := unknown_unit(name)) and not is_word(odd[0]):
        name, found = odd[1], find_once(odd[1])
        assumed.append(f"The measure '{odd[0]}' is not known; weigh it")
        return _weighed(
            text, name, replace(measure, unit=""), found, replace(parts, name=name), read, assumed, measures
        )
    if found.ingredient_id is None and (put_right := without_strange_words(name)):
        found, name, note = put_right
        assumed.append(note)
    found, note = as_prepared(found, ", ".join((*read.preparation, *parts.preparation)))
    if note:
        assumed.append(note)
    if (
        measure is not None
        and measure.unit == "packet"
        and found.ingredient_id in {"yeast_instant_dry", "yeast_fresh"}
        and measure.container in {"cube", "cubes", "cake", "cakes", "block", "blocks", "brick"}
    ):
        found = find_once("fresh yeast")
        if measure.container in {"cube", "cubes"}:
            measures = measures.model_copy(update={"spoons": "metric"})
            assumed.append("Yeast in cubes is fresh yeast; a cube of 42 g is assumed (common practice)")
        else:
            assumed.append("Yeast in cakes or blocks is fresh yeast")
    if measure is not None and measure.unit is None and found.ingredient_id is None and (odd := unknown_unit(name)):
        found = find_once(odd[1])
        assumed.append(f"The word '{odd[0]}' is not known")
    return _weighed(text, name, measure, found, parts, read, assumed, _spoons_of(text, measure, measures))


def _spoons_of(text: str, measure: Measure | None, measures: Measures) -> Measures:
    """Whose spoon a line means where it says so itself: ``1 tablespoon (20 ml)``, ``1 Australian tablespoon``."""
    if measure is None or measure.unit not in {"cup", "tbsp", "tsp", "dsp"}:
        return measures
    named = next((word for word in ("australian", "imperial", "metric") if word in measure.qualifiers), None)
    if named is not None:
        return measures.model_copy(update={"spoons": "au" if named == "australian" else named})
    beside = re.search(r"(?<![\d/.,])(\d+(?:[.,]\d+)?) ?ml\b", text, re.IGNORECASE)
    if beside is None or measure.amount <= 0:
        return measures
    each = float(beside[1].replace(",", ".")) / measure.amount
    by_country = {country: millilitres_per(measure.unit, country) or 0.0 for country in COUNTRIES}
    nearest = min(
        by_country, key=lambda country: abs(by_country[country] / each - 1) + (country != measures.spoons) * 1e-6
    )
    close = abs(by_country[nearest] / each - 1) < 0.03
    return measures.model_copy(update={"spoons": nearest}) if close else measures


def _egg_measures(text: str, measures: Measures) -> tuple[Measures, str]:
    """The size class that a line names for its eggs."""
    where = "us" if measures.spoons == "us" or measures.eggs.startswith("us_") else "eu"
    lowered = text.lower().replace("extra large", "extra-large")
    for word in ("extra-large", "jumbo", "large", "medium", "small", "xl"):
        if re.search(rf"\b{word}\b", lowered) and word in _EGG_SIZES[where]:
            size = _EGG_SIZES[where][word]
            return measures.model_copy(update={"eggs": size}), f"{word} egg: size class {size.replace('_', ' ')}"
    return measures, ""


def _weighed(
    text: str, name: str, measure: Measure | None, found: Found, parts: NameParts, read: Measured, assumed: list[str],
    measures: Measures,
) -> Line:  # fmt: skip
    preparation = [
        part for part in (*(measure.qualifiers if measure else ()), *read.preparation, *parts.preparation) if part
    ]
    if measure is not None and measure.amount != measure.amount:
        measure = None if measure.unit is None else measure  # a few drops: no figure
    unit = None if measure is None else measure.unit
    strange = unit == ""
    amount = None if measure is None or measure.amount != measure.amount else round(measure.amount, 6)
    high = None if measure is None or measure.high is None else round(measure.high, 6)
    is_egg = (found.ingredient_id or "").startswith("egg_")
    last = name.split()[-1].lower() if name else ""
    if strange:
        unit = None
    elif amount is not None and unit is None:
        counted, _, _ = unit_at(tokens(last), 0)
        unit = (
            counted
            if counted in {"clove", "leaf", "sheet", "sprig", "slice", "stick"} and len(name.split()) > 1
            else "piece"
        )
    if unit == "piece" and last in {"zest", "juice"} and found.ingredient_id is not None:
        unit = f"{last}_of"
    size_words = [word for word in name.lower().split() if word in SIZES]
    if size_words and not is_egg:
        preparation = [*size_words, *preparation]
    if size_words:
        name = " ".join(word for word in name.split() if word.lower() not in SIZES) or name
    here = measures
    if is_egg and unit == "piece":
        here, note = _egg_measures(text, measures)
        if note:
            assumed.append(note)
    grams: Estimate | None = None
    if amount is not None and unit == "%":
        assumed.append("A share of the flour: no weight is given")
    elif amount is not None and unit is not None and amount >= 0:
        shown = ", ".join(preparation)
        weighed = weigh(amount, unit, found.ingredient_id, here, amount_high=high, preparation=shown)
        grams = weighed.grams
        assumed += weighed.assumed
        if unit == "piece" and grams is None:
            odd = unknown_unit(name)
            if odd is not None:
                unit, name = None, odd[1]
                assumed.append(f"The measure '{odd[0]}' is not known; weigh it")
            else:
                if amount > 12 or amount != int(amount):
                    unit = None
                assumed.append("No unit is given; write g where grams are meant")
    if unit == "oz" and measure is not None and _pours(found.ingredient_id):
        assumed.append("oz taken as a weight; where fluid ounces are meant, write fl oz")
    assumed += found.assumed if not isinstance(found.assumed, str) else ([found.assumed] if found.assumed else [])
    return Line(
        text=text,
        name=name or text.strip(),
        amount=amount,
        amount_high=high,
        unit=unit,
        ingredient=found.ingredient_id,
        preparation=", ".join(dict.fromkeys(preparation)),
        grams=grams,
        assumed=tuple(dict.fromkeys(assumed)),
        offered=tuple(found.offered),
    )


def _pours(ingredient: str | None) -> bool:
    return (
        ingredient is not None
        and ingredient.startswith(
            (
                "milk_whole",
                "milk_semi",
                "milk_skim",
                "water",
                "cream_",
                "buttermilk",
                "oil_",
                "drink_",
                "lemon_juice",
                "orange_juice",
            )
        )
        and not ingredient.startswith("cream_cheese")
    )


def is_whole_of(text: str) -> bool:
    """Whether a line calls for all of something made before: ``all of the sponge``.

    >>> is_whole_of("all of the poolish"), is_whole_of("all the flour")
    (True, False)
    """
    whole = _WHOLE_OF.match(plain(text))
    return whole is not None and bool(_SHARES.match(whole[1]))
