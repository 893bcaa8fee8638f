"""What the use cases answer with: one documented object per command, printed as JSON and shown by the pages.

The JSON Schema of each model stands in docs/schema; a test keeps it fresh. No figure is ever NaN: what is not
known is None, and a sentence says why.
"""

from typing import Literal

from pydantic import Field

from oventide.formula.model import ComponentKind, Frozen, Measures
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


class Scaling(Frozen):
    """How large the batch is to be. At most one way; `pieces` and `piece_g` may go together."""

    pieces: int | None = None
    piece_g: float | None = None
    """Dough for one piece [g]."""
    dough_g: float | None = None
    """Mass of the dough, its preferment included [g]."""
    flour_g: float | None = None
    """All flour of dough and preferment [g]."""
    factor: float | None = None


class WeighLine(Frozen):
    """One line to weigh. `grams` is rounded to the scale, and the lines shown add up to the total shown."""

    text: str
    name: str
    ingredient: str | None
    preparation: str = ""
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

    liquid: float | None
    egg: float | None
    butter: float | None
    dairy: float | None
    other: float | None


class Totals(Frozen):
    """Totals over dough and preferments; masses in g, the rest in % as each field says."""

    flour_g: float
    dough_g: float
    """Dough and preferments, as mixed."""
    batch_g: float
    """Every component."""
    true_water_percent: float | None
    """All water but the flour's own, on flour [%]."""
    water_split: WaterSplit
    fat_percent: float | None
    """Fat itself, not butter, on flour [%]."""
    sugar_percent: float | None
    """All sugars in the dough, on flour [%]."""
    sugar_on_water_percent: float | None
    """All sugars in the dough, on its added water [%]."""
    salt_percent: float | None
    yeast_percent: float | None
    """Yeast as it is weighed, on flour [%]."""
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


class WeighAnswer(Frozen):
    """The answer of `oventide weigh`."""

    name: str
    scaled_by: str
    """A sentence: what was asked and the factor that follows."""
    factor: float
    components: tuple[WeighComponent, ...]
    totals: Totals
    balance: tuple[BalanceFinding, ...]
    assumed: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


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
    pieces: int
    piece_g: float
    piece_height_mm: float
    cut_marks_mm: tuple[float, ...]
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
