"""Any sheet of a product, by its kind: what stands on it, its PDF, and its pages as pictures."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime

from oventide.errors import refuse
from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.press.model import Paper, SheetKind
from oventide.press.papers import AnySheet, sheet_pdf, sheet_pictures
from oventide.press.ruler import RulerSheet
from oventide.services.answers import Scaling
from oventide.services.foreseeing import foresee
from oventide.services.formula_sheet import formula_sheet
from oventide.services.handout import handout
from oventide.services.making_up import make_up
from oventide.services.sheet_voice import Voice
from oventide.services.sheets import bench_sheet
from oventide.services.wall_sheet import wall_sheet
from oventide.services.weighing import scaled
from oventide.timeline.procedure import Product

__all__ = ["NEEDS_FORECAST", "Order", "foreseen_paper", "ruler_sheet", "sheet_for", "sheet_pdf", "sheet_pictures"]

NEEDS_FORECAST: tuple[SheetKind, ...] = ("bench", "wall", "handout")
"""Sheets that speak of times; the others are ready at once."""


@dataclass(frozen=True)
class Order:
    """What is to be printed."""

    kind: SheetKind = "bench"
    paper: Paper = "a4"
    voice: Voice = field(default_factory=Voice)


def ruler_sheet(product: Product, voice: Voice) -> RulerSheet:
    """The cut marks of the make-up, with their words."""
    answer = make_up(product, drawings=False)
    if not answer.cut_marks_mm:
        raise refuse("pieces", answer.pieces, "There is nothing to cut.", "Give two pieces or more.")
    say = voice.speaker.say
    length = voice.speaker.figure(f"{answer.log_length_mm:.1f}".removesuffix(".0"))
    cuts, pieces = len(answer.cut_marks_mm), len(answer.cut_marks_mm) + 1
    return RulerSheet(
        title=product.name,
        language=voice.speaker.language,
        words=voice.words(RulerSheet),
        note=say("log {length} mm, {cuts} cuts, {pieces} pieces", length=length, cuts=cuts, pieces=pieces)
        if cuts > 1
        else say("log {length} mm, one cut", length=length),
        log_length_mm=answer.log_length_mm,
        cut_marks_mm=answer.cut_marks_mm,
    )


def sheet_for(
    order: Order,
    product: Product,
    kitchen: Kitchen | None = None,
    forecast: Forecast | None = None,
    scaling: Scaling | None = None,
    ready_by: str | None = None,
    revision: str = "",
    printed: datetime | None = None,
) -> AnySheet:
    """The sheet that was asked for; a forecast must be one of the product at the size of the sheet."""
    voice = order.voice
    if order.kind == "formula":
        return formula_sheet(product, kitchen, scaling, revision, printed, voice)
    if order.kind == "wall":
        return wall_sheet(product, kitchen, forecast, scaling, ready_by, revision, printed, voice)
    if order.kind == "handout":
        return handout(product, kitchen, forecast, scaling, revision, printed, voice)
    if order.kind == "ruler":
        return ruler_sheet(scaled(product, scaling)[0], voice)
    return bench_sheet(
        product, kitchen, forecast, scaling=scaling, ready_by=ready_by, revision=revision, printed=printed, voice=voice
    )


def foreseen_paper(
    order: Order,
    product: Product,
    kitchen: Kitchen,
    ready_by: str | None,
    seed: int,
    members: int,
    scaling: Scaling | None = None,
    progress: Callable[[float], None] | None = None,
) -> bytes:
    """Scale, foresee where the sheet speaks of times, and print: one PDF."""
    sized = scaled(product, scaling)[0]
    forecast = None
    if order.kind in NEEDS_FORECAST and sized.procedure.steps:
        forecast = foresee(sized, kitchen, ready_by, seed, members, progress)
    return sheet_pdf(sheet_for(order, product, kitchen, forecast, scaling, ready_by), order.paper)
