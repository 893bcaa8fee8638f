"""The wall sheet: quantities first, grams only, one line for each thing to weigh and each step, by the clock."""

from datetime import datetime

from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.press.model import SheetStep, WallBlock, WallSheet, WallStep, WallWeigh
from oventide.services.answers import Scaling, WeighComponent
from oventide.services.formula_sheet import batch_words
from oventide.services.sheet_steps import foreseen_steps, written_steps
from oventide.services.sheet_voice import Voice
from oventide.services.sheets import GENERAL_CAUTIONS, IN_ENGLISH, gathered
from oventide.services.wording import grams_words
from oventide.timeline.procedure import Product


def _block(component: WeighComponent, voice: Voice) -> WallBlock:
    return WallBlock(
        name=voice.component(component.name),
        total=voice.told(grams_words(component.grams)),
        rows=tuple(
            WallWeigh(
                quantity="—" if line.grams is None else voice.told(grams_words(line.grams)),
                ingredient=voice.ingredient(line),
                note=voice.joined((line.note.partition(",")[0], line.preparation)),
            )
            for line in component.lines
        ),
    )


def _step(step: SheetStep, voice: Voice) -> WallStep:
    clock, _, day = step.clock.partition(" ")
    whole = voice.told(step.clock)
    has_time = ":" in clock
    # what is only foreseen, and not aimed at, is nothing to act on from two metres
    aimed = step.target if step.foreseen.startswith("foreseen ") or not step.foreseen else ""
    return WallStep(
        clock=clock.rstrip(",") if has_time else whole,
        day=whole.replace(clock.rstrip(","), "").strip(" ,") if has_time and day else "",
        name=voice.step_name(step.name, step.kind) if step.kind else voice.told(step.name),
        aim=" · ".join(voice.told(part) for part in (step.duration, step.detail, aimed) if part),
    )


def wall_sheet(
    product: Product,
    kitchen: Kitchen | None = None,
    forecast: Forecast | None = None,
    scaling: Scaling | None = None,
    ready_by: str | None = None,
    revision: str = "",
    printed: datetime | None = None,
    voice: Voice = IN_ENGLISH,
) -> WallSheet:
    """The sheet for the wall. With a forecast its steps stand by the clock, without one by the time from the start."""
    sized, weights, makeup, _ = gathered(product, scaling, kitchen)
    steps = foreseen_steps(sized, forecast, makeup, kitchen) if forecast else written_steps(sized, makeup, kitchen)
    stamp = voice.moment(printed or datetime.now().astimezone())
    return WallSheet(
        title=product.name,
        language=voice.speaker.language,
        words=voice.words(WallSheet),
        batch=batch_words(weights, makeup, voice),
        ready_by=ready_by or "",
        blocks=tuple(_block(component, voice) for component in weights.components),
        steps=tuple(_step(step, voice) for step in steps),
        allergens=voice.all_told(weights.allergens),
        cautions=voice.all_told(GENERAL_CAUTIONS),
        printed=", ".join(part for part in (stamp, voice.told(revision)) if part),
    )
