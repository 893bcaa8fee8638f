"""Over real sockets: the machine's own address on the network, two ports, a certificate that is really trusted."""

import json
import os
import re
import socket
import ssl
import stat
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import httpx
import pytest
from argon2 import PasswordHasher
from cryptography import x509
from fastapi import FastAPI

from oventide.errors import Refusal
from oventide.services import passphrase
from oventide.services.certificates import FOLDER, Certificates, make_authority, make_server
from oventide.services.devices import Devices
from oventide.services.outlooking import NoLive
from oventide.services.own_addresses import Reach, in_url, own_reach
from oventide.services.shelf import Shelf, local_now
from oventide.web.app import create_app
from oventide.web.door import Door
from oventide.web.serve import Joining, listening, open_door, serve

PASSPHRASE = "poppy harbour lantern quay"


def ask(url: str, method: str = "GET", **given) -> httpx.Response:
    """One request by itself: no cookie is kept."""
    return httpx.request(method, url, timeout=30, **given)


@dataclass
class Harbour:
    """A laptop that serves on its own address, and what a test needs of it."""

    door: Door
    own: str
    plain: str
    secure: str
    journal: str
    app: FastAPI
    server: object

    def trusting(self) -> ssl.SSLContext:
        """A tablet that took the certificate, and trusts nothing else."""
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(cadata=self.door.certificates.download())
        return context


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("0.0.0.0", 0))
        return one.getsockname()[1]


@pytest.fixture(autouse=True)
def quick_hash(monkeypatch: pytest.MonkeyPatch) -> None:
    """A hash that costs little; tests/web/test_joining.py looks at what it costs otherwise."""
    monkeypatch.setattr(passphrase, "_HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))


@pytest.fixture(scope="module")
def own_address() -> str:
    """This machine's address on its network."""
    reach = own_reach()
    if not reach.addresses:
        pytest.skip("this machine has no network: tests/web/test_joining.py checks the same rules by made-up addresses")
    return reach.addresses[0]


@pytest.fixture
def harbour(own_address: str, invented: None, quick_hash: None, serve_app, demo, tmp_path: Path) -> Iterator[Harbour]:
    journal = f"sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}"
    Devices(tmp_path, local_now).set_passphrase(PASSPHRASE)
    port, secure_port = free_port(), free_port()
    door = open_door(journal, port, Joining(secure_port=secure_port), local_now())
    app = create_app(journal, door=door, live=NoLive())
    app.state.shelf.save_product(demo[0])
    app.state.shelf.save_kitchen(demo[1])
    sockets = {"plain": listening(port, True), "secure": listening(secure_port, True), "door": door}
    with serve_app(app, **sockets) as server:
        host = in_url(own_address)
        yield Harbour(door, host, f"http://{host}:{port}", f"https://{host}:{secure_port}", journal, app, server)


@contextmanager
def joined(address: str, name: str, **client) -> Iterator[httpx.Client]:
    """A tablet that joins by the passphrase."""
    with httpx.Client(base_url=address, timeout=30, **client) as browser:
        answer = browser.post("/join", data={"name": name, "passphrase": PASSPHRASE}, headers={"origin": address})
        assert answer.status_code == 303, answer.text
        yield browser


def test_on_its_own_address_nothing_is_seen_without_joining_and_all_with(harbour: Harbour) -> None:
    assert ask(f"{harbour.plain}/").status_code == 401
    assert ask(f"{harbour.plain}/changes").status_code == 401
    assert ask(f"{harbour.plain}/", headers={"host": "elsewhere.example"}).status_code == 421
    assert ask(f"http://127.0.0.1:{harbour.door.port}/").status_code == 200
    with joined(harbour.plain, "Tablet") as tablet:
        assert "Lantern Quay" in tablet.get("/").text


def test_by_ipv6_as_well(harbour: Harbour) -> None:
    six = next((each for each in harbour.door.reach.addresses if ":" in each), None)
    if six is None:
        pytest.skip("this machine has no IPv6 on its network")
    address = f"http://[{six}]:{harbour.door.port}"
    assert ask(f"{address}/").status_code == 401
    with joined(address, "Tablet") as tablet:
        assert tablet.get("/").status_code == 200
    assert ask(f"http://[::1]:{harbour.door.port}/").status_code == 200


def test_a_tablet_that_took_the_certificate_speaks_tls_and_one_that_did_not_refuses(harbour: Harbour) -> None:
    with joined(harbour.secure, "Tablet", verify=harbour.trusting()) as tablet:
        assert "Lantern Quay" in tablet.get("/").text
        given = tablet.get("/join/certificate")
        assert given.headers["content-type"] == "application/x-x509-ca-cert"
        taken = x509.load_der_x509_certificate(given.content)
        assert taken == harbour.door.certificates.authority.certificate
        shown = re.sub(r"<[^>]*>", "", tablet.get("/join").text)
        assert harbour.door.certificates.fingerprint.replace(":", " ") in shown
    with (
        socket.create_connection(("127.0.0.1", harbour.door.secure_port)) as raw,
        pytest.raises(ssl.SSLCertVerificationError, match="certificate"),
    ):
        ssl.create_default_context().wrap_socket(raw, server_hostname="localhost")
    name = harbour.door.reach.names[0]
    with (
        socket.create_connection(("127.0.0.1", harbour.door.secure_port)) as raw,
        harbour.trusting().wrap_socket(raw, server_hostname=name) as secured,
    ):
        assert secured.version() in ("TLSv1.2", "TLSv1.3")
    with (
        socket.create_connection(("127.0.0.1", harbour.door.secure_port)) as raw,
        pytest.raises(ssl.SSLCertVerificationError),
    ):
        harbour.trusting().wrap_socket(raw, server_hostname="elsewhere.example")


def test_a_name_of_the_network_is_answered(harbour: Harbour) -> None:
    name = harbour.door.reach.names[0]
    answer = ask(f"{harbour.plain}/join", headers={"host": f"{name}:{harbour.door.port}"})
    assert answer.status_code == 200


class Line:
    """One open stream."""

    def __init__(self, browser: httpx.Client) -> None:
        self._context = browser.stream("GET", "/changes")
        self.answer = self._context.__enter__()
        assert self.answer.status_code == 200
        self._lines = self.answer.iter_lines()
        self.until("retry")

    def until(self, name: str) -> str:
        for line in self._lines:
            if line.startswith(f"{name}:"):
                return line.partition(":")[2].strip()
        return "over"


NOTE = """
import sys
from oventide.bench.model import Entry
from oventide.services.bakes import Bakes
from oventide.services.outlooking import NoLive
from oventide.services.shelf import Shelf, local_now
shelf = Shelf.at(sys.argv[1])
bakes = Bakes(shelf.journal, NoLive(), local_now)
entry = Entry(uid="noted-elsewhere-1", deed="note", at=local_now(), text="the sponge smells of apples")
print(bakes.note_entries(sys.argv[2], (entry,)).taken)
"""


def test_two_tablets_hear_of_an_entry_that_another_program_made(harbour: Harbour) -> None:
    shelf = Shelf.at(harbour.journal)
    product, kitchen = shelf.products()[0], shelf.kitchens()[0]
    with (
        joined(harbour.plain, "Tablet") as one,
        joined(harbour.secure, "Phone", verify=harbour.trusting()) as two,
    ):
        answer = one.post(
            "/bench",
            data={"formula": product.key, "kitchen": kitchen.key, "name": "Coils",
                  "oventide_token": one.cookies["oventide_token"]},
            headers={"origin": harbour.plain},
        )  # fmt: skip
        assert answer.status_code == 303, answer.text[-3000:]
        key = answer.headers["location"].rpartition("/")[2]
        lines = [Line(one), Line(two)]
        done = subprocess.run(
            [sys.executable, "-c", NOTE, harbour.journal, key], capture_output=True, text=True, timeout=90
        )
        assert "noted-elsewhere-1" in done.stdout, done.stderr
        for line in lines:
            assert line.until("event") == "bake"
            assert json.loads(line.until("data"))["key"] == key


def test_who_is_taken_out_hears_no_more(harbour: Harbour) -> None:
    laptop = f"http://127.0.0.1:{harbour.door.port}"
    with joined(harbour.plain, "Tablet") as tablet:
        line = Line(tablet)
        device = harbour.door.devices.all()[0].id
        answer = ask(method="POST", url=f"{laptop}/devices", data={"out": device}, headers={"origin": laptop})
        assert answer.status_code == 303
        begun = time.monotonic()
        assert line.until("event") == "over"
        assert time.monotonic() - begun < 2
        assert tablet.get("/changes").status_code == 401


def test_open_streams_of_both_kinds_do_not_hold_up_the_end(harbour: Harbour) -> None:
    with (
        joined(harbour.plain, "Tablet") as one,
        joined(harbour.secure, "Phone", verify=harbour.trusting()) as two,
    ):
        lines = [Line(one), Line(two)]
        assert harbour.server.stop(within_s=2), "the server did not stop within two seconds"
        assert [line.until("event") for line in lines] == ["over", "over"]


def test_tries_over_the_network_have_to_wait(harbour: Harbour) -> None:
    codes = [
        ask(method="POST", url=f"{harbour.plain}/join", data={"name": "x", "passphrase": f"wrong {n}"},
                   headers={"origin": harbour.plain}).status_code
        for n in range(9)
    ]  # fmt: skip
    assert codes[:3] == [403, 403, 403]
    assert 429 in codes


def test_a_laptop_that_comes_into_another_network_gets_another_certificate_while_it_runs(
    own_address: str, serve_app, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("oventide.web.serve.REFRESH_S", 0.1)
    monkeypatch.setattr("oventide.web.door.own_reach", lambda names: Reach((own_address, "10.9.8.7"), ()))
    journal = f"sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}"
    Devices(tmp_path, local_now).set_passphrase(PASSPHRASE)
    door = open_door(journal, free_port(), Joining(secure_port=free_port()), local_now())
    app = create_app(journal, door=door, live=NoLive())
    with serve_app(app, plain=listening(door.port, True), secure=listening(door.secure_port, True), door=door):
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(cadata=door.certificates.download())
        for _ in range(100):
            with socket.create_connection(("127.0.0.1", door.secure_port)) as raw:
                try:
                    context.wrap_socket(raw, server_hostname="10.9.8.7").close()
                    return
                except ssl.SSLCertVerificationError:
                    time.sleep(0.1)
    raise AssertionError("the certificate was not made anew")


# the certificate by itself

REACH = Reach(("192.168.1.4", "fd00::4"), ("quay.local", "quay"))


@pytest.fixture
def now() -> datetime:
    return local_now()


def test_keys_are_for_their_owner_only_and_all_is_kept_for_the_next_start(tmp_path: Path, now: datetime) -> None:
    first = Certificates(tmp_path, REACH, now)
    if os.name == "posix":
        for name in ("authority-key.pem", "server-key.pem"):
            assert stat.S_IMODE((tmp_path / FOLDER / name).stat().st_mode) == 0o600
    again = Certificates(tmp_path, REACH, now)
    assert again.fingerprint == first.fingerprint
    assert again.server.certificate == first.server.certificate
    assert b"PRIVATE" not in first.download()


def test_the_server_s_certificate_is_made_anew_below_the_same_authority(tmp_path: Path, now: datetime) -> None:
    kept = Certificates(tmp_path, REACH, now)
    first = kept.server.certificate
    assert first.not_valid_after_utc - first.not_valid_before_utc < timedelta(days=40)
    assert not kept.renew(REACH, now + timedelta(days=15))
    assert kept.renew(REACH, now + timedelta(days=25))
    assert kept.server.certificate != first
    moved = Reach(("10.1.2.3",), REACH.names)
    assert kept.renew(moved, now)
    names = kept.server.certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert "10.1.2.3" in {str(each) for each in names.get_values_for_type(x509.IPAddress)}
    kept.server.certificate.verify_directly_issued_by(kept.authority.certificate)
    later = Certificates(tmp_path, REACH, now + timedelta(days=710))
    assert later.fingerprint != kept.fingerprint, "an authority near its end is made anew"


def test_the_authority_can_vouch_for_nothing_far_away(now: datetime) -> None:
    authority = make_authority(REACH, now)
    extensions = authority.certificate.extensions
    assert extensions.get_extension_for_class(x509.BasicConstraints).value == x509.BasicConstraints(True, 0)
    constraints = extensions.get_extension_for_class(x509.NameConstraints)
    assert constraints.critical
    near = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    near.load_verify_locations(cadata=authority.certificate.public_bytes(_der()))
    for reach, name, holds in (
        (REACH, "quay.local", True),
        (Reach((), ("shop.example",)), "shop.example", False),
        (Reach(("9.9.9.9",), ()), "9.9.9.9", False),
    ):
        pair = make_server(authority, reach, now)
        assert _is_trusted(near, pair, name) is holds, name


def _der():
    from cryptography.hazmat.primitives.serialization import Encoding

    return Encoding.DER


def _is_trusted(client: ssl.SSLContext, pair, name: str) -> bool:
    """A handshake in memory files: the client looks at the chain and the name."""
    import tempfile

    from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

    server = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "pair.pem"
        path.write_bytes(
            pair.key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
            + pair.certificate.public_bytes(Encoding.PEM)
        )
        server.load_cert_chain(path)
    one, other = socket.socketpair()

    def answer() -> None:
        try:
            server.wrap_socket(other, server_side=True).close()
        except (ssl.SSLError, OSError):
            other.close()

    thread = threading.Thread(target=answer)
    thread.start()
    try:
        client.wrap_socket(one, server_hostname=name).close()
    except ssl.SSLCertVerificationError:
        one.close()
        return False
    finally:
        thread.join(10)
    return True


def test_a_spoilt_certificate_is_refused_in_words(tmp_path: Path, now: datetime) -> None:
    Certificates(tmp_path, REACH, now)
    (tmp_path / FOLDER / "authority.pem").write_text("spoilt")
    with pytest.raises(Refusal, match="cannot be used"):
        Certificates(tmp_path, REACH, now)


# starting


def test_names_given_and_own_names_count_and_odd_ones_do_not() -> None:
    reach = own_reach(("Bakery.Local",), host_name="Quay.lan")
    assert reach.names == ("quay.local", "quay", "bakery.local")
    assert own_reach((), host_name="ä b").names == ()
    assert not any(address.startswith(("127.", "fe80")) or address == "::1" for address in reach.addresses)


def test_without_a_passphrase_the_door_stays_shut(tmp_path: Path) -> None:
    journal = f"sqlite:///{(tmp_path / 'j.sqlite3').as_posix()}"
    with pytest.raises(Refusal, match="passphrase"):
        open_door(journal, 8711, Joining(), local_now())
    with pytest.raises(Refusal, match="this machine only"):
        serve(host="0.0.0.0", journal_url=journal)


def test_a_port_in_use_is_refused(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("0.0.0.0", 0))
        taken.listen()
        with pytest.raises(Refusal, match="cannot be had"):
            listening(taken.getsockname()[1], True)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--new-passphrase"], "Add --join."),
        (["--name", "quay.local"], "Add --join."),
        (["--join", "--name", "no name"], "no name of a machine"),
        (["--join", "--port", "8799", "--secure-port", "8799"], "another one than --port"),
        (["--join", "--secure-port", "x"], "secure_port"),
        (["--join", "--port", "0"], "port"),
    ],
)
def test_options_that_mean_nothing_are_refused(options: list[str], words: str) -> None:
    from typer.testing import CliRunner

    from oventide.cli.main import app

    done = CliRunner().invoke(app, ["serve", *options])
    assert done.exit_code == 2
    assert words in done.output


@pytest.mark.slow
def test_the_command_shows_a_passphrase_once_and_how_to_join(tmp_path: Path, root: Path) -> None:
    port = free_port()
    env = {**os.environ, "OVENTIDE_HOME": str(tmp_path), "PYTHONPATH": str(root / "src"), "PYTHONUTF8": "1"}
    code = "from oventide.cli.main import run; import oventide.web.serve as s; s._warm = lambda: None; run()"

    def start() -> list[str]:
        server = subprocess.Popen(
            [sys.executable, "-u", "-c", code, "serve", "--join", "--port", str(port)],
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env,
        )  # fmt: skip
        try:
            for _ in range(600):
                try:
                    assert ask(f"http://127.0.0.1:{port}/join").status_code == 200
                    break
                except httpx.TransportError:
                    assert server.poll() is None, server.stderr.read()
                    time.sleep(0.1)
        finally:
            server.terminate()
        out, err = server.communicate(timeout=15)
        assert err == ""
        return out.splitlines()

    first = start()
    shown = next(line for line in first if line.startswith("The passphrase for tablets: ")).partition(": ")[2]
    assert len(shown.split()) == passphrase.WORDS
    assert Devices(tmp_path, local_now).is_passphrase(shown)
    assert any("join on http://" in line for line in first) or any("No network" in line for line in first)
    assert not any("passphrase for tablets" in line for line in start())
