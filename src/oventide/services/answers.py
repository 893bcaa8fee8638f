"""What the use cases answer with: one documented object per command, printed as JSON and shown by the pages.

The JSON Schema of each model stands in docs/schema; a test keeps it fresh. No figure is ever NaN: what is not
known is None, and a sentence says why.
"""

from typing import Literal

from pydantic import Field

from oventide.formula.model import ComponentKind, Frozen, Measures
from oventide.formula.scaling import Scaling
from oventide.makeup.model import MakeUp, Place, Tin
from oventide.timeline.procedure import Step


class GramsRange(Frozen):
    """A weight with its range [g]: about nine in ten lie between low and high."""

    low: float
    likely: float
    high: float


class ReadLine(Frozen):
    """One ingredient line as it was read. `grams` is null where the weight is not known."""

    text: str
    name: str
    amount: float | None
    amount_high: float | None = None
    unit: str | None
    ingredient: str | None
    preparation: str = ""
    grams: GramsRange | None
    assumed: tuple[str, ...] = ()
    offered: tuple[str, ...] = ()


class ReadComponent(Frozen):
    """A component as it was read."""

    name: str
    kind: ComponentKind
    lines: tuple[ReadLine, ...]


class ReadAnswer(Frozen):
    """The answer of `oventide read`."""

    name: str
    measures: Measures
    components: tuple[ReadComponent, ...]
    makeup: MakeUp
    steps: tuple[Step, ...]
    notes: str = ""
    unread: tuple[str, ...] = ()


class WeighLine(Frozen):
    """One line to weigh. `grams` is rounded to the scale, and the lines shown add up to the total shown."""

    text: str
    name: str
    ingredient: str | None
    preparation: str = ""
    note: str = ""
    """Eggs by count at this size, or what the line stands for."""
    baker_percent: float | None
    """Share of all flour in dough and preferments [%]."""
    grams: float | None
    grams_exact: float | None
    grams_range: GramsRange | None
    assumed: tuple[str, ...] = ()
    offered: tuple[str, ...] = ()


class WeighComponent(Frozen):
    """One component to weigh; `grams` is the sum of its lines as shown."""

    name: str
    kind: ComponentKind
    lines: tuple[WeighLine, ...]
    grams: float
    grams_exact: float
    baker_percent: float | None


class WaterSplit(Frozen):
    """Water added to the flour, by where it comes from [% of flour]."""

    liquid: float
    egg: float
    butter: float
    dairy: float
    other: float


class Totals(Frozen):
    """Totals over dough and preferments; masses in g, the rest in % as each field says."""

    flour_g: float
    dough_g: float
    """Dough and preferments, as mixed."""
    batch_g: float
    """Every component."""
    prefermented_flour_percent: float
    """Share of the flour that is in preferments [%]."""
    true_water_percent: float
    """All water but the flour's own, on flour [%]."""
    water_split: WaterSplit
    fat_percent: float
    """Fat itself, not butter, on flour [%]."""
    fat_weighed_percent: float
    """Butter, oil and other fats as weighed, on flour [%]."""
    sugar_percent: float
    """All sugars in the dough, on flour [%]."""
    sugar_weighed_percent: float
    """Sugar, honey and syrups as weighed, on flour [%]."""
    sugar_on_water_percent: float | None
    """All sugars in the dough, on its added water [%]."""
    egg_percent: float
    salt_percent: float
    yeast_percent: float
    """Yeast as it is weighed, on flour [%]."""
    yeast_as_instant_percent: float
    total_percent: float
    """Sum of the dough's lines, flour included [%]."""
    spread_on_dough_percent: float | None = None
    """Spread and filling, on dough [%]."""


class BalanceFinding(Frozen):
    """One figure of the formula beside a published range."""

    measure: str
    value: float
    unit: str
    low: float | None
    high: float | None
    standing: Literal["below", "within", "above"]
    sentence: str
    source: str
    source_title: str
    kind: Literal["range", "gate"] = "range"
    """A published range of the dough's class, or a point from which something is done differently."""


class WeighAnswer(Frozen):
    """The answer of `oventide weigh`."""

    name: str
    scaled_by: str
    """A sentence: what was asked and the factor that follows."""
    factor: float
    components: tuple[WeighComponent, ...]
    totals: Totals
    balance: tuple[BalanceFinding, ...]
    allergens: tuple[str, ...] = ()
    """What the ingredients bring by their nature; "?" where the packet must be read."""
    assumed: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    """Sentences: which line lacks a weight or a figure."""


class Gaps(Frozen):
    """Room between pieces before proof [mm]; negative where they would overlap."""

    neighbours_mm: float
    wall_mm: float
    pitch_mm: float


class Fill(Frozen):
    """Volume of the pieces over the tin's brim volume."""

    before: float
    after_proof: float
    after_bake: float


class MakeUpAnswer(Frozen):
    """The answer of `oventide makeup`."""

    name: str
    dough_g: float
    spread_g: float
    sheet_length_mm: float
    sheet_width_mm: float
    thickness_mm: float
    spread_mm: float
    spread_g_per_cm2: float
    turns: float
    log_diameter_mm: float
    log_length_mm: float
    trim_g: float
    sheets: int = 1
    """Equal sheets (logs) that the dough is divided into; sheet, log and cut marks are those of each."""
    pieces: int
    piece_g: float
    piece_height_mm: float
    cut_marks_mm: tuple[float, ...]
    """From the end of the log."""
    how_to_cut: str = ""
    tin: Tin | None
    tins: int
    layout: str
    places: tuple[Place, ...]
    gaps: Gaps
    fill: Fill
    assumed: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    drawings: dict[str, str] = Field(default_factory=dict)
    """SVG pictures by name (roll, tin, sheet)."""


__all__ = [
    "BalanceFinding",
    "Fill",
    "Gaps",
    "GramsRange",
    "MakeUpAnswer",
    "ReadAnswer",
    "ReadComponent",
    "ReadLine",
    "Scaling",
    "Totals",
    "WaterSplit",
    "WeighAnswer",
    "WeighComponent",
    "WeighLine",
]
