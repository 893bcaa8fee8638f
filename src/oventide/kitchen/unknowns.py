"""The kitchen's figures as parameters, so that an ensemble can be drawn from what the baker knows of them."""

from oventide.evidence.parameters import Parameter
from oventide.kitchen.model import Kitchen
from oventide.units.estimate import Estimate

_UNITS = {
    "room": ("°C", "the room's air"),
    "fridge": ("°C", "the fridge's air"),
    "proof": ("°C", "the air where the dough proofs"),
    "tap_water": ("°C", "the tap water"),
    "flour": ("°C", "the flour"),
    "oven_offset": ("K", "the oven's true heat against its setting"),
    "friction": ("K/min", "the mixer's friction"),
}


def unknowns(kitchen: Kitchen) -> list[Parameter]:
    """Every estimate of a kitchen as a parameter named like its field; low and high are 5 and 95 %.

    A figure without spread is fixed. Where no prover was given there is no ``proof``: the room's draw holds.
    Where flour stands in the room (same estimate as the room) there is no ``flour`` either, so that both
    move together.
    """
    found = []
    for name, (unit, what) in _UNITS.items():
        estimate: Estimate | None = getattr(kitchen, name)
        if estimate is None or (name == "flour" and _same_range(estimate, kitchen.room)):
            continue
        positive = name == "friction" and estimate.low > 0
        found.append(
            Parameter(
                name=name,
                value=estimate.likely,
                unit=unit,
                what=what,
                grade=estimate.grade,
                low=estimate.low,
                high=estimate.high,
                source=estimate.source,
                spread="fixed" if estimate.is_certain else "lognormal" if positive else "normal",
            )
        )
    return found


def _same_range(one: Estimate, other: Estimate) -> bool:
    return (one.low, one.likely, one.high) == (other.low, other.likely, other.high)
