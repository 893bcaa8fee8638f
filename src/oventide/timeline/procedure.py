"""The steps of a bake: what is done, where, until when. Data only; nothing here advances time."""

from typing import Literal, get_args

from pydantic import Field, model_validator

from oventide.formula.model import Formula, Frozen
from oventide.makeup.model import MakeUp

StepKind = Literal[
    "mix", "bulk", "retard", "temper", "sheet", "spread", "roll", "chill", "cut", "tin", "proof", "bake", "glaze",
    "cool", "keep",
]  # fmt: skip
STEP_KINDS: tuple[StepKind, ...] = get_args(StepKind)

Where = Literal["room", "bench", "fridge", "freezer", "prover", "oven"]


class Span(Frozen):
    """Minutes, as the baker wrote them: 20, or 45-60. `likely` is what the clock is planned with."""

    low: float = Field(ge=0)
    likely: float = Field(ge=0)
    high: float = Field(ge=0)


class Target(Frozen):
    """What ends a step, or is aimed at by its end.

    measure: ``rise`` (volume over freshly shaped or mixed volume, 1), ``core_c`` (coldest point, °C),
    ``dough_c`` (mean dough temperature, °C), ``surface_c`` (°C),
    ``colour`` (ΔE), ``solid_fat`` (share of the butter that is solid, 1).
    """

    measure: Literal["rise", "core_c", "dough_c", "surface_c", "colour", "solid_fat"]
    value: float
    low: float | None = None
    high: float | None = None
    """Outside [low, high] the bench sheet says what to do."""


Wall = Literal["plastic", "steel", "glass", "none"]
Lid = Literal["lid", "film", "open"]
WALLS: tuple[Wall, ...] = get_args(Wall)
LIDS: tuple[Lid, ...] = get_args(Lid)


class Container(Frozen):
    """What dough stands in while it rises or chills, or how it is laid out: sizes inside, in mm.

    The depth of the dough follows from its floor; without a floor it is `depth_mm`, on a square (or round) plan.
    """

    shape: Literal["box", "round"] = "box"
    length_mm: float | None = Field(default=None, gt=0)
    """Length, or the diameter of a round one."""
    width_mm: float | None = Field(default=None, gt=0)
    depth_mm: float | None = Field(default=None, gt=0)
    """Depth of the dough, freshly mixed; where the floor is given, the depth of the walls."""
    wall: Wall = "plastic"
    """``none`` is dough wrapped in film, or on a tray."""
    cover: Lid = "film"
    pieces: int = Field(default=1, ge=1, le=200)
    """Equal parts that the dough is divided into, each in its own container or slab."""

    @model_validator(mode="after")
    def _sized(self) -> "Container":
        if self.length_mm is None and self.depth_mm is None:
            raise ValueError("A container needs its length and width, or the depth of the dough in it")
        if self.shape == "box" and (self.length_mm is None) != (self.width_mm is None):
            raise ValueError("A box has a length and a width")
        return self


class Step(Frozen):
    """One step. `air_c` is the air it happens in, or the oven's setting; None means the kitchen's own figure."""

    kind: StepKind
    name: str = ""
    minutes: Span | None = None
    target: Target | None = None
    ends_by: Literal["clock", "target"] = "clock"
    """Whether the baker stops by the clock or when the target is met."""
    where: Where = "room"
    air_c: float | None = None
    covered: bool = False
    oven_kind: Literal["convection", "static", "deck"] | None = None
    container: Container | None = None
    """What the dough stands in during a first rise or a stay in the fridge; None leaves it to a prior."""
    dough_c: float | None = None
    """Temperature of the dough as measured when mixing ended [°C]: it stands for what would be reckoned."""
    text: str = ""
    """The baker's own words, where the step was read from a text."""
    assumed: tuple[str, ...] = ()


class Procedure(Frozen):
    """The steps in order."""

    steps: tuple[Step, ...] = ()


class Product(Frozen):
    """What is stored and travels: a formula, its make-up and its procedure."""

    name: str
    formula: Formula
    makeup: MakeUp = Field(default_factory=MakeUp)
    procedure: Procedure = Field(default_factory=Procedure)
    notes: str = ""
    unread: tuple[str, ...] = ()
    """Lines of the pasted text that were not understood; kept until the baker deals with them."""
