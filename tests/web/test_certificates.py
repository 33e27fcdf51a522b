"""Our own certificate authority, held to OpenSSL and to what phones take."""

from __future__ import annotations

import re
import shutil
import ssl
import stat
import subprocess
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.x509.oid import ExtendedKeyUsageOID

from nextpair.web.address import Address, local_name
from nextpair.web.certificates import (
    AUTHORITY_LASTS,
    SERVER_LASTS,
    certificates,
    remove_certificates,
)
from served import client_of, home_at

MOST_DAYS_ON_PHONES = 825
"""Of a server's certificate, else iPhones refuse it (Apple's published requirements)."""
NOW = datetime(2026, 6, 13, tzinfo=UTC)

needs_openssl = pytest.mark.skipif(shutil.which("openssl") is None, reason="needs openssl")


def chain_of(files):
    return x509.load_pem_x509_certificates(files.server_chain.read_bytes())


def test_keys_are_readable_to_their_owner_alone(tmp_path):
    files = certificates(tmp_path / "tls", NOW)
    for key in (files.server_key, files.authority.with_name("ca.key")):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "tls").stat().st_mode) == 0o700


def test_the_servers_certificate_is_one_that_phones_take(tmp_path):
    server, authority = chain_of(certificates(tmp_path, NOW))
    assert timedelta(days=MOST_DAYS_ON_PHONES) >= SERVER_LASTS
    assert server.not_valid_after_utc - server.not_valid_before_utc == SERVER_LASTS
    names = server.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert local_name() in names.get_values_for_type(x509.DNSName)
    uses = server.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(uses) == [ExtendedKeyUsageOID.SERVER_AUTH]
    assert authority.extensions.get_extension_for_class(x509.NameConstraints).critical


@needs_openssl
def test_openssl_believes_it_for_home_names_and_for_nothing_else(tmp_path):
    files = certificates(tmp_path)
    verify = ["openssl", "verify", "-x509_strict", "-CAfile", str(files.authority)]

    def verdict(name):
        asked = [*verify, "-verify_hostname", name, str(files.server_chain)]
        return subprocess.run(asked, capture_output=True, text=True, check=False)

    assert verdict(local_name()).returncode == 0
    assert verdict("localhost").returncode == 0
    assert verdict("bank.example.com").returncode != 0


@needs_openssl
def test_openssl_refuses_another_name_that_the_authority_signs(tmp_path, monkeypatch):
    monkeypatch.setattr("nextpair.web.certificates.local_name", lambda: "bank.example.com")
    files = certificates(tmp_path)
    asked = ["openssl", "verify", "-CAfile", str(files.authority), str(files.server_chain)]
    refused = subprocess.run(asked, capture_output=True, text=True, check=False)
    assert refused.returncode != 0
    assert "permitted subtree violation" in refused.stdout + refused.stderr


def test_keys_are_as_strong_and_lives_as_short_as_published_rules_ask(tmp_path):
    """NIST SP 800-57 part 1 (revision 5, table 2): a curve of 256 bits gives 128 bits of security.
    CA/Browser Forum baseline requirements, section 7.1: serial numbers of 64 random bits or more,
    SHA-256; section 6.3.2: 398 days, the limit when this was written (it is to fall for public
    authorities, which ours is not)."""
    server, authority = chain_of(certificates(tmp_path, NOW))
    for one in (server, authority):
        assert one.public_key().curve.key_size == 256
        assert one.signature_hash_algorithm.name == "sha256"
        assert one.serial_number.bit_length() > 64
    assert server.not_valid_after_utc - server.not_valid_before_utc <= timedelta(days=398)
    limits = authority.extensions.get_extension_for_class(x509.BasicConstraints)
    assert (limits.critical, limits.value.ca, limits.value.path_length) == (True, True, 0)
    usage = authority.extensions.get_extension_for_class(x509.KeyUsage).value
    assert usage.key_cert_sign
    assert not usage.digital_signature
    assert server.public_key() != authority.public_key()


def test_an_authority_speaks_for_home_networks_alone(tmp_path):
    """RFC 1918, RFC 4193, RFC 4291, RFC 3927 (addresses), RFC 6762, RFC 6761, RFC 8375 (names)."""
    _, authority = chain_of(certificates(tmp_path, NOW))
    allowed = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    names = [one.value for one in allowed.permitted_subtrees if isinstance(one, x509.DNSName)]
    assert set(names) == {"local", "localhost", "home.arpa"}
    networks = [one.value for one in allowed.permitted_subtrees if isinstance(one, x509.IPAddress)]
    assert networks
    assert not any(network.is_global for network in networks)


def test_a_key_that_others_may_read_is_closed_again(tmp_path):
    files = certificates(tmp_path, NOW)
    keys = (files.server_key, files.authority.with_name("ca.key"))
    for key in keys:
        key.chmod(0o644)
    certificates(tmp_path, NOW)
    assert [stat.S_IMODE(key.stat().st_mode) for key in keys] == [0o600, 0o600]


def test_an_authority_that_has_run_out_is_followed_by_another(tmp_path):
    first = certificates(tmp_path, NOW).fingerprint
    later = NOW + AUTHORITY_LASTS
    server, authority = chain_of(second := certificates(tmp_path, later))
    assert second.fingerprint != first
    assert authority.not_valid_after_utc > later + timedelta(days=365)
    assert server.not_valid_after_utc > later
    server.verify_directly_issued_by(authority)


def test_a_server_can_be_started_with_it(tmp_path):
    files = certificates(tmp_path)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(files.server_chain, files.server_key)


def test_it_stays_until_it_runs_out_and_is_renewed_by_the_same_authority(tmp_path):
    first = certificates(tmp_path, NOW)
    before, authority = first.server_chain.read_bytes(), first.fingerprint
    certificates(tmp_path, NOW + timedelta(days=300))
    assert first.server_chain.read_bytes() == before
    renewed = certificates(tmp_path, NOW + timedelta(days=370))
    assert renewed.server_chain.read_bytes() != before
    assert renewed.fingerprint == authority


def test_a_machine_of_another_name_gets_another_certificate(tmp_path, monkeypatch):
    before = certificates(tmp_path).server_chain.read_bytes()
    monkeypatch.setattr("nextpair.web.certificates.local_name", lambda: "other.local")
    assert certificates(tmp_path).server_chain.read_bytes() != before


def test_the_authority_can_be_deleted_with_its_key(tmp_path):
    folder = tmp_path / "tls"
    certificates(folder)
    assert remove_certificates(folder)
    assert not folder.exists()
    assert not remove_certificates(folder)


def test_the_certificate_is_served_to_whoever_asks_with_a_page_that_says_what_to_tap(tmp_path):
    home = home_at(Address(host="0.0.0.0", encrypts=True))
    home.certificates = certificates(tmp_path)
    with client_of(home) as client:
        served = client.get("/ca.crt")
        page = client.get("/trust")
    assert served.headers["Content-Type"] == "application/x-x509-ca-cert"
    assert served.content == home.certificates.authority.read_bytes()
    assert home.certificates.fingerprint in page.text
    assert not re.search(r"<script|<style|style=", page.text)


def test_without_one_there_is_nothing_to_trust():
    with client_of(home_at()) as client:
        assert client.get("/ca.crt").status_code == 404
        assert client.get("/trust").status_code == 404
