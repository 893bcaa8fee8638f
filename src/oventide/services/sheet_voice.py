"""How a sheet speaks: its language, °C or °F, grams alone or ounces beside them. Sentences are told again here."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from oventide.forecast.words import NAMES
from oventide.press.model import BenchSheet, SheetFigure, SheetRow, SheetStep
from oventide.press.papers import AnySheet, words_of
from oventide.services.answers import WeighLine
from oventide.services.sheet_steps import tied
from oventide.services.wording import grams_words, ounces_words, percent_words
from oventide.timeline.procedure import StepKind
from oventide.units.temperature import fahrenheit_from_celsius
from oventide.words.speaker import Speaker

_FIGURE = r"([−-]?\d+(?:[.,]\d+)?)"
_TO = r"(\s*(?:–|to|bis|à|a|hasta|e|und|et|y)\s*)"
_DEGREES = re.compile(
    rf"{_FIGURE}(?:\s\({_FIGURE}{_TO}{_FIGURE}\))?(?:{_TO}{_FIGURE})?(\s*)°C(?:(\s\(){_FIGURE}(–){_FIGURE}\))?"
)


def in_fahrenheit(text: str) -> str:
    """The points in °C of a text in °F, to whole degrees, with the ranges that belong to them.

    >>> in_fahrenheit("core 93 °C (90–96)"), in_fahrenheit("11 to 15 °C"), in_fahrenheit("20 (18 to 22) °C")
    ('core 199 °F (194–205)', '52 to 59 °F', '68 (64 to 72) °F')
    """

    def turned(match: re.Match[str]) -> str:
        low, inner, inner_to, inner_high, to, high, space, opened, least, dash, most = match.groups()
        head = _fahrenheit(low)
        if inner:
            head += f" ({_fahrenheit(inner)}{inner_to}{_fahrenheit(inner_high)})"
        if high:
            head += f"{to}{_fahrenheit(high)}"
        tail = f"{opened}{_fahrenheit(least)}{dash}{_fahrenheit(most)})" if opened else ""
        return f"{head}{space}°F{tail}"

    return _DEGREES.sub(turned, text)


def _fahrenheit(celsius: str) -> str:
    value = fahrenheit_from_celsius(float(celsius.replace(",", ".").replace("−", "-")))
    return f"{value:.0f}".replace("-", "−")


@dataclass(frozen=True)
class Voice:
    """The language and the units of one sheet."""

    speaker: Speaker = field(default_factory=Speaker)
    fahrenheit: bool = False
    ounces: bool = False

    @property
    def degree(self) -> str:
        return "°F" if self.fahrenheit else "°C"

    def told(self, text: str) -> str:
        """A sentence of this program in the sheet's language and units; the baker's own words stay."""
        again = self.speaker.retell(text) if text else ""
        return tied(in_fahrenheit(again) if self.fahrenheit else again)

    def all_told(self, texts: Iterable[str]) -> tuple[str, ...]:
        """Each of several, those that come out alike once."""
        return tuple(dict.fromkeys(self.told(text) for text in texts))

    def joined(self, parts: Iterable[str]) -> str:
        """Parts told one by one, with commas between."""
        return ", ".join(self.told(part) for part in parts if part)

    def figures(self, figures: Iterable[SheetFigure]) -> tuple[SheetFigure, ...]:
        """Labelled figures, label and value each by itself."""
        return tuple(SheetFigure(label=self.told(item.label), value=self.told(item.value)) for item in figures)

    def component(self, name: str) -> str:
        """What a component is called."""
        return self.speaker.thing(name)

    def step_name(self, name: str, kind: str) -> str:
        """A step's name; one of the baker's own is kept, behind the trade's word for the step in the language."""
        if not name:
            return self.told(NAMES.get(_kind(kind), kind))
        if self.speaker.is_english or self.speaker.knows(name):
            return self.told(name[:1].upper() + name[1:])
        return f"{self.told(NAMES.get(_kind(kind), kind))} · {name}"

    def ingredient(self, line: WeighLine) -> str:
        """What a line weighs: the baker's name, or in another language the pantry's."""
        return self.speaker.ingredient(line.ingredient, line.name or line.text)

    def row(self, line: WeighLine, note: Iterable[str], ounces: bool = False) -> SheetRow:
        """A line as it is printed: name, note, percentage, weight."""
        return SheetRow(
            ingredient=self.ingredient(line),
            note=self.joined(note),
            baker_percent=self.speaker.figure(percent_words(line.baker_percent)),
            weight="—" if line.grams is None else self.speaker.figure(grams_words(line.grams)),
            ounces=(
                self.speaker.figure(ounces_words(line.grams))
                if (ounces or self.ounces) and line.grams is not None
                else ""
            ),
        )

    def moment(self, moment: datetime) -> str:
        """When it was printed."""
        return self.speaker.moment(moment)

    def words(self, kind: type[AnySheet]) -> tuple[tuple[str, str], ...]:
        """What the paper itself says; nothing in English, which is what the templates are written in."""
        if self.speaker.is_english:
            return ()
        return tuple((message, self.speaker.say(message)) for message in words_of(kind))


def _kind(kind: str) -> StepKind:
    return kind  # type: ignore[return-value]


def bench_told(sheet: BenchSheet, voice: Voice) -> BenchSheet:
    """The bench sheet in the voice's language and units; lines, title, notes and the baker's words stand already."""
    return sheet.model_copy(
        update={
            "language": voice.speaker.language,
            "words": voice.words(BenchSheet),
            "revision": voice.told(sheet.revision),
            "batch": voice.told(sheet.batch),
            "start_at": voice.told(sheet.start_at),
            "blocks": tuple(
                block.model_copy(
                    update={
                        "name": voice.component(block.name),
                        "total_weight": voice.told(block.total_weight),
                        "total_percent": voice.told(block.total_percent),
                    }
                )
                for block in sheet.blocks
            ),
            "total_weight": voice.told(sheet.total_weight),
            "summary": voice.figures(sheet.summary),
            "steps": tuple(_step_told(step, voice) for step in sheet.steps),
            "makeup": voice.figures(sheet.makeup),
            "allergens": voice.all_told(sheet.allergens),
            "assumed": voice.all_told(sheet.assumed),
            "rests_on": voice.all_told(sheet.rests_on),
            "cautions": voice.all_told(sheet.cautions),
        }
    )


def _step_told(step: SheetStep, voice: Voice) -> SheetStep:
    return step.model_copy(
        update={
            "name": voice.step_name(step.name, step.kind) if step.kind else voice.told(step.name),
            "clock": voice.told(step.clock),
            "detail": voice.told(step.detail),
            "duration": voice.told(step.duration),
            "target": voice.told(step.target),
            "foreseen": voice.told(step.foreseen),
            "window": voice.told(step.window),
            "outside": voice.told(step.outside),
            "cautions": voice.all_told(step.cautions),
        }
    )
