"""Answers for people: short tables in the terminal. The figures are the same as in the JSON."""

from rich.console import Console
from rich.table import Table
from rich.text import Text

from oventide.forecast.model import Forecast
from oventide.services.answers import GramsRange, MakeUpAnswer, ReadAnswer, WeighAnswer
from oventide.services.telling import main_reading, moment_words, span_words, window_words
from oventide.services.wording import centimetres_words, grams_words, minutes_words, percent_words


def _console() -> Console:
    return Console(highlight=False, soft_wrap=False)


def _table(*columns: str, right: tuple[str, ...] = ()) -> Table:
    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0))
    for name in columns:
        table.add_column(name, justify="right" if name in right else "left", overflow="fold")
    return table


def _list(console: Console, head: str, items: tuple[str, ...]) -> None:
    """A headed list; words of the baker are never markup."""
    if items:
        console.print(Text(head, style="bold"))
        for item in items:
            console.print(Text(f"  {item}"))


def _range(grams: GramsRange | None) -> str:
    if grams is None:
        return "not known"
    if grams.low == grams.high:
        return grams_words(grams.likely)
    return f"{grams_words(grams.likely)} ({grams_words(grams.low)} to {grams_words(grams.high)})"


def show_read(answer: ReadAnswer) -> None:
    """Every line as read, and what was left over."""
    console = _console()
    console.print(Text(answer.name, style="bold"))
    for component in answer.components:
        table = _table("as written", "ingredient", "grams", "assumed")
        for line in component.lines:
            note = "; ".join(line.assumed)
            if line.offered:
                note = f"{note}{'; ' if note else ''}perhaps {', '.join(line.offered)}"
            table.add_row(
                Text(line.text), Text(line.ingredient or "not recognised"), Text(_range(line.grams)), Text(note)
            )
        console.print(Text(f"\n{component.name} ({component.kind})", style="bold"))
        console.print(table)
    if answer.steps:
        table = _table("step", "minutes", "where", "°C", right=("minutes", "°C"))
        for step in answer.steps:
            table.add_row(
                Text(step.name or step.kind),
                minutes_words(step.minutes.likely) if step.minutes else "",
                step.where + (", covered" if step.covered else ""),
                f"{step.air_c:g}" if step.air_c is not None else "",
            )
        console.print(Text("\nSteps", style="bold"))
        console.print(table)
    _list(console, "\nNot read", answer.unread)


def show_weigh(answer: WeighAnswer) -> None:
    """Weights by component, totals, balance."""
    console = _console()
    console.print(Text(answer.name, style="bold"))
    if answer.scaled_by:
        console.print(Text(answer.scaled_by))
    for component in answer.components:
        table = _table("", "%", "grams", "range", right=("%", "grams"))
        for line in component.lines:
            shown = line.grams_range
            spread = "" if shown is None or shown.low == shown.high else f"{shown.low:.0f} to {shown.high:.0f}"
            table.add_row(
                Text(line.name or line.text),
                percent_words(line.baker_percent),
                grams_words(line.grams) if line.grams is not None else "not known",
                spread,
            )
        table.add_row(
            Text("total", style="bold"),
            percent_words(component.baker_percent),
            Text(grams_words(component.grams), "bold"),
        )
        console.print(Text(f"\n{component.name}", style="bold"))
        console.print(table)
    totals, water = answer.totals, answer.totals.water_split
    table = _table("on flour", "", right=("",))
    for name, value in (
        ("true water", totals.true_water_percent), ("  from water and other liquids", water.liquid),
        ("  from egg", water.egg), ("  from butter", water.butter), ("  from dairy", water.dairy),
        ("  from the rest", water.other), ("fat", totals.fat_percent), ("sugars", totals.sugar_percent),
        ("sugar on water", totals.sugar_on_water_percent), ("salt", totals.salt_percent),
        ("yeast", totals.yeast_percent),
    ):  # fmt: skip
        table.add_row(name, percent_words(value) or "not known")
    console.print()
    console.print(table)
    _list(console, "\nBeside published ranges", tuple(finding.sentence for finding in answer.balance))
    _list(console, "\nNot known", answer.unknown)
    _list(console, "\nAssumed", answer.assumed)


def show_make_up(answer: MakeUpAnswer) -> None:
    """Figures of sheet, roll, cut and tin."""
    console = _console()
    table = _table("", "", right=())
    size = f"{centimetres_words(answer.sheet_width_mm)} × {centimetres_words(answer.sheet_length_mm)} cm"
    fill = answer.fill
    for name, value in (
        ("sheet", f"{size}, {answer.thickness_mm:.1f} mm thick"),
        ("spread", f"{answer.spread_g_per_cm2:.2f} g/cm², {answer.spread_mm:.1f} mm"),
        ("roll", f"{answer.turns:.1f} turns, ⌀ {answer.log_diameter_mm:.0f} mm, {answer.log_length_mm:.0f} mm long"),
        ("pieces", f"{answer.pieces} of {grams_words(answer.piece_g)}, {answer.piece_height_mm:.0f} mm high"),
        ("cut at", ", ".join(f"{mark:.0f}" for mark in answer.cut_marks_mm) + " mm"),
        ("layout", answer.layout),
        ("gaps", f"{answer.gaps.neighbours_mm:.0f} mm between pieces, {answer.gaps.wall_mm:.0f} mm to the wall"),
        ("fill", f"{fill.before:.0%} before, {fill.after_proof:.0%} proofed, {fill.after_bake:.0%} baked"),
    ):  # fmt: skip
        table.add_row(name, Text(value))
    console.print(Text(answer.name, style="bold"))
    console.print(table)
    _list(console, "\nMind", answer.warnings)
    _list(console, "\nAssumed", answer.assumed)


def show_forecast(answer: Forecast) -> None:
    """The clock, step by step."""
    console = _console()
    console.print(Text(f"{answer.product}, {answer.kitchen}: {answer.members} plausible kitchens", style="bold"))
    table = _table("start", "step", "end", "target", "foreseen at its end")
    for step in answer.steps:
        reading = main_reading(step)
        table.add_row(
            Text(step.start_clock.replace(" the day before", " −1 d") or moment_words(answer, step.start.likely_min)),
            Text(step.name or step.kind),
            window_words(answer, step.end),
            Text(step.target),
            Text(span_words(reading) if reading else ""),
        )
    console.print(table)
    _list(
        console,
        "\nOutside the window",
        tuple(f"{step.name or step.kind}: {step.outside}" for step in answer.steps if step.outside),
    )
    _list(console, "\nMind", tuple(dict.fromkeys(caution for step in answer.steps for caution in step.cautions)))
    _list(console, "\nAssumed", answer.assumed)
