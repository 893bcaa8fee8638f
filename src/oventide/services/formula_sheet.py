"""The formula sheet: quantities with baker's percentages, and the process in one line for each thing that matters."""

from collections.abc import Iterable
from datetime import datetime

from oventide.kitchen.model import Kitchen
from oventide.press.model import FormulaSheet, SheetBlock, SheetFigure
from oventide.services.answers import MakeUpAnswer, Scaling, WeighAnswer
from oventide.services.sheet_steps import detail_words, target_words
from oventide.services.sheet_voice import Voice
from oventide.services.sheets import GENERAL_CAUTIONS, IN_ENGLISH, block_of, gathered, make_up_figures, summary_of
from oventide.services.wording import grams_words, minutes_words
from oventide.timeline.procedure import Product, Span, Step, StepKind

_IN_SUMMARY = ("true water", "fat", "sugar on water", "salt", "yeast")


def told_blocks(weights: WeighAnswer, voice: Voice) -> tuple[SheetBlock, ...]:
    """Every component with its lines, all in the sheet's language."""
    return tuple(
        block.model_copy(
            update={
                "name": voice.component(block.name),
                "total_weight": voice.told(block.total_weight),
                "total_percent": voice.told(block.total_percent),
            }
        )
        for block in (block_of(component, voice) for component in weights.components)
    )


def span_words(minutes: Span | None) -> str:
    """Minutes as the formula gives them.

    >>> span_words(Span(low=540, likely=600, high=660)), span_words(Span(low=20, likely=20, high=20)), span_words(None)
    ('9 h to 11 h', '20 min', '')
    """
    if minutes is None:
        return ""
    low, high = minutes_words(minutes.low), minutes_words(minutes.high)
    if low == high:
        return low
    if low.endswith(" min") and high.endswith(" min") and " h" not in high:
        low = low.removesuffix(" min")
    return f"{low} to {high}"


def _process(
    product: Product, makeup: MakeUpAnswer | None, kitchen: Kitchen | None, voice: Voice
) -> Iterable[SheetFigure]:
    """Desired dough temperature, mixing, rises, make-up, proof, bake, core, glaze: those that the formula has."""
    steps = product.procedure.steps
    say = voice.speaker.say

    def of(*kinds: StepKind) -> list[Step]:
        return [step for step in steps if step.kind in kinds]

    def lines(label: str, found: Iterable[Step]) -> Iterable[SheetFigure]:
        parts = [voice.joined(_parts(step, makeup, kitchen)) for step in found]
        if any(parts):
            yield SheetFigure(label=label, value="; ".join(part for part in parts if part))

    for step in of("mix"):
        if step.target is not None and step.target.measure == "dough_c":
            wanted = voice.told(target_words(step)).partition("\u00a0")
            yield SheetFigure(label=say("dough temperature"), value=_without_first_word("".join(wanted)))
    mixing = [voice.joined([span_words(step.minutes)]) + (f": {step.text}" if step.text else "") for step in of("mix")]
    if any(mixing):
        yield SheetFigure(label=say("mixing"), value="; ".join(mixing))
    yield from lines(say("first rise"), of("bulk"))
    yield from lines(say("retard"), of("retard"))
    if makeup is not None:
        yield SheetFigure(label=say("scaling weight"), value=voice.told(grams_words(makeup.piece_g)))
        yield from voice.figures(item for item in make_up_figures(makeup) if item.label in ("sheet", "roll"))
        yield SheetFigure(label=say("pieces"), value=str(makeup.pieces))
        yield from voice.figures(item for item in make_up_figures(makeup) if item.label == "tin")
    yield from lines(say("chill the log"), of("chill"))
    yield from lines(say("proof"), of("proof"))
    yield from lines(say("bake"), of("bake"))
    for step in of("bake"):
        if step.target is not None and step.target.measure == "core_c":
            yield SheetFigure(label=say("core"), value=_without_first_word(voice.told(target_words(step))))
    yield from lines(say("glaze"), of("glaze"))
    yield from lines(say("cool"), of("cool"))


def _without_first_word(text: str) -> str:
    """The figure of an aim, whose name stands before it already."""
    return text.split(" ", 1)[-1]


def _parts(step: Step, makeup: MakeUpAnswer | None, kitchen: Kitchen | None) -> list[str]:
    aim = "" if step.target is None or step.target.measure in ("core_c", "dough_c") else target_words(step)
    return [span_words(step.minutes), detail_words(step, makeup, kitchen), aim]


def formula_sheet(
    product: Product,
    kitchen: Kitchen | None = None,
    scaling: Scaling | None = None,
    revision: str = "",
    printed: datetime | None = None,
    voice: Voice = IN_ENGLISH,
) -> FormulaSheet:
    """The formula as it stands, at the size asked for. It needs no forecast."""
    sized, weights, makeup, _ = gathered(product, scaling, kitchen)
    return FormulaSheet(
        title=product.name,
        language=voice.speaker.language,
        words=voice.words(FormulaSheet),
        revision=voice.told(revision),
        batch=batch_words(weights, makeup, voice),
        blocks=told_blocks(weights, voice),
        flour=voice.told(grams_words(weights.totals.flour_g)),
        dough=voice.told(grams_words(weights.totals.dough_g)),
        total_weight=voice.told(grams_words(sum(component.grams for component in weights.components))),
        summary=voice.figures(item for item in summary_of(weights) if item.label in _IN_SUMMARY),
        process=tuple(_process(sized, makeup, kitchen, voice)),
        notes=product.notes,
        allergens=voice.all_told(weights.allergens),
        cautions=voice.all_told(GENERAL_CAUTIONS),
        unread=product.unread,
        printed=voice.moment(printed or datetime.now().astimezone()),
    )


def batch_words(weights: WeighAnswer, makeup: MakeUpAnswer | None, voice: Voice) -> str:
    """How much it makes."""
    if makeup is None:
        return voice.told(f"dough {grams_words(weights.totals.dough_g)}")
    return voice.told(f"{makeup.pieces} pieces × {grams_words(makeup.piece_g)}")
