"""The preferment's own time: where the procedure gives it, that; where not, until it is ripe."""

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oventide.dough.preferment import Ripened, preferment_parameters, ripen, worked_in
from oventide.dough.state import initial_ferment
from oventide.formula.composition import Composition, compose
from oventide.formula.model import Component, Formula
from oventide.kitchen.model import Kitchen
from oventide.pantry.own import Pantry
from oventide.timeline.ensemble import Ensemble
from oventide.timeline.procedure import Procedure, Span

Array = NDArray[np.float64]

_KINDS = re.compile(r"\b(?:sponge|poolish|biga|pre-?ferment|pre-?dough|levain|starter)\b", re.IGNORECASE)
_STANDS = re.compile(
    r"\b(?:stand|rest|ripen|ferment|rise|leave|left|prove|proof|mature|sit|bubbl\w*|overnight)\b", re.IGNORECASE
)
_TIME = re.compile(
    r"(\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?\s*(minutes?|mins?|h|hrs?|hours?)\b", re.IGNORECASE
)
_COLD = re.compile(r"\b(?:fridge|refrigerat\w*|cold|retard\w*)\b", re.IGNORECASE)
_NIGHT_H = Span(low=8.0, likely=10.0, high=14.0)


@dataclass(frozen=True)
class Preferment:
    """A preferment as the timeline sees it. `minutes` is None where nobody says how long it stands."""

    name: str
    composition: Composition
    minutes: Span | None
    cold: bool


def preferments_of(formula: Formula, procedure: Procedure, pantry: Pantry | None = None) -> tuple[Preferment, ...]:
    """Every preferment that has flour and yeast, with the time that the procedure's words give it."""
    found = []
    parts = [part for part in formula.of_kind("preferment") if part.lines]
    for part in parts:
        made_of = compose(part.lines, pantry)
        if made_of.flour_g <= 0.0 or made_of.yeast_dry_matter_g <= 0.0:
            continue
        said = _sentences(part, procedure, alone=len(parts) == 1)
        minutes = next((span for span in map(_time, said) if span is not None), None)
        found.append(Preferment(part.name or "Preferment", made_of, minutes, any(_COLD.search(text) for text in said)))
    return tuple(found)


def _sentences(part: Component, procedure: Procedure, alone: bool) -> list[str]:
    """Sentences of the steps that say how this preferment stands."""
    name = re.compile(rf"\b{re.escape(part.name)}\b", re.IGNORECASE) if part.name else _KINDS
    texts = [part.name, *(step.text for step in procedure.steps)]
    sentences = [sentence for text in texts for sentence in re.split(r"(?<=[.;!])\s+", text) if sentence]
    return [
        sentence
        for sentence in sentences
        if (name.search(sentence) or (alone and _KINDS.search(sentence)))
        and _STANDS.search(sentence)
        and not re.search(r"\bdough\b", sentence, re.IGNORECASE)
    ]


def _time(sentence: str) -> Span | None:
    """The time of a sentence [min], the longest where there are several.

    >>> _time("Cover the sponge and leave for 45-60 minutes.").likely, _time("Leave the poolish overnight.").likely
    (52.5, 600.0)
    """
    spans = []
    for first, second, unit in _TIME.findall(sentence):
        factor = 1.0 if unit.lower().startswith("m") else 60.0
        low = factor * float(first.replace(",", "."))
        high = factor * float(second.replace(",", ".")) if second else low
        spans.append(Span(low=min(low, high), likely=0.5 * (low + high), high=max(low, high)))
    if spans:
        return max(spans, key=lambda span: span.likely)
    if re.search(r"\bover ?night\b", sentence, re.IGNORECASE):
        return Span(low=60.0 * _NIGHT_H.low, likely=60.0 * _NIGHT_H.likely, high=60.0 * _NIGHT_H.high)
    return None


def with_preferments(
    dough: Composition,
    preferments: tuple[Preferment, ...],
    draws: dict[str, Array],
    kitchen: Kitchen,
    ensemble: Ensemble,
) -> tuple[Array, tuple[str, ...]]:
    """Ferment vector (M, NY) of the freshly mixed dough, its preferments ripened, and what was assumed."""
    whole = initial_ferment(dough, draws)
    if not preferments:
        return whole, ()
    room, fridge = (np.asarray(ensemble.of("kitchen")[place]) for place in ("room", "fridge"))
    parts: list[tuple[Composition, Ripened, Array]] = []
    assumed = []
    for part in preferments:
        at = fridge if part.cold else room
        hours = None if part.minutes is None else np.full(at.size, part.minutes.likely / 60.0)
        ripened = ripen(part.composition, draws, at, hours, kitchen.altitude_m)
        parts.append((part.composition, ripened, preferment_parameters(part.composition, draws, kitchen.altitude_m)))
        assumed.append(_said(part, ripened))
    return worked_in(whole, parts, dough.flour_g, draws), tuple(assumed)


def _said(part: Preferment, ripened: Ripened) -> str:
    where = "in the fridge" if part.cold else "at room temperature"
    stood, ripe = _hours(ripened.used_h), _hours(ripened.ripe_h)
    if part.minutes is None:
        return f"{part.name}: its time is not given. It is taken to be used when ripe, {ripe} {where} by the forecast."
    state = f"by the forecast it is ripe after {ripe}"
    if float(np.median(ripened.fallen)) > 0.05:
        state += " and has begun to fall when it is used"
    return f"{part.name}: it stands {stood} {where}; {state}."


def _hours(hours: Array) -> str:
    low, high = np.percentile(hours, [10, 90])
    unit, digits = ("h", 0 if low >= 5.0 else 1) if high >= 2.0 else ("min", 0)
    factor = 1.0 if unit == "h" else 60.0
    ends = [f"{factor * end:.{digits}f}" for end in (low, high)]
    return f"{ends[0]} {unit}" if ends[0] == ends[1] else f"{ends[0]}–{ends[1]} {unit}"
