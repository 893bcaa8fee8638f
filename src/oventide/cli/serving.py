"""Serving the workbench on this machine, for its own browser only."""

import errno
import socket

import typer

from oventide.errors import refuse

HOST = "127.0.0.1"


def check_free(port: int) -> None:
    """Refuse a port that cannot be had, before anything heavy is loaded."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, port))
        except OSError as trouble:
            known = {errno.EADDRINUSE: "it is in use", errno.EACCES: "it needs more rights"}
            why = known.get(trouble.errno or 0, trouble.strerror)
            raise refuse("port", port, f"This port cannot be had: {why}.", "Give another: --port 8766.") from trouble


def serve(port: int) -> None:
    """Serve the pages until Ctrl-C."""
    check_free(port)
    from oventide.web.serve import serve as serve_pages

    serve_pages(host=HOST, port=port, say=lambda words: typer.echo(words))
