"""Fifty phones sync ten thousand shots with one server: none is lost, none is kept twice, whatever
their network does and although the server dies under them.

`make load` runs it, on SQLite and on a PostgreSQL of its own, and tells how long syncs took: a
figure, not a condition, since the machine may be doing something else.
"""

from __future__ import annotations

import threading
import time

import pytest

from browser.running import Server
from load.fleet import PHONES_AN_ACCOUNT, Fleet, enrol, fleet_at, kept
from load.latency import Latency

PHONES = 50
SHOTS = 10_000
EACH = SHOTS // PHONES
PAUSES_S = {"with no pause": 0.0, "half a second apart": 0.5}
"""Mean pause of a phone between syncs. At the lanes it is half a minute."""
KILLS = 4
BETWEEN_KILLS_S = 1.0


@pytest.fixture
def server(place, tmp_path):
    """A team's server, on a store with an account for every two phones."""
    with Server(tmp_path, "--sign-in", store=place) as served:
        yield served


@pytest.fixture
def fleet(place, tmp_path, request) -> Fleet:
    names = enrol(place, PHONES // PHONES_AN_ACCOUNT)
    return fleet_at(request.getfixturevalue("server"), names)


def check_kept_once(server: Server, fleet: Fleet, shots: int) -> None:
    """Every account's log holds what its phones wrote, once, numbered without gaps."""
    found = 0
    for event, cookie in fleet.events.items():
        log = kept(server, event, cookie)
        written = fleet.written(event)
        assert [item["seq"] for item in log] == list(range(1, len(written) + 1))
        assert {item["jotting"]["id"]: item["jotting"] for item in log} == written
        found += len(log)
    assert found == shots


@pytest.mark.parametrize("pace", list(PAUSES_S))
def test_none_is_lost_and_none_doubled_over_a_bad_network(place, fleet, server, pace):
    begun_s = time.perf_counter()
    fleet.log(EACH, PAUSES_S[pace])
    took_s = time.perf_counter() - begun_s
    assert sum(phone.spoilt for phone in fleet.phones) > PHONES
    check_kept_once(server, fleet, SHOTS)
    Latency.tell(f"{place.partition(':')[0]}, {pace}", fleet.times_ms, took_s)


def test_none_is_lost_and_none_doubled_while_the_server_is_killed(fleet, server):
    logging = threading.Thread(target=fleet.log, args=(EACH, 0.1))
    logging.start()
    for _ in range(KILLS):
        time.sleep(BETWEEN_KILLS_S)
        server.kill()
        server.start()
    logging.join()
    assert all(not phone.jotter.unsent for phone in fleet.phones)
    check_kept_once(server, fleet, SHOTS)
