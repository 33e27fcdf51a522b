"""Passwords are guessed at slowly from wherever, and nobody shuts an owner out from elsewhere."""

from __future__ import annotations

from itertools import count

import pytest

from nextpair.application.accounts import add_account, set_password
from nextpair.web.errors import TooManyError
from nextpair.web.tries import (
    NAME_TRIES,
    PLACE_TRIES,
    TRIES,
    SignInTries,
    Tries,
)
from nextpair.web.visitor import asker_of
from served import ON_THE_NETWORK, PASSWORD, browser_of, home_at

SIGN_IN = "/api/v1/sign-in"
OWNERS, ANOTHERS = "192.168.1.10", "192.168.1.66"
WRONG = "not this one at all"
A_DAY_S = 86_400.0
NIST_FAILURES = 100
"""In a row, on one account: the most that NIST SP 800-63B (revision 3, section 5.2.2) allows."""


@pytest.fixture
def home():
    home = home_at(ON_THE_NETWORK)
    home.tries._clock = lambda: 0.0
    set_password(home.store, "home", PASSWORD, home.hasher)
    add_account(home.store, "Ada Quill", PASSWORD, home.hasher)
    return home


def sign_in(home, place, password=PASSWORD, name="home"):
    with browser_of(home, place) as browser:
        return browser.post(SIGN_IN, json={"name": name, "password": password}).status_code


def places(network):
    """Addresses of somebody who has many."""
    return (f"10.{network}.{number // 250}.{number % 250 + 1}" for number in count())


def test_who_guesses_elsewhere_spends_nothing_of_the_owners(home):
    assert [sign_in(home, ANOTHERS, WRONG) for _ in range(TRIES + 1)] == [*[401] * TRIES, 429]
    assert sign_in(home, OWNERS) == 200


def test_an_address_that_signed_in_before_is_let_in_whoever_guesses(home):
    assert sign_in(home, OWNERS) == 200
    guessed = [
        sign_in(home, place, WRONG) for place, _ in zip(places(0), range(120), strict=False)
    ]
    assert 429 in guessed
    assert sign_in(home, "192.168.1.11") == 429, "an address that is not known has to wait"
    assert sign_in(home, OWNERS) == 200


def test_a_device_that_is_signed_in_is_not_slowed_and_lets_another_in(home):
    with browser_of(home, OWNERS) as owner, browser_of(home, "192.168.1.11") as phone:
        owner.post(SIGN_IN, json={"name": "home", "password": PASSWORD})
        for place, _ in zip(places(0), range(120), strict=False):
            sign_in(home, place, WRONG)
        link = owner.post("/api/v1/links", json={}).json()["url"]
        assert phone.get(link, follow_redirects=False).status_code == 303
        assert phone.get("/api/v1/tickets").status_code == 200


def test_many_addresses_together_guess_at_one_name_no_more_than_nist_allows(home):
    guessed = [
        sign_in(home, place, WRONG) for place, _ in zip(places(0), range(120), strict=False)
    ]
    assert guessed.count(401) == NIST_FAILURES
    assert guessed[-1] == 429


def test_one_address_that_guesses_at_many_names_is_stopped(home):
    told = [sign_in(home, ANOTHERS, WRONG, f"name {number}") for number in range(PLACE_TRIES + 1)]
    assert told == [*[401] * PLACE_TRIES, 429]


def test_ones_own_password_does_not_buy_guesses_at_others(home):
    allowed = 0
    for _ in range(4):
        allowed += [sign_in(home, ANOTHERS, WRONG) for _ in range(TRIES)].count(401)
        assert sign_in(home, ANOTHERS, name="Ada Quill") == 200
    assert allowed == TRIES


def test_a_whole_team_behind_one_address_signs_in(home):
    for number in range(50):
        add_account(home.store, f"athlete {number}", PASSWORD, home.hasher)
    assert [sign_in(home, OWNERS, WRONG, f"athlete {number}") for number in range(50)] == [
        *[401] * 50
    ]
    told = [sign_in(home, OWNERS, PASSWORD, f"athlete {number}") for number in range(50)]
    assert told == [200] * 50


def test_in_a_day_of_guessing_a_name_from_everywhere_there_are_few_tries():
    clock = iter(range(int(A_DAY_S) * 2))
    now_s = 0.0
    tries = Tries(lambda: now_s)
    sign_ins = SignInTries(tries)
    allowed = 0
    for place, now_s in zip(places(1), clock, strict=False):
        if now_s >= A_DAY_S:
            break
        try:
            sign_ins.spend("home", place)
        except TooManyError:
            continue
        allowed += 1
    # Closed form: what may be in a row, and one more each 36 s.
    assert allowed <= NAME_TRIES + A_DAY_S / 36.0
    assert allowed > A_DAY_S / 36.0


def test_tries_at_the_old_password_are_counted_by_account(home):
    change = {"old": WRONG, "new": "a spare in every frame"}
    with browser_of(home, OWNERS) as owner:
        owner.post(SIGN_IN, json={"name": "home", "password": PASSWORD})
        told = [owner.put("/api/v1/password", json=change).status_code for _ in range(TRIES + 1)]
    assert told == [*[401] * TRIES, 429]
    assert sign_in(home, OWNERS) == 200


class _Request:
    def __init__(self, host):
        self.client = type("Client", (), {"host": host})()


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("2a02:db8:1:2::1", "2a02:db8:1:2:ffff::9", True),
        ("2a02:db8:1:2::1", "2a02:db8:1:3::1", False),
        ("fe80::1", "fe80::2", False),
        ("192.168.1.4", "192.168.1.5", False),
        ("::ffff:192.168.1.4", "::ffff:192.168.1.5", False),
    ],
)
def test_a_public_ipv6_network_counts_as_one_address(one, other, same):
    assert (asker_of(_Request(one)) == asker_of(_Request(other))) is same
