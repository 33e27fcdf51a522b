"""Sessions: a new secret at every sign-in, an end for every one, and nothing told by time."""

from __future__ import annotations

import pytest
from argon2 import extract_parameters
from argon2.low_level import Type

from nextpair.application.accounts import set_password
from nextpair.web.passwords import Argon2Hasher
from served import ON_THE_NETWORK, PASSWORD, browser_of, client_of, home_at

API = "/api/v1"
RIGHT = {"name": "home", "password": PASSWORD}
COOKIE = "__Host-nextpair"


@pytest.fixture
def home():
    home = home_at(ON_THE_NETWORK)
    set_password(home.store, "home", PASSWORD, home.hasher)
    return home


@pytest.fixture
def client(home):
    with client_of(home) as client:
        yield client


def answers_to(home, secret):
    with browser_of(home) as browser:
        return browser.get(f"{API}/tickets", headers={"Cookie": f"{COOKIE}={secret}"}).status_code


def test_a_secret_that_somebody_planted_is_never_taken_over(client):
    planted = "A" * 43
    told = client.post(f"{API}/sign-in", json=RIGHT, headers={"Cookie": f"{COOKIE}={planted}"})
    assert told.status_code == 200
    assert client.cookies[COOKIE] != planted


def test_to_sign_in_again_ends_the_session_before(client, home):
    client.post(f"{API}/sign-in", json=RIGHT)
    first = client.cookies[COOKIE]
    assert answers_to(home, first) == 200
    client.post(f"{API}/sign-in", json=RIGHT)
    assert client.cookies[COOKIE] != first
    assert answers_to(home, first) == 401


def test_a_wrong_password_leaves_the_session_as_it_is(client, home):
    client.post(f"{API}/sign-in", json=RIGHT)
    client.post(f"{API}/sign-in", json=RIGHT | {"password": "not this one at all"})
    assert answers_to(home, client.cookies[COOKIE]) == 200


def test_to_open_a_link_ends_the_session_before(client, home):
    client.post(f"{API}/sign-in", json=RIGHT)
    first = client.cookies[COOKIE]
    link = client.post(f"{API}/links", json={}).json()["url"]
    client.get(link, follow_redirects=False)
    assert client.cookies[COOKIE] != first
    assert answers_to(home, first) == 401


def test_a_new_password_ends_links_that_were_not_opened(client, home):
    client.post(f"{API}/sign-in", json=RIGHT)
    link = client.post(f"{API}/links", json={}).json()["url"]
    set_password(home.store, "home", "a spare in every frame", home.hasher)
    with browser_of(home) as phone:
        phone.get(link)
        assert phone.get(f"{API}/tickets").status_code == 401


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_sites_page_opens_no_link_for_its_reader(client, home, site):
    client.post(f"{API}/sign-in", json=RIGHT)
    link = client.post(f"{API}/links", json={}).json()["url"]
    led = {"Sec-Fetch-Site": site, "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}
    with browser_of(home) as reader:
        refused = reader.get(link, headers=led, follow_redirects=False)
        assert refused.status_code == 403
        assert "Set-Cookie" not in refused.headers
        scanned = reader.get(link, headers=led | {"Sec-Fetch-Site": "none"})
        assert scanned.url.path == "/lanes/", "the link is still good"


def test_no_answer_but_a_sign_in_sets_a_cookie(client):
    client.post(f"{API}/sign-in", json=RIGHT)
    for path in (f"{API}/status", f"{API}/tickets", f"{API}/records/house", "/", "/used-link"):
        assert "Set-Cookie" not in client.get(path).headers


class _Counting:
    """Counts what is asked of the library: time itself would make a test that fails by chance."""

    def __init__(self, hasher):
        self.hasher, self.asked = hasher, []

    def hash(self, password):
        self.asked.append("hash")
        return self.hasher.hash(password)

    def verify(self, kept, password):
        self.asked.append(("verify", kept.rpartition("$")[0].rpartition("$")[0]))
        return self.hasher.verify(kept, password)


def test_a_name_that_nobody_has_costs_as_much_as_a_wrong_password():
    hasher = Argon2Hasher()
    kept = hasher.hash(PASSWORD)
    counting = hasher._hasher = _Counting(hasher._hasher)
    asked = []
    for known in (None, kept, None):
        counting.asked = []
        hasher.matches(known, "not this one at all")
        asked.append([one for one in counting.asked if one != "hash"])
    # The same one check with the same parameters, whoever is asked for.
    assert asked[0] == asked[1] == asked[2]
    assert len(asked[0]) == 1


def test_the_first_strangers_name_is_looked_at_no_longer_than_the_first_owners():
    costs = []
    for known in (None, Argon2Hasher().hash(PASSWORD)):
        hasher = Argon2Hasher()
        counting = hasher._hasher = _Counting(hasher._hasher)
        hasher.matches(known, "not this one at all")
        costs.append(len(counting.asked))
    assert costs[0] == costs[1]


def test_passwords_are_hashed_as_rfc_9106_recommends():
    """RFC 9106, section 4, second recommended option: Argon2id, 3 passes, 4 lanes, 2**16 KiB of
    memory, a salt of 128 bits and a tag of 256 bits."""
    told = extract_parameters(Argon2Hasher().hash(PASSWORD))
    assert told.type is Type.ID
    assert (told.time_cost, told.parallelism, told.memory_cost) == (3, 4, 2**16)
    assert (told.salt_len * 8, told.hash_len * 8) == (128, 256)
    assert told.version == 0x13
