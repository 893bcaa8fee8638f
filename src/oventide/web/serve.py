"""Start the workbench: on the loopback, or with the door open for devices; and warm the compiled rooms behind it."""

import asyncio
import io
import logging
import socket
import ssl
import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import segno
import uvicorn
from fastapi import FastAPI
from starlette.concurrency import run_in_threadpool

from oventide.errors import Refusal, refuse
from oventide.services.certificates import Certificates
from oventide.services.devices import Devices, folder_beside
from oventide.services.finding import finding_of
from oventide.services.kernel import KERNEL
from oventide.services.own_addresses import own_reach
from oventide.services.shelf import local_now
from oventide.web.app import create_app
from oventide.web.changes import Changes
from oventide.web.door import Door
from oventide.web.routes import ROUTES

HOST = "127.0.0.1"
PORT = 8711
GRACE_S = 1
"""How long an answer under way may take after the server was told to stop."""
REFRESH_S = 60.0
"""How often addresses and the certificate are looked at anew."""
_LOG = logging.getLogger("oventide.web")


@dataclass(frozen=True)
class Joining:
    """What was asked for besides the loopback."""

    to_network: bool = True
    always_ask: bool = False
    names: tuple[str, ...] = ()
    secure_port: int = PORT + 1
    square: bool = False
    """Draw a square to scan in the terminal."""


def _warm() -> None:
    """Load every page, then run one small forecast, so that no first click waits for a loader or a compiler."""
    for route in ROUTES:
        route.module()
    from oventide.services.demo_bake import warm

    try:
        with KERNEL:
            warm()
    except Refusal as refusal:
        _LOG.warning("The forecast could not be warmed: %s", refusal)


class Server(uvicorn.Server):
    """One server for all its sockets, the plain ones and those with TLS.

    It ends the streams of changes first when it is told to stop, so that it can stop at once.
    """

    def __init__(
        self,
        app: FastAPI,
        port: int = 0,
        host: str = HOST,
        plain: Sequence[socket.socket] = (),
        secure: Sequence[socket.socket] = (),
        door: Door | None = None,
    ) -> None:
        super().__init__(
            uvicorn.Config(
                app, host=host, port=port, log_level="warning", access_log=False, lifespan="off", ws="none",
                proxy_headers=False, server_header=False, timeout_graceful_shutdown=GRACE_S,
            )
        )  # fmt: skip
        self._changes: Changes = app.state.changes
        self._plain, self._secure, self._door = list(plain), list(secure), door
        self._context: ssl.SSLContext | None = None
        self._refreshing: asyncio.Task[None] | None = None

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets or self._plain or None)
        door = self._door
        if door is None:
            return
        if self._secure and door.certificates is not None:
            self._context = door.certificates.context()
            loop = asyncio.get_running_loop()
            for each in self._secure:
                self.servers.append(await loop.create_server(self._protocol, sock=each, ssl=self._context))
        self._refreshing = asyncio.create_task(self._refresh(door))

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        if self._refreshing is not None:
            self._refreshing.cancel()
        self._changes.close()
        await super().shutdown([*(sockets or []), *self._plain, *self._secure])

    def _protocol(self) -> asyncio.Protocol:
        made: Any = self.config.http_protocol_class
        protocol = made(config=self.config, server_state=self.server_state, app_state=self.lifespan.state)
        assert isinstance(protocol, asyncio.Protocol)
        return protocol

    async def _refresh(self, door: Door) -> None:
        """A laptop that has come into another network, and a certificate that nears its end."""
        while True:
            await asyncio.sleep(REFRESH_S)
            try:
                if await run_in_threadpool(door.refresh, local_now()) and self._context and door.certificates:
                    door.certificates.load_into(self._context)
            except (Refusal, OSError) as trouble:
                _LOG.warning("The certificate could not be made anew: %s", trouble)


def listening(port: int, to_network: bool) -> list[socket.socket]:
    """Sockets bound to this port: on the loopback, or on every address that this machine has now or later."""
    wanted = [(socket.AF_INET, HOST)]
    if to_network:
        wanted = [(socket.AF_INET, "0.0.0.0"), *([(socket.AF_INET6, "::")] if socket.has_ipv6 else [])]
    made: list[socket.socket] = []
    for family, host in wanted:
        try:
            one = socket.socket(family, socket.SOCK_STREAM)
            made.append(one)
            one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            if family == socket.AF_INET6:
                one.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)
            one.bind((host, port))
        except OSError as trouble:
            if family == socket.AF_INET6:  # a machine without IPv6
                made.pop().close()
                continue
            for each in made:
                each.close()
            raise refuse("port", port, f"This port cannot be had ({trouble.strerror}).",
                         "Give another: --port 8766.") from trouble  # fmt: skip
    return made


def open_door(journal_url: str | None, port: int, joining: Joining, now: datetime) -> Door:
    """The door over the list of devices beside the journal."""
    folder = folder_beside(journal_url)
    devices = Devices(folder, local_now)
    if not devices.has_passphrase:
        raise refuse("passphrase", "", "There is no passphrase yet to join with.", "Start with --new-passphrase.")
    reach = own_reach(joining.names)
    certificates = Certificates(folder, reach, now) if joining.to_network and folder is not None else None
    return Door(
        devices, reach, port,
        names=joining.names, always_ask=joining.always_ask, to_network=joining.to_network,
        certificates=certificates, secure_port=joining.secure_port,
    )  # fmt: skip


def serve(
    host: str = HOST,
    port: int = PORT,
    journal_url: str | None = None,
    say: Callable[[str], None] = print,
    demo: bool = True,
    joining: Joining | None = None,
) -> None:
    """Serve until stopped: on a loopback address alone, unless devices are to join."""
    if host not in ("127.0.0.1", "localhost", "::1"):
        raise refuse("host", host, "Without devices that join there is no log-in, so the workbench answers on this "
                     "machine only.", "Use 127.0.0.1, or --join.")  # fmt: skip
    door = open_door(journal_url, port, joining, local_now()) if joining is not None else None
    app = create_app(journal_url, door=door)
    if demo:
        from oventide.services import foreseeing, reading

        app.state.shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen)
    if door is not None and door.to_network:
        plain = listening(port, to_network=True)
        secure = listening(door.secure_port, to_network=True) if door.certificates else []
        server = Server(app, port, host, plain, secure, door)
    else:
        server = Server(app, port, host, door=door)
    shown = f"[{host}]" if ":" in host else host
    say(f"Oventide is on http://{shown}:{port}/  (stop with Ctrl+C)")
    if door is not None and joining is not None and door.to_network:
        for line in _how_to_join(door, joining.square):
            say(line)
    threading.Thread(target=_warm, daemon=True, name="warm").start()
    threading.Thread(target=finding_of(app.state.shelf).catch_up, daemon=True, name="find").start()
    with suppress(KeyboardInterrupt):  # raised again by the server once it has shut down
        server.run()
    say("Stopped. What was saved is on the shelf.")


def _how_to_join(door: Door, square: bool) -> list[str]:
    if not door.reach.first:
        return ["No network is found yet. Tablets join once this machine is on one; the page /join shows how."]
    lines = [f"Tablets on this network join on {door.plain_address('/join')}"]
    if door.certificates is not None:
        lines += [
            f"With the certificate they find it on {door.secure_address()}",
            f"Its fingerprint (SHA-256): {door.certificates.fingerprint}",
        ]
    if square:
        drawn = io.StringIO()
        segno.make(door.plain_address(f"/join?token={door.tokens.make()}"), error="l", micro=False).terminal(
            out=drawn, compact=True, border=2
        )
        lines += [drawn.getvalue().rstrip("\n"), "Scan it within ten minutes; it lets one device in."]
    return [*lines, f"Another square: http://{HOST}:{door.port}/join"]


__all__ = ["HOST", "PORT", "Joining", "Server", "serve"]
