"""What a formula is: components, and lines as the baker wrote them and as they were understood."""

from typing import Literal, get_args

from pydantic import BaseModel, ConfigDict, Field

from oventide.units.estimate import Estimate
from oventide.units.measure import Country

ComponentKind = Literal["dough", "preferment", "spread", "filling", "glaze", "topping", "wash", "other"]
COMPONENT_KINDS: tuple[ComponentKind, ...] = get_args(ComponentKind)

EggClass = Literal["us_medium", "us_large", "us_extra_large", "us_jumbo", "eu_s", "eu_m", "eu_l", "eu_xl"]
EGG_CLASSES: tuple[EggClass, ...] = get_args(EggClass)


class Frozen(BaseModel):
    """Base of everything that a file or a page carries: unknown keys are refused, values do not change."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Measures(Frozen):
    """Which spoons, cups and eggs the formula's author means."""

    spoons: Country = "metric"
    eggs: EggClass = "eu_m"


class Line(Frozen):
    """One ingredient line.

    `text` is the line as written and never changes. `ingredient` is the pantry id, None where no ingredient was
    recognised. `amount_high` is set where the baker wrote a range (2-3 tbsp). `grams` is None where the weight
    is not known; it is never zero for "unknown".
    """

    text: str
    name: str
    amount: float | None = None
    amount_high: float | None = None
    unit: str | None = None
    ingredient: str | None = None
    preparation: str = ""
    grams: Estimate | None = None
    assumed: tuple[str, ...] = ()
    offered: tuple[str, ...] = ()
    """Pantry ids that are near what was typed, for the baker to choose from; never chosen silently."""


class Component(Frozen):
    """A part of the formula that is weighed and made on its own."""

    kind: ComponentKind
    name: str
    lines: tuple[Line, ...] = ()


class Formula(Frozen):
    """Everything that is weighed."""

    name: str
    components: tuple[Component, ...] = ()
    measures: Measures = Field(default_factory=Measures)

    def of_kind(self, *kinds: ComponentKind) -> tuple[Component, ...]:
        """Components of the kinds given, in the order of the formula."""
        return tuple(component for component in self.components if component.kind in kinds)
