"""What a kitchen is. Every figure is an estimate: given by the baker, or a prior that is shown as assumed."""

from typing import Literal, get_args

from pydantic import Field

from oventide.formula.model import Frozen
from oventide.units.estimate import Estimate

OvenKind = Literal["convection", "static", "deck"]
MixerKind = Literal["hand", "planetary", "spiral"]
BenchKind = Literal["wood", "steel", "granite", "plastic"]
TinMaterial = Literal["light_metal", "dark_metal", "glass", "ceramic", "silicone", "paper"]

OVEN_KINDS: tuple[OvenKind, ...] = get_args(OvenKind)
MIXER_KINDS: tuple[MixerKind, ...] = get_args(MixerKind)
BENCH_KINDS: tuple[BenchKind, ...] = get_args(BenchKind)
TIN_MATERIALS: tuple[TinMaterial, ...] = get_args(TinMaterial)


class RoomHour(Frozen):
    """Room temperature from an hour of the day on [°C]."""

    hour: float = Field(ge=0, lt=24)
    celsius: float


class Kitchen(Frozen):
    """A kitchen. Temperatures in °C, altitude in m, steps in g. Priors: evidence/data/kitchen.toml."""

    name: str = "kitchen"
    room: Estimate
    room_by_hour: tuple[RoomHour, ...] = ()
    fridge: Estimate
    fridge_kind: Literal["still", "fan"] = "still"
    proof: Estimate | None = None
    """Air where the dough proofs, if it is not the room."""
    tap_water: Estimate
    flour: Estimate
    oven_kind: OvenKind = "convection"
    oven_offset: Estimate
    """True oven temperature less the setting [°C step]."""
    mixer: MixerKind = "planetary"
    friction: Estimate
    """Temperature rise of the dough by mixing [°C per minute of mixing]."""
    bench: BenchKind = "wood"
    tin: TinMaterial = "light_metal"
    altitude_m: float = 0.0
    scale_step_g: float = 1.0
    fine_step_g: float = 0.1
    fine_below_g: float = 20.0
    assumed: tuple[str, ...] = ()
    """Sentences that say which figures the baker did not give."""
