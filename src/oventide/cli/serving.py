"""Serving the workbench: on this machine alone, or for devices that join on the local network."""

import errno
import socket
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

import typer

from oventide.errors import refuse

if TYPE_CHECKING:
    from oventide.services.devices import Devices

HOST = "127.0.0.1"


@dataclass(frozen=True)
class Wanted:
    """What was asked for on the command line."""

    port: int
    join: bool = False
    new_passphrase: bool = False
    always_ask: bool = False
    names: tuple[str, ...] = ()
    secure_port: int = 0


def check_free(port: int, host: str = HOST, field: str = "port") -> None:
    """Refuse a port that cannot be had, before anything heavy is loaded."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as trouble:
            known = {errno.EADDRINUSE: "it is in use", errno.EACCES: "it needs more rights"}
            why = known.get(trouble.errno or 0, trouble.strerror)
            option = field.replace("_", "-")
            raise refuse(
                field, port, f"This port cannot be had: {why}.", f"Give another: --{option} 8766."
            ) from trouble


def check_asked(wanted: Wanted) -> None:
    """Refuse options that mean nothing together."""
    from oventide.services.own_addresses import NAME

    if wanted.new_passphrase and not (wanted.join or wanted.always_ask):
        raise refuse("new_passphrase", "", "Without devices that join nobody is asked for a passphrase.",
                     "Add --join.")  # fmt: skip
    if wanted.names and not wanted.join:
        raise refuse("name", wanted.names[0], "A name on the network is of use with devices that join.", "Add --join.")
    for name in wanted.names:
        if not NAME.fullmatch(name.lower()) or len(name) > 200:
            raise refuse("name", name, "This is no name of a machine: letters, digits, hyphens, and dots between them.",
                         "Write it as in the address that you open: --name bakery.local.")  # fmt: skip
    if wanted.join and wanted.secure_port == wanted.port:
        raise refuse("secure_port", wanted.secure_port, "The port for HTTPS must be another one than --port.",
                     f"Leave it out: then it is {wanted.port + 1}.")  # fmt: skip


def settle_passphrase(devices: "Devices") -> None:
    """Ask for a passphrase, twice; where nothing is typed, or nobody can type, choose one and show it once."""
    from oventide.services import passphrase

    own = ""
    if sys.stdin.isatty():
        typer.echo("Tablets join with a passphrase. Type one of your own, or press Enter: then five words are chosen.")
        own = typer.prompt("Passphrase", default="", show_default=False, hide_input=True)
        if own:
            own = passphrase.checked(own)
            if passphrase.plain(typer.prompt("Once more", hide_input=True)) != own:
                raise refuse("passphrase", "", "The two were not the same. Nothing was changed.", "Start once more.")
    devices.set_passphrase(own or (chosen := passphrase.chosen()))
    if not own:
        typer.echo(f"The passphrase for tablets: {chosen}")
        typer.echo("Write it down: it is not shown again. Only its hash is kept.")


def serve(wanted: Wanted) -> None:
    """Serve the pages until Ctrl-C."""
    check_asked(wanted)
    everywhere = "0.0.0.0" if wanted.join else HOST
    check_free(wanted.port, everywhere)
    if wanted.join:
        check_free(wanted.secure_port, everywhere, "secure_port")
    joining = None
    if wanted.join or wanted.always_ask:
        from oventide.services.devices import Devices, folder_beside
        from oventide.services.shelf import local_now
        from oventide.web.serve import Joining

        devices = Devices(folder_beside(None), local_now)
        if wanted.new_passphrase or not devices.has_passphrase:
            settle_passphrase(devices)
        joining = Joining(
            to_network=wanted.join,
            always_ask=wanted.always_ask,
            names=wanted.names,
            secure_port=wanted.secure_port,
            square=sys.stdout.isatty(),
        )
    from oventide.web.serve import serve as serve_pages

    serve_pages(host=HOST, port=wanted.port, say=lambda words: typer.echo(words), joining=joining)
