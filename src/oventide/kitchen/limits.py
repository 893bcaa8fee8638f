"""What a kitchen can be: figures outside these limits are refused, with the reason and what to do."""

import math

from oventide.errors import Complaint, Refusal
from oventide.evidence.parameters import load
from oventide.units.estimate import Estimate


def outside(field: str, quantity: str, value: float) -> Complaint | None:
    """A complaint where a value lies outside the limits of `quantity` (``limits.<quantity>`` in kitchen.toml)."""
    limit = load("kitchen")[f"limits.{quantity}"]
    if math.isfinite(value) and limit.low <= value <= limit.high:
        return None
    return Complaint(
        field,
        f"{value:g} {limit.unit}",
        f"It must lie between {limit.low:g} and {limit.high:g} {limit.unit} ({limit.what[0].lower()}{limit.what[1:]}).",
        "Check the figure and its unit, °C or °F.",
    )


def estimate_outside(field: str, quantity: str, estimate: Estimate) -> Complaint | None:
    """The same for both ends of an estimate."""
    for value in (estimate.low, estimate.high, estimate.likely):
        complaint = outside(field, quantity, value)
        if complaint:
            return complaint
    return None


def check_oven_setting(celsius: float, field: str = "oven") -> None:
    """Refuse an oven setting at which no bun is baked [°C].

    >>> check_oven_setting(170)
    >>> check_oven_setting(900)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    oventide.errors.Refusal: oven (900 °C): The setting must lie between 80 and 300 °C, ...
    """
    limit = load("kitchen")["limits.oven_setting"]
    if math.isfinite(celsius) and limit.low <= celsius <= limit.high:
        return
    fahrenheit = (celsius - 32) / 1.8
    hint = f" If {celsius:g} is in °F, write {fahrenheit:.0f} °C." if limit.low <= fahrenheit <= limit.high else ""
    raise Refusal(
        Complaint(
            field,
            f"{celsius:g} °C",
            f"The setting must lie between {limit.low:g} and {limit.high:g} °C, where buns are baked.",
            "Give the setting of the oven in °C." + hint,
        )
    )
