"""The handout: a formula for somebody who bakes it elsewhere, with a card of eight questions about that kitchen."""

from collections.abc import Iterable
from datetime import datetime

from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.pantry.ingredients import ingredient, known
from oventide.press.model import CardLine, Handout, HandoutStep, SheetStep
from oventide.services.answers import MakeUpAnswer, Scaling, WeighAnswer, WeighLine
from oventide.services.formula_sheet import batch_words, span_words, told_blocks
from oventide.services.sheet_steps import foreseen_steps, keeping_cautions, target_words, written_steps
from oventide.services.sheet_voice import Voice
from oventide.services.sheets import GENERAL_CAUTIONS, IN_ENGLISH, gathered, make_up_figures
from oventide.services.wording import centimetres_words, elapsed_words
from oventide.timeline.procedure import Product, Span, StepKind
from oventide.units.estimate import Estimate

_SHOWN_MAKEUP = ("sheet", "roll", "log", "piece", "tin")
_OVENS = {"convection": "fan", "static": "no fan", "deck": "deck"}


def _lines(weights: WeighAnswer) -> Iterable[WeighLine]:
    return (line for component in weights.components for line in component.lines)


def _main_line(weights: WeighAnswer, category: str) -> WeighLine | None:
    """The heaviest line of a category in the dough and what feeds it, or None."""
    found = [
        line
        for component in weights.components
        if component.kind in ("dough", "preferment")
        for line in component.lines
        if line.ingredient and known(line.ingredient) and ingredient(line.ingredient).category == category
    ]
    return max(found, key=lambda line: line.grams or 0.0, default=None)


def _span(estimate: Estimate, unit: str) -> str:
    low, high = (f"{value:.1f}".removesuffix(".0").replace("-", "−") for value in (estimate.low, estimate.high))
    return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"


class _Card:
    """The eight questions: what the formula was written for, and what is known of the kitchen."""

    def __init__(
        self, product: Product, weights: WeighAnswer, makeup: MakeUpAnswer | None, kitchen: Kitchen | None, voice: Voice
    ) -> None:
        self._product, self._weights, self._makeup = product, weights, makeup
        self._kitchen, self._voice = kitchen, voice

    def _known(self, start: str) -> bool:
        """Whether the kitchen says it, and it is not only assumed."""
        return self._kitchen is not None and not any(said.startswith(start) for said in self._kitchen.assumed)

    def _oven(self) -> tuple[str, str]:
        bakes = [step for step in self._product.procedure.steps if step.kind == "bake"]
        kinds = dict.fromkeys(_OVENS[step.oven_kind] for step in bakes if step.oven_kind)
        heats = dict.fromkeys(f"{step.air_c:.0f} °C" for step in bakes if step.air_c is not None)
        here = ""
        if self._kitchen is not None and self._known("Oven: "):
            here = self._voice.told(_OVENS[self._kitchen.oven_kind])
        return self._voice.joined([*kinds, *heats]), here

    def _offset(self) -> str:
        if self._kitchen is None or not self._known("Oven: true"):
            return ""
        offset = self._kitchen.oven_offset
        if not self._voice.fahrenheit:
            return self._voice.told(_span(offset, "°C"))
        step = Estimate(low=round(offset.low * 1.8), likely=round(offset.likely * 1.8), high=round(offset.high * 1.8))
        return self._voice.told(_span(step, "°F"))

    def _tin(self) -> tuple[str, str]:
        tin = self._makeup.tin if self._makeup is not None else None
        size = ""
        if tin is not None:
            size = f"{centimetres_words(tin.width_mm)} × {centimetres_words(tin.length_mm)} cm"
            if tin.shape == "round":
                size = f"round {centimetres_words(tin.length_mm)} cm"
        here = self._kitchen.tin.replace("_", " ") if self._kitchen is not None and self._known("Tin: ") else ""
        return self._voice.told(size), self._voice.told(here)

    def lines(self) -> tuple[CardLine, ...]:
        """The card, in the order in which the answers are found walking through a kitchen."""
        say, told, kitchen = self._voice.speaker.say, self._voice.told, self._kitchen
        oven, oven_here = self._oven()
        tin, tin_here = self._tin()
        flour, yeast, egg = (_main_line(self._weights, kind) for kind in ("flour", "yeast", "egg"))
        protein = ingredient(flour.ingredient).protein if flour is not None and flour.ingredient else None
        size = self._product.formula.measures.eggs.replace("us_", "US ").replace("eu_", "EU ").replace("_", " ")
        offset = self._offset()
        return (
            CardLine(
                question=say("Room, while you work"),
                answer=told(_span(kitchen.room, "°C")) if kitchen and self._known("Room: ") else "",
            ),
            CardLine(
                question=say("Fridge, measured in a glass of water"),
                answer=told(_span(kitchen.fridge, "°C")) if kitchen and self._known("Fridge: ") else "",
            ),
            CardLine(
                question=say("Oven, and how far its heat is off the dial"),
                written_for=oven,
                answer="; ".join(part for part in (oven_here, offset) if part) if oven_here and offset else "",
            ),
            CardLine(question=say("Tin: what it is made of, and its size inside"), written_for=tin, answer=tin_here),
            CardLine(
                question=say("Flour: protein on the packet"),
                written_for=told(f"{protein:.1f} %") if protein is not None else "",
            ),
            CardLine(question=say("Eggs: their size"), written_for=size.upper() if egg is not None else ""),
            CardLine(
                question=say("Yeast: which kind"),
                written_for=self._voice.ingredient(yeast) if yeast is not None else "",
            ),
            CardLine(
                question=say("Height above the sea"),
                answer=told(f"{kitchen.altitude_m:.0f} m") if kitchen and self._known("Altitude: ") else "",
            ),
        )


def _to_note(kind: str, voice: Voice) -> tuple[str, ...]:
    """What a student measures in a step."""
    say = voice.speaker.say
    dough, core, crust = (
        say("dough, {degree}", degree=voice.degree),
        say("core, {degree}", degree=voice.degree),
        say("crust, {degree}", degree=voice.degree),
    )
    height, colour, clock = say("height, ×"), say("colour"), say("clock")
    size, thick = say("sheet, cm"), say("thick, mm")
    asked: dict[StepKind, tuple[str, ...]] = {
        "mix": (dough, clock),
        "bulk": (height, dough, clock),
        "retard": (dough, height, clock),
        "temper": (dough, clock),
        "sheet": (size, thick, dough),
        "proof": (height, dough, clock),
        "bake": (core, colour, clock),
        "glaze": (crust, clock),
        "cool": (core, clock),
    }
    return dict(asked.items()).get(kind, (clock,))  # type: ignore[call-overload, no-any-return]


def handout(
    product: Product,
    kitchen: Kitchen | None = None,
    forecast: Forecast | None = None,
    scaling: Scaling | None = None,
    revision: str = "",
    printed: datetime | None = None,
    voice: Voice = IN_ENGLISH,
) -> Handout:
    """The handout. With a kitchen and its forecast each step has that kitchen's time; without, the formula's own."""
    sized, weights, makeup, left_open = gathered(product, scaling, kitchen)
    shown = foreseen_steps(sized, forecast, makeup, kitchen) if forecast else written_steps(sized, makeup, kitchen)
    own = dict(enumerate(sized.procedure.steps, start=1))
    seen = dict(enumerate(forecast.steps, start=1)) if forecast else {}

    def time_of(step: SheetStep) -> str:
        foreseen = seen.get(step.number)
        if foreseen is None or step.number == 0:
            return voice.told(span_words(own[step.number].minutes)) if step.number in own else ""
        low = foreseen.end.earliest_min - foreseen.start.earliest_min
        high = foreseen.end.latest_min - foreseen.start.latest_min
        start = voice.speaker.say("starts at {elapsed}", elapsed=elapsed_words(foreseen.start.likely_min))
        least, most = min(low, high), max(low, high)
        return f"{voice.told(span_words(Span(low=least, likely=least, high=most)))}, {start}"

    def step_of(step: SheetStep) -> HandoutStep:
        index = seen[step.number].index if step.number in seen else step.number - 1
        written = sized.procedure.steps[index] if 0 <= index < len(sized.procedure.steps) and step.number else None
        return HandoutStep(
            number=step.number,
            name=voice.step_name(step.name, step.kind) if step.kind else voice.told(step.name),
            how=voice.told(step.detail),
            words=step.words,
            target=voice.told(target_words(written)) if written is not None else "",
            time=time_of(step),
            outside=voice.told(step.outside),
            to_note=_to_note(step.kind, voice) if step.kind else (),
            cautions=voice.all_told(step.cautions),
        )

    assumed = dict.fromkeys((*(kitchen.assumed if kitchen else ()), *left_open))
    cautions = keeping_cautions(forecast) if forecast else GENERAL_CAUTIONS
    return Handout(
        title=product.name,
        language=voice.speaker.language,
        words=voice.words(Handout),
        revision=voice.told(revision),
        batch=batch_words(weights, makeup, voice),
        kitchen=kitchen.name if kitchen is not None and kitchen.name != "kitchen" else "",
        card=_Card(sized, weights, makeup, kitchen, voice).lines(),
        blocks=told_blocks(weights, voice),
        total_weight=voice.told(f"{sum(component.grams for component in weights.components):.0f} g"),
        makeup=voice.figures(item for item in make_up_figures(makeup) if item.label in _SHOWN_MAKEUP) if makeup else (),
        steps=tuple(step_of(step) for step in shown),
        allergens=voice.all_told(weights.allergens),
        cautions=voice.all_told((*GENERAL_CAUTIONS, *cautions)),
        assumed=voice.all_told(assumed),
        printed=voice.moment(printed or datetime.now().astimezone()),
    )
