"""Serving the workbench on this machine, for its own browser only."""

import errno
import socket

import typer

from oventide.errors import refuse

HOST = "127.0.0.1"


def _check_free(port: int) -> None:
    """Refuse a port that cannot be had, before anything heavy is loaded."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except OSError as trouble:
            why = {errno.EADDRINUSE: "it is in use", errno.EACCES: "it needs more rights"}.get(
                trouble.errno or 0, trouble.strerror
            )
            raise refuse(
                "port", port, f"This port cannot be had: {why}.", "Give another, like --port 8766."
            ) from trouble


def serve(port: int) -> None:
    """Serve the pages until Ctrl-C."""
    _check_free(port)
    import uvicorn

    from oventide.web.app import create_app

    typer.echo(f"Oventide is open at http://{HOST}:{port}  (Ctrl-C closes it)", err=True)
    uvicorn.run(create_app(), host=HOST, port=port, log_level="warning")
