"""Templates: strict (a name that a context does not hold is an error), escaped, with the figures' filters."""

from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from oventide import __version__
from oventide.web import figures, masthead
from oventide.web.ask import Ask, Page
from oventide.web.assets import asset_address
from oventide.web.session import with_token
from oventide.words.catalogue import LANGUAGES
from oventide.words.speaker import Speaker

TEMPLATES = Path(__file__).parent / "templates"

FRAME = (
    "units",
    "temp",
    "mass",
    "quantity",
    "spread",
    "pct",
    "mins",
    "plain",
    "when",
    "asset",
    "version",
    "back",
    "mark",
    "device",
    "joins",
    "say",
    "language",
    "languages",
    "masthead",
)
"""Names that every template may use besides its own context."""


def when(moment: datetime) -> str:
    """A date and time as people read it.

    >>> when(datetime(2026, 3, 5, 4, 12))
    'Thu 5 Mar 2026, 04:12'
    """
    return f"{moment:%a} {moment.day} {moment:%b %Y, %H:%M}"


def make_environment() -> Environment:
    """The template environment of the pages."""
    return Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def frame_of(ask: Ask) -> dict[str, Any]:
    """What every page has: the units switched to, and figures shown by them."""
    units = ask.units
    return {
        "units": units,
        "temp": partial(figures.temperature, units=units),
        "mass": partial(figures.mass, units=units),
        "quantity": partial(figures.quantity, units=units),
        "spread": partial(figures.spread, units=units),
        "pct": figures.percent,
        "mins": figures.minutes,
        "plain": figures.plain,
        "when": when,
        "asset": asset_address,
        "version": __version__,
        "back": ask.back,
        "mark": ask.mark,
        "device": ask.device,
        "joins": ask.door is not None,
        "say": Speaker(ask.language).say,
        "language": ask.language,
        "languages": LANGUAGES,
        "masthead": masthead,
    }


def render(environment: Environment, name: str, page: Page, ask: Ask) -> str:
    """The page, or the part of it that was asked for."""
    name = page.template or name
    template = environment.get_template(f"_{name}.html" if page.part else f"{name}.html")
    return with_token(template.render({**frame_of(ask), **page.context.by_name()}), ask.caller.token)
