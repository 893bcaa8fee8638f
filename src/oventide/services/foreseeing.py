"""Foreseeing: the whole timeline as an ensemble with windows. The seed enters here."""

from collections.abc import Callable

from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.timeline.procedure import Product

MEMBERS = 256
SEED = 1


def read_kitchen(text: str, name: str) -> Kitchen:
    """A kitchen from its TOML; what it leaves open is a prior, named in `assumed`."""
    raise NotImplementedError


def usual_kitchen() -> Kitchen:
    """A kitchen of which nothing is known: priors only, all of them named in `assumed`."""
    raise NotImplementedError


def foresee(
    product: Product,
    kitchen: Kitchen,
    ready_by: str | None = None,
    seed: int = SEED,
    members: int = MEMBERS,
    progress: Callable[[float], None] | None = None,
) -> Forecast:
    """The forecast. `ready_by` is HH:MM, 24 h; without it the clock counts from the first step.

    `progress` is called with the share done, 0 to 1.
    """
    raise NotImplementedError
