"""How a tablet joins: on the laptop a square to scan; on the tablet a form for its name; afterwards what it may add."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Annotated, Literal

import segno

from oventide.errors import Complaint, Refusal
from oventide.services.admitting import TOKEN_S
from oventide.services.devices import Device, device_name
from oventide.web.ask import Answer, Ask, Download, Page, Redirect
from oventide.web.context import Marks, PageContext, marks_of
from oventide.web.door import Door, host_name

Face = Literal["closed", "laptop", "stranger", "joined"]
CERTIFICATE_NAME = "oventide-certificate.crt"
CERTIFICATE_TYPE = "application/x-x509-ca-cert"
NOT_LET_IN = {
    "token": "This square was used already, or is older than ten minutes. Show a new one on the laptop and scan it.",
    "passphrase": "That is not the passphrase. It stands in the laptop's window where Oventide was started.",
}


@dataclass(frozen=True)
class CertificateShown:
    """What a tablet is offered, in words."""

    fingerprint: str
    ends_at: datetime
    addresses: tuple[str, ...]
    """Where the pages are once it is trusted."""
    secure_now: bool
    """This very page came over HTTPS."""


@dataclass(frozen=True)
class Shown(PageContext):
    """What the page shows."""

    face: Annotated[Face, "Which of the four faces of the page"]
    square: Annotated[str, "The square to scan, as SVG; empty where none is shown"] = ""
    address: Annotated[str, "The address in the square, without its token"] = ""
    others: Annotated[tuple[str, ...], "Further addresses of this machine"] = ()
    until: Annotated[datetime | None, "When the square ends"] = None
    has_passphrase: Annotated[bool, "Whether a passphrase lets devices in"] = False
    joined: Annotated[int, "How many devices have joined"] = 0
    certificate: Annotated[CertificateShown | None, "The certificate that is offered, if there is one"] = None
    token: Annotated[str, "The token that the square brought; empty where the passphrase is asked for"] = ""
    to: Annotated[str, "Where to go after joining"] = "/"
    values: Annotated[dict[str, str], "What was typed"] = field(default_factory=dict)
    marks: Annotated[Marks, "Complaints by field"] = field(default_factory=dict)
    amiss: Annotated[tuple[Complaint, ...], "Complaints of the form that was sent"] = ()
    named: Annotated[str, "The name of this device"] = ""


def handle(ask: Ask) -> Answer:
    """The face for who asks; or a device joins."""
    door = ask.door
    if door is None:
        return Page(Shown("closed"))
    if ask.is_post:
        return _join(ask, door)
    if ask.caller.keeps_the_door and door.to_network:
        return Page(_laptop(ask, door))
    if ask.caller.device is not None:
        return Page(_joined(ask, door, ask.caller.device))
    return Page(_stranger(ask, door, ask.query.get("token", ""), ask.query.get("to", "/")))


def certificate(ask: Ask) -> Answer:
    """The authority's certificate as a file."""
    if ask.door is None or ask.door.certificates is None:
        return Page(Shown("closed"), status=404)
    return Download(ask.door.certificates.download(), CERTIFICATE_TYPE, CERTIFICATE_NAME)


def square_of(address: str) -> str:
    """A square to scan, dark on light whatever the page's ground; a part of the page, without styles of its own."""
    drawn = segno.make(address, error="m", micro=False)
    return drawn.svg_inline(scale=8, border=4, dark="#000000", light="#ffffff", svgclass="square", lineclass=None,
                            omitsize=True)  # fmt: skip


def _laptop(ask: Ask, door: Door) -> Shown:
    token = door.tokens.make()
    return Shown(
        "laptop",
        square=square_of(door.plain_address(f"/join?token={token}")),
        address=door.plain_address("/join"),
        others=tuple(door.plain_address("/join", host) for host in (*door.reach.addresses, *door.reach.names)[1:]),
        until=ask.now + timedelta(seconds=TOKEN_S),
        has_passphrase=door.devices.has_passphrase,
        joined=sum(not each.out for each in door.devices.all()),
        certificate=_certificate(ask, door),
    )


def _joined(ask: Ask, door: Door, device: Device) -> Shown:
    return Shown("joined", named=device.name, certificate=_certificate(ask, door))


def _stranger(ask: Ask, door: Door, token: str, to: str, amiss: tuple[Complaint, ...] = ()) -> Shown:
    return Shown(
        "stranger",
        token=token[:100],
        to=_own_path(to),
        has_passphrase=door.devices.has_passphrase,
        values={"name": ask.form.get("name", "")},
        marks=marks_of(amiss),
        amiss=amiss,
    )


def _certificate(ask: Ask, door: Door) -> CertificateShown | None:
    if door.certificates is None:
        return None
    return CertificateShown(
        fingerprint=door.certificates.fingerprint,
        ends_at=door.certificates.ends_at.astimezone(ask.now.tzinfo),
        addresses=tuple(
            dict.fromkeys(
                door.secure_address("/", host)
                for host in (host_name(ask.caller.host), *door.reach.addresses[:1], *door.reach.names[:1])
                if host
            )
        )
        if not ask.caller.here
        else tuple(door.secure_address("/", host) for host in (*door.reach.addresses, *door.reach.names)),
        secure_now=ask.caller.secure,
    )


def _join(ask: Ask, door: Door) -> Answer:
    token, to = ask.form.get("token", ""), ask.form.get("to", "/")
    way: Literal["token", "passphrase"] = "token" if token else "passphrase"

    def again(complaint: Complaint, status: int, keep_token: bool) -> Page:
        return Page(_stranger(ask, door, token if keep_token else "", to, (complaint,)), status=status)

    try:  # a name that is none must not use up the token
        name = device_name(ask.form.get("name", ""))
    except Refusal as refusal:
        return again(refusal.complaints[0], 422, keep_token=True)
    tries = door.token_tries if token else door.passphrase_tries
    wait = tries.begin(ask.caller.address)
    if wait > 0:
        return again(
            Complaint(way, "", "Too many tries that were not right, one after the other.",
                      f"Wait {_waited(wait)}, then try once more."), 429, keep_token=True,
        )  # fmt: skip
    is_right = door.tokens.take(token) if token else door.devices.is_passphrase(ask.form.get("passphrase", ""))
    if not is_right:
        return again(Complaint(way, "", NOT_LET_IN[way], "Or type the passphrase." if token else ""), 403, False)
    tries.was_right(ask.caller.address)
    device = door.devices.add(name, "square" if token else "passphrase")
    own = _own_path(to)
    return Redirect("/join" if own == "/" else own, joined=device)


def _waited(seconds: float) -> str:
    """
    >>> _waited(0.4), _waited(8.2), _waited(200)
    ('1 second', '9 seconds', '4 minutes')
    """
    whole = int(seconds) + 1
    if whole < 90:
        return f"{whole} second{'' if whole == 1 else 's'}"
    return f"{whole // 60 + 1} minutes"


def _own_path(to: str) -> str:
    """A path of ours and nothing else.

    >>> _own_path("/bench"), _own_path("//elsewhere"), _own_path("http:x"), _own_path("/\\\\elsewhere")
    ('/bench', '/', '/', '/')
    """
    is_own = to.startswith("/") and not to.startswith("//") and "\\" not in to and to.isprintable() and len(to) < 300
    return to if is_own else "/"
