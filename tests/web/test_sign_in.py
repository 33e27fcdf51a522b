"""Who is let in where others can ask, and how."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
import segno
import zxingcpp

from nextpair.application.accounts import (
    LINK_LASTS,
    SESSION_LASTS,
    add_account,
    digest_of,
    set_password,
)
from nextpair.web.address import Address
from nextpair.web.passwords import Argon2Hasher
from served import ON_THE_NETWORK, PASSWORD, Clock, browser_of, client_of, home_at

API = "/api/v1"
WRONG = {"name": "home", "password": "not this one at all"}
RIGHT = {"name": "home", "password": PASSWORD}


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def home(clock):
    home = home_at(ON_THE_NETWORK, clock)
    set_password(home.store, "home", PASSWORD, home.hasher)
    return home


@pytest.fixture
def client(home):
    with client_of(home) as client:
        yield client


def sign_in(client, **body):
    return client.post(f"{API}/sign-in", json=RIGHT | body)


def test_nothing_is_told_before_somebody_signs_in(client):
    refused = client.get(f"{API}/records/bowler")
    assert refused.status_code == 401
    assert refused.json()["problems"]
    status = client.get(f"{API}/status").json()
    assert status["needs_sign_in"]
    assert status["account"] is None


def test_the_right_password_lets_in_and_signing_out_ends_it(client):
    assert sign_in(client).json()["account"]["name"] == "home"
    assert client.get(f"{API}/records/bowler").status_code == 200
    assert client.post(f"{API}/sign-out").status_code == 204
    assert client.get(f"{API}/records/bowler").status_code == 401


def test_signing_out_ends_the_session_and_not_only_the_cookie(client):
    sign_in(client)
    cookie = client.cookies["__Host-nextpair"]
    client.post(f"{API}/sign-out")
    again = client.get(f"{API}/records/bowler", headers={"Cookie": f"__Host-nextpair={cookie}"})
    assert again.status_code == 401


def test_the_cookie_is_out_of_reach_of_scripts_and_other_sites(client):
    cookie = sign_in(client).headers["Set-Cookie"]
    for part in ("HttpOnly", "Secure", "SameSite=lax", "Path=/"):
        assert part in cookie
    assert cookie.startswith("__Host-nextpair=")


def test_of_a_session_only_a_digest_is_kept(client, home, clock):
    sign_in(client)
    secret = client.cookies["__Host-nextpair"]
    assert len(secret) >= 43  # 256 bits in base64
    account = home.store.accounts()[0]
    assert [one.digest for one in home.store.tickets(account.id, clock())] == [digest_of(secret)]


def test_a_session_ends_by_itself(client, clock):
    sign_in(client)
    clock.now += SESSION_LASTS - timedelta(minutes=1)
    assert client.get(f"{API}/tickets").status_code == 200
    clock.now += timedelta(minutes=2)
    assert client.get(f"{API}/tickets").status_code == 401


@pytest.mark.parametrize("body", [WRONG, {"name": "nobody", "password": PASSWORD}])
def test_a_wrong_password_and_a_wrong_name_are_told_alike(client, body):
    refused = client.post(f"{API}/sign-in", json=body)
    assert refused.status_code == 401
    assert refused.json() == client.post(f"{API}/sign-in", json=WRONG).json()


def test_after_five_wrong_tries_it_takes_patience(client, home):
    times = iter([0.0] * 6 + [1.0, 13.0, 14.0])
    home.tries._clock = lambda: next(times)
    assert [client.post(f"{API}/sign-in", json=WRONG).status_code for _ in range(6)] == [
        *[401] * 5,
        429,
    ]
    waiting = sign_in(client)
    assert waiting.status_code == 429
    assert int(waiting.headers["Retry-After"]) > 0
    assert sign_in(client).status_code == 200


def test_a_link_lets_one_device_in_once(client, home):
    sign_in(client)
    link = client.post(f"{API}/links", json={}).json()
    path = link["url"].removeprefix(ON_THE_NETWORK.url(""))
    with browser_of(home) as phone:
        opened = phone.get(path, follow_redirects=False)
        assert (opened.status_code, opened.headers["Location"]) == (303, "/lanes/")
        assert phone.get(f"{API}/records/bowler").status_code == 200
    with browser_of(home) as another:
        assert another.get(path).status_code == 410
        assert another.get(f"{API}/records/bowler").status_code == 401


def test_a_link_is_good_for_ten_minutes(client, home, clock):
    sign_in(client)
    link = client.post(f"{API}/links", json={}).json()
    clock.now += LINK_LASTS + timedelta(seconds=1)
    with browser_of(home) as phone:
        phone.get(link["url"].removeprefix(ON_THE_NETWORK.url("")))
        assert phone.get(f"{API}/records/bowler").status_code == 401


def test_a_session_is_no_link_and_a_link_is_no_session(client, home):
    sign_in(client)
    session = client.cookies["__Host-nextpair"]
    link = client.post(f"{API}/links", json={}).json()["url"].rpartition("/")[2]
    with browser_of(home) as other:
        assert other.get(f"/open/{session}").status_code == 410
        cookie = {"Cookie": f"__Host-nextpair={link}"}
        assert other.get(f"{API}/tickets", headers=cookie).status_code == 401


def test_the_links_picture_says_its_address(client):
    sign_in(client)
    link = client.post(f"{API}/links", json={}).json()
    assert not re.search(r"<script|style=", link["qr_svg"])
    # The same code as a picture of points, read by an independent reader.
    rows = segno.make(link["url"], error="m", micro=False).matrix_iter(scale=4, border=4)
    import numpy as np

    points = np.array([bytearray(row) for row in rows], np.uint8)
    read = zxingcpp.read_barcodes(np.where(points > 0, 0, 255).astype(np.uint8))
    assert [code.text for code in read] == [link["url"]]


def test_devices_are_listed_and_can_be_shut_out(client, home):
    sign_in(client)
    with browser_of(home) as phone:
        phone.headers["User-Agent"] = "Mozilla/5.0 (iPhone; CPU iPhone OS 19_0 like Mac OS X)"
        sign_in(phone)
        listed = client.get(f"{API}/tickets").json()["items"]
        [digest] = [one["digest"] for one in listed if one["device"] == "iPhone"]
        assert client.delete(f"{API}/tickets/{digest}").status_code == 204
        assert phone.get(f"{API}/tickets").status_code == 401
    assert client.delete(f"{API}/tickets/{digest}").status_code == 404


def test_another_password_ends_every_session(client, home):
    sign_in(client)
    change = {"old": PASSWORD, "new": "a spare in every frame"}
    assert client.put(f"{API}/password", json=change | {"old": "wrong one"}).status_code == 401
    assert client.put(f"{API}/password", json=change | {"new": "short"}).status_code == 422
    assert client.put(f"{API}/password", json=change).status_code == 204
    assert client.get(f"{API}/tickets").status_code == 401
    assert sign_in(client).status_code == 401
    assert sign_in(client, password=change["new"]).status_code == 200


def test_a_link_makes_no_sense_where_only_this_machine_can_ask():
    with client_of(home_at()) as client:
        assert client.post(f"{API}/links", json={}).status_code == 403


def test_at_home_a_password_may_be_asked_for_too():
    home = home_at(Address(asks_sign_in=True))
    with client_of(home) as client:
        assert client.get(f"{API}/records/bowler").status_code == 401


def test_no_answer_tells_what_is_kept_of_a_password(client, home):
    add_account(home.store, "Ada Quill", PASSWORD, home.hasher)
    for answer in (sign_in(client), client.get(f"{API}/status"), client.get(f"{API}/tickets")):
        assert "kept of" not in answer.text
        assert PASSWORD not in answer.text


def test_argon2_knows_its_own_password_and_takes_its_time_for_nobody():
    hasher = Argon2Hasher()
    kept = hasher.hash(PASSWORD)
    assert kept.startswith("$argon2id$")
    assert hasher.matches(kept, PASSWORD)
    assert not hasher.matches(kept, PASSWORD + " ")
    assert not hasher.matches(None, PASSWORD)
    assert not hasher.matches("no hash", PASSWORD)
