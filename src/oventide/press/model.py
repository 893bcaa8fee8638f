"""What stands on a bench sheet: everything is text and figures ready to print, nothing is computed here.

The sheet is complete on its own: a helper who has only the paper can work from it.
"""

from typing import Literal

from oventide.formula.model import Frozen

Paper = Literal["a4", "letter"]
SheetUnits = Literal["metric", "us"]


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


class BenchSheet(Frozen):
    """One bench sheet."""

    title: str
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
    printed: str
    """Date and time of printing, and the seed and number of kitchens of the forecast."""
