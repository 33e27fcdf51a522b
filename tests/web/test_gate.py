"""What is turned away at the door, and what every answer tells a browser."""

from __future__ import annotations

import pytest

from nextpair.web.address import Address
from served import AT_HOME, ON_THE_NETWORK, client_of, home_at

STATUS = "/api/v1/status"


@pytest.fixture(scope="module")
def client():
    with client_of(home_at()) as client:
        yield client


@pytest.mark.parametrize(
    "path", [STATUS, "/api/v1/nothing", "/", "/lanes/", "/nothing", "/api/v1/openapi.json"]
)
def test_every_answer_is_marked_and_tells_the_browser_what_it_may_load(client, path):
    headers = client.get(path).headers
    assert headers["X-Nextpair"] == "1"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "no-referrer"
    rules = headers["Content-Security-Policy"]
    assert "default-src 'self'" in rules
    assert "frame-ancestors 'none'" in rules
    assert "unsafe" not in rules


@pytest.mark.parametrize("host", ["rebound.example", "localhost.example", "", "192.168.1.4:8707"])
def test_at_home_only_names_of_this_machine_are_answered(client, host):
    refused = client.get(STATUS, headers={"Host": host})
    assert refused.status_code == 403
    assert refused.json()["problems"][0]["place"] == "Host"


@pytest.mark.parametrize("host", ["localhost:8707", "127.0.0.1:9", "[::1]:8707", "LOCALHOST"])
def test_names_of_the_machine_itself_are_answered(client, host):
    assert client.get(STATUS, headers={"Host": host}).status_code == 200


def test_on_the_network_numbers_are_answered_and_other_names_are_not():
    assert ON_THE_NETWORK.answers_to("192.168.1.4:8707")
    assert ON_THE_NETWORK.answers_to("[fe80::1]:8707")
    assert not ON_THE_NETWORK.answers_to("rebound.example:8707")


def test_behind_a_proxy_its_name_is_answered():
    address = Address(reached_at="https://laptop.example.net")
    assert address.answers_to("laptop.example.net")
    assert not address.answers_to("other.example.net")
    assert address.needs_sign_in
    assert address.secure
    assert address.url("/lanes/") == "https://laptop.example.net/lanes/"


@pytest.mark.parametrize(
    "headers",
    [
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Origin": "https://elsewhere.example"},
        {"Origin": "http://localhost:9999"},
        {"Origin": "null"},
    ],
)
@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE"])
def test_another_sites_page_changes_nothing(client, method, headers):
    refused = client.request(method, "/api/v1/records/house", headers=headers)
    assert refused.status_code == 403
    assert refused.json()["problems"][0]["place"] == "Origin"


@pytest.mark.parametrize(
    "headers",
    [{}, {"Sec-Fetch-Site": "same-origin"}, {"Origin": "http://localhost:8707"}],
    ids=["a program", "our page", "our page in an old browser"],
)
def test_our_own_page_and_programs_may_write(client, headers):
    document = {"document": {"name": "Copperfield Lanes", "lanes": 24}}
    made = client.post("/api/v1/records/house", json=document, headers=headers)
    assert made.status_code == 201


def test_a_form_of_another_page_is_no_json(client):
    sent = client.post(
        "/api/v1/records/house",
        content=b'{"document": {}}',
        headers={"Content-Type": "text/plain"},
    )
    assert sent.status_code == 422


def test_a_body_that_is_too_large_is_not_read(client):
    sent = client.post(
        "/api/v1/records/house",
        content=b'{"document": {"name": "' + b"x" * 5_000_000 + b'"}}',
        headers={"Content-Type": "application/json"},
    )
    assert sent.status_code == 413
    assert sent.json()["problems"]


def test_our_fault_is_told_without_what_it_happened_to(caplog):
    home = home_at()
    private = "left knee"

    def broken(*_arguments):
        raise RuntimeError(private)

    home.store.records = broken  # type: ignore[method-assign]
    with client_of(home) as client:
        answer = client.get("/api/v1/records/bowler")
    assert answer.status_code == 500
    assert answer.json()["problems"][0]["found"] == "a fault of ours"
    assert answer.headers["X-Nextpair"] == "1"
    assert "RuntimeError" in caplog.text
    assert private not in answer.text + caplog.text


def test_only_this_machine_is_home():
    assert AT_HOME.at_home
    assert not AT_HOME.needs_sign_in
    assert Address(asks_sign_in=True).needs_sign_in
    assert ON_THE_NETWORK.needs_sign_in
    assert not ON_THE_NETWORK.at_home
