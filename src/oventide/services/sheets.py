"""Bench sheets: weights, make-up and forecast of a product gathered on one page. The date of printing enters here."""

from collections.abc import Callable, Iterable
from datetime import datetime

from oventide.errors import Refusal, refuse
from oventide.evidence.parameters import Source, sources
from oventide.forecast.model import Forecast, StepForecast
from oventide.kitchen.model import Kitchen
from oventide.press.model import BenchSheet, Paper, SheetBlock, SheetFigure, SheetRow, SheetStep, SheetUnits
from oventide.services.answers import MakeUpAnswer, Scaling, WeighAnswer, WeighComponent, WeighLine
from oventide.services.foreseeing import MEMBERS, SEED, foresee
from oventide.services.making_up import make_up
from oventide.services.telling import is_aimed_at, main_reading, span_words, window_words
from oventide.services.weighing import scaled, weigh
from oventide.services.wording import (
    centimetres_words,
    elapsed_words,
    figure_words,
    grams_words,
    minutes_words,
    ounces_words,
    percent_words,
)
from oventide.timeline.procedure import Product, Step

MOST_ASSUMED = 28
MOST_SOURCES = 9
SHORT_TITLE = 40
LONGEST_NOTES = 600
_PLACES = {
    "room": "in the room", "bench": "on the bench", "fridge": "in the fridge", "freezer": "in the freezer",
    "prover": "in the prover", "oven": "oven",
}  # fmt: skip
_GENERAL_CAUTIONS = (
    "Raw flour, dough and egg are not for tasting.",
    "Cooling, holding and shelf life: the rules of the place hold over this sheet.",
)


def _tied(text: str) -> str:
    """A number and its unit kept on one line."""
    for unit in ("°C", "g", "mm", "cm", "min", "h", "%", "oz", "kg"):
        text = text.replace(f" {unit} ", f"\u00a0{unit} ").replace(f" {unit}.", f"\u00a0{unit}.")
        text = text.replace(f" {unit},", f"\u00a0{unit},").replace(f" {unit};", f"\u00a0{unit};")
        if text.endswith(f" {unit}"):
            text = f"{text[: -len(unit) - 1]}\u00a0{unit}"
    return text


def _note(line: WeighLine) -> str:
    """Eggs by count, preparation, range of the weight, or what is not known of the line."""
    if line.grams is None:
        return line.note or f"weight not known: {line.text}"
    span = line.grams_range
    spread = ""
    if span is not None and span.high > span.low:
        low, high = grams_words(span.low).removesuffix(" g"), grams_words(span.high)
        spread = f"{low} to {high}" if low != high.removesuffix(" g") else ""
    return ", ".join(part for part in (line.note.partition(",")[0], line.preparation, spread) if part)


def _is_ranged(line: WeighLine) -> bool:
    """Whether the line's range stands beside it, so that its sentence can be left to the screen."""
    return line.grams_range is not None and line.grams_range.high > line.grams_range.low


def _block(component: WeighComponent, units: SheetUnits) -> SheetBlock:
    return SheetBlock(
        name=component.name,
        kind=component.kind,
        rows=tuple(
            SheetRow(
                ingredient=line.name or line.text,
                note=_note(line),
                baker_percent=percent_words(line.baker_percent),
                weight="—" if line.grams is None else grams_words(line.grams),
                ounces=ounces_words(line.grams) if units == "us" and line.grams is not None else "",
            )
            for line in component.lines
        ),
        total_weight=grams_words(component.grams),
        total_percent=percent_words(component.baker_percent),
    )


def _summary(answer: WeighAnswer) -> tuple[SheetFigure, ...]:
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


def _make_up_figures(answer: MakeUpAnswer) -> tuple[SheetFigure, ...]:
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
    return tuple(SheetFigure(label=label, value=_tied(value)) for label, value in pairs)


def _air_c(where: str, kitchen: Kitchen | None) -> float | None:
    """The kitchen's own figure for a place that the step leaves to it [°C]; none for the room."""
    if kitchen is None:
        return None
    if where == "prover" and kitchen.proof is not None:
        return kitchen.proof.likely
    return kitchen.fridge.likely if where == "fridge" else None


def _degrees(celsius: float) -> str:
    return (f"{celsius:.0f}" if celsius >= 30 else f"{celsius:.1f}".removesuffix(".0")) + " °C"


def _detail(
    step: Step | None, forecast: StepForecast | None, makeup: MakeUpAnswer | None, kitchen: Kitchen | None
) -> str:
    parts: list[str] = []
    kind = forecast.kind if forecast else step.kind if step else ""
    where = (forecast.where if forecast else "") or (step.where if step else "")
    air = forecast.air_c if forecast else step.air_c if step else None
    if air is None:
        air = _air_c(where, kitchen)
    covered = forecast.covered if forecast else bool(step and step.covered)
    if kind in ("bulk", "retard", "temper", "chill", "proof", "bake", "cool", "keep"):
        parts.append(_PLACES.get(where, where))
        if air is not None:
            parts[-1] = f"{parts[-1]} {_degrees(air)}".strip()
        if kind == "bake" and step is not None and step.oven_kind:
            parts.append({"convection": "fan", "static": "no fan", "deck": "deck"}[step.oven_kind])
        if kind in ("bulk", "retard", "proof", "bake"):
            parts.append("covered" if covered else "open")
    if makeup is not None:
        if kind == "sheet":
            width, length = centimetres_words(makeup.sheet_width_mm), centimetres_words(makeup.sheet_length_mm)
            parts.append(f"{width} × {length} cm, {makeup.thickness_mm:.0f} mm thick")
        elif kind == "cut":
            parts.append(f"{makeup.pieces} pieces, {makeup.piece_height_mm:.0f} mm each")
        elif kind == "tin" and makeup.tin is not None:
            parts.append(makeup.layout)
    return _tied(", ".join(part for part in parts if part))


def _foreseen_steps(
    product: Product, forecast: Forecast, makeup: MakeUpAnswer | None, kitchen: Kitchen | None
) -> tuple[SheetStep, ...]:
    written = product.procedure.steps
    steps = _made_before(product)
    said, warned = "", set[str]()
    for number, step in enumerate(forecast.steps, start=1):
        if step.kind == "keep":  # nothing is done then; its cautions stand below the table
            continue
        own = written[step.index] if step.index < len(written) else None
        words = own.text if own is not None and own.text != said else ""
        said = own.text if own is not None else ""
        first = main_reading(step)
        target, foreseen = step.target, ""
        if first is not None:
            foreseen = ("foreseen " if step.target else "") + span_words(first, not is_aimed_at(step, first))
            target = target or figure_words(first.p50, first.unit)
        end = "end " + window_words(forecast, step.end)
        steps.append(
            SheetStep(
                number=number,
                clock=step.start_clock or elapsed_words(step.start.likely_min),
                name=_capital(step.name or step.kind),
                detail=_detail(own, step, makeup, kitchen),
                words=_tied(words),
                duration=_tied(minutes_words(step.end.likely_min - step.start.likely_min)),
                target=_tied(target),
                foreseen=_tied(foreseen),
                window=end,
                outside=_tied(step.outside),
                cautions=tuple(caution for caution in step.cautions if caution not in warned),
            )
        )
        warned |= set(step.cautions)
    return tuple(steps)


_AIMS = {
    "rise": ("risen × ", 1, ""), "core_c": ("core ", 0, " °C"), "dough_c": ("dough ", 0, " °C"),
    "surface_c": ("surface ", 0, " °C"), "colour": ("colour ΔE ", 0, ""),
}  # fmt: skip


def _target_words(step: Step) -> str:
    """The aim that the formula gives for a step, with its band."""
    aim = step.target
    if aim is None or aim.measure not in _AIMS:
        return ""
    before, digits, after = _AIMS[aim.measure]
    band = f" ({aim.low:.{digits}f}–{aim.high:.{digits}f})" if aim.low is not None and aim.high is not None else ""
    return f"{before}{aim.value:.{digits}f}{after}{band}"


def _made_before(product: Product) -> list[SheetStep]:
    """A line for each preferment: it is ripe before the first step, and its own time is not part of the forecast."""
    return [
        SheetStep(
            number=0,
            clock="before",
            name=f"Make the {component.name.lower()}",
            detail="ripe when the mix begins; its time is not forecast",
        )
        for component in product.formula.of_kind("preferment")
        if component.lines
    ]


def _keeping_cautions(forecast: Forecast) -> tuple[str, ...]:
    return tuple(caution for step in forecast.steps if step.kind == "keep" for caution in step.cautions)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _written_steps(product: Product, makeup: MakeUpAnswer | None, kitchen: Kitchen | None) -> tuple[SheetStep, ...]:
    """The steps as the formula gives them, where nothing was foreseen."""
    elapsed, steps, said = 0.0, _made_before(product), ""
    for number, step in enumerate(product.procedure.steps, start=1):
        if step.kind == "keep":
            continue
        words, said = step.text if step.text != said else "", step.text
        minutes = step.minutes
        duration = ""
        if minutes is not None:
            whole = round(minutes.low) == round(minutes.high)
            duration = minutes_words(minutes.likely) if whole else f"{minutes.low:.0f} to {minutes.high:.0f} min"
        steps.append(
            SheetStep(
                number=number,
                clock=elapsed_words(elapsed),
                name=_capital(step.name or step.kind),
                detail=_detail(step, None, makeup, kitchen),
                words=_tied(words),
                duration=_tied(duration),
                target=_tied(_target_words(step)),
            )
        )
        elapsed += minutes.likely if minutes is not None else 0.0
    return tuple(steps)


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


def bench_sheet(
    product: Product,
    kitchen: Kitchen | None = None,
    forecast: Forecast | None = None,
    units: SheetUnits = "metric",
    scaling: Scaling | None = None,
    ready_by: str | None = None,
    revision: str = "",
    printed: datetime | None = None,
) -> BenchSheet:
    """The sheet to print or show. Without a forecast the steps stand with the minutes that the formula gives.

    A forecast must be one of the product at the size of the sheet: `foreseen_sheet` takes care of that.
    """
    sized, _, scaled_by = scaled(product, scaling)
    weights = weigh(product, scaling, kitchen)
    makeup: MakeUpAnswer | None = None
    left_open: tuple[str, ...] = ()
    try:
        makeup = make_up(sized, drawings=False)
    except Refusal as refusal:
        # a sheet of weights is of use where the make-up is not given yet; what lacks is printed
        left_open = tuple(str(complaint) for complaint in refusal.complaints)
    steps = _foreseen_steps(sized, forecast, makeup, kitchen) if forecast else _written_steps(sized, makeup, kitchen)
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
    stamp = f"{moment:%Y-%m-%d %H:%M}"
    if forecast:
        stamp += f" · {forecast.members} plausible kitchens, seed {forecast.seed}"
    first = forecast.steps[0].start_clock if forecast and forecast.steps else ""
    return BenchSheet(
        title=product.name,
        revision=revision,
        batch=_tied(batch),
        kitchen=kitchen.name if kitchen and kitchen.name != "kitchen" else "",
        ready_by=ready_by or "",
        start_at=first,
        blocks=tuple(_block(component, units) for component in weights.components),
        total_weight=_tied(grams_words(sum(component.grams for component in weights.components))),
        summary=_summary(weights),
        notes=product.notes if len(product.notes) <= LONGEST_NOTES else product.notes[: LONGEST_NOTES - 1] + "…",
        steps=steps,
        makeup=_make_up_figures(makeup) if makeup else (),
        cut_marks_mm=tuple(round(mark, 1) for mark in makeup.cut_marks_mm) if makeup else (),
        log_length_mm=makeup.log_length_mm if makeup else None,
        allergens=weights.allergens,
        assumed=tuple(_tied(sentence) for sentence in _once((scaled_by,), assumed)),
        unread=product.unread,
        rests_on=_short_sources((*(forecast.sources if forecast else ()), *(makeup.sources if makeup else ()))),
        cautions=tuple(
            _once(_keeping_cautions(forecast) if forecast else _GENERAL_CAUTIONS, makeup.warnings if makeup else ())
        ),
        printed=stamp,
    )


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
) -> BenchSheet:
    """Scale, foresee and gather: the sheet for one bake. A product without steps gets a sheet of weights."""
    sized, _, _ = scaled(product, scaling)
    forecast = foresee(sized, kitchen, ready_by, seed, members, progress) if sized.procedure.steps else None
    return bench_sheet(
        product, kitchen, forecast, units=units, scaling=scaling, ready_by=ready_by, revision=revision, printed=printed
    )


def sheet_pdf(sheet: BenchSheet, paper: Paper = "a4") -> bytes:
    """The sheet as a PDF."""
    from oventide.press.bench import render_pdf

    return render_pdf(sheet, paper)


def ruler_pdf(product: Product, paper: Paper = "a4") -> bytes:
    """The cut marks as a paper ruler, 1 : 1."""
    from oventide.press.ruler import render_ruler

    answer = make_up(product, drawings=False)
    if not answer.cut_marks_mm:
        raise refuse("pieces", answer.pieces, "There is nothing to cut.", "Give two pieces or more.")
    return render_ruler(product.name, answer.log_length_mm, answer.cut_marks_mm, paper)
