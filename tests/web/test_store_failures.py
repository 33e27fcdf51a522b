"""A store that fails under the server: a status of its own, and a problem that says what to do."""

from __future__ import annotations

import pytest

from nextpair.application.store import DamagedStoreError, FullStoreError, StoreFailedError
from nextpair.web.address import Address
from served import AT_HOME, Clock, client_of, home_at

PLACE = "/data/nextpair.sqlite3"


def answer_of(home, error: Exception):
    """What a page is told whose question the store fails."""

    def failing(*_arguments, **_named):
        raise error

    with client_of(home) as client:
        home.store.records = failing
        return client.get("/api/v1/records/ball")


@pytest.mark.parametrize(
    ("kind", "status"),
    # RFC 9110 section 15.6.4 and RFC 4918 section 11.5.
    [(DamagedStoreError, 503), (StoreFailedError, 503), (FullStoreError, 507)],
)
def test_a_store_that_fails_is_told_at_home_with_what_to_do(kind, status):
    told = answer_of(home_at(AT_HOME), kind("store", PLACE, "`nextpair restore copy`"))
    assert told.status_code == status
    (problem,) = told.json()["problems"]
    assert (problem["found"], problem["allowed"]) == (PLACE, "`nextpair restore copy`")
    assert told.headers["x-nextpair"] == "1"


def test_a_store_that_fails_names_no_file_to_others():
    home = home_at(Address(host="0.0.0.0", encrypts=True), Clock())

    def failing(*_arguments, **_named):
        raise DamagedStoreError("store", PLACE, "`nextpair restore copy`")

    with client_of(home) as client:
        home.store.account_of_key = home.store.ticket = failing
        told = client.post("/api/v1/sign-in", json={"name": "Ada", "password": "three strikes"})
    assert told.status_code == 503
    assert PLACE not in told.text
    assert "restore" not in told.text
