"""Who has joined, since when, when last seen. The laptop takes one out or lets it in again; a device may leave."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated

from oventide.services.devices import Device
from oventide.web.ask import Answer, Ask, Page, Redirect
from oventide.web.context import PageContext

WAYS = {"square": "by the square", "passphrase": "by the passphrase"}


@dataclass(frozen=True)
class DeviceRow:
    """One device."""

    id: str
    name: str
    joined_at: datetime
    seen_at: datetime
    way: str
    out: bool
    is_this: bool


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    devices: Annotated[tuple[DeviceRow, ...], "Every device, seen last first; those taken out at the end"]
    keeps: Annotated[bool, "Whether devices may be taken out from here: on the laptop itself"]
    is_open: Annotated[bool, "Whether devices can join now"]


def handle(ask: Ask) -> Answer:
    """The list, or a change of it."""
    door = ask.door
    if door is None:
        return Page(Shown((), keeps=True, is_open=False))
    own = ask.caller.device
    if ask.is_post:
        asked = ask.form.get("out") or ask.form.get("in", "")
        is_own = own is not None and asked == own.id and "out" in ask.form
        if ask.caller.keeps_the_door or is_own:
            out = "out" in ask.form
            door.devices.take_out(asked, out)
            return Redirect("/join" if is_own else "/devices", leaves=is_own, ended=asked if out else "")
        return Redirect("/devices")
    rows = tuple(_row(each, own) for each in door.devices.all())
    if not ask.caller.keeps_the_door:
        rows = tuple(row for row in rows if not row.out)
    return Page(Shown(rows, keeps=ask.caller.keeps_the_door, is_open=door.to_network))


def _row(device: Device, own: Device | None) -> DeviceRow:
    return DeviceRow(
        id=device.id,
        name=device.name,
        joined_at=device.joined_at,
        seen_at=device.seen_at,
        way=WAYS[device.way],
        out=device.out,
        is_this=own is not None and own.id == device.id,
    )
