"""A small certificate authority of this machine's own, and the certificate that its pages are served with.

A tablet can be told to trust an authority; a bare certificate of a server it can only wave through each time, and a
browser keeps no pages (service worker) behind a warning that was waved through. So there is an authority, bound to
this machine's names and to addresses of local networks by name constraints, and a server's certificate below it that
lives for weeks and is made anew when it nears its end or when the machine's addresses change.
"""

import ipaddress
import ssl
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from oventide.errors import refuse
from oventide.services.devices import private_file
from oventide.services.own_addresses import Reach

FOLDER = "certificate"
AUTHORITY_DAYS = 730
SERVER_DAYS = 30
RENEW_DAYS = 10
LOCAL_NETWORKS = (
    "127.0.0.0/8", "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "::1/128", "fc00::/7", "fe80::/10"
)  # fmt: skip
SKEW = timedelta(days=1)
"""Before now, since a tablet's clock may be behind."""


@dataclass(frozen=True)
class Pair:
    """A certificate with its key."""

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 as devices show it: pairs of digits with colons."""
    return certificate.fingerprint(hashes.SHA256()).hex(":").upper()


class Certificates:
    """The folder beside the journal: the authority, the server's certificate and both keys (mode 600)."""

    def __init__(self, folder: Path, reach: Reach, now: datetime) -> None:
        self._folder = folder / FOLDER
        found = self._read("authority")
        if found is None or not self._still_fits(found, reach, now):
            found = self._keep("authority", make_authority(reach, now))
        self.authority = found
        self.server = self._fresh_server(reach, now)
        self.reach = reach

    @property
    def fingerprint(self) -> str:
        """Of the authority: to be compared on the tablet with what the laptop shows."""
        return fingerprint(self.authority.certificate)

    @property
    def ends_at(self) -> datetime:
        """When the authority ends; tablets then take a new one."""
        return self.authority.certificate.not_valid_after_utc

    def download(self) -> bytes:
        """The authority's certificate as a tablet takes it (DER). No key is in it."""
        return self.authority.certificate.public_bytes(serialization.Encoding.DER)

    def renew(self, reach: Reach, now: datetime) -> bool:
        """Make the server's certificate anew where it nears its end or no longer fits; True where it was done."""
        if reach == self.reach and now < self.server.certificate.not_valid_after_utc - timedelta(days=RENEW_DAYS):
            return False
        if not self._still_fits(self.authority, reach, now):
            return False  # a new authority has to be taken by every tablet: that is left to the next start
        self.reach = reach
        self.server = self._keep("server", make_server(self.authority, reach, now))
        return True

    def load_into(self, context: ssl.SSLContext) -> None:
        """Let the next handshakes use the server's certificate."""
        context.load_cert_chain(self._folder / "server.pem", self._folder / "server-key.pem")

    def context(self) -> ssl.SSLContext:
        """For a server: TLS 1.2 or newer."""
        made = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        made.minimum_version = ssl.TLSVersion.TLSv1_2
        self.load_into(made)
        return made

    def _fresh_server(self, reach: Reach, now: datetime) -> Pair:
        found = self._read("server")
        if found is not None:
            certificate = found.certificate
            fits = (
                certificate.issuer == self.authority.certificate.subject
                and certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value == names_of(reach)
                and now < certificate.not_valid_after_utc - timedelta(days=RENEW_DAYS)
            )
            try:
                certificate.verify_directly_issued_by(self.authority.certificate)
            except (InvalidSignature, ValueError, TypeError):  # signed by an authority that was made anew since
                fits = False
            if fits:
                return found
        return self._keep("server", make_server(self.authority, reach, now))

    @staticmethod
    def _still_fits(authority: Pair, reach: Reach, now: datetime) -> bool:
        certificate = authority.certificate
        if now > certificate.not_valid_after_utc - timedelta(days=SERVER_DAYS):
            return False
        allowed = certificate.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
        networks = [each.value for each in allowed if isinstance(each, x509.IPAddress)]
        names = {each.value for each in allowed if isinstance(each, x509.DNSName)}
        return set(reach.names) <= names and all(
            any(
                ipaddress.ip_address(address) in network
                for network in networks
                if isinstance(network, ipaddress.IPv4Network | ipaddress.IPv6Network)
            )
            for address in reach.addresses
        )

    def _read(self, name: str) -> Pair | None:
        try:
            certificate = x509.load_pem_x509_certificate((self._folder / f"{name}.pem").read_bytes())
            key = serialization.load_pem_private_key((self._folder / f"{name}-key.pem").read_bytes(), None)
        except FileNotFoundError:
            return None
        except (OSError, ValueError) as trouble:
            raise self._trouble(trouble) from trouble
        if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
            raise self._trouble(ValueError("key and certificate do not belong together"))
        return Pair(certificate, key)

    def _keep(self, name: str, pair: Pair) -> Pair:
        key = pair.key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
        try:
            self._folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            private_file(self._folder / f"{name}-key.pem", key)
            private_file(self._folder / f"{name}.pem", pair.certificate.public_bytes(serialization.Encoding.PEM))
        except OSError as trouble:
            raise self._trouble(trouble) from trouble
        return pair

    @staticmethod
    def _trouble(trouble: Exception) -> Exception:
        return refuse("certificate", FOLDER, f"The certificate beside the journal cannot be used ({trouble}).",
                      "Rename that folder: then a new one is made, and tablets take the new certificate.")  # fmt: skip


def names_of(reach: Reach) -> x509.SubjectAlternativeName:
    """Every address and name that the server's certificate is good for, the machine's own loopback included."""
    return x509.SubjectAlternativeName([
        *(x509.DNSName(name) for name in (*reach.names, "localhost")),
        *(x509.IPAddress(ipaddress.ip_address(address)) for address in (*reach.addresses, "127.0.0.1", "::1")),
    ])  # fmt: skip


def _named(common: str) -> x509.Name:
    return x509.Name([
        x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Oventide"),
        x509.NameAttribute(NameOID.COMMON_NAME, common[:64]),
    ])  # fmt: skip


def make_authority(reach: Reach, now: datetime) -> Pair:
    """An authority that can vouch for this machine and for addresses of local networks, and for nothing else."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = _named(f"Oventide on {reach.names[-1] if reach.names else 'this machine'}")
    own = [ipaddress.ip_network(address) for address in reach.addresses]
    networks = [ipaddress.ip_network(each) for each in LOCAL_NETWORKS]
    beyond = [each for each in own if not any(each.version == n.version and each.subnet_of(n) for n in networks)]  # type: ignore[arg-type]
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - SKEW)
        .not_valid_after(now + timedelta(days=AUTHORITY_DAYS))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs=True), critical=True)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(
            x509.NameConstraints(
                permitted_subtrees=[
                    *(x509.DNSName(each) for each in (*reach.names, "localhost")),
                    *(x509.IPAddress(each) for each in (*networks, *beyond)),
                ],
                excluded_subtrees=None,
            ),
            critical=True,
        )
        .sign(key, hashes.SHA256())
    )
    return Pair(certificate, key)


def make_server(authority: Pair, reach: Reach, now: datetime) -> Pair:
    """A server's certificate for these addresses and names."""
    key = ec.generate_private_key(ec.SECP256R1())
    ends = min(now + timedelta(days=SERVER_DAYS), authority.certificate.not_valid_after_utc)
    certificate = (
        x509.CertificateBuilder()
        .subject_name(_named("Oventide's pages"))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - SKEW)
        .not_valid_after(ends)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key()), critical=False)
        .add_extension(names_of(reach), critical=False)
        .sign(authority.key, hashes.SHA256())
    )
    return Pair(certificate, key)


def _usage(signs: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs, content_commitment=False, key_encipherment=False, data_encipherment=False,
        key_agreement=False, key_cert_sign=signs, crl_sign=signs, encipher_only=False, decipher_only=False,
    )  # fmt: skip
