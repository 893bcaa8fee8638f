"""The process on a bench sheet: one line for each step, from a forecast or from the formula alone."""

from oventide.forecast.model import Forecast, StepForecast
from oventide.kitchen.model import Kitchen
from oventide.press.model import SheetStep
from oventide.services.answers import MakeUpAnswer
from oventide.services.telling import is_aimed_at, main_reading, span_words, window_words
from oventide.services.wording import centimetres_words, elapsed_words, figure_words, minutes_words
from oventide.timeline.procedure import Product, Step

_PLACES = {
    "room": "in the room", "bench": "on the bench", "fridge": "in the fridge", "freezer": "in the freezer",
    "prover": "in the prover", "oven": "oven",
}  # fmt: skip


def tied(text: str) -> str:
    """A number and its unit kept on one line."""
    for unit in ("°C", "°F", "g", "mm", "cm", "min", "h", "%", "oz", "kg"):
        text = text.replace(f" {unit} ", f"\u00a0{unit} ").replace(f" {unit}.", f"\u00a0{unit}.")
        text = text.replace(f" {unit},", f"\u00a0{unit},").replace(f" {unit};", f"\u00a0{unit};")
        if text.endswith(f" {unit}"):
            text = f"{text[: -len(unit) - 1]}\u00a0{unit}"
    return text


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
    return tied(", ".join(part for part in parts if part))


def detail_words(step: Step, makeup: MakeUpAnswer | None, kitchen: Kitchen | None) -> str:
    """Where and how a step is done, as the formula has it."""
    return _detail(step, None, makeup, kitchen)


def foreseen_steps(
    product: Product, forecast: Forecast, makeup: MakeUpAnswer | None, kitchen: Kitchen | None
) -> tuple[SheetStep, ...]:
    """The steps as foreseen: clock, target, range and window; each caution stands once, at its first step."""
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
                kind=step.kind,
                detail=_detail(own, step, makeup, kitchen),
                words=tied(words),
                duration=tied(minutes_words(step.end.likely_min - step.start.likely_min)),
                target=tied(target),
                foreseen=tied(foreseen),
                window=end,
                outside=tied(step.outside),
                cautions=tuple(caution for caution in step.cautions if caution not in warned),
            )
        )
        warned |= set(step.cautions)
    return tuple(steps)


_AIMS = {
    "rise": ("risen × ", 1, ""), "core_c": ("core ", 0, " °C"), "dough_c": ("dough ", 0, " °C"),
    "surface_c": ("surface ", 0, " °C"), "colour": ("colour ΔE ", 0, ""),
}  # fmt: skip


def target_words(step: Step) -> str:
    """The aim that the formula gives for a step, with its band."""
    aim = step.target
    if aim is None or aim.measure not in _AIMS:
        return ""
    before, digits, after = _AIMS[aim.measure]
    band = f" ({aim.low:.{digits}f}–{aim.high:.{digits}f})" if aim.low is not None and aim.high is not None else ""
    return f"{before}{aim.value:.{digits}f}{after}{band}"


def _made_before(product: Product) -> list[SheetStep]:
    """A line for each preferment: it is ripe, or has stood its time, before the first step, and is not on the clock."""
    return [
        SheetStep(
            number=0,
            clock="before",
            name=f"Make the {component.name.lower()}",
            detail="ripe when the mix begins; its time is not on this clock",
        )
        for component in product.formula.of_kind("preferment")
        if component.lines
    ]


def keeping_cautions(forecast: Forecast) -> tuple[str, ...]:
    """Cautions of keeping the buns, which has no line of its own."""
    return tuple(caution for step in forecast.steps if step.kind == "keep" for caution in step.cautions)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def written_steps(product: Product, makeup: MakeUpAnswer | None, kitchen: Kitchen | None) -> tuple[SheetStep, ...]:
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
                kind=step.kind,
                detail=_detail(step, None, makeup, kitchen),
                words=tied(words),
                duration=tied(duration),
                target=tied(target_words(step)),
            )
        )
        elapsed += minutes.likely if minutes is not None else 0.0
    return tuple(steps)
