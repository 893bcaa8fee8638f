"""What the pages of paper are asked for: which sheet, on which paper, in which language and units; and the sheet."""

from collections.abc import Mapping
from urllib.parse import urlencode

from oventide.press.model import SHEET_KINDS, Paper, SheetKind
from oventide.press.papers import AnySheet
from oventide.services import papers
from oventide.services.papers import Order
from oventide.services.sheet_voice import Voice
from oventide.web.ask import Ask
from oventide.web.plan import Plan, plan_of, question_of
from oventide.words.catalogue import LANGUAGES
from oventide.words.speaker import Speaker

KINDS: tuple[tuple[SheetKind, str], ...] = (
    ("bench", "Bench sheet"),
    ("wall", "Wall sheet"),
    ("formula", "Formula sheet"),
    ("handout", "Handout with kitchen card"),
    ("ruler", "Ruler, 1 : 1"),
)
PAPER_NAMES: tuple[tuple[Paper, str], ...] = (("a4", "A4"), ("letter", "Letter"))
UNIT_NAMES = (("c", "g, °C"), ("f", "g, °F"), ("oz", "g and oz, °C"), ("oz-f", "g and oz, °F"))


def order_of(ask: Ask) -> Order:
    """The order in the address; what it does not say follows this device's own language and units."""
    kind = ask.query.get("kind", "bench")
    language = ask.query.get("language", "")
    units = ask.query.get("units", "")
    if units not in dict(UNIT_NAMES):
        units = "-".join(part for part in ("oz" if ask.units.mass == "oz" else "", ask.units.temperature) if part)
    return Order(
        kind=kind if kind in SHEET_KINDS else "bench",
        paper="letter" if ask.query.get("paper") == "letter" else "a4",
        voice=Voice(
            Speaker(language if language in LANGUAGES else ask.paper_language),
            fahrenheit=units.endswith("f"),
            ounces=units.startswith("oz"),
        ),
    )


def units_of(order: Order) -> str:
    """The units of an order, as the form names them."""
    if order.voice.ounces:
        return "oz-f" if order.voice.fahrenheit else "oz"
    return "f" if order.voice.fahrenheit else "c"


def values_of(order: Order) -> Mapping[str, str]:
    """An order as the form shows it."""
    return {
        "kind": order.kind,
        "paper": order.paper,
        "language": order.voice.speaker.language,
        "units": units_of(order),
    }


def order_tail(order: Order) -> str:
    """An order as the end of an address, after the plan's own."""
    return "&" + urlencode(values_of(order))


def planned(ask: Ask, order: Order, waits: bool = False) -> Plan:
    """The plan of the bake where the sheet speaks of times; where it does not, nothing is foreseen for it."""
    if order.kind in papers.NEEDS_FORECAST:
        return plan_of(ask, patience_s=None) if waits else plan_of(ask)
    return Plan(**vars(question_of(ask)))


def sheet_of(ask: Ask, plan: Plan, order: Order) -> AnySheet:
    """The sheet for a plan; without a forecast it stands with the formula's own minutes."""
    return papers.sheet_for(
        order,
        plan.saved.content,
        plan.kitchen,
        plan.forecast,
        scaling=plan.size,
        ready_by=plan.ready_by,
        revision=f"revision {plan.saved.number}",
        printed=ask.now,
    )
