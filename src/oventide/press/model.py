"""What stands on a sheet: everything is text and figures ready to print, nothing is computed here.

A sheet is complete on its own: a helper who has only the paper can work from it. Its texts are in its language
already; the words that belong to the paper itself (headings, "page 1 of 2") come as `words`, by their message.
"""

from typing import Literal, get_args

from oventide.formula.model import Frozen

Paper = Literal["a4", "letter"]
SheetUnits = Literal["metric", "us"]
SheetKind = Literal["bench", "wall", "formula", "handout", "ruler"]
SHEET_KINDS: tuple[SheetKind, ...] = get_args(SheetKind)
PAPERS: tuple[Paper, ...] = get_args(Paper)


class Printed(Frozen):
    """What every sheet has."""

    title: str
    language: str = "en"
    words: tuple[tuple[str, str], ...] = ()
    """What the paper itself says, by message; a message that is not here is said in English."""
    printed: str
    """Date and time of printing."""


class SheetRow(Frozen):
    """One ingredient to weigh, as printed."""

    ingredient: str
    note: str = ""
    """Preparation, or what is not known about the line."""
    baker_percent: str = ""
    weight: str
    """With its unit: 352 g."""
    ounces: str = ""
    """The same in ounces, where asked."""


class SheetBlock(Frozen):
    """One component with its total."""

    name: str
    kind: str
    rows: tuple[SheetRow, ...]
    total_weight: str
    total_percent: str = ""


class SheetStep(Frozen):
    """One line of the process. `clock` is the likely start; empty cells are left empty on paper."""

    number: int
    clock: str
    """HH:MM (and +1 for the next day) where a ready-by time was given, else time from the start (+0:45)."""
    name: str
    kind: str = ""
    """What is done, by the name that steps of its kind have in a formula's file."""
    detail: str = ""
    """Where and how: in the fridge, covered; oven 170 °C, fan."""
    words: str = ""
    """The baker's own words."""
    duration: str = ""
    target: str = ""
    foreseen: str = ""
    """What the forecast sees at the end of the step, as a range."""
    window: str = ""
    """Earliest to latest end."""
    outside: str = ""
    """What to do outside the window."""
    cautions: tuple[str, ...] = ()


class SheetFigure(Frozen):
    """One labelled figure of the make-up."""

    label: str
    value: str


class BenchSheet(Printed):
    """One bench sheet. `printed` also says the seed and the number of kitchens of its forecast."""

    revision: str = ""
    batch: str
    """Yield: 12 pieces × 72 g."""
    kitchen: str = ""
    ready_by: str = ""
    start_at: str = ""
    blocks: tuple[SheetBlock, ...]
    total_weight: str
    summary: tuple[SheetFigure, ...] = ()
    """True water, fat, sugar on water, salt, yeast."""
    notes: str = ""
    steps: tuple[SheetStep, ...] = ()
    makeup: tuple[SheetFigure, ...] = ()
    cut_marks_mm: tuple[float, ...] = ()
    log_length_mm: float | None = None
    allergens: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()
    """Sources, short."""
    cautions: tuple[str, ...] = ()
    """Cautions for the whole bake."""


class FormulaSheet(Printed):
    """A formula as the trade writes it: quantities with baker's percentages, then the process in one line each."""

    revision: str = ""
    batch: str
    blocks: tuple[SheetBlock, ...]
    flour: str
    """All the flour, which is 100 %."""
    dough: str
    total_weight: str
    summary: tuple[SheetFigure, ...] = ()
    process: tuple[SheetFigure, ...] = ()
    notes: str = ""
    allergens: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()


class WallWeigh(Frozen):
    """One line to weigh, as it is read from across the room."""

    quantity: str
    ingredient: str
    note: str = ""


class WallBlock(Frozen):
    """One mix or filling."""

    name: str
    total: str
    rows: tuple[WallWeigh, ...]


class WallStep(Frozen):
    """One step by the clock."""

    clock: str
    day: str = ""
    """Where it is not the day of being ready."""
    name: str
    aim: str = ""


class WallSheet(Printed):
    """What hangs on the wall: quantities and clock times, to be read at two metres and written on."""

    batch: str
    ready_by: str = ""
    blocks: tuple[WallBlock, ...]
    steps: tuple[WallStep, ...] = ()
    allergens: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


class CardLine(Frozen):
    """One question of the kitchen card. An empty answer is left as a line to write on."""

    question: str
    answer: str = ""
    written_for: str = ""
    """What the formula was written for."""


class HandoutStep(Frozen):
    """One step in the student's kitchen: what ends it, within which limits, what to do beyond, and lines to note on."""

    number: int
    name: str
    how: str = ""
    words: str = ""
    """The baker's own words."""
    target: str = ""
    """With its limits."""
    time: str = ""
    outside: str = ""
    to_note: tuple[str, ...] = ()
    """What the student measures."""
    cautions: tuple[str, ...] = ()


class Handout(Printed):
    """A formula handed to somebody who bakes it elsewhere."""

    revision: str = ""
    batch: str
    kitchen: str = ""
    card: tuple[CardLine, ...]
    blocks: tuple[SheetBlock, ...]
    total_weight: str
    makeup: tuple[SheetFigure, ...] = ()
    steps: tuple[HandoutStep, ...]
    allergens: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
