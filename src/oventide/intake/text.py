"""A pasted recipe as a product: title, components, method, and whatever was not understood.

Nothing is dropped: a line ends up in a component, in the words of a step, in the title, in the notes, or in `unread`.
"""

from oventide.errors import Complaint, Refusal
from oventide.formula.model import Component, Formula, Line, Measures
from oventide.intake.clean import (
    check_size,
    even,
    number_in_front,
    sentences,
    without_numbering,
)
from oventide.intake.country import guess, stated
from oventide.intake.groups import Part, by_hints, by_spread, grams_for_bare, is_flour, set_apart, yeast_by_share
from oventide.intake.headings import starts_with_verb
from oventide.intake.lines import LONGEST, plain, read_lines
from oventide.intake.listed import ATTACHED_MINUS, BARE_NUMBER
from oventide.intake.method import read_method
from oventide.intake.paste import Paste
from oventide.intake.rules import rule
from oventide.kitchen.model import OvenKind
from oventide.makeup.model import MakeUp
from oventide.timeline.procedure import Procedure, Product

MOST_LINES = 1000
"""A recipe has no more lines than this."""


def read_recipe(text: str, measures: Measures | None = None, oven: OvenKind | None = None) -> Product:
    """A pasted recipe as a product, as read: nothing is filled in (see defaults.complete).

    `measures` settles whose spoons and eggs are meant; without it they are guessed from the text, and the guess is
    stated with each line that it touches. `oven` picks among settings for several kinds of oven.
    Refuses text that is empty, larger than 1 MB or no text, and amounts below zero or above a tonne.

    >>> product = read_recipe("Rolls\\nDough\\n500 g bread flour\\n300 g water\\nMethod\\nKnead 10 minutes.")
    >>> [line.ingredient for line in product.formula.components[0].lines]
    ['flour_bread_unenriched', 'water_tap']
    """
    check_size(text)
    text = (
        text.replace("\r\n", "\n")
        .replace("\r", "\n")
        .replace("\x0b", "\n")
        .replace("\x0c", "\n")
        .replace("\u2028", "\n")
        .replace("\u2029", "\n")
    )
    raw = text.split("\n")
    if len(raw) > MOST_LINES:
        raise Refusal(
            Complaint(
                "text",
                f"{len(raw)} lines",
                f"A recipe is read up to {MOST_LINES} lines.",
                "Paste one recipe at a time: its ingredients and its method.",
            )
        )
    guessed, why = guess(text)
    chosen = measures or guessed
    long = [line for line in raw if len(line) > 20 * LONGEST]
    raw = [line for line in raw if len(line) <= 20 * LONGEST]
    dashed = sum(1 for line in raw if ATTACHED_MINUS.match(line.strip()))
    reader = Paste(chosen, dashed > 1)
    reader.read(raw)
    if reader.complaints:
        raise Refusal(reader.complaints)
    if not reader.parts and not reader.method:
        reader.method, reader.notes = _only_a_method(reader.notes)
    found = [sentence for line in reader.method for sentence in sentences(_step_text(line))]
    steps, makeup, left = read_method(found, oven)
    unread = [*reader.unread, *left, *long]
    reader.notes += [part.heading or part.name for part in reader.parts if not part.lines]
    spread = " ".join(step.text for step in steps if step.kind == "spread")
    mixed = " ".join(step.text for step in steps if step.kind == "mix")
    components = _components(reader.parts, why if measures is None else "", spread, mixed)
    name = reader.title or (components[0].name if components else "Recipe")
    return Product(
        name=name[:200],
        formula=Formula(name=name[:200], components=components, measures=chosen),
        makeup=_with_yield(makeup, reader),
        procedure=Procedure(steps=steps),
        notes="\n".join(([reader.title] if len(reader.title) > 200 else []) + reader.notes),
        unread=tuple(unread),
    )


def _only_a_method(notes: list[str]) -> tuple[list[str], list[str]]:
    """Where a text has no ingredients, the lines that tell what to do are the method; the rest stays in the notes."""
    method = [line for line in notes if starts_with_verb(line) and len(line.split()) > 3]
    return method, [line for line in notes if line not in method]


def _step_text(line: str) -> str:
    if BARE_NUMBER.match(even(line)):
        return BARE_NUMBER.sub("", even(line), count=1)
    return without_numbering(plain(line)) if number_in_front(even(line)) else plain(line)


def _with_yield(makeup: MakeUp, reader: Paste) -> MakeUp:
    changes: dict[str, object] = {}
    notes = list(makeup.assumed)
    if makeup.pieces is None and reader.pieces is not None and reader.pieces > 0:
        changes["pieces"] = reader.pieces
        notes.append(f"{reader.pieces} pieces taken from the yield")
    sliced = next((note for note in notes if "pieces from slices of" in note), None)
    serves = any(note.lower().startswith("serv") for note in reader.notes)
    if sliced is not None and reader.pieces and reader.pieces != makeup.pieces and not serves:
        changes["pieces"] = reader.pieces
        notes[notes.index(sliced)] = (
            f"{reader.pieces} pieces taken from the yield; the text's slices would give {sliced}"
        )
    if makeup.tin is None and reader.tin is not None:
        changes["tin"] = reader.tin
        notes += reader.makeup_notes
    return makeup.model_copy(update={**changes, "assumed": tuple(dict.fromkeys(notes))})


def _components(parts: list[Part], why: str, spread: str = "", mixed: str = "") -> tuple[Component, ...]:
    """Components with a kind each: what holds the flour and has no kind of its own is the dough."""
    parts = set_apart(parts)
    grams_for_bare(parts)
    yeast_by_share(parts)
    filled = [part for part in by_hints(parts) if part.lines]
    doughs = [part for part in filled if part.kind == "dough"]
    if not doughs:
        floury = [
            part for part in filled if part.kind in (None, "other") and any(is_flour(line) for line in part.lines)
        ]
        if floury:
            floury[0].kind = "dough"
        elif len(filled) == 1:
            filled[0].kind = "dough"
    by_spread(filled, spread, mixed)
    out: list[Component] = []
    for part in filled:
        lines = tuple(stated(line, why) for line in _scaled_shares(part.lines))
        out.append(Component(kind=part.kind or "other", name=part.name, lines=lines))
    return tuple(out)


def _scaled_shares(lines: list[Line]) -> list[Line]:
    """Lines in per cent of the flour become grams, on a stated amount of flour."""
    shares = [line for line in lines if line.unit == "%"]
    if not shares or any(line.grams is not None and is_flour(line) for line in lines):
        return lines
    base = rule("percent_flour")
    out: list[Line] = []
    for line in lines:
        if line.unit != "%" or line.amount is None:
            out.append(line)
            continue
        grams = line.amount / 100 * base.figure("grams")
        weighed = read_lines(f"{grams:.6g} g {line.name}")[0].grams
        out.append(line.model_copy(update={"grams": weighed, "assumed": (*line.assumed, base.text)}))
    return out
