"""Bench sheets: weights, make-up and forecast of a product gathered on one page. The date of printing enters here."""

from collections.abc import Callable, Iterable
from datetime import datetime

from oventide.errors import Refusal
from oventide.evidence.parameters import Source, sources
from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.press.model import BenchSheet, SheetBlock, SheetFigure, SheetUnits
from oventide.services.answers import MakeUpAnswer, Scaling, WeighAnswer, WeighComponent, WeighLine
from oventide.services.foreseeing import MEMBERS, SEED, foresee
from oventide.services.making_up import make_up
from oventide.services.sheet_steps import foreseen_steps, keeping_cautions, tied, written_steps
from oventide.services.sheet_voice import Voice, bench_told
from oventide.services.weighing import scaled, weigh
from oventide.services.wording import centimetres_words, grams_words, percent_words
from oventide.timeline.procedure import Product

MOST_ASSUMED = 28
MOST_SOURCES = 9
SHORT_TITLE = 40
LONGEST_NOTES = 600
IN_ENGLISH = Voice()
GENERAL_CAUTIONS = (
    "Raw flour, dough and egg are not for tasting.",
    "Cooling, holding and shelf life: the rules of the place hold over this sheet.",
)


def _note(line: WeighLine) -> tuple[str, ...]:
    """Eggs by count, preparation, range of the weight, or what is not known of the line."""
    if line.grams is None:
        return (line.note or f"weight not known: {line.text}",)
    span = line.grams_range
    spread = ""
    if span is not None and span.high > span.low:
        low, high = grams_words(span.low).removesuffix(" g"), grams_words(span.high)
        spread = f"{low} to {high}" if low != high.removesuffix(" g") else ""
    return (line.note.partition(",")[0], line.preparation, spread)


def _is_ranged(line: WeighLine) -> bool:
    """Whether the line's range stands beside it, so that its sentence can be left to the screen."""
    return line.grams_range is not None and line.grams_range.high > line.grams_range.low


def block_of(component: WeighComponent, voice: Voice, ounces: bool = False) -> SheetBlock:
    """A component as it is printed, its lines in the sheet's language; its name and totals are told with the sheet."""
    return SheetBlock(
        name=component.name,
        kind=component.kind,
        rows=tuple(voice.row(line, _note(line), ounces) for line in component.lines),
        total_weight=grams_words(component.grams),
        total_percent=percent_words(component.baker_percent),
    )


def summary_of(answer: WeighAnswer) -> tuple[SheetFigure, ...]:
    """The formula's balance in one line."""
    totals = answer.totals
    pairs = (
        ("flour", grams_words(totals.flour_g)),
        ("dough", grams_words(totals.dough_g)),
        ("true water", percent_words(totals.true_water_percent)),
        ("fat", percent_words(totals.fat_percent)),
        ("sugar on water", percent_words(totals.sugar_on_water_percent)),
        ("salt", percent_words(totals.salt_percent)),
        ("yeast", percent_words(totals.yeast_percent)),
    )
    return tuple(SheetFigure(label=label, value=value) for label, value in pairs if value)


def make_up_figures(answer: MakeUpAnswer) -> tuple[SheetFigure, ...]:
    """Sheet, roll, cuts and tin as labelled figures."""
    width, length = centimetres_words(answer.sheet_width_mm), centimetres_words(answer.sheet_length_mm)
    sheets = f"{answer.sheets} sheets of " if answer.sheets > 1 else ""
    pairs = [
        ("sheet", f"{sheets}{width} × {length} cm, {answer.thickness_mm:.0f} mm thick"),
        ("roll", f"{answer.turns:.1f} turns along the {length} cm"),
        ("log", f"{answer.log_diameter_mm:.0f} mm thick, {answer.log_length_mm:.0f} mm long"),
        ("piece", f"{grams_words(answer.piece_g)}, {answer.piece_height_mm:.0f} mm high"),
    ]
    if answer.trim_g >= 1:
        pairs.append(("trim", grams_words(answer.trim_g)))
    if answer.tin is not None:
        size = f"{centimetres_words(answer.tin.width_mm)} × {centimetres_words(answer.tin.length_mm)} cm"
        if answer.tin.shape == "round":
            size = f"round {centimetres_words(answer.tin.length_mm)} cm"
        many = f"{answer.tins} tins " if answer.tins > 1 else ""
        pairs.append(("tin", f"{many}{size}, {answer.layout}"))
        pairs.append(("gap", f"{answer.gaps.neighbours_mm:.0f} mm"))
        fill = answer.fill
        pairs.append(("fill", f"{fill.before:.0%} before, {fill.after_proof:.0%} proofed".replace("%", " %")))
    return tuple(SheetFigure(label=label, value=tied(value)) for label, value in pairs)


def _once(*groups: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(sentence for group in groups for sentence in group if sentence.strip()))


def _short_sources(keys: Iterable[str]) -> tuple[str, ...]:
    """Author and year, or the title, of the sources that an answer rests on."""
    known = sources()
    short = [_short_source(known[key]) if key in known else key for key in dict.fromkeys(keys)]
    short = list(dict.fromkeys(short))
    return tuple(short[:MOST_SOURCES] + ([f"{len(short) - MOST_SOURCES} more"] if len(short) > MOST_SOURCES else []))


def _short_source(source: Source) -> str:
    """Surname and year, or a short title."""
    if source.key in ("practice", "choice"):
        return {"practice": "common practice", "choice": "our own choices"}[source.key]
    if not (source.author and source.year):
        return source.title if len(source.title) <= SHORT_TITLE else source.title[: SHORT_TITLE - 1].rstrip() + "…"
    people = source.author.replace(" and ", ", ").split(",")
    others = " et al." if len(people) > 2 else ""
    return f"{people[0].strip()}{others} {source.year}"


def gathered(
    product: Product, scaling: Scaling | None, kitchen: Kitchen | None
) -> tuple[Product, WeighAnswer, MakeUpAnswer | None, tuple[str, ...]]:
    """The product at its size, its weights, its make-up, and what the make-up still lacks where there is none."""
    sized = scaled(product, scaling)[0]
    weights = weigh(product, scaling, kitchen)
    try:
        return sized, weights, make_up(sized, drawings=False), ()
    except Refusal as refusal:
        # a sheet of weights is of use where the make-up is not given yet; what lacks is printed
        return sized, weights, None, tuple(str(complaint) for complaint in refusal.complaints)


def bench_sheet(
    product: Product,
    kitchen: Kitchen | None = None,
    forecast: Forecast | None = None,
    units: SheetUnits = "metric",
    scaling: Scaling | None = None,
    ready_by: str | None = None,
    revision: str = "",
    printed: datetime | None = None,
    voice: Voice = IN_ENGLISH,
) -> BenchSheet:
    """The sheet to print or show. Without a forecast the steps stand with the minutes that the formula gives.

    A forecast must be one of the product at the size of the sheet: `foreseen_sheet` takes care of that.
    """
    sized, weights, makeup, left_open = gathered(product, scaling, kitchen)
    scaled_by = scaled(product, scaling)[2]
    steps = foreseen_steps(sized, forecast, makeup, kitchen) if forecast else written_steps(sized, makeup, kitchen)
    assumed = _once(
        (
            words
            for component in weights.components
            for line in component.lines
            if not _is_ranged(line)
            for words in line.assumed
        ),
        weights.assumed,
        weights.unknown,
        makeup.assumed if makeup else left_open,
        kitchen.assumed if kitchen else (),
        forecast.assumed if forecast else (),
        (sentence for step in (forecast.steps if forecast else sized.procedure.steps) for sentence in step.assumed),
    )
    if len(assumed) > MOST_ASSUMED:
        assumed = [*assumed[:MOST_ASSUMED], f"{len(assumed) - MOST_ASSUMED} more, shown on the screen"]
    batch = f"dough {grams_words(weights.totals.dough_g)}"
    if makeup is not None:
        batch = f"{makeup.pieces} pieces × {grams_words(makeup.piece_g)}"
    moment = printed or datetime.now().astimezone()
    stamp = voice.moment(moment)
    if forecast:
        stamp += " · " + voice.told(f"{forecast.members} plausible kitchens, seed {forecast.seed}")
    first = forecast.steps[0].start_clock if forecast and forecast.steps else ""
    sheet = BenchSheet(
        title=product.name,
        revision=revision,
        batch=tied(batch),
        kitchen=kitchen.name if kitchen and kitchen.name != "kitchen" else "",
        ready_by=ready_by or "",
        start_at=first,
        blocks=tuple(block_of(component, voice, units == "us") for component in weights.components),
        total_weight=tied(grams_words(sum(component.grams for component in weights.components))),
        summary=summary_of(weights),
        notes=product.notes if len(product.notes) <= LONGEST_NOTES else product.notes[: LONGEST_NOTES - 1] + "…",
        steps=steps,
        makeup=make_up_figures(makeup) if makeup else (),
        cut_marks_mm=tuple(round(mark, 1) for mark in makeup.cut_marks_mm) if makeup else (),
        log_length_mm=makeup.log_length_mm if makeup else None,
        allergens=weights.allergens,
        assumed=tuple(tied(sentence) for sentence in _once((scaled_by,), assumed)),
        unread=product.unread,
        rests_on=_short_sources((*(forecast.sources if forecast else ()), *(makeup.sources if makeup else ()))),
        cautions=tuple(
            _once(keeping_cautions(forecast) if forecast else GENERAL_CAUTIONS, makeup.warnings if makeup else ())
        ),
        printed=stamp,
    )
    return bench_told(sheet, voice)


def foreseen_sheet(
    product: Product,
    kitchen: Kitchen,
    ready_by: str | None = None,
    seed: int = SEED,
    members: int = MEMBERS,
    units: SheetUnits = "metric",
    scaling: Scaling | None = None,
    revision: str = "",
    printed: datetime | None = None,
    progress: Callable[[float], None] | None = None,
    voice: Voice = IN_ENGLISH,
) -> BenchSheet:
    """Scale, foresee and gather: the sheet for one bake. A product without steps gets a sheet of weights."""
    sized, _, _ = scaled(product, scaling)
    forecast = foresee(sized, kitchen, ready_by, seed, members, progress) if sized.procedure.steps else None
    return bench_sheet(
        product, kitchen, forecast, units=units, scaling=scaling, ready_by=ready_by, revision=revision,
        printed=printed, voice=voice,
    )  # fmt: skip
