"""Start the workbench on the loopback, and warm the compiled rooms behind it."""

import logging
import socket
import threading
from collections.abc import Callable
from contextlib import suppress

import uvicorn
from fastapi import FastAPI

from oventide.errors import Refusal, refuse
from oventide.services.kernel import KERNEL
from oventide.web.app import create_app
from oventide.web.changes import Changes
from oventide.web.routes import ROUTES

HOST = "127.0.0.1"
PORT = 8711
GRACE_S = 1
"""How long an answer under way may take after the server was told to stop."""
_LOG = logging.getLogger("oventide.web")


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
    """A server that ends the streams of changes first, so that it can stop at once."""

    def __init__(self, app: FastAPI, port: int, host: str = HOST) -> None:
        super().__init__(
            uvicorn.Config(
                app, host=host, port=port, log_level="warning", access_log=False, lifespan="off",
                proxy_headers=False, server_header=False, timeout_graceful_shutdown=GRACE_S,
            )
        )  # fmt: skip
        self._changes: Changes = app.state.changes

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self._changes.close()
        await super().shutdown(sockets)


def serve(
    host: str = HOST,
    port: int = PORT,
    journal_url: str | None = None,
    say: Callable[[str], None] = print,
    demo: bool = True,
) -> None:
    """Serve until stopped. Only a loopback address is taken: there is no log-in."""
    if host not in ("127.0.0.1", "localhost", "::1"):
        raise refuse("host", host, "The workbench has no log-in, so it answers on this machine only.",
                     "Use 127.0.0.1.")  # fmt: skip
    app = create_app(journal_url)
    if demo:
        from oventide.services import foreseeing, reading

        app.state.shelf.load_demo_if_empty(reading.read_file, foreseeing.read_kitchen)
    server = Server(app, port, host)
    shown = f"[{host}]" if ":" in host else host
    say(f"Oventide is on http://{shown}:{port}/  (stop with Ctrl+C)")
    threading.Thread(target=_warm, daemon=True, name="warm").start()
    with suppress(KeyboardInterrupt):  # raised again by the server once it has shut down
        server.run()
    say("Stopped. What was saved is on the shelf.")


__all__ = ["HOST", "PORT", "serve"]
