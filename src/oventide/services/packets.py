"""Packets in the pantry: saved by revision, one row for each ingredient, never overwritten."""

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal, InvalidOperation

from oventide.errors import Complaint, Refusal, refuse
from oventide.pantry.ingredients import ingredient, known
from oventide.pantry.own import Pantry
from oventide.pantry.packet import PACK_UNITS, PRINTED, Packet
from oventide.services.shelf import NotOnShelf, Saved, Shelf

FIGURES = {"energy": 900.0}
"""The most that 100 g may hold, where that is not 100 g."""


def newest_packets(shelf: Shelf) -> tuple[Saved[Packet], ...]:
    """The newest packet of every ingredient that one was bought of, last saved first."""
    return shelf.newest_of("packet", Packet)


def packet_history(shelf: Shelf, ingredient_id: str) -> tuple[Saved[Packet], ...]:
    """Every packet of an ingredient that was written down, newest first; empty where there is none."""
    try:
        return shelf.history_of("packet", Packet, ingredient_id)
    except NotOnShelf:
        return ()


def save_packet(shelf: Shelf, packet: Packet, after: int, note: str = "") -> Saved[Packet]:
    """Save a packet as a new revision; refused where another one was saved after revision `after`."""
    if not known(packet.ingredient):
        raise NotOnShelf("packet", packet.ingredient)
    name = ingredient(packet.ingredient).name
    return shelf.save_as("packet", Packet, packet.ingredient, name, packet, note, after)


def pantry_of(shelf: Shelf) -> Pantry:
    """The pantry with the baker's packets before the built-in figures, where they print their own."""
    return Pantry(
        own=tuple(
            saved.content.as_own(ingredient(saved.content.ingredient).name)
            for saved in newest_packets(shelf)
            if saved.content.prints_composition and known(saved.content.ingredient)
        )
    )


def decimal_of(text: str, field: str) -> Decimal | None:
    """A decimal number as people write it, with point or comma; None where nothing was written.

    >>> decimal_of("2,49", "price"), decimal_of("1 250.5", "price"), decimal_of("", "price")
    (Decimal('2.49'), Decimal('1250.5'), None)
    """
    bare = re.sub(r"[\s'’]", "", text)
    if not bare:
        return None
    if bare.count(",") == 1 and "." not in bare:
        bare = bare.replace(",", ".")
    if not re.fullmatch(r"\d{1,7}(\.\d{1,4})?", bare):
        raise refuse(field, text, "This is not an amount.", "Write a number such as 2.49, with at most four decimals.")
    try:
        return Decimal(bare)
    except InvalidOperation as trouble:
        raise refuse(field, text, "This is not an amount.", "Write a number such as 2.49.") from trouble


def _figure(text: str, field: str) -> float | None:
    value = decimal_of(text, field)
    most = FIGURES.get(field, 100.0)
    if value is not None and value > Decimal(str(most)):
        raise refuse(field, text, f"100 g cannot hold more than {most:g} of it.", "Copy the figure per 100 g.")
    return None if value is None else float(value)


def packet_from(ingredient_id: str, texts: Mapping[str, str]) -> Packet:
    """A packet from what was typed. Raises Refusal with every complaint, by field."""
    complaints: list[Complaint] = []
    values: dict[str, object] = {"ingredient": ingredient_id}

    def take(name: str, read: Callable[[str, str], object]) -> None:
        try:
            values[name] = read(texts.get(name, "").strip(), name)
        except Refusal as refusal:
            complaints.extend(refusal.complaints)

    for name in ("price", "pack"):
        take(name, decimal_of)
    for name in PRINTED:
        take(name, _figure)
    take("currency", _currency)
    take("best_before", _day)
    for name, most in (("brand", 120), ("lot", 120), ("shop", 120), ("allergens", 400), ("notes", 2000)):
        text = texts.get(name, "").strip()
        if len(text) > most:
            complaints.append(Complaint(name, text[:40], f"This is longer than {most} letters.", "Shorten it."))
        values[name] = text[:most]
    unit = texts.get("unit", "g")
    values["unit"] = unit if unit in PACK_UNITS else "g"
    if values.get("pack") == 0:
        complaints.append(Complaint("pack", "0", "A pack holds something.", "Write what one pack holds."))
    if values.get("price") is not None and not values.get("currency") and not texts.get("currency", "").strip():
        complaints.append(Complaint("currency", "", "A price is in some currency.", "Write EUR, GBP, USD …"))
    if complaints:
        raise Refusal(complaints)
    return Packet.model_validate(values)


def _currency(text: str, field: str) -> str:
    code = {"€": "EUR", "£": "GBP", "$": "USD", "¥": "JPY"}.get(text, text).upper()
    if code and not re.fullmatch(r"[A-Z]{3}", code):
        raise refuse(field, text, "A currency is written as three letters.", "Write EUR, GBP, USD, SEK …")
    return code


def _day(text: str, field: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError as trouble:
        raise refuse(field, text, "This is not a day.", "Write it as 2026-03-31.") from trouble
