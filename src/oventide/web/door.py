"""Who is asking: this machine itself, a device that has joined, or a stranger.

Everything hangs on the address that the connection came from, on the name that it asked for, and on the session that
the device got when it joined. What a request says about addresses further away (X-Forwarded-For and the like) makes
nobody closer: where such a header is there, something stands between, and even the loopback needs a session.
"""

import hashlib
import hmac
import ipaddress
import time
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime
from http.cookies import CookieError, SimpleCookie

from itsdangerous import BadSignature, TimestampSigner
from starlette.datastructures import Headers
from starlette.types import Scope

from oventide.services.admitting import Attempts, Tokens
from oventide.services.certificates import Certificates
from oventide.services.devices import Device, Devices
from oventide.services.own_addresses import Reach, in_url, own_reach

PLAIN_COOKIE = "oventide_device"
SECURE_COOKIE = "__Host-oventide_device"
TOKEN_COOKIE = "oventide_token"
TOKEN_HEADER = "x-oventide"
TOKEN_FIELD = "oventide_token"
SESSION_S = 180 * 86_400
"""A session ends when its device was not seen for so long."""
RENEW_S = 7 * 86_400
BETWEEN = ("forwarded", "via", "x-forwarded-for", "x-forwarded-host", "x-forwarded-proto", "x-real-ip")
LOOPBACK_NAMES = ("127.0.0.1", "localhost", "[::1]")

Address = ipaddress.IPv4Address | ipaddress.IPv6Address


def address_of(text: str | None) -> Address | None:
    """An address without its zone; IPv4 inside IPv6 as IPv4; None where it is none."""
    try:
        known = ipaddress.ip_address((text or "").partition("%")[0])
    except ValueError:
        return None
    if isinstance(known, ipaddress.IPv6Address) and known.ipv4_mapped is not None:
        return known.ipv4_mapped
    return known


def host_name(host: str) -> str:
    """The name in a Host header, without its port.

    >>> host_name("127.0.0.1:8711"), host_name("[::1]:8711"), host_name("LOCALHOST")
    ('127.0.0.1', '[::1]', 'localhost')
    """
    lowered = host.strip().lower()
    if lowered.startswith("["):
        return lowered.partition("]")[0] + "]"
    return lowered.partition(":")[0]


def is_near(client: Address, own: Address | None) -> bool:
    """Whether an address is of a local network: private, link-local, or in the same small network as our own.

    >>> near = lambda one, own: is_near(ipaddress.ip_address(one), ipaddress.ip_address(own))
    >>> near("192.168.4.9", "192.168.4.2"), near("9.9.9.9", "192.168.4.2"), near("2600:5::7", "2600:5::2")
    (True, False, True)
    """
    if client.is_private or client.is_link_local:
        return True
    return own is not None and client.version == own.version and _same(client, own)


def _same(client: Address, own: Address) -> bool:
    return client in ipaddress.ip_network((own, 24 if own.version == 4 else 64), strict=False)


@dataclass(frozen=True)
class Caller:
    """Who sent a request, as the guard found it."""

    here: bool = True
    """From this machine itself, over the loopback."""
    device: Device | None = None
    address: str = ""
    host: str = ""
    secure: bool = False
    allowed: bool = True
    """May see the pages."""
    token: str = ""
    """What a change from a session must carry; empty where there is no session."""
    renew: bool = False

    @property
    def keeps_the_door(self) -> bool:
        """May show squares, and take devices out."""
        return self.here and self.allowed


@dataclass
class Door:
    """What `oventide serve --join` opens: devices, tries, tokens; and by which names it is called."""

    devices: Devices
    reach: Reach
    port: int
    names: tuple[str, ...] = ()
    always_ask: bool = False
    to_network: bool = True
    certificates: Certificates | None = None
    secure_port: int = 0
    passphrase_tries: Attempts = field(default_factory=Attempts)
    token_tries: Attempts = field(default_factory=Attempts)
    tokens: Tokens = field(default_factory=Tokens)

    def refresh(self, now: datetime) -> bool:
        """Look anew at this machine's addresses; True where the certificate was made anew for it."""
        self.reach = own_reach(self.names)
        return self.certificates is not None and self.certificates.renew(self.reach, now)

    def plain_address(self, path: str = "/", host: str = "") -> str:
        """Where a tablet finds the pages without a certificate."""
        return f"http://{in_url(host or self.reach.first)}:{self.port}{path}"

    def secure_address(self, path: str = "/", host: str = "") -> str:
        """Where a tablet finds them once it trusts the certificate; empty where there is none."""
        return f"https://{in_url(host or self.reach.first)}:{self.secure_port}{path}" if self.certificates else ""

    def session_for(self, device_id: str) -> str:
        """The signed text of a session's cookie."""
        return self._signer().sign(device_id).decode()

    def device_by_cookie(self, text: str) -> tuple[Device | None, bool]:
        """The device that this cookie was given to, if it still has access; and whether to sign it anew."""
        if not text or len(text) > 300:
            return None, False
        try:
            signed, at = self._signer().unsign(text, max_age=SESSION_S, return_timestamp=True)
        except BadSignature:  # a session that ended is one of these
            return None, False
        return self.devices.get(signed.decode("utf-8", "replace")), time.time() - at.timestamp() > RENEW_S

    def token_for(self, device_id: str) -> str:
        """What every change from this device's session must carry."""
        return hmac.new(self.devices.key.encode(), b"token:" + device_id.encode(), hashlib.sha256).hexdigest()

    def is_token(self, caller: Caller, given: str) -> bool:
        return hmac.compare_digest(caller.token.encode(), given.encode("utf-8", "replace"))

    def _signer(self) -> TimestampSigner:
        return TimestampSigner(self.devices.key, salt="oventide.session", digest_method=hashlib.sha256)


def cookies_of(headers: Headers) -> dict[str, str]:
    """Cookies by name; a header that cannot be read has none."""
    jar: SimpleCookie = SimpleCookie()
    try:
        jar.load(headers.get("cookie", ""))
    except CookieError:
        return {}
    return {name: each.value for name, each in jar.items()}


def caller_of(scope: Scope, headers: Headers, door: Door | None) -> Caller:
    """Who is asking."""
    client = address_of((scope.get("client") or ("", 0))[0])
    here = client is not None and client.is_loopback and not any(name in headers for name in BETWEEN)
    secure = scope.get("scheme") == "https"
    shown = str(client or "")
    host = headers.get("host", "")
    if door is None:
        # Served on the loopback only, and to programs that hand requests over without a network (no address).
        return Caller(here=True, address=shown, host=host, secure=secure, allowed=client is None or client.is_loopback)
    cookies = cookies_of(headers)
    device, renew = door.device_by_cookie(cookies.get(PLAIN_COOKIE, ""))
    if secure:
        over_tls, renew_tls = door.device_by_cookie(cookies.get(SECURE_COOKIE, ""))
        device, renew = (over_tls, renew_tls) if over_tls is not None else (device, device is not None)
    token = door.token_for(device.id) if device is not None else ""
    return Caller(
        here=here,
        device=device,
        address=shown,
        host=host,
        secure=secure,
        allowed=device is not None or (here and not door.always_ask),
        token=token,
        renew=renew or (device is not None and cookies.get(TOKEN_COOKIE) != token),
    )


def is_own_host(scope: Scope, host: str, hosts: Iterable[str], door: Door | None) -> bool:
    """Whether the Host header names this machine: a loopback name from the loopback; otherwise the very address that
    the connection came in on, or one of our names. A foreign name that was pointed at us gets nothing."""
    name = host_name(host)
    client = address_of((scope.get("client") or ("", 0))[0])
    if name in hosts:
        return door is None or client is None or client.is_loopback
    if door is None or not door.to_network:
        return False
    if name in door.reach.names:
        return True
    asked, own = address_of(name.strip("[]")), address_of((scope.get("server") or ("", 0))[0])
    return asked is not None and asked == own
