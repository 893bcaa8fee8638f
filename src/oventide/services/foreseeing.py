"""Foreseeing: the whole timeline as an ensemble with windows. The seed enters here."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from oventide.forecast.model import Forecast
from oventide.formula.limits import check
from oventide.intake import kitchen_toml
from oventide.kitchen.complete import complete
from oventide.kitchen.limits import check_oven_setting
from oventide.kitchen.model import Kitchen
from oventide.timeline.procedure import Product

if TYPE_CHECKING:
    from oventide.forecast.foresee import Ahead
    from oventide.timeline.run import Mark

MEMBERS = 200
SEED = 1


def read_kitchen(text: str, name: str) -> Kitchen:
    """A kitchen from its TOML; what it leaves open is a prior, named in `assumed`. `name` is only for messages.

    >>> read_kitchen('room = "18-20-22"', "kitchen.toml").room.high
    22.0
    """
    return kitchen_toml.read(text)


def usual_kitchen() -> Kitchen:
    """A kitchen of which nothing is known: priors only, all of them named in `assumed`."""
    return complete({})


def foresee(
    product: Product,
    kitchen: Kitchen,
    ready_by: str | None = None,
    seed: int = SEED,
    members: int = MEMBERS,
    progress: Callable[[float], None] | None = None,
    seen: "Callable[[Ahead, dict[int, Mark]], None] | None" = None,
) -> Forecast:
    """The forecast. `ready_by` is HH:MM, 24 h; without it the clock counts from the first step.

    `progress` is called with the share done, 0 to 1; `seen` with the run itself, for whoever goes on from it.
    """
    # compiled kernels are loaded only where they are used
    from oventide.forecast.foresee import read_off

    ahead, marks = look_ahead(product, kitchen, ready_by, seed, members, progress)
    if seen is not None:
        seen(ahead, marks)
    return read_off(ahead)


def look_ahead(
    product: Product,
    kitchen: Kitchen,
    ready_by: str | None = None,
    seed: int = SEED,
    members: int = MEMBERS,
    progress: Callable[[float], None] | None = None,
) -> "tuple[Ahead, dict[int, Mark]]":
    """The run that a forecast is read off, and the dough as each step found it, to go on from."""
    check(product.formula)
    for number, step in enumerate(product.procedure.steps, start=1):
        if step.kind == "bake" and step.air_c is not None:
            check_oven_setting(step.air_c, f"step.{number}.air")
    from oventide.forecast.foresee import look_ahead as run
    from oventide.timeline.batch import batch_of

    minute = None
    if ready_by is not None:
        hour, rest = (int(part) for part in ready_by.split(":"))
        minute = 60.0 * hour + rest
    marks: dict[int, Mark] = {}
    ahead = run(
        batch_of(product),
        kitchen,
        product=product.name,
        ready_by_min=minute,
        members=members,
        seed=seed,
        progress=progress,
        marks=marks,
    )
    return ahead, marks
