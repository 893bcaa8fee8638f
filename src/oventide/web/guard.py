"""What keeps other sites and careless sizes away from a server that has no log-in.

The server answers on the loopback only. A page of another site can still send requests there, so a change (POST)
is taken only from our own pages, and the Host header must name this machine (a foreign name that was pointed at
the loopback gets nothing). A body is counted while it comes in and refused at the limit, not after.
"""

from collections.abc import Iterable
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

BODY_LIMIT_BYTES = 4_000_000
"""A recipe of 1 MB, percent-encoded by a form, may be three times as long."""
LOOPBACK_NAMES = ("127.0.0.1", "localhost", "[::1]")

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
}


class BodyTooLarge(Exception):
    """More came than a page of this program ever sends."""


def host_name(host: str) -> str:
    """The name in a Host header, without its port.

    >>> host_name("127.0.0.1:8711"), host_name("[::1]:8711"), host_name("LOCALHOST")
    ('127.0.0.1', '[::1]', 'localhost')
    """
    lowered = host.strip().lower()
    if lowered.startswith("["):
        return lowered.partition("]")[0] + "]"
    return lowered.partition(":")[0]


def is_own_page(headers: Headers) -> bool:
    """Whether a request that changes something comes from our own page.

    Browsers send Origin with every POST; where it is missing, Sec-Fetch-Site must say same-origin. A request with
    neither is not a browser's (a program on this machine, which could write the file as well).
    """
    site = headers.get("sec-fetch-site")
    if site is not None and site not in ("same-origin", "none"):
        return False
    origin = headers.get("origin")
    if origin is None:
        return True
    return urlsplit(origin).netloc.lower() == headers.get("host", "").lower()


class Guard:
    """ASGI middleware: host, origin, size; and the headers of every answer."""

    def __init__(self, app: ASGIApp, hosts: Iterable[str] = LOOPBACK_NAMES, limit: int = BODY_LIMIT_BYTES) -> None:
        self._app = app
        self._hosts = frozenset(hosts)
        self._limit = limit

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                out = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    out[name] = value
                out.setdefault("Cache-Control", "no-cache")
            await send(message)

        if host_name(headers.get("host", "")) not in self._hosts:
            await _plain(send_guarded, 421, "This server answers to the names 127.0.0.1 and localhost only.")
            return
        if scope["method"] not in ("GET", "HEAD", "OPTIONS") and not is_own_page(headers):
            await _plain(send_guarded, 403, "This change did not come from a page of Oventide. Nothing was changed.")
            return
        taken = 0
        declared = headers.get("content-length", "")
        announced = int(declared) if declared.isascii() and declared.isdigit() else 0

        async def receive_counted() -> Message:
            nonlocal taken
            message = await receive()
            if message["type"] == "http.request":
                taken += len(message.get("body", b""))
                if taken > self._limit:
                    raise BodyTooLarge
            return message

        scope.setdefault("state", {})["body_too_large"] = announced > self._limit
        await self._app(scope, receive_counted, send_guarded)


async def _plain(send: Send, status: int, text: str) -> None:
    body = text.encode()
    await send({"type": "http.response.start", "status": status,
                "headers": [(b"content-type", b"text/plain; charset=utf-8"),
                            (b"content-length", str(len(body)).encode())]})  # fmt: skip
    await send({"type": "http.response.body", "body": body})
