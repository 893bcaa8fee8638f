"""What the tide and sheet pages are asked for: formula, kitchen, ready-by time; and the forecast of it."""

from collections.abc import Mapping
from dataclasses import dataclass

from oventide.errors import Complaint, Refusal
from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.services import asking
from oventide.services.shelf import Saved
from oventide.timeline.procedure import Product
from oventide.web.ask import Ask

MEMBERS = 256
SEED = 1
USUAL = "usual"


@dataclass(frozen=True)
class Plan:
    """One question, and its answer where there is one."""

    saved: Saved[Product]
    kitchen_key: str
    kitchen: Kitchen
    kitchens: tuple[tuple[str, str], ...]
    ready_by: str | None
    forecast: Forecast | None
    values: Mapping[str, str]
    complaints: tuple[Complaint, ...]

    @property
    def tail(self) -> str:
        """The question as the end of an address."""
        parts = [f"kitchen={self.kitchen_key}"]
        if self.ready_by:
            parts.append(f"ready_by={self.ready_by.replace(':', '%3A')}")
        if not self.saved.is_newest:
            parts.append(f"revision={self.saved.number}")
        return "?" + "&".join(parts)


def plan_of(ask: Ask) -> Plan:
    """Read the question from the address and work it out; complaints name the form's fields."""
    from oventide.services import foreseeing

    saved = ask.shelf.product(ask.path["key"], ask.number("revision"))
    on_shelf = ask.shelf.kitchens()
    kitchens = (*((k.key, k.content.name) for k in on_shelf), (USUAL, "a kitchen of which nothing is known"))
    asked = ask.query.get("kitchen", "")
    key = asked if asked in dict(kitchens) else kitchens[0][0]
    kitchen = next((k.content for k in on_shelf if k.key == key), None) or foreseeing.usual_kitchen()
    complaints: list[Complaint] = []
    ready_by = None
    try:
        ready_by = asking.clock(ask.query.get("ready_by", ""))
    except Refusal as refusal:
        complaints += refusal.complaints
    forecast = None
    if not complaints:
        try:
            forecast = ask.forecasts.of(saved.content, kitchen, ready_by, SEED, MEMBERS)
        except Refusal as refusal:
            complaints += refusal.complaints
    return Plan(
        saved, key, kitchen, kitchens, ready_by, forecast,
        {"kitchen": key, "ready_by": ask.query.get("ready_by", "")}, tuple(complaints),
    )  # fmt: skip
