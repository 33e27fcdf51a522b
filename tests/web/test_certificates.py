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
from nextpair.web.certificates import SERVER_LASTS, certificates, remove_certificates
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
