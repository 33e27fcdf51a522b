"""A certificate authority of one's own, for https on one's own network.

Phones keep a page for offline only over https, and nobody hands out certificates for a laptop on
a home network. So the laptop makes its own authority, which the phone is told to trust once. It is
limited, by critical name constraints (RFC 5280), to names and numbers of home networks; its key
never leaves the folder that it was made in, readable to its owner alone. The server's certificate
runs for 397 days, the most that phones take without ado, and is renewed by itself.
"""

from __future__ import annotations

import os
import shutil
import socket
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ec import (
    SECP256R1,
    EllipticCurvePrivateKey,
    generate_private_key,
)
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from nextpair.web.address import local_name

AUTHORITY_LASTS, SERVER_LASTS = timedelta(days=3650), timedelta(days=397)
RENEWED_BEFORE = timedelta(days=30)
CLOCKS_DIFFER = timedelta(hours=24)
"""A phone's clock may be behind."""
HOME_NAMES = ("local", "localhost", "home.arpa")
HOME_NETWORKS = (
    "127.0.0.0/8", "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16",
    "::1/128", "fc00::/7", "fe80::/10",
)  # fmt: skip
TLS_FOLDER = "tls"
"""In the data folder."""
PRIVATE, PUBLIC = 0o600, 0o644

Number = IPv4Address | IPv6Address


@dataclass(frozen=True, slots=True)
class Certificates:
    """The files of one folder: the authority's certificate, and the server's key and chain."""

    authority: Path
    server_key: Path
    server_chain: Path

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the authority's certificate, as phones show it."""
        return _fingerprint(_read_certificate(self.authority))


def certificates(folder: Path, now: datetime | None = None) -> Certificates:
    """The certificates of a folder, made or renewed where they have to be."""
    now = now or datetime.now(UTC)
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    found = Certificates(folder / "ca.crt", folder / "server.key", folder / "server.crt")
    key_file = folder / "ca.key"
    for private in (key_file, found.server_key):
        _keep_private(private)
    if not (key_file.is_file() and _runs_on(found.authority, now)):
        _make_authority(key_file, found.authority, now)
    names, numbers = [local_name(), "localhost"], home_numbers()
    if not _good_for(found, names, numbers, now):
        _make_server(key_file, found, names, numbers, now)
    return found


def remove_certificates(folder: Path) -> bool:
    """Delete the authority with its key, and what it signed; whether there was one."""
    if not folder.is_dir():
        return False
    shutil.rmtree(folder)
    return True


def home_numbers() -> list[Number]:
    """Numbers under which the home network finds this machine."""
    found: set[Number] = {ip_address("127.0.0.1"), ip_address("::1")}
    with suppress(OSError):
        for *_, place in socket.getaddrinfo(socket.gethostname(), None):
            found.add(ip_address(str(place[0]).partition("%")[0]))
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        # Nothing is sent: this only asks which of its numbers the machine would use.
        asking.connect(("10.255.255.255", 1))
        found.add(ip_address(asking.getsockname()[0]))
    networks = [ip_network(network) for network in HOME_NETWORKS]
    return sorted((one for one in found if any(one in net for net in networks)), key=str)


def _make_authority(key_file: Path, file: Path, now: datetime) -> None:
    key = generate_private_key(SECP256R1())
    name = _name(f"nextpair at {local_name()}")
    built = (
        _builder(name, name, key, now, AUTHORITY_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(
            x509.NameConstraints(
                permitted_subtrees=[
                    *(x509.DNSName(name) for name in HOME_NAMES),
                    *(x509.IPAddress(ip_network(network)) for network in HOME_NETWORKS),
                ],
                excluded_subtrees=None,
            ),
            critical=True,
        )
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .sign(key, SHA256())
    )
    _write(key_file, _private(key), PRIVATE)
    _write(file, built.public_bytes(Encoding.PEM), PUBLIC)


def _make_server(
    key_file: Path,
    files: Certificates,
    names: Sequence[str],
    numbers: Sequence[Number],
    now: datetime,
) -> None:
    authority_key = load_pem_private_key(key_file.read_bytes(), None)
    authority = _read_certificate(files.authority)
    if not isinstance(authority_key, EllipticCurvePrivateKey):
        raise ValueError("ca.key holds a key of another kind")
    key = generate_private_key(SECP256R1())
    identifier = x509.AuthorityKeyIdentifier.from_issuer_public_key(authority_key.public_key())
    built = (
        _builder(_name(names[0]), authority.subject, key, now, SERVER_LASTS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(
            x509.SubjectAlternativeName(
                [
                    *(x509.DNSName(name) for name in names),
                    *(x509.IPAddress(number) for number in numbers),
                ]
            ),
            critical=False,
        )
        .add_extension(identifier, critical=False)
        .sign(authority_key, SHA256())
    )
    chain = built.public_bytes(Encoding.PEM) + authority.public_bytes(Encoding.PEM)
    _write(files.server_key, _private(key), PRIVATE)
    _write(files.server_chain, chain, PUBLIC)


def _good_for(
    files: Certificates, names: Sequence[str], numbers: Sequence[Number], now: datetime
) -> bool:
    """Whether the server's certificate is by this authority, of these names, and runs on."""
    if not (files.server_key.is_file() and files.server_chain.is_file()):
        return False
    server, authority = _read_certificate(files.server_chain), _read_certificate(files.authority)
    told = server.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    return (
        server.not_valid_after_utc - now > RENEWED_BEFORE
        and server.issuer == authority.subject
        and _signed_by(server, authority)
        and set(names) <= set(told.get_values_for_type(x509.DNSName))
        and set(numbers) <= set(told.get_values_for_type(x509.IPAddress))
    )


def _signed_by(server: x509.Certificate, authority: x509.Certificate) -> bool:
    try:
        server.verify_directly_issued_by(authority)
    except (InvalidSignature, TypeError, ValueError):
        return False
    return True


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    key: EllipticCurvePrivateKey,
    now: datetime,
    lasts: timedelta,
) -> x509.CertificateBuilder:
    starts = now - CLOCKS_DIFFER
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(starts)
        .not_valid_after(starts + lasts)
    )


def _usage(signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        encipher_only=False,
        decipher_only=False,
    )


def _name(text: str) -> x509.Name:
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, text[:64])])


def _private(key: EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def _read_certificate(file: Path) -> x509.Certificate:
    return x509.load_pem_x509_certificate(file.read_bytes())


def _fingerprint(certificate: x509.Certificate) -> str:
    return certificate.fingerprint(SHA256()).hex(":").upper()


def _runs_on(authority: Path, now: datetime) -> bool:
    """Whether there is a certificate of the authority that is good for a while."""
    if not authority.is_file():
        return False
    return _read_certificate(authority).not_valid_after_utc - now > RENEWED_BEFORE


def _keep_private(key: Path) -> None:
    """Take from others what a copy or an unpacked archive may have given them."""
    if key.is_file() and os.name == "posix" and key.stat().st_mode & 0o077:
        key.chmod(PRIVATE)


def _write(file: Path, content: bytes, mode: int) -> None:
    """A whole file, never readable to others on the way if it is private."""
    part = file.with_name(f".{file.name}.{os.getpid()}.part")
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, mode), "wb") as writing:
        writing.write(content)
    part.replace(file)
