"""A season over HTTP."""

from __future__ import annotations

import pytest

from served import Clock, client_of, home_at

API = "/api/v1"


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def client(clock):
    with client_of(home_at(clock=clock)) as client:
        yield client


GOAL = {
    "name": "Six events", "measure": "events", "target": 6,
    "first_day": "2026-01-01", "last_day": "2026-12-31",
}  # fmt: skip


def test_it_tells_what_is_kept_as_of_the_servers_day(client):
    client.post(f"{API}/demo")
    client.post(f"{API}/records/goal", json={"document": GOAL})
    told = client.get(f"{API}/season").json()
    assert told["today"] == "2026-06-13"
    assert [one["due"] for one in told["deadlines"]][-1] == "event"
    (goal,) = told["goals"]
    assert (goal["goal"]["name"], goal["value"], goal["events_to_come"]) == ("Six events", 0, 1)


def test_a_goal_that_ends_before_it_begins_is_refused_at_its_last_day(client):
    wrong = GOAL | {"first_day": "2026-12-01", "last_day": "2026-01-01"}
    told = client.post(f"{API}/records/goal", json={"document": wrong})
    assert told.status_code == 422
    [problem] = told.json()["problems"]
    assert (problem["place"], problem["allowed"]) == ("last_day", "2026-12-01 or later")


def test_the_calendar_can_be_taken_away_and_holds_nothing_private(client):
    client.post(f"{API}/demo")
    answer = client.get(f"{API}/season.ics")
    assert answer.headers["content-type"].startswith("text/calendar")
    assert answer.headers["content-disposition"] == 'attachment; filename="season.ics"'
    assert answer.text.startswith("BEGIN:VCALENDAR\r\n")
    for private in ("EUR", "329.50", "knee", "wrist", "Maren"):
        assert private not in answer.text


def test_a_calendar_of_nothing_is_refused(client):
    assert client.get(f"{API}/season.ics").status_code == 422
