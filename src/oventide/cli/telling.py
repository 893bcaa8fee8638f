"""Answers to questions of the bench, for people: figures with ranges, because, what to do."""

from collections.abc import Iterable

from rich.console import Console
from rich.table import Table
from rich.text import Text

from oventide.bake.colour import colour_word
from oventide.services.travelling import TravelAnswer
from oventide.services.wording import told_words
from oventide.travel.model import Figure, Told


def _span(figure: Figure) -> str:
    return told_words(figure.low, figure.likely, figure.high, figure.unit, figure.reached, figure.valid)


def _coloured(figure: Figure) -> str:
    """A span, with the word for a colour."""
    return f"{_span(figure)}, {colour_word(figure.likely)}" if figure.unit == "ΔE" else _span(figure)


def _list(console: Console, head: str, items: Iterable[str]) -> None:
    for place, item in enumerate(items):
        if place == 0:
            console.print(Text(head, style="bold"))
        console.print(Text(f"  {item}"))


def _one(console: Console, told: Told) -> None:
    console.print(Text(f"\n{told.asked}", style="bold"))
    table = Table(box=None, show_header=False, pad_edge=False, padding=(0, 2, 0, 0))
    for figure in told.figures:
        table.add_row(Text(figure.name), Text(_span(figure)))
    if told.figures:
        console.print(table)
    _list(console, "What to do", told.do)
    _list(console, "Because", told.because)
    _list(console, "Mind", told.cautions)
    _list(console, "Assumed", told.assumed)


def show_told(name: str, told: tuple[Told, ...]) -> None:
    """One or more questions answered."""
    console = Console(highlight=False, soft_wrap=False)
    console.print(Text(name, style="bold"))
    for each in told:
        _one(console, each)


def show_travel(answer: TravelAnswer) -> None:
    """What each change asks for, and the two timelines beside each other."""
    show_told(answer.name, answer.told)
    if not answer.beside:
        return
    console = Console(highlight=False, soft_wrap=False)
    console.print(Text(f"\nThe timeline {answer.beside_words}: {answer.members} plausible kitchens", style="bold"))
    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0))
    for head in ("", "here", "there", "change"):
        table.add_column(head, overflow="fold")
    same = [row.name for row in answer.beside if row.change.low == row.change.high == 0.0]
    for row in answer.beside:
        if row.name not in same:
            table.add_row(Text(row.name), _coloured(row.before), _coloured(row.after), _span(row.change))
    console.print(table)
    if same:
        console.print(Text(f"No change: {', '.join(same)}."))
    _list(console, "Assumed of the kitchen", answer.assumed)
