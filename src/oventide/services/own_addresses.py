"""Which addresses and names this machine has on the local network. Nothing is sent to find out."""

import ipaddress
import re
import socket
import struct
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
FAR = ("10.255.255.255", "172.31.255.255", "192.168.255.255", "198.51.100.1")
"""Where a datagram would go to; the system names the address that it would come from, and none is sent."""
FAR_6 = ("fd00::ffff", "2001:db8::1")
NAME = re.compile(r"[a-z0-9]([a-z0-9-]*[a-z0-9])?(\.[a-z0-9]([a-z0-9-]*[a-z0-9])?)*")
_SIOCGIFADDR = 0x8915
_IF_INET6 = Path("/proc/net/if_inet6")


@dataclass(frozen=True)
class Reach:
    """How others on the network may call this machine."""

    addresses: tuple[str, ...]
    """As in a URL, without brackets; IPv4 first."""
    names: tuple[str, ...]
    """Lower case: the name for the local network (.local), then the bare one, then those given."""

    @property
    def first(self) -> str:
        """The one to show."""
        return self.addresses[0] if self.addresses else (self.names[0] if self.names else "")


def in_url(address: str) -> str:
    """An address as it stands in a URL.

    >>> in_url("192.168.1.4"), in_url("fd00::2"), in_url("[fd00::2]"), in_url("bakery.local")
    ('192.168.1.4', '[fd00::2]', '[fd00::2]', 'bakery.local')
    """
    return f"[{address}]" if ":" in address and not address.startswith("[") else address


def own_reach(given: tuple[str, ...] = (), host_name: str | None = None) -> Reach:
    """This machine's addresses, loopback and link-local left out, and its names."""
    found = {each for each in (*_by_route(), *_by_interface(), *_by_name()) if _counts(each)}
    ordered = sorted(found, key=lambda each: (each.version, not each.is_private, int(each)))
    bare = (host_name if host_name is not None else socket.gethostname()).partition(".")[0].lower()
    names = [f"{bare}.local", bare] if NAME.fullmatch(bare) and bare != "localhost" else []
    return Reach(
        addresses=tuple(str(each) for each in ordered),
        names=tuple(dict.fromkeys([*names, *(name.lower() for name in given)])),
    )


def _counts(address: Address) -> bool:
    if address.is_loopback or address.is_link_local or address.is_unspecified or address.is_multicast:
        return False
    # the wide-area addresses of IPv6 change from day to day; a certificate for them would not last
    return address.version == 4 or address.is_private


def _by_route() -> list[Address]:
    found: list[Address] = []
    for family, targets in ((socket.AF_INET, FAR), (socket.AF_INET6, FAR_6)):
        for target in targets:
            with suppress(OSError), socket.socket(family, socket.SOCK_DGRAM) as probe:
                probe.connect((target, 9))
                found.append(ipaddress.ip_address(probe.getsockname()[0].partition("%")[0]))
    return found


def _by_interface() -> list[Address]:
    """On Linux every interface can be asked, so that a network without a way out is found too."""
    found: list[Address] = []
    try:
        from fcntl import ioctl
    except ImportError:
        return found
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        for _, name in socket.if_nameindex():
            with suppress(OSError):
                answer = ioctl(probe.fileno(), _SIOCGIFADDR, struct.pack("256s", name.encode()[:15]))
                found.append(ipaddress.IPv4Address(answer[20:24]))
    with suppress(OSError):
        for line in _IF_INET6.read_text(encoding="ascii").splitlines():
            found.append(ipaddress.IPv6Address(bytes.fromhex(line.split()[0])))
    return found


def _by_name() -> list[Address]:
    with suppress(OSError):
        return [
            ipaddress.ip_address(str(row[4][0]).partition("%")[0])
            for row in socket.getaddrinfo(socket.gethostname(), None, type=socket.SOCK_STREAM)
        ]
    return []
