"""Devices that have joined, the passphrase's hash and the key that signs their sessions: one file beside the journal.

Only the user who serves may read the file (mode 600). It is written whole or not at all. Taking a device out keeps
its line, so that it can be let in again; its session counts for nothing meanwhile.
"""

import json
import os
import secrets
import threading
from collections.abc import Callable
from dataclasses import asdict, dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Literal

from oventide.errors import refuse
from oventide.journal.place import default_url, folder_of
from oventide.services import passphrase

FILE_NAME = "devices.json"
MOST = 60
NAME_LIMIT = 40
SEEN_KEPT_EVERY = timedelta(minutes=1)
Way = Literal["square", "passphrase"]


@dataclass(frozen=True)
class Device:
    """One tablet, phone or laptop that has joined."""

    id: str
    name: str
    joined_at: datetime
    seen_at: datetime
    way: Way
    out: bool = False
    """Taken out: it stays listed, and has no access."""


@dataclass
class _Kept:
    key: str = field(default_factory=lambda: secrets.token_hex(32))
    passphrase: str = ""
    devices: dict[str, Device] = field(default_factory=dict)


def private_file(path: Path, content: bytes) -> None:
    """Write a file that only its owner may read, whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def device_name(text: str) -> str:
    """A name to know a device by; refused where it is empty or too long.

    >>> device_name("  Tablet   by the oven ")
    'Tablet by the oven'
    """
    name = " ".join("".join(each if each.isprintable() else " " for each in text).split())
    if not name:
        raise refuse("name", "", "A device needs a name, so that entries can say where they were made.",
                     "Type what you call it: tablet by the oven, Mara's phone.")  # fmt: skip
    if len(name) > NAME_LIMIT:
        raise refuse("name", name, f"A name has at most {NAME_LIMIT} letters here.", "Take a shorter one.")
    return name


def folder_beside(journal_url: str | None) -> Path | None:
    """The journal's folder; without an address, the user's own. None where the journal is in memory only."""
    return folder_of(journal_url or default_url())


class Devices:
    """The file and what is in it. Without a folder (a journal in memory) nothing is kept."""

    def __init__(self, folder: Path | None, clock: Callable[[], datetime]) -> None:
        self._path = None if folder is None else folder / FILE_NAME
        self._clock = clock
        self._lock = threading.Lock()
        self._kept = self._read()

    @property
    def key(self) -> str:
        """What sessions are signed with."""
        return self._kept.key

    @property
    def has_passphrase(self) -> bool:
        return bool(self._kept.passphrase)

    def set_passphrase(self, text: str) -> None:
        """Keep the hash of a new passphrase. Devices that have joined stay."""
        with self._lock:
            self._kept.passphrase = passphrase.hashed(text)
            self._write()

    def is_passphrase(self, text: str) -> bool:
        return self.has_passphrase and passphrase.is_right(text, self._kept.passphrase)

    def all(self) -> tuple[Device, ...]:
        """Every device, seen last first; those taken out at the end."""
        listed = sorted(self._kept.devices.values(), key=lambda each: each.seen_at, reverse=True)
        return tuple(sorted(listed, key=lambda each: each.out))

    def get(self, device_id: str) -> Device | None:
        """A device that has access."""
        device = self._kept.devices.get(device_id)
        return None if device is None or device.out else device

    def add(self, name: str, way: Way) -> Device:
        """Let a device in. Two of one name are told apart by a number."""
        wanted = device_name(name)
        with self._lock:
            if sum(not each.out for each in self._kept.devices.values()) >= MOST:
                raise refuse("name", name, f"{MOST} devices have joined, more are not kept.",
                             "Take one out on the laptop that is no longer used.")  # fmt: skip
            taken = {each.name for each in self._kept.devices.values() if not each.out}
            free, count = wanted, 1
            while free in taken:
                count += 1
                free = f"{wanted[: NAME_LIMIT - 3]} {count}"
            now = self._clock()
            device = Device(id=secrets.token_urlsafe(16), name=free, joined_at=now, seen_at=now, way=way)
            self._kept.devices[device.id] = device
            gone = sorted((each for each in self._kept.devices.values() if each.out), key=lambda each: each.seen_at)
            for old in gone[: max(0, len(gone) - MOST)]:
                del self._kept.devices[old.id]
            self._write()
            return device

    def is_due(self, device: Device) -> bool:
        """Whether it is time to keep again when it was seen."""
        return self._clock() - device.seen_at >= SEEN_KEPT_EVERY

    def seen(self, device_id: str) -> None:
        """It asked for something just now; kept to the minute."""
        now = self._clock()
        with self._lock:
            device = self._kept.devices.get(device_id)
            if device is not None and self.is_due(device):
                self._kept.devices[device_id] = replace(device, seen_at=now)
                self._write()

    def take_out(self, device_id: str, out: bool = True) -> Device | None:
        """Take a device out, or let it in again."""
        with self._lock:
            device = self._kept.devices.get(device_id)
            if device is None:
                return None
            self._kept.devices[device_id] = replace(device, out=out)
            self._write()
            return self._kept.devices[device_id]

    def _read(self) -> _Kept:
        if self._path is None or not self._path.exists():
            return _Kept()
        try:
            if os.name == "posix" and self._path.stat().st_mode & 0o077:
                self._path.chmod(0o600)
            raw = json.loads(self._path.read_text(encoding="utf-8"))
            devices = [
                Device(
                    **{
                        **each,
                        "joined_at": datetime.fromisoformat(each["joined_at"]),
                        "seen_at": datetime.fromisoformat(each["seen_at"]),
                    }
                )
                for each in raw["devices"]
            ]
            if len(raw["key"]) < 64:
                raise ValueError("key")
            return _Kept(raw["key"], raw["passphrase"], {each.id: each for each in devices})
        except (OSError, ValueError, KeyError, TypeError) as trouble:
            raise refuse("devices", FILE_NAME, "The list of devices that have joined cannot be read.",
                         "Rename that file beside the journal: then a new list is begun, and tablets join anew."
                         ) from trouble  # fmt: skip

    def _write(self) -> None:
        if self._path is None:
            return
        raw = {
            "key": self._kept.key,
            "passphrase": self._kept.passphrase,
            "devices": [
                {**asdict(each), "joined_at": each.joined_at.isoformat(), "seen_at": each.seen_at.isoformat()}
                for each in self._kept.devices.values()
            ],
        }
        try:
            private_file(self._path, json.dumps(raw, indent=1).encode())
        except OSError as trouble:
            raise refuse("devices", FILE_NAME, f"The list of devices cannot be written ({trouble.strerror}).",
                         "See that the disk is not full, and that you may write beside the journal."
                         ) from trouble  # fmt: skip
