"""A bake in the terminal: where it is, what comes, what was noted."""

from datetime import datetime

from rich.console import Console
from rich.table import Table
from rich.text import Text

from oventide.bench.model import Alarms, BenchView, Instants, Noted, WeighView
from oventide.bench.words import grams_words, reading_words
from oventide.services.bake_list import BakeList
from oventide.services.record import Record
from oventide.services.wording import minutes_words
from oventide.words.speaker import Speaker

ENGLISH = Speaker()
LOG_LINES = 12


def _console() -> Console:
    return Console(highlight=False, soft_wrap=False)


def _table(*columns: str) -> Table:
    table = Table(box=None, pad_edge=False, header_style="bold", padding=(0, 2, 0, 0))
    for name in columns:
        table.add_column(name, overflow="fold")
    return table


def clock(moment: datetime, now: datetime) -> str:
    """HH:MM on this machine's clock, with the day where that is another one.

    >>> from datetime import UTC
    >>> clock(datetime(2026, 3, 6, 4, 5, tzinfo=UTC), datetime(2026, 3, 5, 21, 0, tzinfo=UTC))
    'Fri 04:05'
    """
    here = moment.astimezone(now.tzinfo)
    return f"{here:%H:%M}" if here.date() == now.date() else f"{here:%a %H:%M}"


def span(window: Instants, now: datetime) -> str:
    """A window on the clock; one moment where it is one."""
    first, last = clock(window.earliest, now), clock(window.latest, now)
    if first == last:
        return first
    return f"{first} to {last}, likely {clock(window.likely, now)}"


def between(window: Instants, now: datetime) -> str:
    """The ends of a window without their days; nothing where it is one moment."""
    ends = [f"{end.astimezone(now.tzinfo):%H:%M}" for end in (window.earliest, window.latest)]
    return "" if ends[0] == ends[1] else f"{ends[0]}–{ends[1]}"


def until(moment: datetime, now: datetime) -> str:
    """How far off a moment is."""
    minutes = (moment - now).total_seconds() / 60
    if abs(minutes) < 1:
        return "now"
    return f"in {minutes_words(minutes)}" if minutes > 0 else f"{minutes_words(-minutes)} ago"


def show_view(view: BenchView, now: datetime) -> None:
    """The whole bake."""
    console = _console()
    console.print(Text(f"{view.name}  ({view.key})", style="bold"))
    if view.ready is not None and not view.finished:
        console.print(f"ready {span(view.ready, now)}; {_FORESEEN[view.foreseen]}")
    table = _table("", "step", "likely begins", "likely over", "between", "target and foreseen")
    signs = {"done": "x", "now": ">", "ahead": " "}
    for step in view.steps:
        aimed = f"aim: {step.target}" if step.target else ""
        table.add_row(
            f"{signs[step.state]} {step.index + 1}",
            Text(step.name),
            clock(step.begins.likely, now),
            clock(step.ends.likely, now),
            between(step.ends, now),
            Text("; ".join(part for part in (aimed, ", ".join(step.figures[:2])) if part)),
        )
    console.print(table)
    _show_now(console, view, now)
    _show_weighing(console, view)
    if view.noted:
        console.print(Text("\nNoted", style="bold"))
        for each in view.noted[:LOG_LINES]:
            crossed = "  (taken back)" if each.undone else ""
            console.print(Text(f"  {clock(each.at, now)}  {each.words}{crossed}"))


_FORESEEN = {
    "fresh": "foreseen from all that was noted",
    "under way": "a newer forecast is being reckoned",
    "planned": "by the written minutes",
}


def _show_now(console: Console, view: BenchView, now: datetime) -> None:
    if view.now_step is None:
        console.print(Text("\nThe bake is over." if view.finished else "\nEvery step is over.", style="bold"))
    else:
        step = view.steps[view.now_step]
        console.print(Text(f"\nNow: {step.name}", style="bold"))
        console.print(Text(f"  {step.action}; likely over {clock(step.ends.likely, now)}, "
                           f"{until(step.ends.likely, now)}"))  # fmt: skip
        if step.asks:
            console.print(Text(f"  can be read: {', '.join(step.asks)}"))
    for each in view.countdowns:
        opens = f"from {span(each.opens, now)}" if each.opens is not None else "now"
        closes = f", until {span(each.closes, now)}" if each.closes is not None else ""
        console.print(Text(f"  {each.name}: {opens}{closes}"))
    for choice in view.rescue:
        console.print(Text(f"  way out [{choice.id}] {choice.name}: {choice.costs}. {choice.because}"))
    for sentence in view.said:
        console.print(Text(f"  {sentence}"))


def _show_weighing(console: Console, view: BenchView) -> None:
    if not view.weighing:
        return
    console.print()
    table = _table("", "line", "ingredient", "weight", "bowl then")
    for line in view.weighing:
        shown = "" if line.bowl_after_g is None else grams_words(ENGLISH, line.bowl_after_g)
        table.add_row(
            "x" if line.weighed else " ", line.line, Text(_named(line)),
            "not known" if line.grams is None else grams_words(ENGLISH, line.grams), shown,
        )  # fmt: skip
    console.print(table)
    for line in view.weighing:
        if line.difference:
            console.print(Text(f"  {line.name}: {line.difference}"))


def _named(line: WeighView) -> str:
    return f"{line.name}, {line.note} ({line.component})" if line.note else f"{line.name} ({line.component})"


def show_noted(noted: Noted, now: datetime) -> None:
    """What was noted, and where the bake is now."""
    console = _console()
    view = noted.view
    new = [each for each in view.noted if each.uid in noted.taken]
    for each in new:
        console.print(Text(f"{clock(each.at, now)}  {each.words}"))
    _show_now(console, view, now)
    for line in view.weighing:
        if line.difference:
            console.print(Text(f"  {line.name}: {line.difference}"))
    waiting = next((line for line in view.weighing if not line.weighed), None)
    if waiting is not None and waiting.grams is not None:
        bowl = "" if waiting.bowl_after_g is None else f", the bowl then {grams_words(ENGLISH, waiting.bowl_after_g)}"
        console.print(Text(f"  next to weigh: {grams_words(ENGLISH, waiting.grams)} {_named(waiting)}{bowl}"))
    if view.ready is not None and view.now_step is not None:
        console.print(Text(f"  ready {span(view.ready, now)}"))


def show_alarms(answer: Alarms, now: datetime) -> None:
    """Alarms, the next first."""
    console = _console()
    for alarm in answer.alarms:
        state = "heard" if alarm.heard else "calling" if alarm.at <= now else until(alarm.at, now)
        console.print(Text(f"{clock(alarm.at, now)}  {state}  {alarm.name}: {alarm.words}  [{alarm.id}]"))
    if not answer.alarms:
        console.print("No alarm is set.")


def show_list(answer: BakeList) -> None:
    """Bakes, the last begun first."""
    console = _console()
    table = _table("begun", "bake", "key", "over")
    for bake in answer.bakes:
        over = "under way" if bake.finished_at is None else f"{bake.finished_at.astimezone():%H:%M}"
        table.add_row(f"{bake.day} {bake.started_at.astimezone():%H:%M}", Text(bake.name), bake.key, over)
    console.print(table)
    console.print(f"{len(answer.bakes)} of {answer.total}")


def show_record(answer: Record) -> None:
    """Plan and what was, step by step."""
    console = _console()
    zone = answer.bake.started_at
    console.print(Text(f"{answer.bake.name}  ({answer.bake.key})", style="bold"))
    table = _table("step", "written", "took", "over", "read", "marks")
    for step in answer.steps:
        read = ", ".join(reading_words(ENGLISH, each.quantity, each.value) for each in step.readings)
        table.add_row(
            Text(step.name),
            minutes_words(step.planned_min),
            "not noted" if step.minutes is None else minutes_words(step.minutes),
            "" if step.ended is None else clock(step.ended, zone),
            read,
            ", ".join(word for _, word in step.marks),
        )
    console.print(table)
    for each in answer.tasted:
        score = "" if each.score is None else f"{each.score} of 5  "
        console.print(Text(f"{clock(each.at, zone)}  {score}{each.text}"))
