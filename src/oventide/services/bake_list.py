"""Bakes in a list, and alarms that are heard."""

from collections.abc import Callable
from datetime import datetime

from pydantic import AwareDatetime

from oventide.bench.model import Alarms, Entry
from oventide.errors import refuse
from oventide.formula.model import Frozen
from oventide.services.bakes import BakeRow, Bakes


class BakeLine(Frozen):
    """One bake in a list."""

    key: str
    name: str
    sign: int
    product_key: str
    """The formula's address on the shelf; empty where the formula came from a file."""
    product_revision: int
    kitchen_key: str
    day: str
    """The local day on which it was begun, YYYY-MM-DD."""
    started_at: AwareDatetime
    ready_at: AwareDatetime | None
    finished_at: AwareDatetime | None
    """None while it is under way."""


class BakeList(Frozen):
    """Bakes that were begun, the last one first."""

    total: int
    """How many there are with these words, on all pages."""
    bakes: tuple[BakeLine, ...]


def listed(bakes: Bakes, text: str, limit: int, offset: int) -> BakeList:
    """A page of bakes, by words."""
    return BakeList(
        total=bakes.count(text), bakes=tuple(_line(row) for row in bakes.page(text, limit=limit, offset=offset))
    )


def _line(row: BakeRow) -> BakeLine:
    return BakeLine(
        key=row.key,
        name=row.name,
        sign=row.sign,
        product_key=row.product_key,
        product_revision=row.product_revision,
        kitchen_key=row.kitchen_key,
        day=row.day,
        started_at=row.started_at,
        ready_at=row.ready_at,
        finished_at=row.finished_at,
    )


def hear(bakes: Bakes, alarm: str | None, now: datetime, device: str, uid: Callable[[], str]) -> Alarms:
    """Note that an alarm was heard, or every alarm that is due; answers with the alarms after that."""
    due = [each for each in bakes.alarms(now).alarms if not each.heard and (each.at <= now or each.id == alarm)]
    meant = [each for each in due if alarm is None or each.id == alarm]
    if alarm is not None and not meant:
        raise refuse("alarm", alarm, "No such alarm is calling.", "Look at the alarms: oventide log alarms.")
    for each in meant:
        entry = Entry(uid=uid(), deed="heard", at=now, device=device, of=each.id)
        bakes.note_entries(each.bake, (entry,), now)
    return bakes.alarms(now)
