"""What keeps other sites, strangers on the network and careless sizes away.

Without an open door the server answers on the loopback only, and there is no log-in. A page of another site can still
send requests there, so a change (POST) is taken only from our own pages, and the Host header must name this machine (a
foreign name that was pointed at us gets nothing). With the door open for devices, nothing but the page to join is seen
without a session, whatever the method. A body is counted while it comes in and refused at the limit, not after.
"""

from collections.abc import Iterable
from urllib.parse import quote, urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from oventide.web.door import LOOPBACK_NAMES, Caller, Door, address_of, caller_of, is_near, is_own_host
from oventide.web.session import signed_in

BODY_LIMIT_BYTES = 4_000_000
"""A recipe of 1 MB, percent-encoded by a form, may be three times as long."""
STRANGER_BODY_LIMIT_BYTES = 20_000
"""What the form to join can hold."""

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
        "media-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}
SECURE_ONLY = ("Cross-Origin-Opener-Policy",)
"""Browsers take this over HTTPS and on the machine itself; elsewhere they only complain of it."""
OPEN_FILES = ("oventide.css", "devices.css", "mark.svg")
"""What the page to join is drawn with; besides, the faces of type, and what a browser fetches without a session: the
list of facts and the signs of a page that is put on the tablet's first screen."""


class BodyTooLarge(Exception):
    """More came than a page of this program ever sends."""


def is_own_page(headers: Headers) -> bool:
    """Whether a request that changes something comes from our own page.

    Browsers send Origin with every POST; where it is missing, Sec-Fetch-Site must say same-origin. A request with
    neither is not a browser's (a program on this machine, which could write the file as well; from the network it
    needs a session with its token).
    """
    site = headers.get("sec-fetch-site")
    if site is not None and site not in ("same-origin", "none"):
        return False
    origin = headers.get("origin")
    if origin is None:
        return True
    return urlsplit(origin).netloc.lower() == headers.get("host", "").lower()


def is_open(method: str, path: str) -> bool:
    """Whether a stranger may have this: the page to join and what it is drawn with.

    >>> is_open("GET", "/join"), is_open("POST", "/join"), is_open("GET", "/"), is_open("POST", "/static/oventide.css")
    (True, True, False, False)
    """
    if path == "/join":
        return method in ("GET", "POST")
    name = path.removeprefix("/static/")
    if name == path or method != "GET" or ".." in name:
        return False
    return (
        name in OPEN_FILES
        or (name.startswith("fonts/") and name.endswith(".woff2"))
        or name.endswith(".webmanifest")
        or (name.startswith("bench/") and name.endswith((".svg", ".png")))
    )


class Guard:
    """ASGI middleware: host, origin, session, size; and the headers of every answer."""

    def __init__(
        self,
        app: ASGIApp,
        hosts: Iterable[str] = LOOPBACK_NAMES,
        limit: int = BODY_LIMIT_BYTES,
        door: Door | None = None,
    ) -> None:
        self._app = app
        self._hosts = frozenset(hosts)
        self._limit = limit
        self._door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        headers = Headers(scope=scope)
        caller = caller_of(scope, headers, self._door)

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                out = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    if name not in SECURE_ONLY or caller.secure or caller.here:
                        out[name] = value
                out.setdefault("Cache-Control", "no-store" if scope["path"] == "/join" else "no-cache")
                if caller.renew and caller.device is not None and self._door is not None:
                    for cookie in signed_in(self._door, caller.device, caller.secure):
                        out.append("set-cookie", cookie)
            await send(message)

        refusal = self._refusal(scope, headers, caller)
        if refusal is not None:
            await _plain(send_guarded, *refusal)
            return
        limit = self._limit if caller.allowed else STRANGER_BODY_LIMIT_BYTES
        taken = 0
        declared = headers.get("content-length", "")
        announced = int(declared) if declared.isascii() and declared.isdigit() else 0

        async def receive_counted() -> Message:
            nonlocal taken
            message = await receive()
            if message["type"] == "http.request":
                taken += len(message.get("body", b""))
                if taken > limit:
                    raise BodyTooLarge
            return message

        if self._door is not None and caller.device is not None and self._door.devices.is_due(caller.device):
            await run_in_threadpool(self._door.devices.seen, caller.device.id)
        state = scope.setdefault("state", {})
        state["body_too_large"] = announced > limit
        state["caller"] = caller
        await self._app(scope, receive_counted, send_guarded)

    def _refusal(self, scope: Scope, headers: Headers, caller: Caller) -> tuple[int, str, str] | None:
        """Status, words and where to go instead, for what does not get in."""
        if not is_own_host(scope, caller.host, self._hosts, self._door):
            names = "the names 127.0.0.1 and localhost only"
            if self._door is not None and self._door.to_network:
                names = "its own addresses and names only"
            return 421, f"This server answers to {names}.", ""
        method, path = scope["method"], scope["path"]
        if method not in ("GET", "HEAD", "OPTIONS") and not is_own_page(headers):
            return 403, "This change did not come from a page of Oventide. Nothing was changed.", ""
        if caller.allowed:
            return None
        client, own = address_of(caller.address), address_of((scope.get("server") or ("", 0))[0])
        if self._door is None or (client is not None and not is_near(client, own)):
            return 403, "This server answers to its own local network only.", ""
        if is_open(method, path):
            return None
        is_page = method == "GET" and "text/html" in headers.get("accept", "") and "hx-request" not in headers
        if is_page:
            return 303, "Join first.", f"/join?to={quote(path, safe='')}"
        return 401, "This device has not joined, or was taken out. Open /join on it.", ""


async def _plain(send: Send, status: int, text: str, to: str = "") -> None:
    body = text.encode()
    headers = [(b"content-type", b"text/plain; charset=utf-8"), (b"content-length", str(len(body)).encode())]
    if to:
        headers.append((b"location", to.encode()))
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
