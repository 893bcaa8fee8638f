"""What stands at the door: tokens that let one device in, and the growing wait after wrong tries."""

import hashlib
import hmac
import ipaddress
import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass

TOKEN_S = 600
"""How long a square may be scanned."""
TOKENS = 20
FREE_TRIES = 3
FREE_TRIES_OF_ALL = 20
LONGEST_WAIT_S = 900.0
LONGEST_WAIT_OF_ALL_S = 60.0
FORGOTTEN_S = 3600.0
PLACES = 1000

Timer = Callable[[], float]


def place_of(address: str) -> str:
    """What counts as one place: an address; of IPv6 the network, since a device may take many addresses there.

    >>> place_of("192.168.1.7"), place_of("fd00::1:2:3:4"), place_of("::ffff:10.0.0.7")
    ('192.168.1.7', 'fd00::/64', '10.0.0.7')
    """
    try:
        known = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return address
    if isinstance(known, ipaddress.IPv6Address):
        if known.ipv4_mapped is not None:
            return str(known.ipv4_mapped)
        return str(ipaddress.ip_network((known, 64), strict=False))
    return str(known)


@dataclass
class _Tries:
    wrong: int = 0
    last: float = 0.0
    open_at: float = 0.0


class Attempts:
    """Wrong tries by place and in all. After a few, each next one has to wait twice as long as the one before.

    A try counts as wrong from its beginning until it has proved right, so that many at once gain nothing.
    """

    def __init__(self, timer: Timer = time.monotonic) -> None:
        self._timer = timer
        self._places: OrderedDict[str, _Tries] = OrderedDict()
        self._all = _Tries()
        self._lock = threading.Lock()

    def begin(self, address: str) -> float:
        """Begin a try from this address: 0 where it may be made, otherwise how long to wait [s]; it is not counted."""
        place, now = place_of(address), self._timer()
        with self._lock:
            here = self._places.setdefault(place, _Tries())
            self._places.move_to_end(place)
            while len(self._places) > PLACES:
                self._places.popitem(last=False)
            for tries in (here, self._all):
                if now - tries.last > FORGOTTEN_S:
                    tries.wrong, tries.open_at = 0, 0.0
            wait = max(here.open_at, self._all.open_at) - now
            if wait > 0:
                return wait
            self._count(here, now, FREE_TRIES, LONGEST_WAIT_S)
            self._count(self._all, now, FREE_TRIES_OF_ALL, LONGEST_WAIT_OF_ALL_S)
            return 0.0

    def was_right(self, address: str) -> None:
        """The try that was begun proved right: this place starts afresh, and it does not count in all."""
        with self._lock:
            self._places.pop(place_of(address), None)
            self._all.wrong = max(0, self._all.wrong - 1)
            if self._all.wrong < FREE_TRIES_OF_ALL:
                self._all.open_at = 0.0

    @staticmethod
    def _count(tries: _Tries, now: float, free: int, longest_s: float) -> None:
        tries.wrong += 1
        tries.last = now
        if tries.wrong >= free:
            tries.open_at = now + min(2.0 ** min(tries.wrong - free + 1, 30), longest_s)


class Tokens:
    """One-time tokens of the squares shown: each lets one device in, within ten minutes. Only hashes are kept."""

    def __init__(self, timer: Timer = time.monotonic) -> None:
        self._timer = timer
        self._open: OrderedDict[bytes, float] = OrderedDict()
        self._lock = threading.Lock()

    def make(self) -> str:
        """A new token; of many that were never used only the newest are kept."""
        token = secrets.token_urlsafe(18)
        with self._lock:
            self._open[self._hash(token)] = self._timer() + TOKEN_S
            while len(self._open) > TOKENS:
                self._open.popitem(last=False)
        return token

    def take(self, token: str) -> bool:
        """Whether this token is open; it is used up by that."""
        given, now, found = self._hash(token), self._timer(), None
        with self._lock:
            for kept, until in self._open.items():  # all are looked at, whether one has matched or not
                if hmac.compare_digest(kept, given) and until > now:
                    found = kept
            if found is not None:
                del self._open[found]
        return found is not None

    @staticmethod
    def _hash(token: str) -> bytes:
        return hashlib.sha256(token.encode("utf-8", "replace")).digest()
