"""Oven settings and other temperatures in a method, with the kind of oven each is meant for."""

import re
from dataclasses import dataclass

from oventide.intake.rules import gas_mark
from oventide.kitchen.model import OvenKind
from oventide.units.temperature import celsius_from_fahrenheit

_TEMPERATURE = re.compile(
    r"(?P<before>\b(?:fan|convection)[\s-]{1,2})?(?<![\d.,])(?P<low>\d{1,3}(?:[.,]\d)?)\s?(?:[-–]\s?(?P<high>\d{2,3})\s?)?"
    r"(?P<unit>°\s?[CF]\b|º\s?[CF]\b|° |°|º|℃|℉|[CF]\b|degrees?\s?(?:celsius|centigrade|"
    r"fahrenheit|c\b|f\b)?|deg\.?\s?[CF]?\b)",
    re.IGNORECASE,
)
_BARE_FAN = re.compile(r"\b(?P<low>1[2-9]\d|2[0-5]\d)\s(?P<kind>fan|convection|static)\b", re.IGNORECASE)
_GAS = re.compile(r"\b(?:gas|regulo)(?:\s?mark|\s?m)?\.?\s?(?P<mark>½|1/2|\d{1,2})", re.IGNORECASE)
_KIND_AFTER = re.compile(
    r"^[\s,(/]{0,3}(?P<kind>fan(?:[ -]?(?:forced|assisted|bake|oven))?|convection|"
    r"circulating|hot air|static|conventional|"
    r"top[ /-](?:and|\+|&)?[ /-]?bottom(?: heat)?|deck|stone|normal oven|non-fan)\b",
    re.IGNORECASE,
)
_KIND_BEFORE = re.compile(
    r"(?P<kind>fan|convection|static|conventional|deck)(?: oven)?(?: at| to|:)?\s?$", re.IGNORECASE
)


@dataclass(frozen=True)
class Reading:
    """A temperature in a text [°C], what kind of oven it is for where that is said, and where it stands."""

    celsius: float
    kind: OvenKind | None
    start: int
    end: int
    high: float | None = None
    gas: bool = False


def _kind(word: str | None) -> OvenKind | None:
    if not word:
        return None
    lowered = word.lower().strip(" -")
    if lowered.startswith(("fan", "convection", "circulating", "hot")):
        return "convection"
    if lowered.startswith(("deck", "stone")):
        return "deck"
    return "static"


def temperatures(text: str) -> list[Reading]:
    """Every temperature in a text, gas marks included, in order.

    >>> [(item.celsius, item.kind) for item in temperatures("190C/170C fan/gas 5")]
    [(190.0, None), (170.0, 'convection'), (190.0, 'static')]
    >>> round(temperatures("375°F")[0].celsius, 1)
    190.6
    """
    found: list[Reading] = []
    for match in _TEMPERATURE.finditer(text):
        low, high = float(match["low"].replace(",", ".")), float(match["high"]) if match["high"] else None
        unit = match["unit"].lower()
        fahrenheit = "f" in unit.replace("deg", "") or "℉" in unit
        bare = not fahrenheit and "c" not in unit.replace("degrees c", "c") and "℃" not in unit
        if bare and low > 280:
            fahrenheit = True
        celsius = celsius_from_fahrenheit(low) if fahrenheit else low
        upper = None if high is None else celsius_from_fahrenheit(high) if fahrenheit else high
        after = _KIND_AFTER.match(text[match.end() : match.end() + 40])
        before = match["before"] or (
            m["kind"] if (m := _KIND_BEFORE.search(text[max(0, match.start() - 20) : match.start()])) else None
        )
        kind = _kind(before) or (_kind(after["kind"]) if after else None)
        if (
            after
            and not before
            and (follow := re.match(r"^[\s/(,]{1,3}fan\s?\d", text[match.end() : match.end() + 12], re.I))
            and follow
        ):
            kind = None  # 200C/fan 180C: the word belongs to the next figure
        found.append(Reading(celsius, kind, match.start(), match.end(), upper))
    for match in _BARE_FAN.finditer(text):
        if not any(item.start <= match.start() <= item.end for item in found):
            found.append(Reading(float(match["low"]), _kind(match["kind"]), match.start(), match.end()))
    for match in _GAS.finditer(text):
        mark = 0.5 if match["mark"] in {"½", "1/2"} else float(match["mark"])
        celsius_gas = gas_mark(mark)
        if celsius_gas is not None:
            found.append(Reading(celsius_gas, "static", match.start(), match.end(), None, True))
    return sorted(found, key=lambda item: item.start)


def settings(text: str) -> list[Reading]:
    """The temperatures that can only be an oven's."""
    return [item for item in temperatures(text) if item.celsius >= 110]


def choose(found: list[Reading], oven: OvenKind | None) -> tuple[Reading | None, str]:
    """The setting for an oven kind, and a sentence that names the ones left out.

    Where the kitchen's kind is not said, a setting for a convection oven is taken if the text has one: that is also
    the kitchen's own default.
    """
    if not found:
        return None, ""
    fans = [item for item in found if item.kind == "convection"]
    plain = [item for item in found if item.kind != "convection" and not item.gas] or [
        item for item in found if item.kind != "convection"
    ]
    best = plain[0] if plain and (oven in ("static", "deck") or not fans) else fans[0] if fans else found[0]
    if best in plain and fans and best.kind is None:
        best = Reading(best.celsius, "static", best.start, best.end, best.high, best.gas)
    if best.gas:
        others = f"gas mark read as {best.celsius:.0f} °C"
        return best, others
    rest = [
        f"{item.celsius:.0f} °C"
        + (" (convection)" if item.kind == "convection" else " (gas)" if item.gas else " (static)")
        for item in found
        if item.start != best.start
    ]
    return best, f"The text also gives {', '.join(dict.fromkeys(rest))}" if rest else ""
