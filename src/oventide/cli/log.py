"""`oventide log`: a bake driven from the terminal, on the same journal as the workbench while that runs.

Every command notes one thing and shows where the bake is then. `--at HH:MM` notes what was done earlier.
"""

from typing import TYPE_CHECKING, Annotated

import typer

from oventide.cli.answering import kitchen_or_usual, print_json
from oventide.cli.options import (
    AsJson,
    DoughG,
    Eggs,
    Factor,
    FlourG,
    Formula,
    KitchenFile,
    PieceG,
    Pieces,
    ReadyBy,
    Spoons,
)
from oventide.errors import refuse

if TYPE_CHECKING:
    from oventide.services.bakes import Bakes

BakeName = Annotated[str, typer.Argument(metavar="BAKE", help="Its key, words of its name, or . for the only one.")]
At = Annotated[str | None, typer.Option("--at", metavar="HH:MM", help="When it was, if earlier than now.")]
StepNumber = Annotated[
    str | None, typer.Option("--step", metavar="N", help="Which step, counted from 1; the step now if left out.")
]
DEVICE = "terminal"

log = typer.Typer(no_args_is_help=True, rich_markup_mode=None, help="Drive a bake from the terminal and note it.")


def _bakes(foreseen: bool = False) -> "Bakes":
    from oventide.services.bakes import Bakes
    from oventide.services.shelf import Shelf

    shelf = Shelf.at()
    if not foreseen:
        return Bakes(shelf.journal, None, shelf.clock)
    from oventide.services.live import Live

    return Bakes(shelf.journal, Live(shelf.clock), shelf.clock)


def _uid() -> str:
    from uuid import uuid4

    return uuid4().hex


def _note(name: str, at: str | None, json: bool, deed: str, **fields: object) -> None:
    """Note one entry and show the bake after it."""
    bakes = _bakes()
    from oventide.services.noting import bake_asked

    _note_at(bakes, bake_asked(bakes, name), at, json, deed, **fields)


def _note_at(bakes: "Bakes", key: str, at: str | None, json: bool, deed: str, **fields: object) -> None:
    from oventide.bench.model import Entry
    from oventide.services.noting import moment_asked

    now = bakes.clock()
    moment = moment_asked(at, now, bakes.bake(key).started_at)
    entry = Entry.model_validate({"uid": _uid(), "deed": deed, "at": moment, "device": DEVICE, **fields})
    noted = bakes.note_entries(key, (entry,), now)
    if noted.refused:
        shown = [fields.get(name) for name in ("mark", "quantity", "line", "of", "text", "value")]
        given = " ".join(str(value) for value in shown if value not in (None, ""))
        raise refuse(deed, given, noted.refused[0][1], f"Look at the bake: oventide log show {key}.")
    if json:
        return print_json(noted)
    from oventide.cli.log_showing import show_noted

    return show_noted(noted, now)


@log.command()
def start(
    formula: Formula,
    kitchen: KitchenFile = None,
    ready_by: ReadyBy = None,
    name: Annotated[str, typer.Option(metavar="NAME", help="What its alarms call it; else the formula's name.")] = "",
    at: At = None,
    pieces: Pieces = None,
    piece_g: PieceG = None,
    dough_g: DoughG = None,
    flour_g: FlourG = None,
    factor: Factor = None,
    spoons: Spoons = None,
    eggs: Eggs = None,
    json: AsJson = False,
) -> None:
    """Begin a bake from a formula: a file, or a name on the shelf."""
    from oventide.cli.opening import open_product, stored_kitchen_key, stored_product
    from oventide.cli.sizing import scaling
    from oventide.services import asking
    from oventide.services.noting import moment_asked
    from oventide.services.weighing import scaled

    clock = asking.clock(ready_by)
    size = scaling(pieces, piece_g, dough_g, flour_g, factor)
    product, key, revision = stored_product(formula) or (open_product(formula, spoons, eggs), "", 0)
    place = kitchen_or_usual(kitchen)
    sized, times, _ = scaled(product, size)
    bakes = _bakes()
    now = bakes.clock()
    bake = bakes.begin(
        sized, place, product_key=key, product_revision=revision, kitchen_key=stored_kitchen_key(kitchen), name=name,
        ready_by=clock, factor=times, started_at=moment_asked(at, now),
    )  # fmt: skip
    view = bakes.view(bake.key, now)
    if json:
        return print_json(view)
    from oventide.cli.log_showing import show_view

    return show_view(view, now)


@log.command()
def show(
    bake: Annotated[str | None, typer.Argument(metavar="[BAKE]", help="Its key or words of its name.")] = None,
    foreseen: Annotated[bool, typer.Option("--foresee", help="Reckon the forecast now, and keep it.")] = False,
    json: AsJson = False,
) -> None:
    """Where a bake is: the step now, what comes, what to weigh, alarms, what was noted."""
    from oventide.services.noting import bake_asked

    bakes = _bakes(foreseen)
    key = bake_asked(bakes, bake)
    view = bakes.view(key)
    if foreseen:
        from oventide.cli.waiting import waiting

        with waiting("foreseeing"):
            bakes.settle()
        view = bakes.view(key)
    if json:
        return print_json(view)
    from oventide.cli.log_showing import show_view

    return show_view(view, bakes.clock())


@log.command("list")
def list_bakes(
    text: Annotated[str, typer.Argument(metavar="[WORDS]", help="Words of name, formula, kitchen or day.")] = "",
    limit: Annotated[str, typer.Option(metavar="N", help="How many.")] = "20",
    after: Annotated[str, typer.Option(metavar="N", help="How many to pass over.")] = "0",
    json: AsJson = False,
) -> None:
    """Bakes that were begun, the last one first."""
    from oventide.services import asking
    from oventide.services.bake_list import listed

    count = asking.whole_number(limit, "limit", 1, 1000) or 1
    answer = listed(_bakes(), text, count, asking.whole_number(after, "after", 0, 10_000_000) or 0)
    if json:
        return print_json(answer)
    from oventide.cli.log_showing import show_list

    return show_list(answer)


@log.command()
def record(bake: BakeName, json: AsJson = False) -> None:
    """A bake looked back on: what was planned beside what was done and read."""
    from oventide.services.noting import bake_asked

    bakes = _bakes()
    answer = bakes.record(bake_asked(bakes, bake))
    if json:
        return print_json(answer)
    from oventide.cli.log_showing import show_record

    return show_record(answer)


@log.command()
def weigh(
    bake: BakeName,
    line: Annotated[str, typer.Argument(metavar="LINE", help="Words of its name, or its number as shown.")],
    bowl: Annotated[str | None, typer.Option("--bowl", metavar="G", help="What the scale shows with it in.")] = None,
    at: At = None,
    json: AsJson = False,
) -> None:
    """An ingredient is in the bowl; with --bowl the bowl is checked."""
    from oventide.services import asking
    from oventide.services.noting import bake_asked, line_asked

    bakes = _bakes()
    key = bake_asked(bakes, bake)
    shown = asking.grams(bowl, "bowl", 0, 200_000)
    meant = line_asked(bakes.view(key), line)
    return _note_at(bakes, key, at, json, "weighed", line=meant.line, value=shown)


@log.command()
def reading(
    bake: BakeName,
    read: Annotated[str, typer.Argument(metavar="READING", help='"core 84 C", "rise 1.8", "jar 62 mm".')],
    step: StepNumber = None,
    at: At = None,
    json: AsJson = False,
) -> None:
    """A reading: what, the figure and its unit."""
    from oventide.services.noting import bake_asked, reading_asked, step_asked

    bakes = _bakes()
    key = bake_asked(bakes, bake)
    view = bakes.view(key)
    place = step_asked(step, view)
    quantity, value = reading_asked(read, view.steps[place].asks)
    return _note_at(bakes, key, at, json, "reading", step=place, quantity=quantity, value=value)


@log.command()
def mark(
    bake: BakeName,
    which: Annotated[str, typer.Argument(metavar="MARK", help='"at the mark", "too soft" or "not yet".')],
    step: StepNumber = None,
    at: At = None,
    json: AsJson = False,
) -> None:
    """A mark by eye and hand."""
    from oventide.services.noting import bake_asked, mark_asked, step_asked

    bakes = _bakes()
    key = bake_asked(bakes, bake)
    place = step_asked(step, bakes.view(key))
    return _note_at(bakes, key, at, json, "mark", step=place, mark=mark_asked(which))


@log.command()
def done(bake: BakeName, step: StepNumber = None, at: At = None, json: AsJson = False) -> None:
    """The step is over."""
    from oventide.services.noting import bake_asked, step_asked

    bakes = _bakes()
    key = bake_asked(bakes, bake)
    return _note_at(bakes, key, at, json, "done", step=step_asked(step, bakes.view(key)))


@log.command()
def undo(
    bake: BakeName,
    entry: Annotated[str | None, typer.Option("--entry", metavar="UID", help="Which one; else the newest.")] = None,
    json: AsJson = False,
) -> None:
    """Take the newest entry back; what was taken back stays in the log, crossed out."""
    from oventide.services.noting import bake_asked

    bakes = _bakes()
    key = bake_asked(bakes, bake)
    newest = next((each.uid for each in bakes.view(key).noted if each.undoable), None)
    if entry is None and newest is None:
        raise refuse("undo", key, "There is nothing to take back.", "Note something first.")
    return _note_at(bakes, key, None, json, "undo", of=entry or newest)


@log.command()
def heard(
    alarm: Annotated[
        str | None, typer.Argument(metavar="[ALARM]", help="Its id; else every alarm that is due.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Alarms that are due were heard, and are still."""
    from oventide.services.bake_list import hear

    bakes = _bakes()
    answer = hear(bakes, alarm, bakes.clock(), DEVICE, _uid)
    if json:
        return print_json(answer)
    from oventide.cli.log_showing import show_alarms

    return show_alarms(answer, bakes.clock())


@log.command()
def alarms(json: AsJson = False) -> None:
    """Alarms of every bake under way, the next first."""
    bakes = _bakes()
    answer = bakes.alarms()
    if json:
        return print_json(answer)
    from oventide.cli.log_showing import show_alarms

    return show_alarms(answer, bakes.clock())


@log.command()
def forgot(
    bake: BakeName,
    what: Annotated[str, typer.Argument(metavar="WHAT", help="What was left out: salt, yeast, sugar.")],
    json: AsJson = False,
) -> None:
    """Something was left out and is found now: the dose, how to work it in, or how to go on without."""
    from oventide.cli.answering import tell
    from oventide.services.noting import bake_asked

    bakes = _bakes()
    return tell(bakes.forgotten(bake_asked(bakes, bake), what), json)


@log.command()
def note(
    bake: BakeName,
    text: Annotated[str, typer.Argument(metavar="TEXT", help="What is to be remembered.")] = "",
    score: Annotated[str | None, typer.Option("--score", metavar="N", help="How it tasted, 1 to 5.")] = None,
    at: At = None,
    json: AsJson = False,
) -> None:
    """A note, with a score from the tasting."""
    from oventide.services import asking

    return _note(
        bake, at, json, "note", text=text.strip()[:2000], score=asking.whole_number(score, "score", 1, 5)
    )  # fmt: skip


@log.command("ready-by")
def ready_at(
    bake: BakeName,
    clock: Annotated[str, typer.Argument(metavar="HH:MM", help="When the buns are to be ready.")],
    json: AsJson = False,
) -> None:
    """Another time to be ready by."""
    from oventide.services import asking

    shown = asking.clock(clock)
    if shown is None:
        raise refuse("ready_by", clock, "A time of day is needed.", "Write it in 24 hours, like 07:30.")
    return _note(bake, None, json, "ready_by", value=60 * int(shown[:2]) + int(shown[3:]))


@log.command()
def rescue(
    bake: BakeName,
    way: Annotated[str, typer.Argument(metavar="WAY", help="The way out that is taken, by its id as shown.")],
    at: At = None,
    json: AsJson = False,
) -> None:
    """A way out that is taken where a window was missed."""
    from oventide.services.noting import bake_asked

    bakes = _bakes()
    key = bake_asked(bakes, bake)
    view = bakes.view(key)
    if way not in {choice.id for choice in view.rescue}:
        offered = ", ".join(choice.id for choice in view.rescue)
        remedy = f"Choose one of: {offered}." if offered else "Nothing was missed, as far as is known."
        raise refuse("rescue", way, "This way out is not offered now.", remedy)
    return _note_at(bakes, key, at, json, "rescue", of=way, step=view.now_step)


@log.command()
def finish(bake: BakeName, at: At = None, json: AsJson = False) -> None:
    """The bake is over; it stays in the journal."""
    return _note(bake, at, json, "finish")
