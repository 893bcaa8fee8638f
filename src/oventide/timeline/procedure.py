"""The steps of a bake: what is done, where, until when. Data only; nothing here advances time."""

from typing import Literal, get_args

from pydantic import Field

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
