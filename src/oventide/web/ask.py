"""What a handler is given, and what it gives back."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from pydantic import BaseModel

from oventide.services.bakes import Bakes
from oventide.services.devices import Device
from oventide.services.shelf import Shelf
from oventide.web.context import PageContext
from oventide.web.door import Caller, Door
from oventide.web.figures import Units
from oventide.web.forecasts import Forecasts


@dataclass(frozen=True)
class Ask:
    """One request, already read: no handler touches the network."""

    shelf: Shelf
    bakes: Bakes
    forecasts: Forecasts
    now: datetime
    units: Units
    path: Mapping[str, str]
    query: Mapping[str, str]
    form: Mapping[str, str]
    files: Mapping[str, tuple[str, bytes]]
    """Files that were sent, by field: name and content."""
    is_post: bool
    part: bool
    """True where htmx asks for a part of the page only."""
    back: str
    """The address of the page that a switch returns to."""
    body: bytes = b""
    """What was sent as JSON; empty where a form was sent."""
    language: str = "en"
    """The language of the bench on this device."""
    paper_language: str = "en"
    """The language that sheets are printed in, where the address names no other."""
    device: str = ""
    """The name of the device that asks, as it was given when it joined; empty on this machine itself."""
    caller: Caller = field(default_factory=Caller)
    """Who asks, and from where."""
    door: Door | None = None
    """What devices join by; None where the server answers to this machine only."""
    mark: str = ""
    """Where the journal stood before anything was read for this page: changes since then are told to it."""

    def number(self, name: str) -> int | None:
        """A whole number from the address, or None."""
        text = self.query.get(name, "")
        return int(text) if text.isascii() and text.isdigit() and len(text) <= 9 else None


@dataclass(frozen=True)
class Page:
    """A page to render by the template of the route's name; for htmx, the part of it that answers."""

    context: PageContext
    status: int = 200
    template: str | None = None
    """Another page's template, where a handler hands over to that page."""
    part: bool = False
    """Render only the part: the template with an underscore before its name."""


@dataclass(frozen=True)
class Redirect:
    """Go there (303)."""

    to: str
    cookies: Mapping[str, str] = field(default_factory=dict)
    joined: Device | None = None
    """Begin this device's session."""
    leaves: bool = False
    """End the session."""
    ended: str = ""
    """End what this device still listens to: it was taken out."""


@dataclass(frozen=True)
class Download:
    """A file."""

    content: bytes
    media_type: str
    file_name: str
    inline: bool = False


@dataclass(frozen=True)
class Data:
    """A model as JSON, for the scripts of our own pages."""

    content: BaseModel
    status: int = 200


Answer = Page | Redirect | Download | Data
