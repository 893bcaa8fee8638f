"""Grams from an amount and a unit, each with its range and the sentence that says what was assumed."""

import re

from oventide.formula.model import EggClass, Frozen, Measures
from oventide.pantry import ingredients
from oventide.pantry.densities import density, measures
from oventide.pantry.ingredients import Ingredient, table
from oventide.pantry.own import Pantry
from oventide.units.estimate import Estimate, Grade
from oventide.units.measure import COUNTED, Country, grams_per, millilitres_per

_COUNTRY_WORD: dict[Country, str] = {"us": "US", "metric": "metric", "imperial": "imperial", "au": "Australian"}
_SPOONED = frozenset({"cup", "tbsp", "dsp", "tsp", "pint", "quart", "gallon", "fl_oz"})
_UNIT_WORD = {"fl_oz": "fluid ounce", "zest_of": "zest of one", "juice_of": "juice of one", "ml": "mL"}
_FILL = {
    "heaped": "heaped", "heaping": "heaped", "rounded": "rounded", "generous": "generous", "scant": "scant",
    "scanted": "scant",
}  # fmt: skip
_EGG_CLASS_WORD: dict[EggClass, str] = {
    "us_medium": "US medium", "us_large": "US large", "us_extra_large": "US extra large", "us_jumbo": "US jumbo",
    "eu_s": "EU S", "eu_m": "EU M", "eu_l": "EU L", "eu_xl": "EU XL",
}  # fmt: skip
_US_SIZES: dict[str, EggClass] = {
    "small": "us_medium", "medium": "us_medium", "large": "us_large", "extra large": "us_extra_large",
    "xl": "us_extra_large", "jumbo": "us_jumbo",
}  # fmt: skip
_EU_SIZES: dict[str, EggClass] = {
    "small": "eu_s", "medium": "eu_m", "large": "eu_l", "extra large": "eu_xl", "xl": "eu_xl", "very large": "eu_xl",
}  # fmt: skip


class Weighed(Frozen):
    """Grams with their range, or None where the weight is not known, and the sentences behind them."""

    grams: Estimate | None
    assumed: tuple[str, ...] = ()


def _shown(value: float) -> str:
    """Three figures, as a scale would show them."""
    if value >= 100:
        return f"{value:.0f}"
    return f"{value:.1f}" if value >= 10 else f"{value:.2f}".rstrip("0").rstrip(".") or "0"


def _range_words(estimate: Estimate) -> str:
    low, high = _shown(estimate.low), _shown(estimate.high)
    return f"{low} g" if low == high else f"{low}–{high} g, likely {_shown(estimate.likely)} g"


def _times(one: Estimate, amount: float, amount_high: float | None) -> Estimate:
    """A weight per unit times an amount or a written range of amounts."""
    top = amount if amount_high is None else max(amount, amount_high)
    bottom = min(amount, top)
    return Estimate(
        low=one.low * bottom, likely=one.likely * (bottom + top) / 2, high=one.high * top, grade=one.grade,
        source=one.source,
    )  # fmt: skip


def _product(one: Estimate, other: Estimate, grade: Grade) -> Estimate:
    """Two independent factors: relative half ranges add in quadrature."""
    likely = one.likely * other.likely
    down = ((1 - one.low / one.likely) ** 2 + (1 - other.low / other.likely) ** 2) ** 0.5
    up = ((one.high / one.likely - 1) ** 2 + (other.high / other.likely - 1) ** 2) ** 0.5
    return Estimate(
        low=max(likely * (1 - down), 0.0), likely=likely, high=likely * (1 + up), grade=grade, source=one.source
    )


def _figure(name: str) -> Estimate:
    parameter = measures()[name]
    return Estimate(
        low=parameter.low, likely=parameter.value, high=parameter.high, grade=parameter.grade, source=parameter.source
    )


def size_in(preparation: str) -> str:
    """The size word in a line's preparation: "small", "medium", "large", "extra large", "jumbo" or none."""
    found = re.search(r"\b(extra[- ]large|very large|xl|jumbo|small|medium|large)\b", preparation.lower())
    return found.group(1).replace("-", " ") if found else ""


def egg_class(preparation: str, stated: EggClass) -> EggClass:
    """The class that a size word means in the country of the formula's eggs; without one, the formula's own."""
    sizes = _US_SIZES if stated.startswith("us") else _EU_SIZES
    return sizes.get(size_in(preparation), stated)


def _egg(part: str, preparation: str, stated: EggClass) -> tuple[Estimate, str]:
    """Content of one egg [g] by class: whole, yolk or white, and the sentence."""
    size = egg_class(preparation, stated)
    if size.startswith("us"):
        whole = _figure(f"egg.content.{size}")
        basis = "USDA household weights"
    else:
        in_shell, shell = _figure(f"egg.in_shell.{size}"), measures().value("egg.shell_share")
        whole = in_shell.scaled(1 - shell)
        basis = f"{in_shell.low:g}–{in_shell.high:g} g in shell, shell {shell * 100:g} %"
    yolk = _figure("egg.yolk")
    if part == "egg_yolk":
        one = yolk
    elif part == "egg_white":
        below = ((whole.likely - whole.low) ** 2 + (yolk.high - yolk.likely) ** 2) ** 0.5
        above = ((whole.high - whole.likely) ** 2 + (yolk.likely - yolk.low) ** 2) ** 0.5
        likely = whole.likely - yolk.likely
        one = Estimate(low=likely - below, likely=likely, high=likely + above, grade=whole.grade, source=whole.source)
    else:
        one = whole
    name = {"egg_yolk": "egg yolk", "egg_white": "egg white"}.get(part, "egg out of its shell")
    return one, f"1 {name}, class {_EGG_CLASS_WORD[size]} ({basis}): {_range_words(one)}"


def _counted(item: Ingredient, like: str, unit: str, size: str, country: Country) -> tuple[Estimate, str] | None:
    """A row of the table of counts that fits: same size word first, then US rows in the US, then the plain row."""
    rows = [row for row in table("counts") if row["id"] in (item.id, like) and row["unit"] == unit]
    if not rows:
        return None
    wanted = {"medium": "", "small": "small", "": ""}.get(size, "large")
    order = [wanted] if wanted else []
    order += ["us"] if country == "us" else []
    for key in (*order, ""):
        for row in rows:
            if row["size"] == key:
                one = Estimate(
                    low=float(row["low"]), likely=float(row["likely"]), high=float(row["high"]),
                    grade=_grade(row["grade"]), source=row["source"] or "practice",
                )  # fmt: skip
                from_where = row["where"] or "common practice, no source"
                kind = f"{key} " if key and key != "us" else ""
                word = _UNIT_WORD.get(unit, unit)
                if unit in ("zest_of", "juice_of"):
                    shown = f"{item.name} of 1 fruit"
                else:
                    shown = f"1 {kind}{item.name}" if unit == "piece" else f"1 {kind}{word} {item.name}"
                return one, f"{shown}: {_range_words(one)} ({from_where})"
    return None


def _grade(text: str) -> Grade:
    if text == "read":
        return "read"
    return "assumed" if text == "assumed" else "remembered"


def _volume(
    item: Ingredient, unit: str, country: Country, preparation: str, pantry: Pantry | None
) -> tuple[Estimate, str] | str:
    """Weight of one volume unit, or the sentence that says why it is not known."""
    millilitres = millilitres_per(unit, country) or 0.0
    how = density(item.id, preparation, pantry)
    named = f"{_COUNTRY_WORD[country]} {_UNIT_WORD.get(unit, unit)}" if unit in _SPOONED else _UNIT_WORD.get(unit, unit)
    if how is None:
        return f"The weight of a {named} of {item.name} is not known: weigh it."
    one = how.estimate.scaled(millilitres)
    filled = f", {how.filled}" if how.filled else ""
    volume = f"1 {named} = {millilitres:.4g} mL" if unit in _SPOONED else f"1 {named}"
    density_words = f"{how.estimate.low:.2f}–{how.estimate.high:.2f} g/mL"
    sentence = f"{volume}; {item.name}{filled} {density_words} ({how.source}): {_range_words(one)}"
    words = re.findall(r"[a-z]+", preparation.lower())
    fill = next((_FILL[word] for word in words if word in _FILL), None)
    if fill is not None:
        factor = _figure(f"spoon.{fill}")
        one = _product(one, factor, "assumed")
        sentence += f"; {fill}, taken as {factor.low:g}–{factor.high:g} times level: {_range_words(one)}"
    elif "sifted" in words and item.category == "flour":
        factor = _figure("spoon.sifted_flour")
        one = _product(one, factor, "assumed")
        sentence += f"; sifted before or after the cup was filled is not said: {_range_words(one)}"
    return one, sentence


def _by_hand(item: Ingredient, unit: str, preparation: str, pantry: Pantry | None) -> tuple[Estimate, str] | str:
    how = density(item.id, preparation, pantry)
    name = f"by_hand.{unit}_ml"
    if how is None or name not in measures().parameters:
        return f"How much a {unit} of {item.name} weighs is not known: weigh it."
    volume = _figure(name)
    one = _product(volume, how.estimate, "remembered")
    return one, f"a {unit} is about {volume.low:g}–{volume.high:g} mL (from memory); {item.name}: {_range_words(one)}"


def _one(
    unit: str, item: Ingredient, like: str, wanted: Measures, preparation: str, pantry: Pantry | None
) -> tuple[Estimate, str] | str:
    """Weight of one of a unit that is neither a mass nor "nothing", or why it is not known."""
    own = pantry.own_of(item.id) if pantry is not None else None
    if own is not None:
        for key, grams in (("piece", own.piece_g), ("packet", own.packet_g)):
            if unit == key and grams is not None:
                return Estimate.certain(grams), f"1 {key} of your {item.name}: {grams:g} g"
    base = like or item.id
    if millilitres_per(unit, "us") is not None:
        return _volume(item, unit, wanted.spoons, preparation, pantry)
    if unit == "piece" and base in ("egg_whole", "egg_yolk", "egg_white", "egg_whole_pasteurized"):
        return _egg(base, preparation, wanted.eggs)
    counted = _counted(item, like, unit, size_in(preparation), wanted.spoons)
    if counted is not None:
        return counted
    if unit in ("pinch", "dash", "smidgen", "handful", "knob"):
        return _by_hand(item, unit, preparation, pantry)
    if unit not in COUNTED:
        return f"“{unit}” is not a unit that is known here."
    return f"How much one {_UNIT_WORD.get(unit, unit)} of {item.name} weighs is not known: weigh it."


def weigh(
    amount: float | None,
    unit: str | None,
    ingredient_id: str | None,
    measures: Measures,
    amount_high: float | None = None,
    preparation: str = "",
    pantry: Pantry | None = None,
) -> Weighed:
    """Grams of an ingredient line. `unit` is a canonical unit (units.measure), None for a plain count.

    Size words ("large eggs") and fill words ("heaped", "packed", "sifted", "ground") are read from `preparation`.

    >>> cup = weigh(1, "cup", "flour_ap_unenriched", Measures(spoons="metric"))
    >>> round(cup.grams.low), round(cup.grams.likely), round(cup.grams.high)
    (124, 132, 149)
    >>> weigh(250, "g", "butter_unsalted", Measures()).grams.is_certain
    True
    >>> weigh(2, None, "food_colour", Measures()).grams is None
    True
    """
    if amount is None:
        return Weighed(grams=None, assumed=("No amount is written: the weight is not known.",))
    if not 0 < amount < float("inf"):
        return Weighed(grams=None, assumed=(f"An amount of {amount:g} cannot be weighed: write one above zero.",))
    mass = grams_per(unit) if unit else None
    if mass is not None:
        return Weighed(grams=_times(Estimate.certain(mass), amount, amount_high))
    if ingredient_id is None:
        return Weighed(grams=None, assumed=("The ingredient is not known, so a spoon or a count of it has no weight.",))
    item = pantry.ingredient(ingredient_id) if pantry is not None else ingredients.ingredient(ingredient_id)
    own = pantry.own_of(ingredient_id) if pantry is not None else None
    like = own.like if own is not None else ""
    found = _one(unit or "piece", item, like, measures, preparation, pantry)
    if isinstance(found, str):
        return Weighed(grams=None, assumed=(found,))
    one, sentence = found
    return Weighed(grams=_times(one, amount, amount_high), assumed=(sentence,))
